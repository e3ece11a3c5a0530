"""``copydesk undo BOOK [ENTRY]``: take an entry back; the ledger keeps both."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from copydesk.book.columns import Cell, Report, given, one_of
from copydesk.book.common.errors import InvalidValueError
from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.open_book import add_book, leave_book, open_book
from copydesk.cli.output import give_json, say
from copydesk.tracking.log.entry_text import entry_sentence
from copydesk.tracking.views.consequences import ALSO

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace
    from collections.abc import Mapping


SAYS = "Takes back the newest entry, or the one named. --redo lets the entry last taken back stand again."
EXAMPLES = ("copydesk undo my-book", "copydesk undo my-book 5f0c2a91be77", "copydesk undo my-book --redo")


JSON: Report[Mapping[str, Any]] = one_of(
    "undo",
    "An entry taken back, or standing again.",
    given("entry", Cell.TEXT, "the entry"),
    given("page", Cell.PAGE, "its page; empty where it is about something else"),
    given("what", Cell.TEXT, "what it recorded"),
    given("void", Cell.YES_NO, "true where it is taken back now"),
    ALSO,
)
"""The keys of the verb's JSON."""


def add_arguments(parser: ArgumentParser) -> None:
    """The book, the entry, ``--redo``."""
    add_book(parser)
    parser.add_argument("entry", metavar="ENTRY", nargs="?", help="the entry's id, from copydesk log --ids")
    parser.add_argument("--redo", action="store_true", help="let what was taken back last stand again")


def run(arguments: Namespace) -> ExitCode:
    """Take it back."""
    from copydesk.desk.wording.stretch_words import after_sentences, together_sentences, untold

    if arguments.entry is not None and not arguments.entry.strip():
        raise InvalidValueError("no entry is named; give its id, or leave it out to take the newest back")
    job = open_book(arguments)
    entry = job.redo() if arguments.redo else job.undo(arguments.entry or "")
    beside = after_sentences(job.state, entry)
    also = [*beside, *untold(job.also, " ".join(beside))]
    leave_book(job)
    if arguments.json:
        about = {"entry": entry.entry, "page": entry.page, "what": entry.what}
        give_json(JSON.data({**about, "void": not arguments.redo, "also": also}))
    else:
        said = "Stands again" if arguments.redo else "Taken back"
        say(f"{said}: {entry_sentence(entry, job.state)}", *together_sentences(job.taken_together()), *also)
    return ExitCode.DONE
