"""``copydesk forecast BOOK``: when it will be done, and what pace meets the day the exemplar goes back."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.open_book import add_book, open_book
from copydesk.cli.output import give_json, say
from copydesk.tracking.fit.book_end import end_of_book
from copydesk.tracking.planning.outlook import OUTLOOK, RANGES, outlook, outlook_sentences

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace


SAYS = (
    "When the book will be written, checked and whole, each with its 80 % range;\n"
    "the chance to be done by the exemplar's due date, and what would meet it; by when skins are needed."
)
EXAMPLES = ("copydesk forecast my-book", "copydesk forecast my-book --json")


def add_arguments(parser: ArgumentParser) -> None:
    """The book and ``--json``."""
    add_book(parser)


def run(arguments: Namespace) -> ExitCode:
    """Give the forecast."""
    job = open_book(arguments)
    end = end_of_book(job.state)
    seen = outlook(job.state, job.clock().date(), end.chance_text_fits)
    if arguments.json:
        give_json(OUTLOOK.data(seen))
    else:
        say(*outlook_sentences(seen, end), RANGES)
    return ExitCode.DONE
