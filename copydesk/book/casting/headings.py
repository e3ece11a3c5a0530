"""Headings: which lines of a column they need, so that none stands alone at its foot."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from copydesk.book.casting.line_breaking import Lines
    from copydesk.book.layout.page_frame import Anchored


class Headings:
    """The headings of a text, and the lines each needs in one column with what follows it.

    ``starts`` gives where each begins and where the text after it does (``CopyText.headings``). What follows are as
    many lines as the book's flow asks for, and where an initial begins it, the initial's. A heading that a whole column
    does not hold needs just the column.
    """

    def __init__(self, lines: Lines, anchors: Sequence[Anchored], starts: Mapping[int, int]) -> None:
        self._lines = lines
        self._keep = lines.copy.flow.keep_with_next
        self._texts = starts if self._keep else {}
        self._starts = list(self._texts)
        self._initials = {each.piece: each.shape.lines for each in anchors if each.shape.share > 0.0 and self._starts}
        self._needs: dict[int, int] = {}

    def need(self, piece: int, column: int, limit: int | None = None) -> int:
        """The lines that a heading beginning at ``piece`` needs in a column of so many; 0 where none begins there.

        Nor does it need any where the text after it is held to begin on a later page, at the piece ``limit``.
        """
        if piece not in self._texts or (limit is not None and self._texts[piece] >= limit):
            return 0
        if piece not in self._needs:
            text, everything = self._texts[piece], self._lines.copy.pieces
            following = self._lines.advance(text, self._keep, everything)[1]
            own = self._lines.count(piece, text)
            self._needs[piece] = own + max(following, self._initials.get(text, 0))
        return min(self._needs[piece], column)

    def begins_at(self, piece: int) -> bool:
        """Whether a heading that is to be kept with its text begins at ``piece``."""
        return piece in self._texts

    def after(self, piece: int) -> int:
        """Where the next heading after ``piece`` begins; the text's end where there is none."""
        found = bisect_right(self._starts, piece)
        return self._starts[found] if found < len(self._starts) else self._lines.copy.pieces

    def any_alone(self, first: int, last: int, column: int) -> bool:
        """Whether a heading would stand alone at the foot of one of the columns of full lines of a page.

        Args:
            first: the number of the page's first line among the lines of the whole text.
            last: that of the line after its last.
            column: the lines of a column.
        """
        lines = self._lines.starts
        at = bisect_left(self._starts, lines[last]) - 1
        while at >= 0 and self._starts[at] >= lines[first]:
            line = bisect_left(lines, self._starts[at], first, last) - first
            if column - line % column < self.need(self._starts[at], column):
                return True
            at -= 1
        return False
