"""What the screen of the pile shows: the sheets place by place, and what there is to say of one. Pure."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.phrases import count_of
from copydesk.book.common.sanitize import sanitize
from copydesk.desk.wording.lines import ListRow, PanelLine, grouped_rows, under_one_head
from copydesk.tracking.ledger.entry_kinds import SHEET_PLACES, SheetPlace
from copydesk.tracking.ledger.timestamps import say_at, say_moment
from copydesk.tracking.log.entry_text import describe
from copydesk.tracking.log.space_text import also_words
from copydesk.tracking.views.page_view import page_account
from copydesk.tracking.views.sheet_pile import WHERE, waits_words, whereabouts

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from datetime import datetime

    from copydesk.book.plan import Book
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.sheet_pile import SheetStatus


def title(sheets: Sequence[SheetStatus]) -> str:
    """The line above the list: how many sheets are where."""
    counted = [(place, sum(sheet.record.place == place for sheet in sheets)) for place in SheetPlace]
    told = ", ".join(f"{place} {number}" for place, number in counted if number)
    return f" The pile, {count_of(len(sheets), 'sheet')}: {told}"


def rows(sheets: Sequence[SheetStatus], book: Book) -> list[ListRow[SheetStatus]]:
    """The list: each place that has sheets, then they, gathering by gathering."""
    places = ((place, [sheet for sheet in sheets if sheet.record.place == place]) for place in SheetPlace)
    groups = (
        (f"{place.words.capitalize()}: {count_of(len(there), 'sheet')}", there) for place, there in places if there
    )
    return grouped_rows(groups, WHERE.only("sheet", "pages", "may_leave"), book)


def sheet_lines(state: BookState, sheet: SheetStatus, now: datetime) -> Iterator[PanelLine]:
    """What there is to say of one sheet: where it is, its pages, its spaces, where it has been."""
    yield PanelLine("Sheet", sanitize(f"{sheet.sheet.name}, {whereabouts(sheet.record)}"))
    if sheet.record.also is not None:
        yield PanelLine("Look", sanitize(also_words(sheet.record.also)), wrong=True)
    if sheet.dry is not None:
        yield PanelLine("Ink", f"{'dry since' if sheet.dry <= now else 'dries until'} {say_moment(sheet.dry)}")
    pages = (f"{state.book.named(page)} {page_account(state, page.index).next_act}" for page in sheet.sheet.pages())
    yield PanelLine("Pages", ", ".join(pages))
    yield PanelLine(
        "Waits",
        f"for {waits_words(sheet.waits_for, state.book)}"
        if sheet.waits_for
        else "for nothing: it may go to the artist",
    )
    if sheet.spaces:
        yield PanelLine("Spaces", sanitize(", ".join(sheet.spaces)))
    moves = [entry for entry in state.ledger.live("sheet", sheet.sheet.name) if entry.what in SHEET_PLACES]
    recent = reversed(moves[-_MOST_MOVES:])
    yield from under_one_head("Been", (sanitize(f"{say_at(entry.at)}: {describe(entry, state)}") for entry in recent))


_MOST_MOVES = 6
"""Moves of a sheet told; the log has them all."""
