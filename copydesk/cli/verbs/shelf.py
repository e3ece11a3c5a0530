"""``copydesk shelf FOLDER``: the books of a folder, and how far each has come."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from copydesk.book.columns import Cell, Column, Report
from copydesk.book.common.errors import CopydeskError
from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.open_book import remember
from copydesk.cli.output import give_json, say, table
from copydesk.store.files.book_folder import books_in
from copydesk.tracking.views.gathering_progress import gathering_reports

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace
    from collections.abc import Callable


SAYS = "The books of a folder: pages that bear text, those written, those corrected, faults open, spaces to fill."
EXAMPLES = ("copydesk shelf .", "copydesk shelf our-books --json")


class OnShelf(NamedTuple):
    """A book of the folder; ``refused`` says why one cannot be opened, and then nothing else is known of it."""

    folder: str
    title: str = ""
    pages: int = 0
    written: int = 0
    corrected: int = 0
    faults_open: int = 0
    spaces_waiting: int = 0
    refused: str = ""


def _known(value: Callable[[OnShelf], Any]) -> Callable[[OnShelf], Any]:
    return lambda book: None if book.refused else value(book)


SHELF: Report[OnShelf] = Report(
    "shelf",
    "One row a book of the folder; of one that cannot be opened only folder and refused.",
    (
        Column("folder", Cell.TEXT, "its folder", "folder", "folder"),
        Column("title", Cell.TEXT, "its title", _known(lambda book: book.title), "title", optional=True),
        Column("pages", Cell.NUMBER, "pages that bear text", _known(lambda book: book.pages), "pages", optional=True),
        Column("written", Cell.NUMBER, "those written", _known(lambda book: book.written), "written", optional=True),
        Column(
            "settled",
            Cell.NUMBER,
            "those checked and corrected",
            _known(lambda book: book.corrected),
            "corrected",
            optional=True,
        ),
        Column(
            "faults_open", Cell.NUMBER, "faults open", _known(lambda book: book.faults_open), "faults", optional=True
        ),
        Column(
            "spaces_waiting",
            Cell.NUMBER,
            "spaces to fill",
            _known(lambda book: book.spaces_waiting),
            "spaces",
            optional=True,
        ),
        Column("refused", Cell.TEXT, "why it cannot be opened", lambda book: book.refused or None, optional=True),
    ),
)


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
    counts = ([each.pages, each.written, each.corrected, each.faults, each.spaces] for each in reports)
    pages, written, corrected, faults, spaces = map(sum, zip(*counts, strict=True))
    return OnShelf(folder.name, job.book.title, pages, written, corrected, faults, spaces)
