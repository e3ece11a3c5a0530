"""Logs for whoever looks after copydesk: its own mistakes, what its server turned away; without any text of a book."""

from __future__ import annotations

import logging
from logging.handlers import RotatingFileHandler
from pathlib import Path
from traceback import extract_tb

from copydesk.store.files.environment import state_folder

_LARGEST_BYTES = 200_000
_OLD_FILES_KEPT = 2


def mistake_log_file() -> Path:
    """The log file, in the folder for copydesk's state."""
    return state_folder() / "mistakes.log"


def log_mistake(error: BaseException) -> Path | None:
    """Write down the kind of an error and the lines it passed through; gives the file, None where it cannot be written.

    What an error says is left out, since it may hold text of the book.
    """
    from copydesk import __version__

    passed = (f"{Path(at.filename).name}:{at.lineno} {at.name}" for at in extract_tb(error.__traceback__))
    said = f"copydesk {__version__} {type(error).__name__}: {' > '.join(passed)}"
    return write_log(mistake_log_file().name, said)


def write_log(name: str, line: str) -> Path | None:
    """Add a line to the log called ``name`` in the folder for copydesk's state, with the time; it never grows long.

    Gives the file, None where it cannot be written.
    """
    path = state_folder() / name
    entry = logging.makeLogRecord({"msg": line})
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handler = RotatingFileHandler(
            path, maxBytes=_LARGEST_BYTES, backupCount=_OLD_FILES_KEPT, encoding="utf-8", delay=False
        )
        handler.setFormatter(logging.Formatter("%(asctime)s %(message)s"))
        try:
            handler.emit(entry)
        finally:
            handler.close()
    except OSError:
        return None
    return path
