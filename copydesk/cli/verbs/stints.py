"""``copydesk stints BOOK``: who wrote what, a row for each hand's continuous share."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.phrases import count_of
from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.open_book import add_book, open_book
from copydesk.cli.output import give_json, say, table
from copydesk.tracking.scribes.stints import shares, shares_data, totals

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace

    from copydesk.book.plan import Book
    from copydesk.tracking.scribes.stints import HandTotal, Share


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
    if arguments.json:
        give_json(shares_data(state))
        return ExitCode.DONE
    found = shares(state)
    if not found:
        say("Nothing is written yet.")
        return ExitCode.DONE
    table(
        ("hand", "from", "col", "line", "to", "col", "line", "lines", "words", "minutes", "day"),
        (_row(share, state.book) for share in found),
    )
    say("", *map(_total, totals(state, found)))
    return ExitCode.DONE


def _row(share: Share, book: Book) -> tuple[object, ...]:
    first, last = share.first, share.last
    line = f"in {last.line}" if share.within else last.line
    minutes = f"{share.minutes:g}" if share.minutes else ""
    day = share.began[:10] if share.began[:10] == share.ended[:10] else f"{share.began[:10]} to {share.ended[:10]}"
    places = (book.named(first.page), first.column, first.line, book.named(last.page), last.column, line)
    return (share.hand, *places, share.lines, share.words, minutes, day)


def _total(total: HandTotal) -> str:
    name = f" ({total.name})" if total.name else ""
    minutes = f", {total.minutes:g} minutes told" if total.minutes else ""
    return f"{total.hand}{name}: {count_of(total.lines, 'line')}, {count_of(total.words, 'word')}{minutes}."
