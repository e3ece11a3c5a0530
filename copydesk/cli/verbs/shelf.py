"""``copydesk shelf FOLDER``: the books of a folder, and how far each has come."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from copydesk.book.common.errors import CopydeskError
from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.open_book import remember
from copydesk.cli.output import give_json, say, table
from copydesk.store.files.book_folder import books_in
from copydesk.tracking.views.gathering_progress import SHELF, OnShelf, gathering_reports, on_shelf

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace


SAYS = "The books of a folder: pages that bear text, those written, those corrected, faults open, spaces to fill."
EXAMPLES = ("copydesk shelf .", "copydesk shelf our-books --json")


def add_arguments(parser: ArgumentParser) -> None:
    """The folder and ``--json``."""
    parser.add_argument("folder", metavar="FOLDER", nargs="?", default=".", help="the folder of books (this one)")
    parser.add_argument("--json", action="store_true", help="one JSON document instead of words")


def run(arguments: Namespace) -> ExitCode:
    """Give the books, by the names of their folders."""
    found = [_look_at(book) for book in books_in(Path(arguments.folder))]
    if arguments.json:
        give_json(SHELF.all_data(found))
        return ExitCode.DONE
    if not found:
        say("There is no book in this folder yet; copydesk new makes one, copydesk new --demo copies the shipped one.")
        return ExitCode.DONE
    if sound := [book for book in found if not book.refused]:
        table(SHELF.headings(), ([column.raw(book) for column in SHELF.columns if column.heading] for book in sound))
    say(*(f"{book.folder} cannot be opened: {book.refused}" for book in found if book.refused))
    return ExitCode.DONE


def _look_at(folder: Path) -> OnShelf:
    from copydesk.job import Job

    try:
        job = remember(Job.open(folder))
        reports = gathering_reports(job.state)
    except CopydeskError as refused:
        return OnShelf(folder.name, refused=str(refused.problems[0]))
    return on_shelf(folder.name, job.book.title, reports)
