"""How far the work is that the opening of a book waits for: its first plan, then its budget."""

from __future__ import annotations

from contextlib import contextmanager
from typing import TYPE_CHECKING

from copydesk.book.common.progress import OnProgress, no_progress, with_progress

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence


_LAID, _BROKEN = 0.45, 0.8
"""The shares of the first plan that are done once its text is laid, and once that is broken into lines."""

_FOLDED, _FITTED = 0.6, 0.8
"""The shares of the budget that are done once all pages are folded, and once the text is broken as hands are fitted."""

_BATCH = 500
"""Pages whose records are folded between two reports of progress."""


class OpeningProgress:
    """Reports each step's progress as a share of the whole; to nobody, except while ``reporting_to`` lasts.

    Attributes:
        laying: given the share of the text that is laid.
        breaking: given the share of the text that is broken into the lines of the first plan.
        casting: given the share of the text that is cast into the pages of the first plan.
        fitting: given the share of the text that is broken into the lines of the hands as they are fitted.
        filling: given the share of the budget's pages that are filled.
    """

    def __init__(self) -> None:
        self._on_progress: OnProgress = no_progress
        self.laying = self._step(0.0, _LAID)
        self.breaking = self._step(_LAID, _BROKEN)
        self.casting = self._step(_BROKEN, 1.0)
        self._folding = self._step(0.0, _FOLDED)
        self.fitting = self._step(_FOLDED, _FITTED)
        self.filling = self._step(_FITTED, 1.0)

    @contextmanager
    def reporting_to(self, on_progress: OnProgress) -> Iterator[None]:
        """Report the progress of a first plan, or a budget, that is worked out for the first time meanwhile."""
        self._on_progress = on_progress
        try:
            yield
        finally:
            self._on_progress = no_progress

    def folding(self, pages: Sequence[str]) -> Iterator[str]:
        """The pages whose records are to be folded, one by one; reports how many are done."""
        return with_progress(pages, self._folding, _BATCH)

    def _step(self, low: float, high: float) -> OnProgress:
        """What a step reports to; whom that goes to is looked up each time, since steps keep it beyond the opening."""
        return lambda share: self._on_progress(low + share * (high - low))
