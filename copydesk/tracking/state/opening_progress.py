"""How far the work is that the opening of a book waits for: its first plan, then its budget."""

from __future__ import annotations

from contextlib import contextmanager
from typing import TYPE_CHECKING

from copydesk.book.common.progress import Hear, heard, part, unheard

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence


_LAID, _BROKEN = 0.45, 0.8
"""The shares of the first plan that are done once its text is laid, and once that is broken into lines."""

_FOLDED, _FITTED = 0.6, 0.8
"""The shares of the budget that are done once all pages are folded, and once the text is broken as hands are fitted."""

_TURN = 500
"""Pages whose records are folded before it is heard how far that is."""


class OpeningProgress:
    """Passes on how far each step is as a share of the whole; to nobody, but while ``reporting_to`` lasts."""

    def __init__(self) -> None:
        self._hear: Hear = unheard

    @contextmanager
    def reporting_to(self, hear: Hear) -> Iterator[None]:
        """Let be heard how far the first plan, or the budget, is that is worked out for the first time meanwhile."""
        self._hear = hear
        try:
            yield
        finally:
            self._hear = unheard

    def laying(self, share: float) -> None:
        """Hears how far the text is laid."""
        part(self._hear, 0.0, _LAID)(share)

    def breaking(self, share: float) -> None:
        """Hears how far the text is broken into the lines of the first plan."""
        part(self._hear, _LAID, _BROKEN)(share)

    def casting(self, share: float) -> None:
        """Hears how much of the text is cast into the pages of the first plan."""
        part(self._hear, _BROKEN, 1.0)(share)

    def folding(self, pages: Sequence[str]) -> Iterator[str]:
        """The pages whose records are to be folded; how far that is, is heard."""
        return heard(pages, part(self._hear, 0.0, _FOLDED), _TURN)

    def fitting(self, share: float) -> None:
        """Hears how far the text is broken into the lines of the hands as they are fitted."""
        part(self._hear, _FOLDED, _FITTED)(share)

    def filling(self, share: float) -> None:
        """Hears how far the pages of the budget are filled."""
        part(self._hear, _FITTED, 1.0)(share)
