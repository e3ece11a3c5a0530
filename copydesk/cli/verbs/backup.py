"""``copydesk backup BOOK``: a dated copy of the whole folder, read back before it counts."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

from copydesk.book.columns import Cell, Report, given, one_of
from copydesk.book.common.errors import CopydeskError
from copydesk.cli.exit_codes import ExitCode, remark
from copydesk.cli.open_book import add_book
from copydesk.cli.output import give_json, say
from copydesk.store.files.environment import desk_name
from copydesk.store.folder.backup import backup
from copydesk.store.folder.opening import open_server_ledger
from copydesk.store.plan_file.book_file import read_book

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace
    from collections.abc import Mapping


SAYS = "Makes one dated file of the whole book, reads it back and compares. copydesk restore FILE FOLDER unpacks it."
EXAMPLES = ("copydesk backup my-book", "copydesk backup my-book --into /media/stick")


JSON: Report[Mapping[str, Any]] = one_of(
    "backup",
    "A dated copy of the folder.",
    given("backup", Cell.TEXT, "the file made"),
    given("files", Cell.NUMBER, "files in it"),
    given("left_out", Cell.TEXTS, "links, which are not followed"),
)
"""The keys of the verb's JSON."""


def add_arguments(parser: ArgumentParser) -> None:
    """The book, where to, and ``--json``."""
    add_book(parser)
    parser.add_argument("--into", metavar="FOLDER", help="where the copy goes; beside the book otherwise")


def run(arguments: Namespace) -> ExitCode:
    """Make the copy."""
    _bring_up_to_date(Path(arguments.book))
    made = backup(Path(arguments.book), Path(arguments.into) if arguments.into else None)
    if arguments.json:
        give_json(
            JSON.data({"backup": str(made.path), "files": made.files, "left_out": [str(path) for path in made.links]})
        )
    else:
        say(f"{made.path} holds {made.files} files, each read back and found the same.")
        say(*(f"{path} is a link and was left out." for path in made.links))
    return ExitCode.DONE


def _bring_up_to_date(folder: Path) -> None:
    """Where a server keeps the ledger, read what is new in it, so that the copy of it in the folder goes along."""
    try:
        book = read_book(folder)
    except CopydeskError:  # a folder is copied whatever its plan is like
        return
    if book.server:
        try:
            store = open_server_ledger(folder, book, desk_name())
        except CopydeskError as refused:
            remark(*map(str, refused.problems))
        else:
            remark(*store.notes)
            store.close()
