"""The pages of a book in its passes, for the terminal and other programs; and what may be taken up with one ink now."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.columns import Cell, Column, Report, rows_of
from copydesk.book.common.phrases import count_of
from copydesk.book.common.sanitize import sanitize
from copydesk.book.common.units import show_length
from copydesk.book.layout.passes import Sort
from copydesk.tracking.passes.pass_items import PassItem, pass_items
from copydesk.tracking.passes.pass_status import PassState, PassStatus

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from copydesk.book.plan import Book
    from copydesk.tracking.state.book_state import BookState


class PassRow(NamedTuple):
    """A page in one pass, with everything it needs there."""

    status: PassStatus
    items: tuple[PassItem, ...]


def pass_rows(state: BookState, found: Iterable[PassStatus]) -> list[PassRow]:
    """The same with their items worked out."""
    return [
        PassRow(each, tuple(pass_items(state, each.page.index, each.work)) if each.work.marks else ()) for each in found
    ]


def waits_words(status: PassStatus, book: Book) -> str:
    """What a page waits for in a pass, for people."""
    return sanitize(", ".join(wait.named(book) for wait in status.waits_for))


def state_words(status: PassStatus, book: Book) -> str:
    """How far a page has come in a pass, in a few words: ``waits for 2r written``, ``2 left open``."""
    if status.state is PassState.WAITS:
        return f"waits for {waits_words(status, book)}"
    return f"{status.left} left open" if status.state is PassState.LEFT else str(status.state)


def cell_words(status: PassStatus, book: Book) -> str:
    """The same for a narrow column, with how many things there are, and of all that is waited for the first."""
    if status.state is PassState.NOTHING:
        return ""
    said = state_words(status._replace(waits_for=status.waits_for[:1]), book)
    return f"{status.things} {said}" if status.things and status.state is not PassState.LEFT else said


def item_words(item: PassItem, book: Book) -> str:
    """One thing to write: ``3: col. 1 l. 5, "On frost", 31.2 of 52.0 mm``; what is wider than its room says so."""
    of = f' of "{item.of}"' if item.of and item.sort is not Sort.PARAGRAPH_MARKS else ""
    size = f"{show_length(item.width, book.unit)}, room {show_length(item.room, book.unit)}"
    more = " (too wide)" * item.too_wide + " (left open)" * item.left
    return sanitize(f'{item.number}: {where_words(item, book)}, "{item.words}"{of}, {size}{more}')


def where_words(item: PassItem, book: Book) -> str:
    """Where a thing stands on its page: ``col. 1 l. 5-6``; of a running title, ``7 mm from the head``."""
    if item.from_head is not None:
        return f"{show_length(item.from_head, book.unit)} from the head"
    last = f"-{item.line + item.lines - 1}" if item.lines > 1 else ""
    return f"col. {item.column} l. {item.line}{last}"


class SheetTurn(NamedTuple):
    """A loose sheet that can be taken up now for one pass: its name, the pages that may begin, things in all.

    ``whole`` says that every page of it that needs the pass may begin.
    """

    sheet: str
    name: str
    pages: tuple[PassStatus, ...]
    things: int
    whole: bool


def sheets_ready(rows: Iterable[Sequence[PassStatus]], names: Iterable[str]) -> list[SheetTurn]:
    """The dry sheets that may take one of the passes ``names`` now, those that take it whole first."""
    wanted, sheets = set(names), dict[tuple[str, str], list[PassStatus]]()
    for status in (each for row in rows for each in row[1:] if each.name in wanted and each.open):
        sheets.setdefault((status.sheet, status.name), []).append(status)
    turns = []
    for (sheet, name), found in sheets.items():
        ready = tuple(each for each in found if each.state in (PassState.READY, PassState.LEFT))
        if ready:
            things = sum(each.left or each.things for each in ready)
            turns.append(SheetTurn(sheet, name, ready, things, len(ready) == len(found)))
    return sorted(turns, key=lambda turn: not turn.whole)


def turn_words(turn: SheetTurn, book: Book) -> str:
    """One sheet to take up: ``sheet 1.2: rubrics on 2r 7v, 5 things``; ``other pages of it wait`` where they do."""
    pages = book.listed([each.page for each in turn.pages])
    waits = "" if turn.whole else "; other pages of it wait"
    return f"sheet {turn.sheet}: {turn.name} on {pages}, {count_of(turn.things, 'thing')}{waits}"


ITEMS: Report[PassItem] = rows_of(
    "passes, a thing to write",
    "One thing that a page needs in a pass.",
    Column("number", Cell.NUMBER, "its number on the page in the pass, from 1"),
    Column("sort", Cell.TEXT, "what it is: headings, small initials, running titles"),
    Column("column", Cell.NUMBER, "its column, from 1; 0 for a running title"),
    Column("line", Cell.NUMBER, "its line in the column, from 1; 0 for a running title"),
    Column("from_head_mm", Cell.NUMBER, "from the head edge to the foot of a running title; null else", "from_head"),
    Column("lines", Cell.NUMBER, "lines it takes"),
    Column("words", Cell.TEXT, "what is to be written, exactly"),
    Column("of", Cell.TEXT, "the word it stands with; null for a heading", lambda each: each.of or None),
    Column("word", Cell.NUMBER, "the exemplar's word it begins with, from 0; -1 for a running title"),
    Column("width_mm", Cell.NUMBER, "what the hand needs, on its longest line", lambda each: round(each.width, 2)),
    Column("room_mm", Cell.NUMBER, "what the text leaves there", lambda each: round(each.room, 2)),
    Column("height_mm", Cell.NUMBER, "the height of its lines", lambda each: round(each.height, 2)),
    Column("left", Cell.YES_NO, "whether it was left open when the pass was done"),
)
PASSES: Report[PassRow] = rows_of(
    "passes",
    "One row a page and a pass that it needs; none where the book has no passes.",
    Column("page", Cell.PAGE, "the page", lambda row: str(row.status.page)),
    Column("sheet", Cell.TEXT, "its loose sheet, as 1.3", "status.sheet"),
    Column("pass", Cell.TEXT, "text, marks, rubrics, capitals, penwork, titles or contents", "status.name"),
    Column(
        "ink",
        Cell.TEXT,
        "the ink of the pass; null where the plan names none",
        lambda row: row.status.work.plan.ink or None,
    ),
    Column("state", Cell.TEXT, "done, left open, may begin or waits", "status.state"),
    Column(
        "waits_for", Cell.TEXTS, "what must come first, as 3r written", lambda row: list(map(str, row.status.waits_for))
    ),
    Column("items", Cell.ROWS, "what is to be written; none in the text's own pass", "items", of=ITEMS),
)
