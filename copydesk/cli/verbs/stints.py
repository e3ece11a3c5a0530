"""``copydesk stints BOOK``: who wrote what, a row for each hand's continuous share."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.phrases import count_of, decimal
from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.open_book import add_book, open_book
from copydesk.cli.output import give_json, say, table_of
from copydesk.tracking.scribes.stints import SHARES, share_rows, totals

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace

    from copydesk.tracking.scribes.stints import HandTotal


SAYS = (
    "Who wrote what: a row for each hand's continuous share, from which line to which, and what it comes to by hand.\n"
    "For how close and how fast the hands write see copydesk hands."
)
EXAMPLES = ("copydesk stints my-book", "copydesk stints my-book --json")


def add_arguments(parser: ArgumentParser) -> None:
    """The book and ``--json``."""
    add_book(parser)


def run(arguments: Namespace) -> ExitCode:
    """Give the shares."""
    state = open_book(arguments).state
    found = share_rows(state)
    if arguments.json:
        give_json(SHARES.all_data(found))
        return ExitCode.DONE
    if not found:
        say("Nothing is written yet.")
        return ExitCode.DONE
    table_of(SHARES, found, state.book)
    say("", *map(_total, totals(state, (row.share for row in found))))
    return ExitCode.DONE


def _total(total: HandTotal) -> str:
    name = f" ({total.name})" if total.name else ""
    minutes = f", {decimal(total.minutes)} minutes told" if total.minutes else ""
    return f"{total.hand}{name}: {count_of(total.lines, 'line')}, {count_of(total.words, 'word')}{minutes}."
