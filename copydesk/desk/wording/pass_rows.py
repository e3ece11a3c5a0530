"""What the screen of the passes shows: pages down, passes across, and all that one page needs in one pass. Pure."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.phrases import count_of
from copydesk.book.common.sanitize import sanitize
from copydesk.book.common.text_table import laid_out
from copydesk.desk.wording.lines import ListRow, PanelLine, under_one_head
from copydesk.tracking.ledger.timestamps import say_at
from copydesk.tracking.passes.pass_items import pass_items
from copydesk.tracking.passes.pass_report import item_words, sheets_ready, state_words, turn_words
from copydesk.tracking.passes.pass_status import PassState, PassStatus

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from copydesk.book.plan import Book
    from copydesk.tracking.state.book_state import BookState


NO_PASSES = " No passes: all is written with the text. v e names some, under passes."

Row = tuple[PassStatus, ...]
"""A page in every pass of the book, the text's first."""


def title(rows: Sequence[Row], name: str) -> str:
    """The line above the list: the pass in hand, its ink, and on how many pages it is done, may begin, waits."""
    found = [each for row in rows for each in row if each.name == name]
    if not found:
        return NO_PASSES
    ink = f", {found[0].work.plan.ink}" if found[0].work.plan.ink else ""
    counts = ((state, sum(each.state is state for each in found)) for state in PassState if state)
    told = ", ".join(f"{state} {number}" for state, number in counts if number and state is not PassState.NOTHING)
    return sanitize(f" In hand: {name}{ink}; pages: {told or 'none'}")


class PassTable(NamedTuple):
    """The list: the heads of its columns, the pass in hand between brackets, and a row for each page."""

    heads: str
    rows: list[ListRow[Row]]


def pass_table(rows: Sequence[Row], name: str, book: Book, *, ready: bool) -> PassTable:
    """Every page, or with ``ready`` only those where the pass in hand may begin, sheet by sheet."""
    turns = sheets_ready(rows, [name]) if ready else []
    pages = {each.page for turn in turns for each in turn.pages}
    shown = [row for row in rows if not ready or row[0].page in pages]
    names = (_marked(plan.name, plan.name == name) for plan in book.passes)
    cells = (
        (book.named(row[0].page), row[0].sheet, *(_marked(_cell(each), each.name == name) for each in row))
        for row in shown
    )
    heads, *lines = laid_out(("page", "sheet", *names), cells)
    of_page = {row[0].page: ListRow(f"  {line}", row) for row, line in zip(shown, lines, strict=True)}
    if not ready:
        return PassTable(f"  {heads}", list(of_page.values()))
    grouped = (
        (ListRow[Row](f" {turn_words(turn, book)}", None), *(of_page[each.page] for each in turn.pages))
        for turn in turns
    )
    return PassTable(f"  {heads}", [row for group in grouped for row in group])


def _marked(said: str, in_hand: bool) -> str:
    return f"[{said or '-'}]" if in_hand else f" {said} "


def _cell(status: PassStatus) -> str:
    """How far a page is in a pass, in a word, with how many things there are or are left open."""
    if status.state is PassState.NOTHING:
        return ""
    number = status.left or status.things
    return f"{number} {status.state}" if number else str(status.state)


def page_lines(state: BookState, row: Row, name: str) -> Iterator[PanelLine]:
    """What there is to say of one page in the pass in hand: how far it is, and everything to be written there."""
    status = next(each for each in row if each.name == name)
    plan, book = status.work.plan, state.book
    yield PanelLine("Page", sanitize(f"{book.named(status.page)}, on sheet {status.sheet}"))
    said = state_words(status, book) if status.state is not PassState.NOTHING else "needs nothing here"
    yield PanelLine("Pass", sanitize(f"{name}: {said}"))
    done = state.record(state.skin_at(status.page.index)).passes.get(name)
    if done is not None:
        yield PanelLine("Done", sanitize(f"by {done.hand}, {say_at(done.at)}"))
    told = (("Ink", plan.ink), ("Hand", plan.hand), ("Goes", f"{plan.artist} the artist" if status.things else ""))
    yield from (PanelLine(head, sanitize(each)) for head, each in told if each)
    items = pass_items(state, status.page.index, status.work)
    if items:
        yield PanelLine("Write", count_of(len(items), "thing"))
    yield from under_one_head("", (item_words(item, book) for item in items))
