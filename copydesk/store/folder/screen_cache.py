"""The desk's last picture of a book, kept beside its ledger; good only while no file of the book has changed.

It is a convenience of one machine: losing it loses nothing, so no fault of it is reported.
"""

from __future__ import annotations

from contextlib import suppress
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from pathlib import Path


_NAME = "glance.json"
_LARGEST = 2_000_000


def read_picture(folder: Path, form: str) -> object | None:
    """The picture kept for the book in ``folder``; None where there is none, or a file has changed since.

    ``form`` names the program that can show it; another one's picture is not given.
    """
    path = folder / ".copydesk" / _NAME
    with suppress(OSError, ValueError, TypeError, AttributeError):
        if path.stat().st_size > _LARGEST or not path.resolve().is_relative_to(folder.resolve()):
            return None
        import json

        kept = json.loads(path.read_bytes())
        if kept.get("form") == form and kept.get("files") and all(_unchanged(folder, *row) for row in kept["files"]):
            picture: object = kept.get("picture")
            return picture
    return None


def keep_picture(folder: Path, form: str, names: Iterable[str], picture: Mapping[str, object]) -> None:
    """Keep a picture with the stamps of the files it rests on; where that cannot be, nothing is kept."""
    import json

    from copydesk.book.common.errors import CopydeskError
    from copydesk.store.files.book_folder import LedgerPaths
    from copydesk.store.files.disk import QuickDisk

    with suppress(OSError, ValueError, TypeError, CopydeskError):
        disk, places = QuickDisk(), LedgerPaths(folder)
        places.prepare(disk)
        files = [[name, *_stamp(folder / name)] for name in names]
        kept = json.dumps({"form": form, "files": files, "picture": picture})
        disk.put(places.hidden / _NAME, kept.encode())


def _unchanged(folder: Path, name: str, changed_ns: int, size: int) -> bool:
    path = folder / name
    return path.resolve().is_relative_to(folder.resolve()) and _stamp(path) == [changed_ns, size]


def _stamp(path: Path) -> list[int]:
    found = path.stat()
    return [found.st_mtime_ns, found.st_size]
