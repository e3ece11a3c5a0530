"""Where a book's ledger is kept, and opening it there: in its folder, or on the server that the plan names."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.errors import Refused
from copydesk.book.common.progress import unheard
from copydesk.store.files.ledger_paths import Places
from copydesk.store.journal.ledger_file import LedgerFile

if TYPE_CHECKING:
    from pathlib import Path

    from copydesk.book.common.progress import Hear
    from copydesk.book.plan import Book
    from copydesk.store.journal.ledger_store import LedgerStore
    from copydesk.store.server.server_ledger import ServerLedger


def open_ledger(folder: Path, book: Book, desk: str, hear: Hear = unheard) -> LedgerStore:
    """The ledger of the book in ``folder``, for the desk named; ``hear`` hears how far the reading of a file is.

    Raises:
        Refused: where it cannot be opened, or lies elsewhere than the plan says.
    """
    places = Places(folder)
    if book.server:
        if places.ledger.is_file() and places.ledger.stat().st_size:
            raise Refused(
                f"book.yaml names the server {book.server}, and the ledger lies in {places.ledger}: copydesk ledger "
                f"{folder} move --to server takes it there, or take `server` out of book.yaml"
            )
        return open_server_ledger(folder, book, desk)
    store = LedgerFile(folder, desk=desk, hear=hear)
    if not places.ledger.exists() and Places(places.server_copy).ledger.is_file():
        store.close()
        raise Refused(
            f"the ledger of this book is kept on a server, and book.yaml names none: write `server` into it, then "
            f"copydesk ledger {folder} move --to file brings the ledger here"
        )
    return store


def open_server_ledger(folder: Path, book: Book, desk: str) -> ServerLedger:
    """The ledger on the server that the plan names.

    Raises:
        Refused: where it cannot be opened, or what speaks to servers is not installed.
    """
    expect_server_reader()
    from copydesk.store.server.server_ledger import ServerLedger

    return ServerLedger(folder, desk=desk, service=book.server, title=book.title)


def expect_server_reader() -> None:
    """See that what speaks to servers is installed.

    Raises:
        Refused: where it is not.
    """
    try:
        import psycopg  # noqa: F401 - whether it can be is what is asked
    except ImportError as error:
        raise Refused(
            f"the ledger of this book is kept on a server, and psycopg, which speaks to it, cannot be used ({error}): "
            "install it with pip install 'copydesk[postgres]'"
        ) from error
