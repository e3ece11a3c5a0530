"""``copydesk restore FILE FOLDER``: unpack a dated copy into a new folder."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from copydesk.cli.exits import ExitCode
from copydesk.cli.output import say
from copydesk.store.restore import restore

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace

SAYS = "Unpacks a copy made by copydesk backup into a folder that is not there yet, checking each file."
EXAMPLES = ("copydesk restore my-book-2026-11-25-093000.zip my-book-again",)


def add_arguments(parser: ArgumentParser) -> None:
    """The copy and the folder."""
    parser.add_argument("copy", metavar="FILE", help="the copy, a .zip file")
    parser.add_argument("folder", metavar="FOLDER", help="where it goes; nothing may be there yet")


def run(arguments: Namespace) -> ExitCode:
    """Unpack it."""
    restore(Path(arguments.copy), Path(arguments.folder))
    say(f"{arguments.folder} is as it was. Open the desk on it: copydesk {arguments.folder}")
    return ExitCode.DONE
