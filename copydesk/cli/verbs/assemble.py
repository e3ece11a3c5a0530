"""``copydesk assemble BOOK``: ready to sew, or what is not ready yet."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.phrases import count_of
from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.open_book import add_book, open_book
from copydesk.cli.output import give_json, say, table
from copydesk.tracking.binding.assembly import ASSEMBLY, assembly, gathered
from copydesk.tracking.binding.flyleaf_walk import ticked_words

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace
    from collections.abc import Sequence

    from copydesk.book.plan import Book
    from copydesk.tracking.binding.assembly import Assembly, Point


SAYS = (
    "Whether the book can be sewn: pages corrected, spaces filled or left on purpose, catchwords, sheets at home,\n"
    "flyleaves in their place.\n"
    "Exit code 0 where there is no obstacle, 1 where there is one. Remarks, which are no obstacle, follow after."
)
EXAMPLES = ("copydesk assemble my-book", "copydesk assemble my-book --json")


def add_arguments(parser: ArgumentParser) -> None:
    """The book and ``--json``."""
    add_book(parser)


def run(arguments: Namespace) -> ExitCode:
    """Give the obstacles."""
    state = open_book(arguments).state
    found = assembly(state)
    if arguments.json:
        give_json(ASSEMBLY.data(found))
    else:
        _show(found, state.book)
    return ExitCode.DONE if found.ready else ExitCode.NO


def _show(found: Assembly, book: Book) -> None:
    if found.ready:
        say("Ready to sew.")
    else:
        say(f"Not ready to sew: {count_of(len(found.obstacles), 'obstacle')}.")
        _points(gathered(found.obstacles, book))
    walked = f"{found.walked} of {count_of(found.sheets, 'sheet')}{ticked_words(found.flyleaves)}"
    say("", f"Walked: {walked}. Formula {found.formula}. Extent {found.extent}.")
    say(f"Register: {'; '.join(map(str, found.register))}.")
    for check in found.catchwords:
        agrees = "agrees" if check.agrees else f'but the next begins "{check.next_begins}"'
        say(f'Catchword of gathering {check.gathering}: "{check.catchword}", {agrees}.')
    if found.remarks:
        say("", "To be minded:")
        _points(gathered(found.remarks, book))


def _points(points: Sequence[Point]) -> None:
    table(("where", "what", "how many"), ((point.where, point.what, str(point.many)) for point in points))
