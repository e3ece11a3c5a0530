"""All that one entry of the ledger tells, as lines of a panel. Pure."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.sanitize import sanitize
from copydesk.desk.wording.lines import PanelLine
from copydesk.tracking.ledger.timestamps import say_at
from copydesk.tracking.log.entry_text import describe

if TYPE_CHECKING:
    from collections.abc import Iterator

    from copydesk.tracking.ledger.entry import Entry
    from copydesk.tracking.state.book_state import BookState


def entry_lines(entry: Entry, state: BookState, *, taken_back: bool) -> list[PanelLine]:
    """What it says, when, at which desk, by whom, and each fact it holds."""
    return [*_lines(entry, state, taken_back=taken_back)]


def _lines(entry: Entry, state: BookState, *, taken_back: bool) -> Iterator[PanelLine]:
    yield PanelLine("What", sanitize(describe(entry, state)))
    if taken_back:
        yield PanelLine("", "taken back; y lets what was taken back last stand again")
    yield PanelLine("When", sanitize(say_at(entry.at)))
    yield PanelLine("Hand", sanitize(entry.hand or "none"))
    yield PanelLine("Desk", sanitize(entry.desk))
    yield PanelLine("Entry", sanitize(entry.entry))
    for name, value in entry.facts.items():
        yield PanelLine(name.replace("_", " ").capitalize(), sanitize(str(value)))
