"""One lock for all desks on a book folder: whoever writes holds it."""

from __future__ import annotations

import os
import time
from contextlib import contextmanager, suppress
from threading import Thread
from typing import TYPE_CHECKING

from copydesk.book.common.errors import LockedError
from copydesk.store.files.disk import disk_errors

if TYPE_CHECKING:
    from collections.abc import Iterator

    from copydesk.store.files.book_folder import LedgerPaths
    from copydesk.store.files.disk import Disk


PATIENCE = 10.0
"""Seconds to wait for another desk that is writing; one entry takes it a few thousandths."""

_PAUSES = (0.0002, 0.0005, 0.001)  # seconds after each of the first tries


@contextmanager
def held(places: LedgerPaths, disk: Disk, patience: float = PATIENCE) -> Iterator[None]:
    """Hold the lock of a book folder, made where it is missing; no other desk writes meanwhile.

    Raises:
        LockedError: where another desk holds it for longer than ``patience`` seconds, or the folder cannot be written.
    """
    limit = time.monotonic() + patience
    descriptor = _taken(places, disk, limit)
    while not _still_there(descriptor, places):  # the folder was tidied between opening and locking
        os.close(descriptor)
        descriptor = _taken(places, disk, limit)
    try:
        yield
    finally:
        os.close(descriptor)  # closing gives the lock back


def _taken(places: LedgerPaths, disk: Disk, limit: float) -> int:
    """A descriptor that holds the lock."""
    descriptor = _opened(places, disk)
    try:
        _wait(descriptor, places, limit)
    except BaseException:
        os.close(descriptor)
        raise
    return descriptor


def _opened(places: LedgerPaths, disk: Disk) -> int:
    while True:
        with disk_errors(places.lock, "Nothing was recorded"), suppress(FileExistsError):  # another desk just made it
            places.prepare(disk)
            return disk.open_to_append(places.lock)


def _wait(descriptor: int, places: LedgerPaths, limit: float) -> None:
    """Return once the lock is held: try a few times, then wait in turn."""
    from portalocker import exceptions

    try:
        for pause in _PAUSES:
            if _try(descriptor):
                return
            time.sleep(pause)
        if _wait_in_turn(descriptor, limit):
            return
    except exceptions.LockException as error:
        raise LockedError(
            f"Nothing was recorded: files in {places.folder} cannot be locked ({error}); "
            "keep the book on a disk that can lock files"
        ) from error
    raise LockedError(f"Nothing was recorded: another desk is still writing to {places.folder}; try again in a moment")


def _try(descriptor: int) -> bool:
    """Whether the lock could be had at once."""
    from portalocker import LockFlags, exceptions, lock

    try:
        lock(descriptor, LockFlags.EXCLUSIVE | LockFlags.NON_BLOCKING)
    except exceptions.AlreadyLocked:
        return False
    return True


def _wait_in_turn(descriptor: int, limit: float) -> bool:
    """Whether the lock came before the limit, in the system's own queue where it has one.

    Among many desks, one that only tries again and again may never be the lucky one. The system's queue knows no
    time limit, so a thread waits in it with a descriptor of its own; if it comes too late, it gives the lock back at
    once.
    """
    if os.name != "posix":
        while not (taken := _try(descriptor)) and time.monotonic() < limit:
            time.sleep(_PAUSES[-1])
        return taken
    failures: list[Exception] = []
    stand_in = Thread(target=_stand_in_queue, args=(os.dup(descriptor), failures), daemon=True)
    stand_in.start()
    stand_in.join(max(0.0, limit - time.monotonic()))
    if failures:
        raise failures[0]
    return not stand_in.is_alive()


def _stand_in_queue(descriptor: int, failures: list[Exception]) -> None:
    from portalocker import LockFlags, exceptions, lock

    try:
        lock(descriptor, LockFlags.EXCLUSIVE)
    except exceptions.LockException as error:
        failures.append(error)
    finally:
        os.close(descriptor)


def _still_there(descriptor: int, places: LedgerPaths) -> bool:
    try:
        return os.path.samestat(os.fstat(descriptor), places.lock.stat())
    except OSError:
        return False
