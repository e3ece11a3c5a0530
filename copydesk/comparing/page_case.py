"""A page being compared: the words of both sides, their keys, and how a fault in them is described."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from dataclasses import dataclass
from typing import TYPE_CHECKING

from copydesk.comparing.faults import Difference

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from copydesk.comparing.faults import Kind
    from copydesk.comparing.normalization import Allowances


MOST_LINES = 3
"""A loss of more lines than this is not counted in lines by its length."""
LINE_OFF = 0.15
"""Share of a line by which lines may differ from their usual length: most of a word. Our own judgement."""


@dataclass(frozen=True, slots=True)
class SpanPair:
    """Words ``copy_from`` to ``copy_to`` of the copy beside ``text_from`` to ``text_to`` of the exemplar.

    Positions count the words that have a key; ends are exclusive.
    """

    copy_from: int
    copy_to: int
    text_from: int
    text_to: int


@dataclass(frozen=True, slots=True)
class Case:
    """All that is known of the page while its differences are named.

    Attributes:
        copied: the copied words as they stand.
        exemplar: the exemplar's words, all of them.
        copy: keys of the copied words that have one.
        copy_at: index in ``copied`` of each of those.
        text: keys of the exemplar's words in reach that have one.
        text_at: position in ``exemplar`` of each of those.
        allow: the workshop's allowances.
        lines: where the exemplar's own lines begin, indices in ``text``, sorted; empty if not known.
        leaves: the same for its leaves or their sides.
        glosses: the exemplar's marginal notes, each as its keys.
        places: column and line, from 1, of each copied word; empty if not known.
        line_letters: letters and word-spaces on a line of the exemplar, on the whole; 0 if not known.
    """

    copied: Sequence[str]
    exemplar: Sequence[str]
    copy: Sequence[str]
    copy_at: Sequence[int]
    text: Sequence[str]
    text_at: Sequence[int]
    allow: Allowances
    lines: tuple[int, ...] = ()
    leaves: tuple[int, ...] = ()
    glosses: tuple[tuple[str, ...], ...] = ()
    places: Sequence[tuple[int, int]] = ()
    line_letters: float = 0.0

    def stands(self, begin: int, end: int) -> list[str]:
        """The copied words as they stand, with lone marks between them."""
        return list(self.copied[self.copy_at[begin] : self.copy_at[end - 1] + 1]) if end > begin else []

    def should(self, begin: int, end: int) -> list[str]:
        """The exemplar's words as they stand, with lone marks between them."""
        return list(self.exemplar[self.text_at[begin] : self.text_at[end - 1] + 1]) if end > begin else []

    def position(self, word: int) -> int:
        """The exemplar position of a word in reach; past the last one, the position after it."""
        return self.text_at[word] if word < len(self.text_at) else len(self.exemplar)

    def index(self, word: int) -> int:
        """The index among the copied words; past the last one, the number of them."""
        return self.copy_at[word] if word < len(self.copy_at) else len(self.copied)

    def place_of(self, index: int) -> tuple[int, int]:
        """Column and line of a copied word, (0, 0) where places are not known; past the last one, that of the last."""
        return self.places[min(index, len(self.places) - 1)] if self.places else (0, 0)

    def fault(self, kind: Kind, span: SpanPair, sentence: str, cause: str = "", empty: bool = False) -> Difference:
        """Describe a fault over a span; where words are missing, it stands at the word before the gap.

        Args:
            kind: its name.
            span: the words concerned on both sides; one side may be empty.
            sentence: what happened.
            cause: its sort or likely cause.
            empty: nothing should stand here, although the span says where the words belong.
        """
        at = self.index(span.copy_from)
        missing = span.copy_to == span.copy_from
        column, line = self.place_of(max(0, at - 1) if missing else at)
        stands = self.stands(span.copy_from, span.copy_to)
        should = [] if empty else self.should(span.text_from, span.text_to)
        word = self.position(span.text_from)
        return Difference(
            kind, column, line, word, " ".join(stands), " ".join(should), sentence, cause, at, len(stands)
        )

    def whole_lines(self, begin: int, end: int) -> int:
        """How many whole lines of the exemplar the words make up; 0 where they do not, or lines are not known."""
        return _whole(self.lines, begin, end)

    def whole_leaves(self, begin: int, end: int) -> int:
        """How many whole leaves, or sides of leaves, the words make up; 0 where they do not."""
        return _whole(self.leaves, begin, end)

    def letters(self, begin: int, end: int) -> int:
        """How many letters the keys of the exemplar's words have, without spaces."""
        return sum(map(len, self.text[begin:end]))

    def lines_long(self, begin: int, end: int) -> int:
        """How many lines of the exemplar the words are as long as, by its usual line; 0 where that is not known.

        Nothing is said where the exemplar's lines are known one by one, nor of words that are no whole number of lines
        long, nor of more than ``MOST_LINES``, whose lengths differ too much together.
        """
        if not self.line_letters or any(begin < at <= end for at in self.lines):
            return 0
        long = self.letters(begin, end) + end - begin
        count = round(long / self.line_letters)
        off = abs(long - count * self.line_letters) / self.line_letters
        return count if 1 <= count <= MOST_LINES and off <= LINE_OFF * count**0.5 else 0

    def in_line(self, word: int) -> tuple[int, int]:
        """The exemplar's line a word stands in, and how many letters stand before it there; -1 if not known."""
        line = bisect_right(self.lines, word) - 1
        return (line, self.letters(self.lines[line], word)) if line >= 0 else (-1, -1)

    def beginnings(self, positions: Iterable[int]) -> tuple[int, ...]:
        """Positions in ``exemplar``, such as those where lines begin, as indices in ``text``, if in reach."""
        if not self.text_at:
            return ()
        first, last = self.text_at[0], self.text_at[-1] + 1
        return tuple(sorted({bisect_left(self.text_at, at) for at in positions if first <= at <= last}))


def _whole(starts: tuple[int, ...], begin: int, end: int) -> int:
    """How many units that begin at ``starts`` lie between two positions that both begin one."""
    first, last = bisect_left(starts, begin), bisect_left(starts, end)
    exact = last < len(starts) and starts[first] == begin and starts[last] == end
    return last - first if exact else 0
