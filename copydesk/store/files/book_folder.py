"""The paths of a book folder: every one is resolved, links included, and refused if it leads out of the folder."""

from __future__ import annotations

from pathlib import Path, PurePosixPath, PureWindowsPath
from typing import NamedTuple

from copydesk.book.common.errors import Problem, Refused
from copydesk.store.files.text_file import shown

BOOK_FILE = "book.yaml"


class BookFolder(NamedTuple):
    """A folder that holds one book: as the person named it, and where it truly lies."""

    named: Path
    root: Path

    @classmethod
    def at(cls, folder: Path) -> BookFolder:
        """The book folder ``folder``.

        Raises:
            Refused: where there is none, or it holds no ``book.yaml``.
        """
        name = printable(folder)
        try:
            root = folder.resolve()
            is_folder, exists = root.is_dir(), root.exists()
            has_book = (root / BOOK_FILE).exists()
        except (OSError, RuntimeError, ValueError):
            raise Refused(Problem(name, 0, 0, "no folder can bear this name; look at how it is spelt")) from None
        if not exists:
            what = "there is no such folder; correct the name, or make a book there with `copydesk new`"
            raise Refused(Problem(name, 0, 0, what))
        if not is_folder:
            raise Refused(Problem(name, 0, 0, f"is a file; name the folder that holds {BOOK_FILE}"))
        if not has_book:
            what = f"holds no {BOOK_FILE}; name another folder, or make a book there with `copydesk new`"
            raise Refused(Problem(name, 0, 0, what))
        return cls(folder, root)

    def name(self, inside: str) -> str:
        """What a person knows the file ``inside`` by, for sentences."""
        return printable(self.named / inside)

    def path(self, inside: str) -> Path:
        """Where the file called ``inside`` truly lies.

        Raises:
            Refused: where that is not within the folder, links followed; or the name can be no file's.
        """
        if PurePosixPath(inside).is_absolute() or PureWindowsPath(inside).drive or "\\" in inside:
            raise Refused(f"{shown(inside)} is not a name within the book's folder; write it as in samples/b.txt")
        try:
            path = (self.root / inside).resolve()
            if _goes_round(path, self.root):
                raise ValueError(inside)
        except (OSError, RuntimeError, ValueError):
            raise Refused(f"{shown(inside)} can be no file's name; look at how it is spelt") from None
        if not path.is_relative_to(self.root) or path == self.root:
            raise Refused(f"{shown(inside)} leads out of the book's folder; put the file inside it")
        return path


def _goes_round(path: Path, root: Path) -> bool:
    """Whether a resolved path still has a link in it, as only links that lead to themselves leave."""
    return any(each.is_symlink() for each in (path, *path.parents) if each.is_relative_to(root) and each != root)


def printable(path: Path) -> str:
    """A path as people may be shown it: what a terminal would obey is written as its code."""
    text = str(path)
    return text if text.isprintable() else repr(text)[1:-1]
