"""``copydesk export BOOK --as FORM``: the book for other programs."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from copydesk.book.common.errors import InvalidValueError
from copydesk.book.common.phrases import decimal
from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.open_book import add_book, open_book
from copydesk.cli.output import give_bytes, say
from copydesk.store.files.output_file import write_file
from copydesk.store.folder.snapshot import expect_no_own_file, take_snapshot

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace

    from copydesk.job import Job


SAYS = (
    "tei: a description of the manuscript by TEI P5 (msDesc), as far as it is planned and made\n"
    "tei-text: the text by TEI P5, with this book's pages and lines\n"
    "csv: one list for a spreadsheet: pages, spaces, faults or stints\n"
    "json: everything: plan, texts, every entry; copydesk new BOOK --from FILE makes the book of it again\n"
    "Without -o it goes to standard output."
)
EXAMPLES = (
    "copydesk export my-book --as tei -o my-book.xml",
    "copydesk export my-book --as csv --what spaces -o spaces.csv",
    "copydesk export my-book --as json -o my-book.json && copydesk new again --from my-book.json",
)
_WHAT = ("pages", "spaces", "faults", "stints")


def add_arguments(parser: ArgumentParser) -> None:
    """The book, the form, which list, and where it goes."""
    add_book(parser, json=False)
    forms = ("tei", "tei-text", "csv", "json")
    parser.add_argument("--as", dest="form", choices=forms, required=True, help="tei, tei-text, csv or json")
    parser.add_argument("--what", choices=_WHAT, help="which list, with --as csv (pages)")
    parser.add_argument("-o", "--output", metavar="FILE", default="-", help="the file to write; - for standard output")
    parser.add_argument("-f", "--force", action="store_true", help="write over a file that bears the name already")


def run(arguments: Namespace) -> ExitCode:
    """Make it, and write it where it is wanted."""
    if arguments.what and arguments.form != "csv":
        raise InvalidValueError(
            f"--what chooses a list of --as csv; as {arguments.form} the whole book is given, so leave it out"
        )
    job = open_book(arguments)
    made = _made(job, arguments)
    job.close()
    if arguments.output == "-":
        give_bytes(made)
        return ExitCode.DONE
    path = Path(arguments.output)
    expect_no_own_file(job.folder, job.book, path)
    written = write_file(path, made, force=arguments.force)
    say(f"{written}: {decimal(len(made) / 1000, 1)} kB")
    return ExitCode.DONE


def _made(job: Job, arguments: Namespace) -> bytes:
    if arguments.form == "csv":
        from copydesk.papers.export.csv_lists import csv_list

        return csv_list(job.state, arguments.what or _WHAT[0], job.clock())
    from copydesk import __version__

    if arguments.form == "tei":
        from copydesk.papers.export.tei import description

        return description(job.state, __version__).encode()
    if arguments.form == "tei-text":
        from copydesk.papers.export.tei_text import text_document

        return text_document(job.state, __version__).encode()
    from copydesk.store.folder.snapshot_json import snapshot_as_json

    return snapshot_as_json(take_snapshot(job.folder.named, job.store), __version__).encode()
