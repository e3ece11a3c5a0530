"""Opening the desk: the only place where the command line brings in Textual."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from copydesk import __version__
from copydesk.book.common.errors import CopydeskError
from copydesk.cli.desk_options import AS_USUAL, DeskOptions
from copydesk.cli.exit_codes import ExitCode
from copydesk.desk.base.grid_snapshot import picture_from
from copydesk.store.files.book_folder import BookFolder, books_in, free_name, is_book
from copydesk.store.folder.opening import ignore_stage, is_bulky
from copydesk.store.folder.screen_cache import read_picture

if TYPE_CHECKING:
    from copydesk.job import Job
    from copydesk.store.folder.opening import OnStage


def open_desk(options: DeskOptions) -> ExitCode:
    """Open the desk on a book folder; on a folder of books, open the shelf first.

    Raises:
        CopydeskError: where neither can be opened.
    """
    place = Path(options.folder or ".")
    if is_book(place) or (options.folder and not place.is_dir()):
        return open_book_at(place, options)
    return _open_shelf(place, options)


def _open_shelf(place: Path, options: DeskOptions) -> ExitCode:
    """Stay at the shelf until it is left; a book left leads back to it."""
    from copydesk.desk.setup import SettingUp
    from copydesk.desk.shelf import Shelf
    from copydesk.store.files.environment import read_look
    from copydesk.store.folder.new_book import copy_demo

    look, amiss = options.look or read_look(), ""
    while (wish := Shelf(place, books_in(place), look, amiss).stay(mouse=options.mouse)) is not None:
        amiss = ""
        try:
            is_new = wish.what == "new"
            if is_new:
                book = SettingUp(place, look=look).stay(mouse=options.mouse)
            elif wish.what == "shipped":
                book = copy_demo(free_name(place, SHIPPED_COPY))
            else:
                book = wish.book
            ended = open_book_at(book, options, is_new=is_new) if book is not None else ExitCode.DONE
        except CopydeskError as refused:
            amiss = str(refused.problems[0])
            continue
        if ended is not ExitCode.DONE:
            return ended
    return ExitCode.DONE


SHIPPED_COPY = "twelve-waters"
"""What a copy of the shipped book is called on a shelf."""


def open_book_at(
    folder: Path, options: DeskOptions = AS_USUAL, *, read_only: bool = False, is_new: bool = False
) -> ExitCode:
    """Open the desk on a book, and stay until it is left.

    The desk is shown before the book is read: where the folder is as it was when the desk was last left, with its
    picture, else empty. A large book is read beside the screen, which tells how far that is. A desk that is
    ``read_only`` records nothing; one on a book that ``is_new`` says what to do first.

    Raises:
        CopydeskError: where the book cannot be opened.
    """
    BookFolder.at(folder)  # where there is no book, that is said before anything is shown
    picture = picture_from(read_picture(folder, __version__))
    opened: list[Job] = []

    def open_book(tell: OnStage = ignore_stage) -> Job:
        from copydesk.job import Job
        from copydesk.store.folder.new_book import is_untouched_copy

        opened.append(Job.open(folder, tell=tell))
        opened[-1].read_only = read_only
        desk.offers_tour = picture is None and is_untouched_copy(folder)
        return opened[-1]

    called = folder.resolve().name if is_bulky(folder) else ""
    from copydesk.desk.app import Desk
    from copydesk.desk.base.keymap import keymap_from
    from copydesk.store.files.environment import keep_look, keys_file, read_look, read_own_keys

    keys = keymap_from(read_own_keys(), str(keys_file()))
    look = options.look or read_look()
    desk = Desk(open_book, keys, picture=picture, called=called, look=look, keep_look=keep_look)
    desk.is_new = is_new
    try:
        desk.stay(mouse=options.mouse)
    finally:
        for job in opened:
            job.close()
    if desk.refused is not None:
        raise desk.refused
    return ExitCode(desk.return_code or 0)
