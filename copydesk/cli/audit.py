"""``copydesk audit BOOK``: whether the folder is sound; ``--mend`` brings back what can be."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from copydesk.book.refusal import Refused
from copydesk.cli.book_argument import add_book
from copydesk.cli.exits import ExitCode
from copydesk.cli.output import give_json, say
from copydesk.store import audit as store_audit
from copydesk.store.book_folder import BookFolder
from copydesk.store.mend import mend
from copydesk.store.reading import read_all

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace

    from copydesk.book.refusal import Problem

SAYS = (
    "Reads the plan, the exemplar, the samples and every line of the ledger, and says what is wrong with any of them.\n"
    "--mend makes the ledger whole again from its mirror; the damaged file is kept beside it."
)
EXAMPLES = ("copydesk audit my-book", "copydesk audit my-book --mend")


def add_arguments(parser: ArgumentParser) -> None:
    """The book, ``--mend`` and ``--json``."""
    add_book(parser)
    parser.add_argument("--mend", action="store_true", help="make the ledger whole again from its mirror")


def run(arguments: Namespace) -> ExitCode:
    """Look the folder over, mend it first where that is asked."""
    folder = BookFolder.at(Path(arguments.book))
    mended = mend(folder.root).sentences if arguments.mend else ()
    problems = [*_of_plan(folder), *store_audit.audit(folder.root)]
    if arguments.json:
        found = [{"file": at.file, "line": at.line, "column": at.column, "what": at.what} for at in problems]
        give_json({"sound": not problems, "problems": found, "mended": list(mended)})
    else:
        say(*mended, *map(str, problems))
        if not problems:
            say(f"{folder.name('')} is sound: plan, exemplar, samples and ledger.")
    return ExitCode.NO if problems else ExitCode.DONE


def _of_plan(folder: BookFolder) -> tuple[Problem, ...]:
    try:
        read_all(folder)
    except Refused as refused:
        return refused.problems
    return ()
