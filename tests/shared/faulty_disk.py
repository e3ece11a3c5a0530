"""A disk that fails at will, and one that forgets at a power cut what was not waited for."""

from __future__ import annotations

import errno
import os
from typing import TYPE_CHECKING

from copydesk.store.files.disk import Disk

if TYPE_CHECKING:
    import random
    from collections.abc import Callable
    from pathlib import Path


class Dead(BaseException):
    """The program died here: nothing it would have done later happens."""


class FullDisk(Disk):
    """A disk on which nothing can be written after so many writes."""

    def __init__(self, writes: int = 0) -> None:
        self.left = writes

    def write(self, descriptor: int, data: memoryview) -> int:
        self.left -= 1
        if self.left < 0:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        return super().write(descriptor, data)


class FaultyDisk(Disk):
    """A disk that fails at will.

    ``faults`` maps the count of a touch (from 0) to what happens there: an error number, ``"short"`` (a write takes
    only part and says so), ``"torn"`` (part is written, then the disk is full) or ``"dead"`` (the program dies, in
    the middle of a write where it is one, and every later touch finds it dead).
    """

    def __init__(self, faults: dict[int, int | str] | None = None, *, share: float = 0.5) -> None:
        self.faults = dict(faults or {})
        self.share = share
        self.touches = 0
        self.is_dead = False

    def _touch(self, writing: Callable[[], int] | None = None) -> int | None:
        if self.is_dead:
            raise Dead
        fault = self.faults.get(self.touches)
        self.touches += 1
        if fault in ("short", "torn", "dead"):
            taken = writing() if writing else None
            if fault == "dead":
                self.is_dead = True
                raise Dead
            if fault == "torn":
                raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
            return taken
        if isinstance(fault, int):
            raise OSError(fault, os.strerror(fault))
        return None

    def look(self, path: Path) -> os.stat_result | None:
        self._touch()
        return super().look(path)

    def read(self, path: Path, start: int = 0, length: int = -1) -> tuple[os.stat_result, bytes]:
        self._touch()
        return super().read(path, start, length)

    def open_to_append(self, path: Path) -> int:
        self._touch()
        return super().open_to_append(path)

    def create(self, path: Path) -> int:
        self._touch()
        return super().create(path)

    def write(self, descriptor: int, data: memoryview) -> int:
        part = data[: max(1, int(len(data) * self.share))]
        taken = self._touch(lambda: os.write(descriptor, part))
        return super().write(descriptor, data) if taken is None else taken

    def sync(self, descriptor: int) -> None:
        self._touch()
        super().sync(descriptor)

    def truncate(self, descriptor: int, length: int) -> None:
        self._touch()
        super().truncate(descriptor, length)

    def replace(self, source: Path, target: Path) -> None:
        self._touch()
        super().replace(source, target)

    def make_folder(self, folder: Path) -> bool:
        self._touch()
        return super().make_folder(folder)


class ForgetfulDisk(FaultyDisk):
    """A disk that loses at a power cut what was not waited for: bytes after the last sync, names of new files."""

    def __init__(self, faults: dict[int, int | str] | None = None) -> None:
        super().__init__(faults)
        self.safe_lengths: dict[int, int] = {}
        self.safe_names: set[Path] = set()

    def sync(self, descriptor: int) -> None:
        super().sync(descriptor)
        status = os.fstat(descriptor)
        self.safe_lengths[status.st_ino] = status.st_size

    def sync_folder(self, folder: Path) -> None:
        super().sync_folder(folder)
        self.safe_names.update(folder.iterdir())

    def cut_power(self, folder: Path, before: dict[Path, int], chance: random.Random) -> None:
        """Leave in the folder what was safe, and of the rest as much as chance will have it.

        ``before`` has the length of each file that was there when this disk was put in.
        """
        for path in [path for path in folder.rglob("*") if path.is_file()]:
            if path not in self.safe_names | before.keys() and chance.random() < 0.5:
                path.unlink()
                continue
            status = path.stat()
            safe = min(status.st_size, self.safe_lengths.get(status.st_ino, before.get(path, 0)))
            if safe < status.st_size:
                os.truncate(path, chance.randint(safe, status.st_size))
                if chance.random() < 0.5:
                    os.truncate(path, status.st_size)  # the length was kept, the bytes were not
