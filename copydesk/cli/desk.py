"""Opening the desk: the only place where the command line brings in Textual."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from copydesk import __version__
from copydesk.book.refusal import Refused
from copydesk.cli.exits import ExitCode
from copydesk.desk.picture import picture_from
from copydesk.store.glance import read_glance

if TYPE_CHECKING:
    from copydesk.job import Job


def open_desk(folder: str) -> ExitCode:
    """Open the desk on a book folder, and stay until it is left.

    Where the folder is as it was when the desk was last left, its picture is shown while the book is read.

    Raises:
        Refused: where the book cannot be opened.
    """
    if not folder:
        raise Refused("name the book folder to open, as in copydesk projects/twelve-waters; see copydesk --help")
    picture = picture_from(read_glance(Path(folder), __version__))
    opened: list[Job] = []

    def open_book() -> Job:
        from copydesk.job import Job

        opened.append(Job.open(Path(folder)))
        return opened[-1]

    if picture is None:
        open_book()
    from copydesk.desk.app import Desk
    from copydesk.desk.keymap import keymap_from
    from copydesk.store.own_keys import keys_file, read_own_keys

    keys = keymap_from(read_own_keys(), str(keys_file()))
    desk = Desk(opened[-1] if opened else open_book, keys, picture=picture)
    desk.run()
    for job in opened:
        job.close()
    return ExitCode(desk.return_code or 0)
