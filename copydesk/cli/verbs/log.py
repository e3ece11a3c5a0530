"""``copydesk log BOOK``: every entry, oldest first."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.open_book import add_book, open_book
from copydesk.cli.output import give_json, say
from copydesk.tracking.log.entry_text import tell

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace

    from copydesk.tracking.ledger.entry import Entry
    from copydesk.tracking.ledger.ledger import Ledger


SAYS = "Every entry of the ledger, oldest first; those taken back are marked."
EXAMPLES = ("copydesk log my-book", "copydesk log my-book --json")


def add_arguments(parser: ArgumentParser) -> None:
    """The book and ``--json``."""
    add_book(parser)


def run(arguments: Namespace) -> ExitCode:
    """Give the entries."""
    job = open_book(arguments)
    if arguments.json:
        give_json([_as_data(entry, job.ledger) for entry in job.ledger])
        return ExitCode.DONE
    for entry in job.ledger:
        mark = "  (taken back)" if job.ledger.is_void(entry.entry) else ""
        say(f"{entry.at[:16].replace('T', ' ')}  {entry.entry}  {entry.desk}  {tell(entry, job.state)}{mark}")
    return ExitCode.DONE


def _as_data(entry: Entry, ledger: Ledger) -> dict[str, object]:
    data = entry.as_document()
    kind = entry.subject[0]
    if kind in ("sheet", "space", "leaf", "flyleaf"):
        data[kind] = entry.about
    data["void"] = ledger.is_void(entry.entry)
    return data
