"""``copydesk about``: what a report of a fault needs to say of this installation, without any text of a book."""

from __future__ import annotations

import os
import platform
import shutil
import sys
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from typing import TYPE_CHECKING, Any

from copydesk import __version__
from copydesk.book.columns import Cell, Report, given
from copydesk.book.common.phrases import count_of
from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.output import give_json, say
from copydesk.store.files.book_folder import BookFolder, LedgerPaths
from copydesk.store.files.disk import Disk
from copydesk.store.files.environment import keys_file, read_look, state_folder
from copydesk.store.files.mistake_log import mistake_log_file
from copydesk.store.journal.ledger_copies import read_copy

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace
    from collections.abc import Mapping


SAYS = (
    "What a report of a fault needs: versions, the system, the terminal, the folders that copydesk uses, and with a\n"
    "BOOK how many entries stand in each of its files. No text of a book is shown; folders may hold your name."
)
EXAMPLES = (
    "copydesk about",
    "copydesk about my-book --json",
)
LIBRARIES = (
    *("textual", "tinydb", "PyYAML", "portalocker", "rapidfuzz", "reportlab", "platformdirs", "shtab", "pyphen"),
    *("textual-serve", "aiohttp", "segno", "psycopg"),
)
"""The libraries that copydesk stands on, the optional ones last."""

BOOK: Report[Mapping[str, Any]] = Report(
    "about",
    "The files of one ledger.",
    (
        given("ledger", Cell.NUMBER, "entries in ledger.jsonl"),
        given("mirror", Cell.NUMBER, "entries in its mirror"),
        given("server_copy", Cell.NUMBER, "entries read from a server and copied here"),
        given("to_send", Cell.NUMBER, "entries kept here for a server"),
        given("damaged", Cell.NUMBER, "lines of the ledger that cannot be read"),
        given("bytes", Cell.NUMBER, "how long the ledger is"),
    ),
    rows=False,
)
JSON: Report[Mapping[str, Any]] = Report(
    "about",
    "What a report of a fault needs.",
    (
        given("copydesk", Cell.TEXT, "the version of copydesk"),
        given("python", Cell.TEXT, "the version of Python"),
        given("system", Cell.TEXT, "the operating system and the machine"),
        given("terminal", Cell.TEXT, "what the terminal calls itself, its colours, its size"),
        given("letters", Cell.TEXT, "how letters are written: the encoding, and the language set"),
        given("look", Cell.TEXT, "the look chosen last; empty where none was"),
        given("state", Cell.TEXT, "the folder for what copydesk knows besides its books"),
        given("keys", Cell.TEXT, "the file of your own keys, which need not be there"),
        given("log", Cell.TEXT, "the log of copydesk's own mistakes, which need not be there"),
        given("libraries", Cell.BY_NAME, "the version of each library; null where it is not installed"),
        given("book", Cell.OBJECT, "the files of the book's ledger; null where no book was named", of=BOOK),
    ),
    rows=False,
)
"""The keys of the verb's JSON."""


def add_arguments(parser: ArgumentParser) -> None:
    """A book, if one is meant, and ``--json``."""
    parser.add_argument("book", metavar="BOOK", nargs="?", help="the book folder, to count the entries of its files")
    parser.add_argument("--json", action="store_true", help="one JSON document instead of words")


def run(arguments: Namespace) -> ExitCode:
    """Tell what is known; a book that cannot be opened is counted all the same."""
    counts = _counts(Path(arguments.book)) if arguments.book else None
    figures = {**_installation(), "book": counts}
    if arguments.json:
        give_json(JSON.data(figures))
        return ExitCode.DONE
    widest = max(len(column.key) for column in JSON.columns)
    say(*(f"{column.key:{widest}}  {figures[column.key] or '(none)'}" for column in JSON.columns[:-2]))
    libraries = (f"{name} {number or '(none)'}" for name, number in _libraries().items())
    say(f"{'libraries':{widest}}  {', '.join(libraries)}")
    if counts is not None:
        told = ", ".join(f"{key.replace('_', ' ')} {counts[key]}" for key in ("ledger", "mirror", *_SERVER_FILES))
        damaged = count_of(counts["damaged"], "damaged line")
        say(f"{'book':{widest}}  entries: {told}; {damaged}; {count_of(counts['bytes'], 'byte')}")
    return ExitCode.DONE


_SERVER_FILES = ("server_copy", "to_send")


def _installation() -> dict[str, Any]:
    environment = os.environ.get
    size = shutil.get_terminal_size()
    shown = f"{size.columns} by {size.lines}" if sys.stdout.isatty() else "no screen"
    named = [environment(name, "") for name in ("TERM", "TERM_PROGRAM", "COLORTERM")]
    named += ["NO_COLOR"] if "NO_COLOR" in os.environ else []
    language = next(filter(None, map(environment, ("LC_ALL", "LC_CTYPE", "LANG"))), "no language set")
    return {
        "copydesk": __version__,
        "python": f"{platform.python_implementation()} {platform.python_version()}",
        "system": f"{platform.platform()} {platform.machine()}",
        "terminal": ", ".join([*filter(None, named), shown]),
        "letters": f"{sys.stdout.encoding or 'unknown'}, {language}",
        "look": read_look(),
        "state": str(state_folder()),
        "keys": str(keys_file()),
        "log": str(mistake_log_file()),
        "libraries": _libraries(),
    }


def _libraries() -> dict[str, str | None]:
    return {name: _version(name) for name in LIBRARIES}


def _version(library: str) -> str | None:
    try:
        return version(library)
    except PackageNotFoundError:
        return None


def _counts(folder: Path) -> dict[str, int]:
    """How many entries stand in each file of the ledger.

    Raises:
        CopydeskError: where there is no book, or a file cannot be read at all.
    """
    home, disk = LedgerPaths(BookFolder.at(folder).root), Disk()
    ledger, mirror = read_copy(home.ledger, disk), read_copy(home.mirror, disk)
    kept = {name: read_copy(LedgerPaths(getattr(home, name)).ledger, disk) for name in _SERVER_FILES}
    return {
        "ledger": len(ledger.entries),
        "mirror": len(mirror.entries),
        **{name: len(copy.entries) for name, copy in kept.items()},
        "damaged": len(ledger.found.damaged),
        "bytes": len(ledger.data),
    }
