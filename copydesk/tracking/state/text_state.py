"""Spaces that stand wherever their text stands, found by the text of a page."""

from __future__ import annotations

from bisect import bisect_left
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping


class LooseSpaces(dict[str, int]):
    """The piece of the text each is tied to, by its name, in the order of the text."""

    def __init__(self, pieces: Mapping[str, int]) -> None:
        super().__init__(sorted(pieces.items(), key=lambda pair: pair[1]))
        self._names, self._pieces = list(self), list(self.values())

    def between(self, start: int, end: int) -> list[str]:
        """Those tied to the text from the piece ``start`` up to ``end``."""
        return self._names[bisect_left(self._pieces, start) : bisect_left(self._pieces, end)]
