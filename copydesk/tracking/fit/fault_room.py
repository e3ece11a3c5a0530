"""The room at a fault: widths in the hand's letters, what is free in its line and paragraph, the skin on both sides."""

from __future__ import annotations

from itertools import accumulate
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.sanitize import sanitize
from copydesk.book.structure.page import Page
from copydesk.book.text.letter_widths import WidthTable, width_table
from copydesk.comparing.corrections import FROM_HERE, SCRAPED
from copydesk.tracking.checking.never_scraped import WrittenPlace, unscraped_at
from copydesk.tracking.state.page_content import lines_of_page
from copydesk.tracking.views.page_view import page_account
from copydesk.tracking.views.space_view import spaces_on

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from copydesk.book.layout.page_frame import CastLine
    from copydesk.book.structure.page import Surface
    from copydesk.tracking.ledger.page_record import Fault
    from copydesk.tracking.state.book_state import BookState


_WORDS_BEHIND = 3
"""Words told of the line on the other side."""


class FaultRoom(NamedTuple):
    """The room at a fault; lengths in mm.

    ``wrong`` and ``right`` are the widths of what stands and what should stand, with the word-space that words added or
    taken out bring; ``offset`` is how far into its column the fault begins and ``rest`` the width of what follows it on
    the line. ``slacks`` are what is free on each line from this one to the paragraph's end on this page, its own first;
    none where the line is not known. ``scraped_here`` and ``scraped_behind`` are the faults scraped on this line
    and on the other side of it; ``behind`` is what stands there; ``never`` why it may not be scraped at all.
    """

    hand: str
    measure: float
    wrong: float
    right: float
    offset: float
    rest: float
    slacks: tuple[float, ...]
    surface: Surface
    scraped_here: tuple[int, ...]
    scraped_behind: tuple[int, ...]
    behind: str
    never: tuple[str, ...]

    @property
    def change(self) -> float:
        """How much more room the right words take; negative where they take less."""
        return self.right - self.wrong

    @property
    def slack(self) -> float:
        """What is free on its line."""
        return self.slacks[0] if self.slacks else 0.0

    @property
    def paragraph_slack(self) -> float:
        """What is free on the lines from this one to the paragraph's end on this page."""
        return sum(max(slack, 0.0) for slack in self.slacks)

    @property
    def lines_again(self) -> int:
        """How many lines from this one on have to be written again to take up the change; 0 where they cannot."""
        sums = accumulate(max(slack, 0.0) for slack in self.slacks)
        return next((number for number, free in enumerate(sums, 1) if free >= self.change), 0)


def room_at(state: BookState, page: Page, fault: Fault) -> FaultRoom:
    """The room at a fault of a page."""
    account = page_account(state, page.index)
    lines = lines_of_page(state, page.index)
    at = _line_of(state, lines, fault)
    number = at + 1 if at is not None else 0
    stints = account.record.stints
    hand = next((each.hand for each in stints if each.from_line <= number <= each.to_line), "")
    hand = hand or (stints[-1].hand if stints else state.hand_on(page.index))
    scale = _Scale(state, hand)
    wrong, right = scale.mm(fault.stands), scale.mm(fault.should)
    space = scale.space if not (fault.stands and fault.should) else 0.0
    wrong, right = (wrong + space if wrong else 0.0), (right + space if right else 0.0)
    offset, rest, words, slacks = 0.0, 0.0, range(0), list[float]()
    if at is not None:
        offset, rest, words = _within(state, lines[at], fault, scale)
        slacks = list(_slacks(state, page.index, lines[at:], scale))
        if fault.stands and fault.should:
            slacks[0] += right - wrong
    column = lines[at].column if at is not None else fault.column
    line = lines[at].line if at is not None else fault.line
    spot = (column, line) if column and line else None
    return FaultRoom(
        hand,
        state.layout.measure,
        wrong,
        right,
        offset,
        rest,
        tuple(slacks),
        account.place.surface,
        _scraped(state, page, spot, fault),
        _scraped(state, Page.at(page.index ^ 1), _mirrored(state, spot), None),
        _behind(state, page, spot, offset),
        unscraped_at(state, WrittenPlace(page, column, line, words)),
    )


class _Scale:
    """Widths of words in mm, as a hand writes them."""

    def __init__(self, state: BookState, hand: str) -> None:
        self.table: WidthTable = width_table(state.book.letter_widths)
        self._mm = state.layout.measure / (state.letters_of(hand) * (state.copy.mean or 1.0))
        self.space = self.table.space * self._mm

    def mm(self, words: str) -> float:
        return self.table.width_of(words) * self._mm


def _line_of(state: BookState, lines: Sequence[CastLine], fault: Fault) -> int | None:
    """The place among the page's lines of the fault's line, given or found by its word."""
    if fault.line is not None:
        spot = (fault.column or 1, fault.line)
        return next((at for at, each in enumerate(lines) if (each.column, each.line) == spot), None)
    if fault.word is None:
        return None
    piece = state.copy.piece(fault.word)
    return next((at for at, each in enumerate(lines) if each.start <= piece < each.end), None)


def _within(state: BookState, line: CastLine, fault: Fault, scale: _Scale) -> tuple[float, float, range]:
    """How far into its line a fault begins, the width of what follows it there, and the exemplar's words concerned.

    Where the word is not known, the fault is taken to begin the line, and the whole line to be concerned.
    """
    copy = state.copy
    first, last = copy.word(line.start), copy.word(line.end)
    if fault.word is None or not first <= fault.word <= last:
        return 0.0, scale.mm(copy.line_text(line.start, line.end)), range(first, last)
    should = max(len(fault.should.split()), 1)
    at, end = copy.piece(fault.word), min(copy.piece(fault.word + len(fault.should.split())), line.end)
    before, after = copy.line_text(line.start, at), copy.line_text(end, line.end)
    offset = scale.mm(before) + (scale.space if before else 0.0)
    return offset, scale.mm(after) + (scale.space if after else 0.0), range(fault.word, fault.word + should)


def _slacks(state: BookState, index: int, lines: Sequence[CastLine], scale: _Scale) -> Iterator[float]:
    """What is free on each line from the first of these to the end of its paragraph, as cast."""
    copy = state.copy
    shares = state.frame_of(index).shares()
    run = copy.run_of(lines[0].start)
    for line in lines:
        if copy.run_of(line.start) != run:
            return
        room = shares[line.column - 1][line.line - 1] * state.layout.measure
        yield room - scale.mm(copy.line_text(line.start, line.end))


def _mirrored(state: BookState, spot: tuple[int, int] | None) -> tuple[int, int] | None:
    """The same place seen from the other side of the leaf: columns run the other way, lines lie behind lines."""
    return (state.layout.columns + 1 - spot[0], spot[1]) if spot is not None else None


def _scraped(state: BookState, page: Page, spot: tuple[int, int] | None, but: Fault | None) -> tuple[int, ...]:
    if spot is None or page.index >= state.collation.pages:
        return ()
    faults = state.record(state.skin_at(page.index)).faults
    here = (each for each in faults if (each.column or 1, each.line) == spot and each.remedy in (SCRAPED, FROM_HERE))
    return tuple(each.number for each in here if but is None or each.id != but.id)


def _behind(state: BookState, page: Page, spot: tuple[int, int] | None, offset: float) -> str:
    """What stands on the other side of the leaf behind a place; empty where nothing does or the place is not known."""
    index = page.index ^ 1
    if spot is None or index >= state.collation.pages:
        return ""
    column, line = state.layout.columns + 1 - spot[0], spot[1]
    frame = state.frame_of(index)
    for space in spaces_on(state, index):
        placed = space.placement
        if placed is not None and space.record.stages and (column, line) in set(frame.lines_of(placed)):
            return sanitize(f"space {space.plan.id} ({space.plan.kind}), {space.record.stages[-1].what}")
    record = state.record(state.skin_at(index))
    lines = lines_of_page(state, index)[: record.written]
    found = next((each for each in lines if (each.column, each.line) == (column, line)), None)
    if found is None:
        return ""
    words = state.copy.line_text(found.start, found.end).split()
    share = 1 - offset / state.layout.measure
    at = max(min(round(share * len(words)) - 1, len(words) - 1), 0)
    first = max(at - _WORDS_BEHIND // 2, 0)
    told = " ".join(words[first : first + _WORDS_BEHIND])
    return sanitize(f'"{told}", {state.book.named(Page.at(index))} column {column}, line {line}') if told else ""
