"""``copydesk log BOOK``: every entry, oldest first."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.columns import Cell, Column, Report, rows_of
from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.open_book import add_book, open_book
from copydesk.cli.output import give_json, say
from copydesk.tracking.ledger.entry import COPY, KNEW
from copydesk.tracking.log.entry_text import describe

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace

    from copydesk.tracking.ledger.entry import Entry
    from copydesk.tracking.ledger.ledger import Ledger


SAYS = (
    "Every entry of the ledger, oldest first; those taken back are marked, and a taking back names what it took back.\n"
    "--ids gives each entry's id too, as copydesk undo takes it."
)
EXAMPLES = ("copydesk log my-book", "copydesk log my-book --ids", "copydesk log my-book --json")


LOG: Report[tuple[Entry, Ledger]] = rows_of(
    "log",
    "One row an entry, oldest first.",
    Column("entry", Cell.TEXT, "its name", lambda pair: pair[0].entry),
    Column("tick", Cell.NUMBER, "its place in the order of the book's entries", lambda pair: pair[0].tick),
    Column("at", Cell.MOMENT, "when", lambda pair: pair[0].at),
    Column("hand", Cell.TEXT, "who", lambda pair: pair[0].hand),
    Column("desk", Cell.TEXT, "at which desk", lambda pair: pair[0].desk),
    Column(
        "copy",
        Cell.TEXT,
        "in which copy of the book's folder it was made; empty in entries of older programs",
        lambda pair: pair[0].text(COPY),
    ),
    Column(
        "knew",
        Cell.TEXT,
        "the newest entries known where it was made, whatever copies were written apart; all that those knew was "
        "known too",
        lambda pair: pair[0].text(KNEW),
    ),
    Column("what", Cell.TEXT, "what it records", lambda pair: pair[0].what),
    Column("about", Cell.TEXT, "the thing it is about, by its name in the ledger", lambda pair: pair[0].about),
    Column("void", Cell.YES_NO, "whether it was taken back", lambda pair: pair[1].is_void(pair[0].entry)),
)
"""Behind these keys stand the page, sheet, space, leaf or flyleaf it is about, and the facts of the entry."""


def add_arguments(parser: ArgumentParser) -> None:
    """The book, ``--json`` and ``--ids``."""
    add_book(parser)
    parser.add_argument("--ids", action="store_true", help="give the ids of the entries too")


def run(arguments: Namespace) -> ExitCode:
    """Give the entries."""
    job = open_book(arguments)
    if arguments.json:
        give_json([_as_data(entry, job.ledger) for entry in job.ledger])
        return ExitCode.DONE
    for entry in job.ledger:
        mark = "  (taken back)" if job.ledger.is_void(entry.entry) else ""
        name = f"{entry.entry}  " if arguments.ids else ""
        say(f"{entry.at[:16].replace('T', ' ')}  {name}{entry.desk}  {describe(entry, job.state)}{mark}")
    return ExitCode.DONE


def _as_data(entry: Entry, ledger: Ledger) -> dict[str, object]:
    data: dict[str, object] = LOG.data((entry, ledger))
    kind = entry.subject[0]
    about = {kind: entry.about} if kind in ("sheet", "space", "leaf", "flyleaf") else {}
    return {**entry.as_document(), **about, **data}
