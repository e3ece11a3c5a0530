"""``copydesk pages BOOK``: one row a page."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.open_book import add_book, open_book
from copydesk.cli.output import give_json, say, table_of
from copydesk.tracking.fit.stretches import stretch_at
from copydesk.tracking.views.consequences import meeting_words
from copydesk.tracking.views.page_report import PAGES, page_rows

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace


SAYS = "One row a page in reading order: what comes next, lines against the budget, text, hands, sheet and side."
EXAMPLES = ("copydesk pages my-book", "copydesk pages my-book --json")


def add_arguments(parser: ArgumentParser) -> None:
    """The book and ``--json``."""
    add_book(parser)


def run(arguments: Namespace) -> ExitCode:
    """Give the pages, and where text was skipped between two of them or stands on both."""
    state = open_book(arguments).state
    rows = page_rows(state, partial(stretch_at, state))
    if arguments.json:
        give_json(PAGES.all_data(rows))
        return ExitCode.DONE
    table_of(PAGES, rows, state.book)
    say(*(f"{words}." for row in rows if (words := meeting_words(state, row.account.page.index))))
    return ExitCode.DONE
