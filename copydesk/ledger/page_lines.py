"""The lines of one page, each with its words and the place where it stands: as written, then as planned."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.breaking import Lines
from copydesk.book.budget import letters_needed
from copydesk.book.casting import Caster, CastLine, Cursor

if TYPE_CHECKING:
    from copydesk.ledger.page_record import Stint
    from copydesk.ledger.standing import Standing


def lines_of_page(standing: Standing, index: int) -> list[CastLine]:
    """Every text line of a page in reading order.

    Written lines are laid out as closely as their recorded words and number of lines ask, so the last word of
    a stint stands at its end; the breaks within it are the likeliest, not known.
    """
    page = standing.budget.pages[index]
    record = standing.record(standing.skin_at(index))
    written = _written_lines(standing, index, record.stints)
    if record.whole:
        return written
    start = standing.copy.piece(record.ends) if record.stints and record.ends is not None else page.start
    caster = standing.budgeter.caster(record.stints[-1].hand if record.stints else standing.hand_of(index))
    frame = standing.frames.get(index, standing.frame)
    cursor = _cursor(standing, index, start)
    planned = caster.page_lines(
        cursor, frame, recto=index % 2 == 0, limit=page.end, skip=record.written, fixed=standing.budget.fixed
    )
    return written + planned


def _cursor(standing: Standing, index: int, start: int) -> Cursor:
    """The cursor this page was cast from, so that spaces waiting from the page before find their place again."""
    cast = standing.budget.casts[index]
    if cast is not None and cast.start.piece == start:
        return cast.start
    return standing.budgeter.cursor(start)


def _written_lines(standing: Standing, index: int, stints: tuple[Stint, ...]) -> list[CastLine]:
    copy = standing.copy
    frame = standing.frames.get(index, standing.frame)
    found: list[CastLine] = []
    for stint in stints:
        start, end = copy.piece(stint.from_word), copy.piece(stint.to_word)
        count = stint.to_line - stint.from_line + 1
        expected = standing.measures.get(stint.hand) or next(iter(standing.measures.values()))
        letters = letters_needed(copy, start, end, count, expected) or expected
        caster = Caster(Lines.as_needed(copy, letters * copy.mean * copy.grain), ())
        cursor = Cursor(start)
        lines = caster.page_lines(cursor, frame, recto=index % 2 == 0, limit=end, skip=stint.from_line - 1)
        found += lines[:count]
    return found


def line_places(standing: Standing, index: int) -> list[tuple[int, int]]:
    """Column and line (from 1) of each line of a page that text can stand on, in reading order."""
    frame = standing.frames.get(index, standing.frame)
    taken = {
        (column, line)
        for placement in (*frame.fixed, *standing.budget.pages[index].placed)
        if placement.share == 0.0 and placement.lines
        for column in (range(1, frame.columns + 1) if placement.column == 0 else (placement.column,))
        for line in range(placement.from_line, placement.from_line + placement.lines)
    }
    taken |= {(column, line) for column, line, share in frame.flaws if share <= 0.0}
    return [
        (column, line)
        for column in range(1, frame.columns + 1)
        for line in range(1, frame.lines + 1)
        if (column, line) not in taken
    ]
