"""``copydesk colophon BOOK``: a draft of the colophon out of the ledger; ``--keep`` keeps it there."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.open_book import add_book, leave_book, open_book
from copydesk.cli.output import give_json, say
from copydesk.tracking.binding.colophon import (
    COLOPHON,
    colophon,
    keep_colophon,
    kept_already,
    kept_colophon,
    room_words,
)

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace


SAYS = (
    "A draft of who wrote, checked and decorated the book, from when to when, as the ledger has it; blanks stand for\n"
    "what it does not know. --keep records it, as drafted or in words of your own, so that it goes with the book."
)
EXAMPLES = (
    "copydesk colophon my-book",
    "copydesk colophon my-book --keep",
    'copydesk colophon my-book --keep "Agnes and Bea wrote this book in the year of the high water."',
)


def add_arguments(parser: ArgumentParser) -> None:
    """The book, and the words to keep."""
    add_book(parser)
    parser.add_argument("--keep", nargs="?", const="", metavar="WORDS", help="keep the draft, or these words")


def run(arguments: Namespace) -> ExitCode:
    """Give the draft, and keep it where that is asked."""
    job = open_book(arguments)
    found = colophon(job.state)
    words = found.text if arguments.keep == "" else arguments.keep
    already = words is not None and kept_already(job.state, words)
    if words is not None and not already:
        job.record(keep_colophon(words))
    kept = kept_colophon(job.state)
    leave_book(job)
    if arguments.json:
        give_json(COLOPHON.data((found, kept_colophon(job.state))))
        return ExitCode.DONE
    say(*found.sentences)
    say("", f"Room to write it in: {room_words(job.book, found)}.")
    if kept:
        say(f"{'Kept already' if already else 'Kept'}: {kept}")
    return ExitCode.DONE
