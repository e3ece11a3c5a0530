"""``copydesk pages BOOK``: one row a page."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from copydesk.book.common.phrases import capital
from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.open_book import add_book, open_book
from copydesk.cli.output import give_json, say, table_of
from copydesk.tracking.fit.stretches import stretch_at
from copydesk.tracking.scribes.guide_lines import GUIDE, GUIDE_LINES, guide, notes_of
from copydesk.tracking.views.consequences import meeting_words
from copydesk.tracking.views.page_lookup import page_called
from copydesk.tracking.views.page_report import PAGES, page_rows

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace

    from copydesk.book.plan import Book
    from copydesk.tracking.scribes.guide_lines import Guide


SAYS = (
    "One row a page in reading order: what comes next, lines against the budget, text, hands, sheet and side. With\n"
    "--guide, one page line by line: the words of each line still to write, and the letters to spare at its end."
)
EXAMPLES = ("copydesk pages my-book", "copydesk pages my-book --json", "copydesk pages my-book --guide 12v")


def add_arguments(parser: ArgumentParser) -> None:
    """The book, ``--json``, and the page whose lines are wanted."""
    add_book(parser)
    parser.add_argument("--guide", metavar="PAGE", help="this page line by line: what is still to write on it")


def run(arguments: Namespace) -> ExitCode:
    """Give the pages, and where text was skipped between two of them or stands on both."""
    state = open_book(arguments).state
    if arguments.guide:
        _guide(guide(state, page_called(state, arguments.guide)), state.book, as_json=arguments.json)
        return ExitCode.DONE
    rows = page_rows(state, partial(stretch_at, state))
    if arguments.json:
        give_json(PAGES.all_data(rows))
        return ExitCode.DONE
    table_of(PAGES, rows, state.book)
    say(*(f"{words}." for row in rows if (words := meeting_words(state, row.account.page.index))))
    return ExitCode.DONE


def _guide(found: Guide, book: Book, *, as_json: bool) -> None:
    """Give what is to be written on one page."""
    if as_json:
        give_json(GUIDE.data(found))
    elif found.nothing:
        say(f"{capital(found.nothing)}.")
    else:
        table_of(GUIDE_LINES, list(found.lines), book)
        say(*notes_of(found))
