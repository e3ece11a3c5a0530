"""What a page needs in a later pass, thing by thing: where it stands, the exact words, its room and its width in mm."""

from __future__ import annotations

from bisect import bisect_right
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.layout.passes import Sort
from copydesk.book.text.letter_widths import WordWidths, width_table
from copydesk.tracking.later.later_work import PILCROWS, without_marks
from copydesk.tracking.state.page_content import lines_of_page

if TYPE_CHECKING:
    from collections.abc import Sequence

    from copydesk.book.layout.page_frame import CastLine
    from copydesk.tracking.later.later_work import Mark, PassWork
    from copydesk.tracking.state.book_state import BookState


_APART = (Sort.RUNNING_TITLES, Sort.CONTENTS_LINES)
_OF_WORDS = (Sort.HEADINGS, Sort.CHAPTER_NUMBERS, *_APART)


class PassItem(NamedTuple):
    """One thing to be written in a pass.

    ``number`` counts those of the page and the pass from 1. ``words`` is exactly what is to be written there, ``of``
    the word it stands with (empty for a heading). ``lines`` are those it takes from ``line`` of ``column`` on.
    ``width`` is what the hand of the pass needs for it, of a heading on its longest line; ``room`` what the hand of the
    page leaves there; ``height`` that of its lines; all in mm. A running title stands on no line (0), its foot so many
    mm ``from_head``. ``left`` says that the pass was done and this left open.
    """

    number: int
    sort: Sort
    word: int
    words: str
    of: str
    column: int
    line: int
    lines: int
    width: float
    room: float
    height: float
    from_head: float | None = None
    left: bool = False

    @property
    def too_wide(self) -> bool:
        """Whether it needs more than its room by more than half a millimetre, which no pen keeps to."""
        return self.width > self.room + 0.5 and self.sort in _OF_WORDS


def pass_items(state: BookState, index: int, work: PassWork) -> list[PassItem]:
    """All that a page needs in one pass, in the order of the text."""
    done = state.record(state.skin_at(index)).passes.get(work.plan.name)
    page = _PageRoom(state, index, work.plan.hand)
    items = [page.item(at, mark) for at, mark in enumerate(work.marks, 1)]
    return [item._replace(left=done is not None and item.word in done.left) for item in items]


def left_out_words(item: PassItem) -> str:
    """What the pen leaves out, for whoever writes the text: ``col. 1 l. 5 "On frost"``, ``l. 1 "T" of "The"``."""
    of = f' of "{item.of}"' if item.of and item.of != item.words else ""
    return f'col. {item.column} l. {item.line} "{item.words}"{of}'


class _PageRoom:
    """The lines of a page, and what fits on them."""

    def __init__(self, state: BookState, index: int, hand: str) -> None:
        self.state = state
        self.page = state.budget.pages[index]
        self.lines: Sequence[CastLine] = [line for line in lines_of_page(state, index) if line.start < line.end]
        frame = state.frame_of(index)
        fixed = (*frame.fixed, *(each for each in self.page.placed if each not in frame.fixed))
        self.placed, self.recto = fixed, index % 2 == 0
        self.shares = frame._replace(fixed=fixed).shares()
        self.widths = WordWidths(width_table(state.book.letter_widths))
        full = state.layout.measure / state.copy.mean
        self.mm = full / state.letters_on(index)
        self.pass_mm = full / state.letters_of(hand) if state.book.hand(hand) is not None else self.mm

    def item(self, number: int, mark: Mark) -> PassItem:
        """One thing with its place; a heading that began on the page before has only the words that stand here."""
        if mark.sort in _APART:
            return self._apart(number, mark)
        start, end = max(mark.piece, self.page.start), min(mark.end, self.page.end)
        first = max(bisect_right(self.lines, start, key=lambda line: line.start) - 1, 0)
        here = [line for line in self.lines[first:] if line.start < end] or self.lines[first : first + 1]
        column, line = (here[0].column, here[0].line) if here else (1, 1)
        lines, words = (len(here) or 1) if mark.sort is Sort.HEADINGS else 1, mark.written
        if mark.sort is Sort.CHAPTER_NUMBERS:
            width, room = self.widths.table.width_of(words) * self.pass_mm, self._beside(column)
        elif mark.sort is not Sort.HEADINGS:
            width, room = self._letter(mark)
        elif self.state.copy.written is None:
            width, room = self.widths.table.width_of(words) * self.pass_mm, self._measure(column, line)
        else:
            words = without_marks(self.state.copy.text(start, end))
            width, room = max((self._on_line(each, start, end) for each in here), default=(0.0, 0.0))
        height = lines * self.state.layout.line_height
        word = self.state.copy.word(start)
        return PassItem(number, mark.sort, word, words, mark.of, column, line, lines, width, room, height)

    def _apart(self, number: int, mark: Mark) -> PassItem:
        """What stands apart from the text: a running title in the head margin, a line of the list of contents.

        A line of the list for which none is kept has no room.
        """
        layout, words = self.state.layout, mark.written
        width, height = self.widths.table.width_of(words) * self.pass_mm, layout.line_height
        if mark.sort is Sort.RUNNING_TITLES:
            given = self.state.book.titles.from_head
            foot = layout.margins.head / 2 if given is None else given
            return PassItem(number, mark.sort, mark.word, words, "", 0, 0, 1, width, layout.written_width, height, foot)
        kinds = {plan.id: plan.kind for plan in self.state.plans}
        where = next(each for each in self.placed if kinds.get(each.id) == "contents")
        line = where.from_line + number - 1
        wide = layout.written_width if where.column == 0 else layout.measure
        room = wide if number <= where.lines else 0.0
        return PassItem(number, mark.sort, mark.word, words, "", where.column or 1, line, 1, width, room, height)

    def _beside(self, column: int) -> float:
        """The room for a number beside a column: the outer margin, or the gap before the next column."""
        layout = self.state.layout
        outermost = layout.columns if self.recto else 1
        return layout.margins.outer if column == outermost else layout.gap

    def _letter(self, mark: Mark) -> tuple[float, float]:
        """Width and room of a letter or a mark; one that the text does not have stands in the space between words."""
        natural = self.widths[mark.written]
        added = mark.sort is Sort.PARAGRAPH_MARKS and PILCROWS.isdisjoint(mark.of)
        return natural * self.pass_mm, (self.widths.space if added else natural) * self.mm

    def _on_line(self, line: CastLine, start: int, end: int) -> tuple[float, float]:
        """What a heading needs on one of its lines, and what is left there by the text before it."""
        copy = self.state.copy
        first, last = max(start, line.start), min(end, line.end)
        width = copy.sums[last] - copy.sums[first] - copy.space
        before = copy.sums[first] - copy.sums[line.start]
        return width * self.pass_mm, self._measure(line.column, line.line) - before * self.mm

    def _measure(self, column: int, line: int) -> float:
        """The room for text on a line, in mm."""
        return self.shares[column - 1][line - 1] * self.state.layout.measure
