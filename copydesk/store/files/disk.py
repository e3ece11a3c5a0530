"""Every touch of the disk that the ledger makes, in one place, and the sentence for each way it can fail."""

from __future__ import annotations

import errno
import os
import stat
from contextlib import contextmanager, suppress
from typing import TYPE_CHECKING

from copydesk.book.common.errors import CopydeskError, DiskError, LockedError, PathError

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path


_PLAIN = getattr(os, "O_BINARY", 0) | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_CLOEXEC", 0)

_NO_RIGHT = "this account may not write there; ask for the right to, or copy the folder elsewhere"
_REASONS = {
    errno.ENOSPC: "the disk is full; make room and try again",
    errno.EDQUOT: "this account may not fill more of the disk; make room and try again",
    errno.EFBIG: "the file may not grow further on this disk; copy the folder to another one",
    errno.EROFS: "the disk can only be read; make it writable or copy the folder elsewhere",
    **dict.fromkeys((errno.EACCES, errno.EPERM), _NO_RIGHT),
    errno.EIO: "the disk reports a fault; copy the folder to another disk before going on",
    errno.ENOENT: "the folder is not there; put the drive back or open the book where it is now",
    **dict.fromkeys((errno.ENODEV, errno.ENXIO), "the drive is not there; put it back and try again"),
    errno.ESTALE: "the network folder is gone; connect it again and try again",
    errno.ENOTDIR: "a file stands where the folder should be; open the book where it is now",
    errno.EISDIR: "a folder stands where the file should be; move it away and try again",
    errno.ELOOP: "it is a link; put the file itself in the book's folder",
    **dict.fromkeys((errno.EMFILE, errno.ENFILE), "too many files are open; close some programs and try again"),
}


def because(error: OSError | CopydeskError) -> str:
    """Why the disk, or we, refused, and what to do."""
    if isinstance(error, CopydeskError):
        return str(error)
    known = _REASONS.get(error.errno or 0)
    return known or f"the system says {(error.strerror or str(error)).lower()!r}; put that right and try again"


@contextmanager
def disk_errors(path: Path, outcome: str) -> Iterator[None]:
    """Turn what the operating system refuses within into a sentence.

    Args:
        path: the file or folder that the sentence names.
        outcome: what was not done, as in ``Nothing was recorded``.

    Raises:
        DiskError: for any ``OSError``.
    """
    try:
        yield
    except OSError as error:
        raise DiskError(f"{outcome}: {path}: {because(error)}") from error


def regular(status: os.stat_result, path: Path) -> os.stat_result:
    """``status``, where it is that of an ordinary file.

    Raises:
        CopydeskError: for a link (it could lead out of the book's folder), a folder, a pipe.
    """
    if stat.S_ISLNK(status.st_mode):
        raise PathError(f"{path} is a link; put the file itself in the book's folder")
    if not stat.S_ISREG(status.st_mode):
        raise PathError(f"{path} is not an ordinary file; move it away and try again")
    return status


@contextmanager
def _opened(path: Path, flags: int) -> Iterator[int]:
    """A descriptor that is closed at the end, whatever happens."""
    descriptor = os.open(path, flags)
    try:
        yield descriptor
    finally:
        os.close(descriptor)


class Disk:
    """The disk as the ledger uses it. Tests put one in its place that fails at will.

    The methods raise ``OSError`` where the disk refuses, except that a file which is not there is ``None``
    to ``look``. Files never stay open between calls, so that a drive can be taken out at any time.
    """

    def look(self, path: Path) -> os.stat_result | None:
        """What stands at ``path``; ``None`` where nothing does. Links are not followed, a hidden folder's neither."""
        if path.parent.name.startswith(".") and path.parent.is_symlink():
            raise PathError(f"{path.parent} is a link; move it away and try again")
        try:
            return regular(os.lstat(path), path)
        except FileNotFoundError:
            return None

    def read(self, path: Path, start: int = 0, length: int = -1) -> tuple[os.stat_result, bytes]:
        """The bytes from ``start``, all or at most ``length`` of them, and how the file stood before."""
        with os.fdopen(os.open(path, os.O_RDONLY | _PLAIN), "rb", buffering=0) as file:
            status = os.fstat(file.fileno())
            file.seek(start)
            return status, file.read(length) if length >= 0 else file.readall()

    def append(self, path: Path, data: bytes, at: int, *, sync: bool = True, sync_name: bool = False) -> os.stat_result:
        """Add ``data`` to a file that is ``at`` bytes long, wholly and (with ``sync``) to the platter, or not at all.

        A file that is not there is made, as its folder's permissions have it. With ``sync_name``, and always for a
        file that was empty, it is also made sure that the folder lists it.

        Raises:
            OSError: where not all could be written; the file is then as long as it was, if the disk allows.
            CopydeskError: where the file is not ``at`` bytes long.
        """
        descriptor = self.open_to_append(path)
        try:
            if os.fstat(descriptor).st_size != at:
                raise LockedError(f"{path} was changed by another program at this moment; try again")
            try:
                self.write_all(descriptor, data)
                if sync:
                    self.sync(descriptor)
                if sync and (sync_name or not at):
                    self.sync_folder(path.parent)
            except BaseException:
                with suppress(OSError):
                    self.truncate(descriptor, at)
                raise
            return os.fstat(descriptor)
        finally:
            os.close(descriptor)

    def open_to_append(self, path: Path) -> int:
        """A descriptor that writes at the file's end; a new file gets its folder's permissions."""
        try:
            return os.open(path, os.O_WRONLY | os.O_APPEND | _PLAIN)
        except FileNotFoundError:
            return self.create(path)

    def create(self, path: Path) -> int:
        """A descriptor to a new, empty file with its folder's permissions, never writable by everyone."""
        mode = path.parent.stat().st_mode & 0o664 | 0o600
        descriptor = os.open(path, os.O_WRONLY | os.O_APPEND | os.O_CREAT | os.O_EXCL | _PLAIN, mode)
        if hasattr(os, "fchmod"):
            os.fchmod(descriptor, mode)
        return descriptor

    def write_all(self, descriptor: int, data: bytes) -> None:
        """Write all of ``data``, however little the system takes at a time."""
        rest = memoryview(data)
        while rest:
            taken = self.write(descriptor, rest)
            if taken <= 0:
                raise OSError(errno.EIO, os.strerror(errno.EIO))
            rest = rest[taken:]

    def write(self, descriptor: int, data: memoryview) -> int:
        """One write; how many bytes the system took."""
        return os.write(descriptor, data)

    def sync(self, descriptor: int) -> None:
        """Return only when the file is on the platter."""
        os.fsync(descriptor)

    def truncate(self, descriptor: int, length: int) -> None:
        """Cut a file back to ``length`` bytes."""
        os.ftruncate(descriptor, length)

    def cut(self, path: Path, length: int) -> None:
        """Cut the file at ``path`` back to ``length`` bytes, to the platter."""
        with _opened(path, os.O_WRONLY | _PLAIN) as descriptor:
            self.truncate(descriptor, length)
            self.sync(descriptor)

    def sync_file(self, path: Path) -> None:
        """Return only when the file at ``path`` is on the platter."""
        with _opened(path, os.O_RDWR | _PLAIN) as descriptor:
            self.sync(descriptor)

    def put(self, path: Path, data: bytes) -> None:
        """Put a whole file in place at once: at any moment there is the old one or the new one, never half.

        Whoever calls this holds the lock: what a killed program left half done is cleared away.
        """
        beside = path.with_name(f".{path.name}.new")
        beside.unlink(missing_ok=True)
        try:
            self.append(beside, data, 0)
            self.replace(beside, path)
        except BaseException:
            beside.unlink(missing_ok=True)
            raise
        self.sync_folder(path.parent)

    def replace(self, source: Path, target: Path) -> None:
        """Give ``source`` the name ``target``, in one step."""
        source.replace(target)

    def sync_folder(self, folder: Path) -> None:
        """Return only when the folder's list of names is on the platter, on systems that can promise it."""
        if os.name == "posix":
            with _opened(folder, os.O_RDONLY) as descriptor:
                self.sync(descriptor)

    def make_folder(self, folder: Path) -> bool:
        """Make ``folder`` where it is missing, with the permissions of the one above it; whether it was made.

        Raises:
            CopydeskError: where a link or a file stands in its place.
        """
        try:
            if stat.S_ISDIR(os.lstat(folder).st_mode):
                return False
            raise PathError(f"{folder} is a link or a file; move it away and try again")
        except FileNotFoundError:
            mode = stat.S_IMODE(folder.parent.stat().st_mode) & ~0o002
            folder.mkdir(mode)
            folder.chmod(mode | 0o700)
            self.sync_folder(folder.parent)
            return True


class QuickDisk(Disk):
    """A disk that is not waited for: for files whose loss loses nothing."""

    def sync(self, descriptor: int) -> None:
        """Do nothing."""
