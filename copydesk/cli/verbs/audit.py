"""``copydesk audit BOOK``: whether the folder is sound; ``--mend`` brings back what can be."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

from copydesk.book.columns import Cell, Report, given, one_of
from copydesk.book.common.errors import CopydeskError, InvalidValueError
from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.open_book import add_book
from copydesk.cli.output import give_json, say
from copydesk.job import Job
from copydesk.store.files.book_folder import BookFolder
from copydesk.store.folder.opening import expect_server_reader
from copydesk.store.folder.read_book import read_all
from copydesk.store.journal import audit as store_audit
from copydesk.store.journal.audit import Counts, mend, take_as_it_is
from copydesk.tracking.state.plan_conflicts import plan_conflicts
from copydesk.tracking.views.narrow_lines import narrow_lines, narrow_words

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace
    from collections.abc import Mapping

    from copydesk.book.common.errors import Problem


SAYS = (
    "Reads the plan, the exemplar, the samples and every line of the ledger, and says what is wrong;\n"
    "what two desks recorded that cannot both be so, for a person to resolve; what the plan or the text says\n"
    "otherwise than the skin; and which lines have no room for text. --mend makes the ledger whole again from its\n"
    "mirror; the damaged file is kept. Where ledger and mirror say different things of one entry, --take says which\n"
    "of them counts. A folder put back to an earlier state is noticed; --as-it-is accepts it. A ledger on a server is\n"
    "looked over and mended there."
)
EXAMPLES = (
    "copydesk audit my-book",
    "copydesk audit my-book --mend",
    "copydesk audit my-book --mend --take mirror",
)


JSON: Report[Mapping[str, Any]] = one_of(
    "audit",
    "Whether the folder is sound.",
    given("sound", Cell.YES_NO, "whether it is"),
    given("problems", Cell.ROWS, "file, line, column and what of each problem"),
    given("mended", Cell.TEXTS, "what was mended"),
    given("contradictions", Cell.TEXTS, "what two desks recorded that cannot both be so"),
    given("conflicts", Cell.TEXTS, "what the plan or the text says otherwise than the skin"),
    given("narrow", Cell.TEXTS, "lines planned to stay empty beside spaces and flaws"),
)
"""The keys of the verb's JSON."""


def add_arguments(parser: ArgumentParser) -> None:
    """The book, ``--mend`` and ``--json``."""
    add_book(parser)
    parser.add_argument("--mend", action="store_true", help="make the ledger whole again from its mirror")
    parser.add_argument("--take", choices=[*Counts], help="with --mend: the copy that counts where the two differ")
    parser.add_argument("--as-it-is", action="store_true", help="take a folder that was put back on purpose as it is")


def run(arguments: Namespace) -> ExitCode:
    """Look the folder over, mend it first where that is asked."""
    folder = BookFolder.at(Path(arguments.book))
    if arguments.take and not arguments.mend:
        raise InvalidValueError("--take goes with --mend; write copydesk audit BOOK --mend --take ledger, or mirror")
    if arguments.as_it_is:
        take_as_it_is(folder.root)
    of_plan, server = _of_plan(folder)
    take = Counts(arguments.take) if arguments.take else None
    mended = _mended(folder, server, take) if arguments.mend else ()
    problems = [*of_plan, *store_audit.audit(folder.root), *_on_server(folder, server)]
    contradictions, conflicts, narrow = _differences(folder) if not of_plan else ((), (), ())
    if arguments.json:
        found = [{"file": at.file, "line": at.line, "column": at.column, "what": at.what} for at in problems]
        figures = {"sound": not problems, "problems": found, "mended": list(mended)}
        told = {"contradictions": list(contradictions), "conflicts": list(conflicts), "narrow": list(narrow)}
        give_json(JSON.data({**figures, **told}))
    else:
        say(*mended, *map(str, problems))
        if not problems:
            say(f"{folder.name('')} is sound: plan, exemplar, samples and ledger.")
        say(
            *(f"Contradiction: {each}" for each in contradictions),
            *(f"Plan and skin differ: {each}" for each in conflicts),
            *(f"Narrow: {each}" for each in narrow),
        )
    return ExitCode.NO if problems or contradictions or conflicts else ExitCode.DONE


def _of_plan(folder: BookFolder) -> tuple[tuple[Problem, ...], str]:
    """What is wrong with the plan and the texts, and the server that keeps the ledger, if one does."""
    try:
        return (), read_all(folder).book.server
    except CopydeskError as refused:
        return refused.problems, ""


def _mended(folder: BookFolder, server: str, take: Counts | None) -> tuple[str, ...]:
    if not server:
        return mend(folder.root, take=take).sentences
    expect_server_reader()
    from copydesk.store.server.audit import mend_server

    return mend_server(folder.root, server)


def _on_server(folder: BookFolder, server: str) -> tuple[Problem, ...]:
    if not server:
        return ()
    expect_server_reader()
    from copydesk.store.server.audit import audit_server

    return audit_server(folder.root, server)


def _differences(folder: BookFolder) -> tuple[tuple[str, ...], tuple[str, ...], tuple[str, ...]]:
    """What two desks recorded that cannot both be so, what the plan says otherwise, and lines without room.

    As far as the book can be read.
    """
    try:
        job = Job.open(folder.named)
    except CopydeskError:
        return (), (), ()
    narrow = tuple(narrow_words(job.state, place) for place in narrow_lines(job.state))
    found = tuple(map(str, job.contradictions)), plan_conflicts(job.state), narrow
    job.close()
    return found
