"""Opening the desk: the only place where the command line brings in Textual."""

from __future__ import annotations

from pathlib import Path

from copydesk.book.refusal import Refused
from copydesk.cli.exits import ExitCode
from copydesk.job import Job


def open_desk(folder: str) -> ExitCode:
    """Open the desk on a book folder, and stay until it is left.

    Raises:
        Refused: where the book cannot be opened.
    """
    if not folder:
        raise Refused("name the book folder to open, as in copydesk projects/twelve-waters; see copydesk --help")
    job = Job.open(Path(folder))
    from copydesk.desk.app import Desk

    desk = Desk(job)
    desk.run()
    job.close()
    return ExitCode(desk.return_code or 0)
