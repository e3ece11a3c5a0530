"""Opening a book: the stages of it, whether they take long enough to be shown, and the ledger, wherever it is kept."""

from __future__ import annotations

from contextlib import suppress
from typing import TYPE_CHECKING

from copydesk.book.common.errors import LedgerMismatchError, UnavailableError
from copydesk.book.common.progress import no_progress
from copydesk.store.files.book_folder import LedgerPaths
from copydesk.store.journal.ledger_copies import holds_entries
from copydesk.store.journal.ledger_file import LedgerFile

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from copydesk.book.common.progress import OnProgress
    from copydesk.book.plan import Book
    from copydesk.store.journal.ledger_store import LedgerStore
    from copydesk.store.server.server_ledger import ServerLedger

    OnStage = Callable[[float, str], None]
    """Called as each stage begins, with its number and what was found before it, and then with how far it is.

    ``2.25`` is a quarter of stage 2. It may stop the opening by raising.
    """


STAGES = ("the plan and the text", "the ledger", "what was recorded", "the gatherings", "every page's lines")
"""What is read and worked out, in order; the last when the lines are first asked for."""


def ignore_stage(stage: float, found: str) -> None:
    """For when nobody waits: does nothing."""


_ALL = 0.999
"""The share of a stage that is done before the next begins."""


def stage_progress(tell: OnStage, stage: int) -> OnProgress:
    """What a piece of work is given to report its share done, from 0 to 1, as part of one stage."""
    return lambda share: tell(stage + min(share, _ALL), "")


MOST_TEXT = 3_000_000
"""Bytes of a text read in well under half a second: some half a million words."""

MOST_LEDGER = 20_000_000
"""Bytes of a ledger read in well under half a second: some seventy thousand entries."""

_TEXTS = (".txt", ".xml")


def is_bulky(folder: Path) -> bool:
    """Whether the ledger in ``folder``, or a text in it or in a folder right below it, is so large."""
    with suppress(OSError):
        ledger = folder / "ledger.jsonl"
        if ledger.is_file() and ledger.stat().st_size > MOST_LEDGER:
            return True
        texts = (path for pattern in ("*", "*/*") for path in folder.glob(pattern) if path.suffix.lower() in _TEXTS)
        return any(path.stat().st_size > MOST_TEXT for path in texts if path.is_file())
    return False


def open_ledger(folder: Path, book: Book, desk: str, on_progress: OnProgress = no_progress) -> LedgerStore:
    """The ledger of the book in ``folder``, for the desk named; ``on_progress`` is given the share done, from 0 to 1.

    Raises:
        CopydeskError: where it cannot be opened, or lies elsewhere than the plan says.
    """
    places = LedgerPaths(folder)
    if book.server:
        if holds_entries(places):
            raise LedgerMismatchError(
                f"book.yaml names the server {book.server}, and the ledger lies in {places.ledger}: copydesk ledger "
                f"{folder} move --to server takes it there, or take `server` out of book.yaml"
            )
        return open_server_ledger(folder, book, desk)
    store = LedgerFile(folder, desk=desk, on_progress=on_progress)
    if not holds_entries(places) and LedgerPaths(places.server_copy).ledger.is_file():
        store.close()
        raise LedgerMismatchError(
            f"the ledger of this book is kept on a server, and book.yaml names none: write `server` into it, then "
            f"copydesk ledger {folder} move --to file brings the ledger here"
        )
    return store


def open_server_ledger(folder: Path, book: Book, desk: str) -> ServerLedger:
    """The ledger on the server that the plan names.

    Raises:
        CopydeskError: where it cannot be opened, or what speaks to servers is not installed.
    """
    expect_server_reader()
    from copydesk.store.server.server_ledger import ServerLedger

    return ServerLedger(folder, desk=desk, service=book.server, title=book.title)


def expect_server_reader() -> None:
    """See that what speaks to servers is installed.

    Raises:
        CopydeskError: where it is not.
    """
    try:
        import psycopg  # noqa: F401 - whether it can be is what is asked
    except ImportError as error:
        raise UnavailableError(
            f"the ledger of this book is kept on a server, and psycopg, which speaks to it, cannot be used ({error}): "
            "install it with pip install 'copydesk[postgres]'"
        ) from error
