"""``copydesk restore FILE FOLDER``: put a dated copy back as a book's folder."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

from copydesk.book.columns import Cell, Report, given, one_of
from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.output import give_json, say
from copydesk.store.folder.backup import restore

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace
    from collections.abc import Mapping


SAYS = (
    "Unpacks a copy made by copydesk backup and checks each file, before the folder gets its name.\n"
    "What stood there under that name is kept beside it under another."
)
EXAMPLES = ("copydesk restore my-book-2026-11-25-093000.zip my-book-again",)


JSON: Report[Mapping[str, Any]] = one_of(
    "restore",
    "A copy unpacked.",
    given("folder", Cell.TEXT, "the folder made"),
    given("files", Cell.NUMBER, "files in it"),
    given("kept", Cell.TEXT, "where the folder that was there is kept; null where none was"),
)
"""The keys of the verb's JSON."""


def add_arguments(parser: ArgumentParser) -> None:
    """The copy and the folder."""
    parser.add_argument("copy", metavar="FILE", help="the copy, a .zip file")
    parser.add_argument("folder", metavar="FOLDER", help="where it goes")
    parser.add_argument("--json", action="store_true", help="one JSON document instead of words")


def run(arguments: Namespace) -> ExitCode:
    """Unpack it."""
    done = restore(Path(arguments.copy), Path(arguments.folder))
    if arguments.json:
        kept = str(done.kept) if done.kept else None
        give_json(JSON.data({"folder": str(done.folder), "files": done.files, "kept": kept}))
        return ExitCode.DONE
    say(f"{arguments.folder} is as it was. Open the desk on it: copydesk {arguments.folder}")
    if done.kept is not None:
        say(f"What stood there before is kept as {done.kept}")
    return ExitCode.DONE
