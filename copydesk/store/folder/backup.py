"""A dated copy of a whole book folder in one file, read back before it counts."""

from __future__ import annotations

from contextlib import ExitStack, contextmanager, suppress
from dataclasses import dataclass
from datetime import datetime
from hashlib import blake2b
from stat import S_ISREG
from typing import IO, TYPE_CHECKING

from copydesk.book.common.errors import Refused
from copydesk.store.files.disk import Disk, refusal
from copydesk.store.files.file_lock import held
from copydesk.store.files.ledger_paths import Places

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
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
        Refused: where something cannot be read or written, or does not read back as it was; then no copy is left.
    """
    disk = disk or Disk()
    folder = folder.resolve()
    into = (into or folder.parent).resolve()
    if not folder.is_dir():
        raise Refused(f"No copy was made: {folder} is not a folder; name a book's folder")
    if not into.is_dir():
        raise Refused(f"No copy was made: there is no folder {into}; make it, or name another")
    if into.is_relative_to(folder):
        raise Refused(
            f"No copy was made: {into} lies in the book's own folder and would be lost with it; choose another"
        )
    try:
        return _backup(folder, into, disk)
    except OSError as error:
        raise refusal(error, into, "No copy was made") from error


def _backup(folder: Path, into: Path, disk: Disk) -> BackedUp:
    target = free_name(into, f"{folder.name}-{datetime.now().astimezone():%Y-%m-%d-%H%M%S}", ".zip")
    beside = target.with_name(f".{target.name}.new")
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


def free_name(folder: Path, stem: str, ending: str) -> Path:
    """A name in ``folder`` that nothing bears yet: the stem and ending, with a number where needed."""
    path, count = folder / f"{stem}{ending}", 1
    while path.exists() or path.is_symlink():
        count += 1
        path = folder / f"{stem}-{count}{ending}"
    return path


@contextmanager
def _nobody_writing(folder: Path, disk: Disk) -> Iterator[None]:
    """Hold the ledger's lock; a folder that can only be read needs none."""
    with ExitStack() as stack:
        with suppress(Refused):
            stack.enter_context(held(Places(folder), disk))
        yield


def _write(folder: Path, target: Path) -> dict[str, bytes]:
    """Write every file of the folder into a new archive that only those may read who may read the folder."""
    from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

    sums: dict[str, bytes] = {}
    with target.open("xb") as file, ZipFile(file, "w", ZIP_DEFLATED) as archive:
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
        if S_ISREG(path.lstat().st_mode) and path != Places(folder).lock:
            yield path


def _expect_same(archive: Path, sums: dict[str, bytes]) -> None:
    """Read the archive back.

    Raises:
        Refused: where a file in it is not what was read from the folder.
    """
    from zipfile import BadZipFile, ZipFile
    from zlib import error as zlib_error

    name = archive.name
    try:
        with ZipFile(archive) as copy:
            for name, known in sums.items():
                with copy.open(name) as file:
                    if _digest(file, len) != known:
                        raise BadZipFile
    except (BadZipFile, zlib_error, EOFError, KeyError) as error:
        raise Refused(f"No copy was made: {name} does not read back as it was; try another disk") from error


def _digest(source: IO[bytes], use: Callable[[bytes], object]) -> bytes:
    """The digest of everything in ``source``, each piece of which is given to ``use``."""
    digest = blake2b(digest_size=32)
    while piece := source.read(PIECE):
        digest.update(piece)
        use(piece)
    return digest.digest()
