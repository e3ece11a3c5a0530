"""One lock for all desks on a book folder: whoever writes holds it."""

from __future__ import annotations

import os
import time
from contextlib import contextmanager
from typing import TYPE_CHECKING

from copydesk.book.refusal import Refused
from copydesk.store.disk import refusal

if TYPE_CHECKING:
    from collections.abc import Iterator

    from copydesk.store.disk import Disk
    from copydesk.store.places import Places

PATIENCE = 10.0
"""Seconds to wait for another desk that is writing; one entry takes it a few thousandths."""

_SHORTEST, _LONGEST = 0.0003, 0.004  # seconds between two tries


@contextmanager
def held(places: Places, disk: Disk, patience: float = PATIENCE) -> Iterator[None]:
    """Hold the lock of a book folder, made where it is missing; no other desk writes meanwhile.

    Raises:
        Refused: where another desk holds it for longer than ``patience`` seconds, or the folder cannot be written.
    """
    limit = time.monotonic() + patience
    descriptor = _taken(places, disk, limit)
    while not _still_there(descriptor, places):  # the folder was tidied between opening and locking
        os.close(descriptor)
        descriptor = _taken(places, disk, limit)
    try:
        yield
    finally:
        os.close(descriptor)  # closing lets go of the lock


def _taken(places: Places, disk: Disk, limit: float) -> int:
    """A descriptor that holds the lock."""
    descriptor = _opened(places, disk)
    try:
        _wait(descriptor, places, limit)
    except BaseException:
        os.close(descriptor)
        raise
    return descriptor


def _opened(places: Places, disk: Disk) -> int:
    try:
        while True:
            try:
                places.prepare(disk)
                return disk.open_to_append(places.lock)
            except FileExistsError:  # another desk made it at this very moment
                continue
    except OSError as error:
        raise refusal(error, places.folder, "Nothing was recorded") from error


def _wait(descriptor: int, places: Places, limit: float) -> None:
    from portalocker import LockFlags, exceptions, lock

    pause = _SHORTEST
    while True:
        try:
            lock(descriptor, LockFlags.EXCLUSIVE | LockFlags.NON_BLOCKING)
        except exceptions.AlreadyLocked:
            if time.monotonic() > limit:
                raise Refused(
                    f"Nothing was recorded: another desk is still writing to {places.folder}; try again in a moment"
                ) from None
            time.sleep(pause * (0.5 + time.perf_counter_ns() % 1000 / 1000))  # so that desks do not try in step
            pause = min(pause * 2, _LONGEST)
        except exceptions.LockException as error:
            raise Refused(
                f"Nothing was recorded: files in {places.folder} cannot be locked ({error}); "
                "keep the book on a disk that can lock files"
            ) from error
        else:
            return


def _still_there(descriptor: int, places: Places) -> bool:
    try:
        return os.path.samestat(os.fstat(descriptor), places.lock.stat())
    except FileNotFoundError:
        return False
