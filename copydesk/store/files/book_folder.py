"""The paths of a book folder: its plan, its ledger, and the files that the plan names.

Every path that comes from a file is resolved, links included, and refused if it leads out of the folder.
"""

from __future__ import annotations

from pathlib import Path, PurePosixPath, PureWindowsPath
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.errors import PathError, Problem
from copydesk.store.files.environment import now
from copydesk.store.files.text_file import shown

if TYPE_CHECKING:
    from pathlib import Path

    from copydesk.book.plan import Book
    from copydesk.store.files.disk import Disk


BOOK_FILE = "book.yaml"
LEDGER_FILE = "ledger.jsonl"


class BookFolder(NamedTuple):
    """A folder that holds one book: as the person named it, and where it truly lies."""

    named: Path
    root: Path

    @classmethod
    def at(cls, folder: Path) -> BookFolder:
        """The book folder ``folder``.

        Raises:
            PathError: where there is none, or it holds no ``book.yaml``.
        """
        try:
            root = folder.resolve()
            is_folder, exists = root.is_dir(), root.exists()
            has_book = (root / BOOK_FILE).exists()
        except (OSError, RuntimeError, ValueError):
            raise path_error(folder, "no folder can bear this name; look at how it is spelt") from None
        what = ""
        if not exists:
            what = "there is no such folder; correct the name, or make a book there with `copydesk new`"
        elif not is_folder:
            what = f"is a file; name the folder that holds {BOOK_FILE}"
        elif not has_book:
            what = f"holds no {BOOK_FILE}; name another folder, or make a book there with `copydesk new`"
        if what:
            raise path_error(folder, what)
        return cls(folder, root)

    def name(self, inside: str) -> str:
        """What a person knows the file ``inside`` by, for sentences."""
        return printable(self.named / inside)

    def path(self, inside: str) -> Path:
        """Where the file called ``inside`` truly lies.

        Raises:
            PathError: where that is not within the folder, links followed; or the name can be no file's.
        """
        if PurePosixPath(inside).is_absolute() or PureWindowsPath(inside).drive or "\\" in inside:
            raise PathError(f"{shown(inside)} is not a name within the book's folder; write it as in samples/b.txt")
        try:
            path = (self.root / inside).resolve()
            if _goes_round(path, self.root):
                raise ValueError(inside)
        except (OSError, RuntimeError, ValueError):
            raise PathError(f"{shown(inside)} can be no file's name; look at how it is spelt") from None
        if not path.is_relative_to(self.root) or path == self.root:
            raise PathError(f"{shown(inside)} leads out of the book's folder; put the file inside it")
        return path


def _goes_round(path: Path, root: Path) -> bool:
    """Whether a resolved path still has a link in it, as only links that lead to themselves leave."""
    return any(each.is_symlink() for each in (path, *path.parents) if each.is_relative_to(root) and each != root)


def path_error(path: Path, sentence: str) -> PathError:
    """The error for a path that is missing, taken, or of the wrong kind."""
    return PathError(Problem(printable(path), 0, 0, sentence))


def files_named(book: Book) -> list[str]:
    """The files a plan names, each once: the exemplar's and the samples'."""
    named = (book.exemplar.text, *(hand.sample for hand in book.hands))
    return list(dict.fromkeys(name for name in named if name is not None))


def printable(path: Path) -> str:
    """A path as people may be shown it: what a terminal would obey is written as its code."""
    text = str(path)
    return text if text.isprintable() else repr(text)[1:-1]


class LedgerPaths:
    """The ledger's files in one book folder.

    The ledger itself lies open in the folder. What only this machine needs (the lock, the mirror, what was set
    aside) lies in a hidden folder that keeps itself out of version control.

    Attributes:
        folder: The book's folder.
        ledger: Every entry, one line each.
        hidden: The folder for what stands beside the ledger.
        mirror: The same lines once more, to mend the ledger from.
        lock: Held by the desk that is writing.
        server_copy: A folder with a ledger of its own: what was read from a server.
        to_send: A folder with a ledger of its own: what was recorded while the server was away.
    """

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.ledger = folder / LEDGER_FILE
        self.hidden = folder / ".copydesk"
        self.mirror = self.hidden / "ledger.mirror.jsonl"
        self.lock = self.hidden / "ledger.lock"
        self.server_copy = self.hidden / "server-copy"
        self.to_send = self.hidden / "to-send"

    def aside(self, what: str) -> Path:
        """A free name in the hidden folder, with the date and time, under which ``what`` can be set aside now."""
        stem, dot, ending = what.partition(".")
        return free_name(self.hidden, f"set-aside-{now():%Y-%m-%d-%H%M%S}-{stem}", f"{dot}{ending}")

    def prepare(self, disk: Disk) -> None:
        """Make the hidden folder where it is missing.

        Raises:
            OSError: where the book folder is gone or cannot be written.
            PathError: where something else bears the hidden folder's name.
        """
        if disk.make_folder(self.hidden):
            disk.append(self.hidden / ".gitignore", b"*\n", 0)


def free_name(folder: Path, stem: str, ending: str = "") -> Path:
    """A path in ``folder`` where nothing is yet: the stem and ending, with a number from 2 between them if needed."""
    path, count = folder / f"{stem}{ending}", 1
    while path.exists() or path.is_symlink():
        count += 1
        path = folder / f"{stem}-{count}{ending}"
    return path


def is_book(folder: Path) -> bool:
    """Whether a folder holds a book."""
    try:
        return (folder / BOOK_FILE).is_file()
    except (OSError, ValueError):
        return False


def books_in(shelf: Path) -> list[Path]:
    """The folders in ``shelf`` that hold a book, by name; hidden ones and links are passed over.

    Raises:
        PathError: where there is no such folder, or it cannot be read.
    """
    try:
        found = [each for each in sorted(shelf.iterdir()) if each.is_dir() and not each.is_symlink()]
    except (OSError, ValueError) as error:
        what = "is no folder that can be read; name a book, or a folder of books"
        raise path_error(shelf, what) from error
    return [each for each in found if not each.name.startswith(".") and is_book(each)]
