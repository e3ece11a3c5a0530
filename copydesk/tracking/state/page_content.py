"""What stands where on one page: its lines, as written and then as planned, and its reserved spaces."""

from __future__ import annotations

from bisect import bisect_right
from typing import TYPE_CHECKING

from copydesk.book.casting.closeness import count_lines, nearest_measure
from copydesk.book.casting.line_breaking import Lines
from copydesk.book.casting.page_casting import Caster
from copydesk.book.layout.page_frame import CastLine, Cursor, Placement
from copydesk.book.structure.page import Page
from copydesk.tracking.state.fixed_starts import resume

if TYPE_CHECKING:
    from collections.abc import Sequence

    from copydesk.book.layout.page_frame import CastLine
    from copydesk.tracking.ledger.stint import Stint
    from copydesk.tracking.state.book_state import BookState


def lines_of_page(state: BookState, index: int) -> list[CastLine]:
    """Every text line of a page in reading order.

    Written lines are laid out as closely as their recorded words and number of lines ask, so the last word of
    a stint stands at its end; the breaks within it are the likeliest, not known. A line that was stopped within is
    there once, as it will be when it is full.
    """
    page = state.budget.pages[index]
    record = state.record(state.skin_at(index))
    written = _written_lines(state, index, record.stints)
    if record.whole:
        return written
    hand = state.hand_on(index)
    start, skip = page.start, 0
    if record.stints:
        start, skip = resume(state.copy, record, state.letters_of(hand))
        written = [line for line in written if line.start < start]
    caster = state.budgeter.caster(hand, state.agreed.get(index))
    frame = state.frames.get(index, state.frame)
    cursor = _cursor(state, index, start)
    planned = caster.page_lines(
        cursor, frame, recto=index % 2 == 0, limit=page.end, skip=skip, fixed=state.budget.fixed
    )
    return written + planned


def lines_on_from(state: BookState, index: int, start: int, skip: int) -> list[CastLine]:
    """The lines that the text from piece ``start`` fills on a page below ``skip`` others, if it is written there now.

    Spaces stand where the plan has them on the page.

    Args:
        state: the book.
        index: the page, in reading order from 0.
        start: the piece of the text to begin with.
        skip: lines of the page that are taken.
    """
    page, hand = state.budget.pages[index], state.hand_on(index)
    frame = state.frame_of(index)
    known = {placement.id for placement in frame.fixed}
    placed = tuple(placement for placement in page.placed if placement.id not in known)
    return state.budgeter.caster(hand, state.agreed.get(index)).page_lines(
        state.budgeter.cursor(start)._replace(held=True),
        frame._replace(fixed=(*frame.fixed, *placed)),
        recto=index % 2 == 0,
        limit=state.copy.pieces,
        skip=skip,
        fixed=state.budget.fixed | {placement.id for placement in placed},
    )


def _cursor(state: BookState, index: int, start: int) -> Cursor:
    """The cursor this page was cast from, so that spaces waiting from the page before find their place again."""
    cast = state.budget.casts[index]
    if cast is not None and cast.start.piece == start:
        return cast.start
    return state.budgeter.cursor(start)


def _written_lines(state: BookState, index: int, stints: tuple[Stint, ...]) -> list[CastLine]:
    lines: list[CastLine] = []
    for stint in stints:
        if stint.goes_on is not None:
            lines = lines[:-1]
        lines += lines_of_stint(state, index, stint)
    return lines


def lines_of_stint(state: BookState, index: int, stint: Stint) -> list[CastLine]:
    """The lines of one stint.

    A line in which an earlier stint had stopped is among them, from its beginning. Where the words between can be told
    to fall into the recorded number of lines at some closeness, that closeness is used, so that the last word stands at
    the stint's end; else the hand's own.
    """
    copy, frame = state.copy, state.frames.get(index, state.frame)
    start = copy.piece(stint.from_word if stint.goes_on is None else stint.goes_on)
    end = copy.piece(stint.to_word)
    count = stint.to_line - stint.from_line + 1
    if start >= end or count < 1:
        return []
    expected = state.measures.get(stint.hand) or next(iter(state.measures.values()))
    cursor, recto, skip = Cursor(start), index % 2 == 0, stint.from_line - 1

    def caster(letters: float) -> Caster:
        return Caster(Lines.as_needed(copy, letters * copy.mean * copy.grain), (), anywhere=True)

    def lines_at(letters: float) -> int:
        cast = caster(letters).page(cursor, frame, recto=recto, limit=end, skip=skip)
        return max(cast.lines - skip, 0) + count_lines(copy, cast.end.piece, end, letters)

    letters = nearest_measure(lines_at, count, expected) or expected
    lines = caster(letters).page_lines(cursor, frame, recto=recto, limit=end, skip=skip)[:count]
    return [*lines[:-1], lines[-1]._replace(end=end)] if len(lines) == count else lines


def line_places(state: BookState, index: int) -> list[tuple[int, int]]:
    """Column and line (from 1) of each line of a page that text can stand on, in reading order."""
    frame = state.frames.get(index, state.frame)
    taken = {
        place
        for placement in (*frame.fixed, *state.budget.pages[index].placed)
        if placement.share == 0.0
        for place in frame.lines_of(placement)
    }
    taken |= frame.lost
    return [
        (column, line)
        for column in range(1, frame.columns + 1)
        for line in range(1, frame.lines + 1)
        if (column, line) not in taken
    ]


def line_begins(state: BookState, index: int, stint: Stint) -> int:
    """The word the last line of ``stint`` begins with, for a line that is not full, by the hand's usual set."""
    lines = lines_of_stint(state, index, stint)
    return state.copy.word(lines[-1].start) if lines else stint.from_word


def placements_on(state: BookState, index: int) -> tuple[Placement, ...]:
    """Spaces on a page: those fixed there, those the casting puts there, those that go with its text.

    The last kind takes no lines; its line is 0 here and is found by ``with_line``.
    """
    fixed = state.frames.get(index, state.frame).fixed
    page = state.budget.pages[index]
    found = (*fixed, *(each for each in page.placed if each not in fixed))
    loose = state.loose_spaces
    if not loose:
        return found
    here = (Placement(name, 0, 0, 0, 0.0) for name in loose.between(page.start, page.end))
    return (*(each for each in found if each.id not in loose), *here)


def page_of_word(state: BookState, word: int) -> Page | None:
    """The page on which a word of the exemplar stands, or is planned to stand; None where no page has room for it."""
    piece = state.copy.piece(word)
    found = [index for index, page in enumerate(state.budget.pages) if page.start <= piece < page.end]
    return Page.at(found[-1]) if found else None


def fixed_on(state: BookState, space: str) -> Page | None:
    """The ruled page on whose skin a space is fixed; None while it can still move."""
    for index, frame in state.frames.items():
        if any(placement.id == space for placement in frame.fixed):
            ruled = state.record(state.skin_at(index)).placements or ()
            if any(placement.id == space for placement in ruled):
                return Page.at(index)
    return None


def with_line(state: BookState, lines: Sequence[CastLine], placement: Placement) -> Placement:
    """The placement of a space that goes with its text, with the column and line where that stands on its page.

    ``lines`` are those of the page, as ``lines_of_page`` gives them.
    """
    piece = state.loose_spaces.get(placement.id)
    if piece is None or placement.from_line:
        return placement
    at = bisect_right(lines, piece, key=lambda line: line.start) - 1
    return placement._replace(column=lines[at].column, from_line=lines[at].line) if at >= 0 else placement
