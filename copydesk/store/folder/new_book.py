"""Making a book folder: from answers, or as a copy of the book that comes with the program."""

from __future__ import annotations

import os
import shutil
from itertools import chain
from pathlib import Path
from typing import TYPE_CHECKING

from copydesk.book.common.errors import CopydeskError, InvalidValueError, UnavailableError
from copydesk.store.files.book_folder import BOOK_FILE, LEDGER_FILE, BookFolder, files_named, path_error
from copydesk.store.files.disk import Disk, disk_errors
from copydesk.store.journal.line_format import SCHEMA, Header, header_line, new_mark
from copydesk.store.plan_file.book_file import parse_plan
from copydesk.store.plan_file.plan_text import plan_text

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping

    from copydesk.book.plan import Book


SHIPPED = "twelve-waters"
"""The book that comes with the program: its folder in ``projects/``, and where an installed copy lies."""

VERSION_CONTROL = ".gitattributes"
_HOW_TO_MERGE = (
    b"# Two versions of the ledger are joined line by line, and no line end is changed.\n"
    b"# After a merge: copydesk audit --mend BOOK\n"
    b"ledger.jsonl merge=union -text\n"
)
"""What version control needs to know of a book folder."""


def new_book(folder: Path, book: Book, files: Mapping[str, str], *, disk: Disk | None = None) -> Path:
    """Make a book folder; it is there whole or not at all.

    Its ledger bears the book's mark from the beginning, so that copies of the folder can be merged later.

    Args:
        folder: where; nothing may be there yet but an empty folder.
        book: what ``book.yaml`` is to say.
        files: the texts that go into the folder, by the names that ``book`` gives them.
        disk: another disk than the usual one.

    Raises:
        CopydeskError: where something is there already, a file that the book names is not given, or the disk refuses.
    """
    text = plan_text(book, examples=True)
    parse_plan(text, BOOK_FILE).finish()
    for name in files_named(book):
        if name not in files:
            raise InvalidValueError(f"the book names the file {name!r}, and its text was not given; give it")
    contents = {name: encoded(name, content) for name, content in files.items()} | {BOOK_FILE: text.encode()}
    contents[LEDGER_FILE] = header_line(Header(SCHEMA, new_mark()))
    return make_folder(folder, contents, disk or Disk())


def encoded(name: str, text: str) -> bytes:
    """The text of the file called ``name`` as UTF-8.

    Raises:
        CopydeskError: where it holds half of a character.
    """
    try:
        return text.encode()
    except UnicodeEncodeError:
        raise InvalidValueError(f"the text for {name!r} holds half of a character; give it as UTF-8") from None


def copy_demo(folder: Path, *, disk: Disk | None = None) -> Path:
    """Copy the book that comes with the program, its ledger included; the copy is there whole or not at all.

    Raises:
        CopydeskError: where something is there already, the shipped book is not found, or the disk refuses.
    """
    source = shipped_book()
    return make_folder(folder, dict(_contents(source)), disk or Disk())


def is_untouched_copy(folder: Path) -> bool:
    """Whether a folder holds the shipped book with nothing recorded and no figure changed since it was copied."""
    try:
        source = shipped_book()
        return all((folder / name).read_bytes() == (source / name).read_bytes() for name in (BOOK_FILE, LEDGER_FILE))
    except (OSError, CopydeskError):
        return False


def _contents(source: Path) -> Iterator[tuple[str, bytes]]:
    """The ordinary files of a folder by name; hidden ones belong to one machine and stay behind."""
    for path in sorted(source.rglob("*")):
        name = path.relative_to(source)
        if path.is_file() and not path.is_symlink() and not any(part.startswith(".") for part in name.parts):
            yield name.as_posix(), path.read_bytes()


def shipped_book() -> Path:
    """The folder of the book that comes with the program: in a checkout, or where an installer put it.

    Raises:
        CopydeskError: where there is none.
    """
    above = Path(__file__).parents[3]
    beside = (above / "projects" / SHIPPED, above / "share" / "copydesk" / SHIPPED)
    for folder in chain(beside, _installed()):
        if (folder / BOOK_FILE).is_file():
            return folder.resolve()
    raise UnavailableError(
        "the book that comes with copydesk is not here; install copydesk again, or copy it from the sources"
    )


def _installed() -> Iterator[Path]:
    """Where the installer says that it put the shipped book."""
    from importlib.metadata import PackageNotFoundError, files

    try:
        for file in files("copydesk") or ():
            if file.match(f"share/copydesk/{SHIPPED}/{BOOK_FILE}"):
                yield Path(os.fspath(file.locate())).parent
    except PackageNotFoundError:
        return


def make_folder(
    folder: Path, contents: Mapping[str, bytes], disk: Disk, look_over: Callable[[Path], None] | None = None
) -> Path:
    """Write files into a folder beside, then give it its name: it is there whole or not at all.

    Args:
        folder: where; nothing may be there yet but an empty folder.
        contents: what is to stand in each file, by names within the folder.
        disk: the disk to write to.
        look_over: is shown the folder before it gets its name, and may refuse it.

    Raises:
        CopydeskError: where something is there already, ``look_over`` or the disk refuses; nothing is left then.
    """
    try:
        with disk_errors(folder, "No book was made"):
            target = folder.resolve()
            _expect_free(target, folder)
            beside = target.with_name(f".{target.name}.{os.urandom(4).hex()}.new")
            try:
                _fill(beside, {**contents, VERSION_CONTROL: _HOW_TO_MERGE}, disk)
                if look_over is not None:
                    look_over(beside)
                if target.exists():
                    target.rmdir()
                disk.replace(beside, target)
            except BaseException:
                shutil.rmtree(beside, ignore_errors=True)
                raise
            disk.sync_folder(target.parent)
    except (RuntimeError, ValueError):
        raise path_error(folder, "no folder can bear this name; choose another") from None
    return target


def _expect_free(target: Path, folder: Path) -> None:
    if not target.parent.is_dir():
        raise path_error(folder, "the folder it is to stand in is not there; make that first")
    if target.is_dir():
        if any(target.iterdir()):
            raise path_error(folder, "there is something in this folder already; choose another name")
    elif target.exists() or target.is_symlink():
        raise path_error(folder, "a file has this name already; choose another")


def _fill(folder: Path, contents: Mapping[str, bytes], disk: Disk) -> None:
    disk.make_folder(folder)
    home = BookFolder(folder, folder)
    for name, data in contents.items():
        path = home.path(name)
        for parent in reversed([above for above in path.parents if above.is_relative_to(folder)][:-1]):
            disk.make_folder(parent)
        disk.put(path, data)
