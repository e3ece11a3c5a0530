"""``copydesk sheets BOOK``: which pages stand on which sheet, side and half."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.structure.openings import opening_label, unlike_openings, why_unlike
from copydesk.book.structure.sheets import open_sheets
from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.open_book import add_book, open_book
from copydesk.cli.output import give_json, say, table, table_of
from copydesk.tracking.log.space_text import also_words
from copydesk.tracking.views.sheet_pile import WHERE, pile_now
from copydesk.tracking.views.sheet_report import SHEETS
from copydesk.tracking.views.sheet_view import instead_of_page

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace

    from copydesk.book.plan import Book
    from copydesk.book.structure.gathering import Gathering
    from copydesk.book.structure.sheets import OpenSheet, OpenSide
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.sheet_pile import SheetStatus


SAYS = (
    "Each sheet as it lies open: the pages on its outer and inner side, left and right, and the surface. With\n"
    "--where, where each sheet is, who has it since when, and what it waits for before it may go to the artist."
)
EXAMPLES = ("copydesk sheets my-book", "copydesk sheets my-book --where", "copydesk sheets my-book --json")


def add_arguments(parser: ArgumentParser) -> None:
    """The book, whether to tell where sheets are, and ``--json``."""
    add_book(parser)
    parser.add_argument("--where", action="store_true", help="where each sheet is, and who has it")


def run(arguments: Namespace) -> ExitCode:
    """Give the sheets."""
    job = open_book(arguments)
    if arguments.where:
        _where(job.state, pile_now(job.state, job.clock()), as_json=arguments.json)
        return ExitCode.DONE
    collation, book = job.state.collation, job.book
    if arguments.json:
        give_json(SHEETS.data(collation))
        return ExitCode.DONE
    rows = [
        (sheet.name, *_side(book, sheet.outer, gathering, sheet), *_side(book, sheet.inner, gathering, sheet))
        for gathering in collation.gatherings
        for sheet in open_sheets(collation, gathering.number)
    ]
    table(("sheet", "outer left", "right", "surface", "inner left", "right", "surface"), rows)
    numbering = book.signing.foliation
    for opening in unlike_openings(collation):
        say(f"At {opening_label(opening, numbering)} hair faces flesh: {why_unlike(collation, opening, numbering)}.")
    return ExitCode.DONE


def _where(state: BookState, sheets: list[SheetStatus], *, as_json: bool) -> None:
    if as_json:
        give_json(WHERE.all_data(sheets))
        return
    shown = WHERE.only("sheet", "pages", "place", "who", "since", "dry", "waits_for", "spaces_waiting")
    table_of(shown, sheets, state.book)
    for sheet in sheets:
        if sheet.record.also is not None:
            say(f"Sheet {sheet.sheet.name}: {also_words(sheet.record.also)}.")


def _side(book: Book, side: OpenSide, gathering: Gathering, sheet: OpenSheet) -> tuple[object, object, str]:
    missing = instead_of_page(gathering, sheet.sheet).in_short
    left, right = (book.named(page) if page is not None else missing for page in (side.left, side.right))
    return (left, right, side.surface.value)
