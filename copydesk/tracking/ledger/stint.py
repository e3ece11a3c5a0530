"""A stint: what one hand wrote of a page at one sitting."""

from __future__ import annotations

from typing import NamedTuple


class Stint(NamedTuple):
    """Lines one hand wrote at one sitting: text lines of the page from 1, words of the exemplar, minutes where given.

    ``line_from`` is the word that the last line begins with, where the hand stopped within that line; ``goes_on``
    the word that the first line begins with, where an earlier stint stopped within it. None otherwise.
    ``letters`` are those to a line by which the plan put its end, None where its real last words were given.
    ``text`` tells its words in the exemplar from others, where that is known. ``asked`` are the letters a line that
    advice asked for there and ``usual`` those the hand was thought to write; None where it might write as usual.
    """

    hand: str
    from_line: int
    to_line: int
    from_word: int
    to_word: int
    at: str
    minutes: float | None
    entry: str
    line_from: int | None = None
    goes_on: int | None = None
    letters: float | None = None
    text: str = ""
    asked: float | None = None
    usual: float | None = None

    @property
    def ended(self) -> int:
        """The last line it filled: one before its last where it stopped within that."""
        return self.to_line if self.line_from is None else self.to_line - 1

    @property
    def lines(self) -> int:
        """Lines it filled; a line that two stints share counts to the one that ended it."""
        return self.ended - self.from_line + 1

    def shares_line(self, later: Stint) -> bool:
        """Whether ``later`` goes on in the line that this one stopped within."""
        return self.line_from is not None and self.to_line == later.from_line and self.to_word <= later.from_word
