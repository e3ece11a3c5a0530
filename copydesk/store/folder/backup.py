"""A dated copy of a whole book folder in one file, and the folder put back from such a copy.

A copy counts only once it has been read back; a folder that is put back only once every file in the copy was read.
The folder that stood there before is kept under another name.
"""

from __future__ import annotations

import os
import shutil
from contextlib import ExitStack, contextmanager, suppress
from dataclasses import dataclass
from glob import escape
from hashlib import blake2b
from pathlib import PurePosixPath
from stat import S_ISREG
from typing import IO, TYPE_CHECKING
from zipfile import ZIP_DEFLATED, ZIP_STORED, BadZipFile, ZipFile, ZipInfo
from zlib import error as zlib_error

from copydesk.book.common.errors import BadFileError, CopydeskError, DiskError, PathError
from copydesk.store.files.book_folder import LedgerPaths, free_name
from copydesk.store.files.disk import Disk, disk_errors
from copydesk.store.files.environment import now
from copydesk.store.files.file_lock import held
from copydesk.store.journal.ledger_seen import forget_seen

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence
    from pathlib import Path

PIECE = 1 << 20  # bytes read at a time


@dataclass(frozen=True, slots=True)
class BackedUp:
    """The copy that was made, how many files it holds, and the links that were left out of it."""

    path: Path
    files: int
    links: tuple[Path, ...]


def backup(folder: Path, into: Path | None = None, *, disk: Disk | None = None) -> BackedUp:
    """Copy the book in ``folder`` into one dated file in ``into`` (beside the folder, if not said), and read it back.

    Links are left out: they may lead anywhere. The ledger is copied while no desk writes to it.

    Raises:
        CopydeskError: where something cannot be read or written, or does not read back as it was; then no copy is left.
    """
    disk = disk or Disk()
    folder = folder.resolve()
    into = (into or folder.parent).resolve()
    if not folder.is_dir():
        raise PathError(f"No copy was made: {folder} is not a folder; name a book's folder")
    if not into.is_dir():
        raise PathError(f"No copy was made: there is no folder {into}; make it, or name another")
    if into.is_relative_to(folder):
        raise PathError(
            f"No copy was made: {into} lies in the book's own folder and would be lost with it; choose another"
        )
    with disk_errors(into, "No copy was made"):
        return _backup(folder, into, disk)


def _backup(folder: Path, into: Path, disk: Disk) -> BackedUp:
    _clear_away_halves(folder.name, into)
    target = free_name(into, f"{folder.name}-{now():%Y-%m-%d-%H%M%S}", ".zip")
    beside = free_name(into, f".{target.name}", ".new")
    try:
        with _nobody_writing(folder, disk):
            sums = _write(folder, beside)
        _expect_same(beside, sums)
        disk.sync_file(beside)
        disk.replace(beside, target)
        disk.sync_folder(into)
    except BaseException:
        for path in (beside, target):
            path.unlink(missing_ok=True)
        raise
    return BackedUp(target, len(sums), tuple(path for path in sorted(folder.rglob("*")) if path.is_symlink()))


def _clear_away_halves(name: str, into: Path) -> None:
    """Remove what backups of this book that were killed left behind; one that is being written now is locked."""
    from portalocker import LockException, LockFlags, lock

    for half in into.glob(f".{escape(name)}-????-??-??-??????*.zip*.new"):
        with suppress(OSError, LockException), half.open("rb+") as file:
            lock(file, LockFlags.EXCLUSIVE | LockFlags.NON_BLOCKING)
            half.unlink()


@contextmanager
def _nobody_writing(folder: Path, disk: Disk) -> Iterator[None]:
    """Hold the ledger's lock; a folder that can only be read needs none."""
    with ExitStack() as stack:
        with suppress(CopydeskError):
            stack.enter_context(held(LedgerPaths(folder), disk))
        yield


def _write(folder: Path, target: Path) -> dict[str, bytes]:
    """Write every file of the folder into a new archive that only those may read who may read the folder."""
    sums: dict[str, bytes] = {}
    from portalocker import LockFlags, lock

    with target.open("xb") as file, ZipFile(file, "w", ZIP_DEFLATED) as archive:
        lock(file, LockFlags.EXCLUSIVE | LockFlags.NON_BLOCKING)  # so that nobody takes it for one left behind
        target.chmod(folder.stat().st_mode & 0o664 | 0o600)
        for path in _files(folder):
            name = path.relative_to(folder).as_posix()
            member = ZipInfo.from_file(path, name, strict_timestamps=False)
            member.compress_type = ZIP_DEFLATED
            with path.open("rb") as source, archive.open(member, "w", force_zip64=True) as copy:
                sums[name] = _digest(source, copy.write)
    return sums


def _files(folder: Path) -> Iterator[Path]:
    """The ordinary files of a folder and the folders in it, but for the lock, which means nothing elsewhere."""
    for path in sorted(folder.rglob("*")):
        if S_ISREG(path.lstat().st_mode) and path != LedgerPaths(folder).lock:
            yield path


def _expect_same(archive: Path, sums: dict[str, bytes]) -> None:
    """Read the archive back.

    Raises:
        CopydeskError: where a file in it is not what was read from the folder.
    """
    name = archive.name
    try:
        with ZipFile(archive) as copy:
            for name, known in sums.items():
                with copy.open(name) as file:
                    if _digest(file, len) != known:
                        raise BadZipFile
    except (BadZipFile, zlib_error, EOFError, KeyError) as error:
        raise DiskError(f"No copy was made: {name} does not read back as it was; try another disk") from error


def _digest(source: IO[bytes], use: Callable[[bytes], object]) -> bytes:
    """The digest of everything in ``source``, each piece of which is given to ``use``."""
    digest = blake2b(digest_size=32)
    while piece := source.read(PIECE):
        digest.update(piece)
        use(piece)
    return digest.digest()


_MARKS = ("book.yaml", "ledger.jsonl")  # a book folder has at least one of them


@dataclass(frozen=True, slots=True)
class Restored:
    """The folder that was restored, how many files it holds, and where the folder that stood there is kept."""

    folder: Path
    files: int
    kept: Path | None


def restore(archive: Path, folder: Path, *, disk: Disk | None = None) -> Restored:
    """Put the book in ``archive`` back as ``folder``.

    Everything is unpacked and checked beside the folder first; then the two change names.

    Raises:
        PathError: where the archive or the folder to put it in is missing.
        BadFileError: where the archive is damaged, is no backup of a book, or would write outside the folder.
        DiskError: where the disk refuses or is too small. In each case the folder is as it was.
    """
    disk, folder = disk or Disk(), folder.resolve()
    if not archive.is_file():
        raise PathError(f"Nothing was restored: there is no file {archive}; name one that copydesk backup made")
    if not folder.parent.is_dir():
        raise PathError(f"Nothing was restored: there is no folder {folder.parent} to put it in; make that first")
    try:
        with disk_errors(folder, "Nothing was restored"), ZipFile(archive) as copy:
            members = _members(copy, archive)
            _expect_room(members, folder.parent, archive)
            beside = _unpacked(copy, members, folder, disk)
            kept = _change_names(beside, folder, disk)
            forget_seen(LedgerPaths(folder))  # who puts a backup back wants what is in it
            return Restored(folder, len(members), kept)
    except (BadZipFile, zlib_error, EOFError, RuntimeError, NotImplementedError, ValueError) as error:
        raise BadFileError(f"Nothing was restored: {archive} is damaged or is no backup; take another copy") from error


def _members(copy: ZipFile, archive: Path) -> list[ZipInfo]:
    """The files in the archive, where every name stays inside the folder and a book is among them."""
    members = [member for member in copy.infolist() if not member.is_dir()]
    for member in members:
        parts = PurePosixPath(member.filename).parts
        if not parts or parts[0] == "/" or ".." in parts or any(sign in member.filename for sign in "\\:\0"):
            raise BadFileError(
                f"Nothing was restored: {archive} holds {member.filename!r}, which would leave the folder"
            )
    names = {member.filename for member in members}
    known_packing = all(member.compress_type in (ZIP_STORED, ZIP_DEFLATED) for member in members)
    if len(names) < len(members) or names.isdisjoint(_MARKS) or not known_packing:
        raise BadFileError(
            f"Nothing was restored: {archive} is not a backup of a book; name a file that copydesk backup made"
        )
    return members


def _expect_room(members: Sequence[ZipInfo], parent: Path, archive: Path) -> None:
    """Stop before an archive fills the disk."""
    needed, free = sum(member.file_size for member in members), shutil.disk_usage(parent).free
    if needed > free:
        raise DiskError(f"Nothing was restored: {archive} needs {needed} bytes and the disk has {free} left; make room")


def _unpacked(copy: ZipFile, members: Sequence[ZipInfo], folder: Path, disk: Disk) -> Path:
    """A folder beside ``folder`` with every file in it, read without a fault and on the platter."""
    beside = folder.with_name(f".{folder.name}.restored")
    shutil.rmtree(beside, ignore_errors=True)
    try:
        disk.make_folder(beside)
        if folder.is_dir():
            beside.chmod(folder.stat().st_mode & 0o7775)
        for member in members:
            _unpack(copy, member, beside, disk)
    except BaseException:
        shutil.rmtree(beside, ignore_errors=True)
        raise
    return beside


def _unpack(copy: ZipFile, member: ZipInfo, beside: Path, disk: Disk) -> None:
    target = beside.joinpath(member.filename)
    for above in reversed(target.relative_to(beside).parents[:-1]):
        disk.make_folder(beside / above)
    descriptor = disk.create(target)
    try:
        with copy.open(member) as source:
            while piece := source.read(PIECE):
                disk.write_all(descriptor, piece)
        disk.sync(descriptor)
    finally:
        os.close(descriptor)
    disk.sync_folder(target.parent)


def _change_names(beside: Path, folder: Path, disk: Disk) -> Path | None:
    """Put the unpacked folder in place; where the old one is kept, if there was one."""
    kept = None
    try:
        if folder.exists():
            kept = free_name(folder.parent, f"{folder.name}-before-{now():%Y-%m-%d-%H%M%S}")
            disk.replace(folder, kept)
        disk.replace(beside, folder)
    except OSError:
        if kept and not folder.exists():
            with suppress(OSError):
                kept.rename(folder)
        shutil.rmtree(beside, ignore_errors=True)
        raise
    with suppress(OSError):  # both folders are whole, so whichever names outlive a power cut, nothing is lost
        disk.sync_folder(folder.parent)
    return kept
