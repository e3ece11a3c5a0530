"""A file made for people, written where they say: there whole or not at all, and never over another unasked."""

from __future__ import annotations

import os
import secrets
from contextlib import suppress
from typing import TYPE_CHECKING

from copydesk.book.common.errors import DiskError, PathError
from copydesk.store.files.book_folder import path_error, printable
from copydesk.store.files.disk import Disk, because

if TYPE_CHECKING:
    from pathlib import Path


def write_file(path: Path, data: bytes, *, force: bool = False, disk: Disk | None = None) -> Path:
    """Write ``data`` to ``path``.

    Args:
        path: where; its folder must be there.
        data: the whole content.
        force: whether a file that has this name already may go.
        disk: another disk than the usual one.

    Returns:
        The path written to.

    Raises:
        CopydeskError: where a file bears this name and ``force`` is not given, or the disk refuses.
    """
    disk = disk or Disk()
    beside = path.with_name(f".{path.name}.{secrets.token_hex(4)}.new")
    try:
        _expect_free(path, force=force)
        disk.append(beside, data, 0)
        try:
            _name(disk, beside, path, force=force)
        finally:
            with suppress(OSError):
                beside.unlink(missing_ok=True)
        disk.sync_folder(path.parent)
    except FileExistsError:
        raise _taken(path) from None
    except OSError as error:
        raise DiskError(f"Nothing was written: {printable(path)}: {because(error)}") from error
    except ValueError:
        raise path_error(path, "no file can bear this name; choose another") from None
    return path


def _expect_free(path: Path, *, force: bool) -> None:
    if not path.parent.is_dir():
        raise path_error(path.parent, "there is no such folder; make it, or name another")
    if path.is_dir():
        raise path_error(path, "is a folder; name a file in it")
    if not force and os.path.lexists(path):
        raise _taken(path)


def _name(disk: Disk, beside: Path, path: Path, *, force: bool) -> None:
    """Give the new file its name in one step; without ``force`` a link is made, which fails where the name is taken."""
    if force:
        disk.replace(beside, path)
        return
    try:
        os.link(beside, path)
    except FileExistsError:
        raise
    except OSError:  # a disk that knows no links
        disk.replace(beside, path)


def _taken(path: Path) -> PathError:
    return path_error(path, "a file has this name already; choose another with -o, or add --force")
