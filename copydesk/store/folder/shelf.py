"""The books in a folder."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.errors import Problem, Refused
from copydesk.store.files.book_folder import BOOK_FILE, printable

if TYPE_CHECKING:
    from pathlib import Path


def is_book(folder: Path) -> bool:
    """Whether a folder holds a book."""
    try:
        return (folder / BOOK_FILE).is_file()
    except (OSError, ValueError):
        return False


def books_in(shelf: Path) -> list[Path]:
    """The folders in ``shelf`` that hold a book, by name; hidden ones and links are passed over.

    Raises:
        Refused: where there is no such folder, or it cannot be read.
    """
    try:
        found = [each for each in sorted(shelf.iterdir()) if each.is_dir() and not each.is_symlink()]
    except (OSError, ValueError) as error:
        what = "is no folder that can be read; name a book, or a folder of books"
        raise Refused(Problem(printable(shelf), 0, 0, what)) from error
    return [each for each in found if not each.name.startswith(".") and is_book(each)]
