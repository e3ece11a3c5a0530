"""``copydesk shelf FOLDER``: the books of a folder, and how far each has come."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.errors import CopydeskError
from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.open_book import remember
from copydesk.cli.output import give_json, say, table
from copydesk.store.files.book_folder import books_in
from copydesk.tracking.views.gathering_progress import gathering_reports

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace


SAYS = "The books of a folder: pages that bear text, those written, those settled, faults open, spaces to fill."
EXAMPLES = ("copydesk shelf .", "copydesk shelf our-books --json")
_HEADS = ("folder", "title", "pages", "written", "settled", "faults", "spaces")


class OnShelf(NamedTuple):
    """A book of the folder; ``refused`` says why one cannot be opened, and then nothing else is known of it."""

    folder: str
    title: str = ""
    pages: int = 0
    written: int = 0
    settled: int = 0
    faults_open: int = 0
    spaces_waiting: int = 0
    refused: str = ""


def add_arguments(parser: ArgumentParser) -> None:
    """The folder and ``--json``."""
    parser.add_argument("folder", metavar="FOLDER", nargs="?", default=".", help="the folder of books (this one)")
    parser.add_argument("--json", action="store_true", help="one JSON document instead of words")


def run(arguments: Namespace) -> ExitCode:
    """Give the books, by the names of their folders."""
    found = [_look_at(book) for book in books_in(Path(arguments.folder))]
    if arguments.json:
        give_json([_data(book) for book in found])
        return ExitCode.DONE
    if not found:
        say("There is no book in this folder yet; copydesk new makes one, copydesk new --demo copies the shipped one.")
        return ExitCode.DONE
    if sound := [book[:-1] for book in found if not book.refused]:
        table(_HEADS, sound)
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
    pages, written, settled, faults, spaces = map(sum, zip(*counts, strict=True))
    return OnShelf(folder.name, job.book.title, pages, written, settled, faults, spaces)


def _data(book: OnShelf) -> dict[str, object]:
    known = book._asdict()
    return {"folder": book.folder, "refused": book.refused} if known.pop("refused") else known
