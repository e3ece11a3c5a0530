"""``copydesk ledger BOOK``: where the ledger is kept; ``move`` takes it to a server, or back into the folder."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

from copydesk.book.columns import Cell, Report, given, one_of
from copydesk.book.common.errors import InvalidValueError
from copydesk.book.common.phrases import count_of
from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.open_book import add_book, open_book
from copydesk.cli.output import give_json, say
from copydesk.store.files.book_folder import BookFolder
from copydesk.store.files.environment import desk_name
from copydesk.store.folder.opening import expect_server_reader
from copydesk.store.plan_file.book_file import read_book

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace
    from collections.abc import Mapping

    from copydesk.store.server.move_ledger import Moved


SAYS = (
    "Says where the ledger is kept and how many entries it holds. With move it is taken to the database that `server`\n"
    "in book.yaml names (as libpq's service file calls it; the password stands there or in the password file, never\n"
    "in the book), or back into the folder. Every entry is read back before the old place is left. Write\n"
    "`server: NAME` into book.yaml before moving it there, and take the line out after moving it back."
)
EXAMPLES = (
    "copydesk ledger my-book",
    "copydesk ledger my-book move --to server",
    "copydesk ledger my-book move --to file",
)


JSON: Report[Mapping[str, Any]] = one_of(
    "ledger",
    "Where the ledger is kept.",
    given("kept", Cell.TEXT, "file or server"),
    given("server", Cell.TEXT, "the server; null for a file"),
    given("entries", Cell.NUMBER, "entries"),
    given("new", Cell.NUMBER, "with move: entries that were not there before"),
    given("set_aside", Cell.TEXTS, "with move: files set aside"),
)
"""The keys of the verb's JSON."""


def add_arguments(parser: ArgumentParser) -> None:
    """The book, ``move``, where to, and ``--json``."""
    add_book(parser)
    parser.add_argument("what", metavar="move", nargs="?", choices=("move",), help="take the ledger elsewhere")
    parser.add_argument("--to", choices=("server", "file"), help="where it is to be kept")


def run(arguments: Namespace) -> ExitCode:
    """Say where it is, or move it."""
    if arguments.what is None:
        if arguments.to:
            raise InvalidValueError(
                f"to take the ledger elsewhere write copydesk ledger {arguments.book} move --to {arguments.to}"
            )
        return _where(arguments)
    if arguments.to is None:
        raise InvalidValueError("say where the ledger is to be kept: --to server, or --to file")
    expect_server_reader()
    from copydesk.store.server.move_ledger import move_to_file, move_to_server

    folder = BookFolder.at(Path(arguments.book)).root
    book = read_book(folder)
    to_server = arguments.to == "server"
    moved = move_to_server(folder, book) if to_server else move_to_file(folder, book, desk=desk_name())
    return _tell(arguments, book.server, moved)


def _where(arguments: Namespace) -> ExitCode:
    job = open_book(arguments)
    server, entries = job.book.server, len(job.ledger)
    job.close()
    if arguments.json:
        give_json(JSON.data({"kept": "server" if server else "file", "server": server or None, "entries": entries}))
    else:
        where = f"on the server {server}" if server else "in ledger.jsonl in the folder"
        say(f"{count_of(entries, 'entry', 'entries')}, kept {where}.")
    return ExitCode.DONE


def _tell(arguments: Namespace, server: str, moved: Moved) -> ExitCode:
    kept = [str(path) for path in moved.kept]
    if arguments.json:
        moved_as = {"kept": arguments.to, "server": server, "entries": moved.entries, "new": moved.new}
        give_json(JSON.data({**moved_as, "set_aside": kept}))
        return ExitCode.DONE
    to_server = arguments.to == "server"
    where = f"on the server {server}" if to_server else "in ledger.jsonl in the folder"
    say(f"{count_of(moved.entries, 'entry', 'entries')} now {where}.")
    say(*(f"Set aside: {path}" for path in kept))
    if not to_server:
        say(f"Now take the line `server: {server}` out of book.yaml; until then the book does not open.")
    return ExitCode.DONE
