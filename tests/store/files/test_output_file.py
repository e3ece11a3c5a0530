"""Files made for people: whole or not at all, never over another unasked."""

from __future__ import annotations

import contextlib
import errno
from typing import TYPE_CHECKING

import pytest

from copydesk.book.common.errors import CopydeskError
from copydesk.store.files.output_file import write_file
from faulty_disk import Dead, FaultyDisk

if TYPE_CHECKING:
    import os
    from pathlib import Path


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def test_a_file_is_written_with_nothing_left_beside_it(tmp_path: Path) -> None:
    assert write_file(tmp_path / "map.pdf", b"%PDF") == tmp_path / "map.pdf"
    assert (tmp_path / "map.pdf").read_bytes() == b"%PDF"
    assert names(tmp_path) == ["map.pdf"]


def test_a_file_that_is_there_stays_unless_it_may_go(tmp_path: Path) -> None:
    path = tmp_path / "map.pdf"
    path.write_bytes(b"old")
    with pytest.raises(CopydeskError, match="a file has this name already; choose another with -o, or add --force"):
        write_file(path, b"new")
    assert path.read_bytes() == b"old"
    write_file(path, b"new", force=True)
    assert path.read_bytes() == b"new"
    assert names(tmp_path) == ["map.pdf"]


def test_a_name_taken_at_the_last_moment_is_not_taken_over(tmp_path: Path) -> None:
    path = tmp_path / "map.pdf"

    class Meanwhile(FaultyDisk):
        def append(self, *arguments: object, **more: object) -> os.stat_result:
            path.write_bytes(b"another's")
            return super().append(*arguments, **more)  # type: ignore[arg-type]

    with pytest.raises(CopydeskError, match="has this name already"):
        write_file(path, b"mine", disk=Meanwhile())
    assert path.read_bytes() == b"another's"
    assert names(tmp_path) == ["map.pdf"]


@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("gone/map.pdf", "gone: there is no such folder; make it, or name another"),
        (".", "is a folder; name a file in it"),
        ("a\0b", "can bear this name"),
    ],
)
def test_a_place_where_nothing_can_be_written_is_refused(tmp_path: Path, name: str, says: str) -> None:
    with pytest.raises(CopydeskError, match=says):
        write_file(tmp_path / name, b"x")
    assert names(tmp_path) == []


@pytest.mark.parametrize("fault", [errno.ENOSPC, errno.EROFS, "torn", "dead"])
@pytest.mark.parametrize("touch", range(8))
def test_whatever_the_disk_does_the_old_file_or_the_new_one_is_there_whole(
    tmp_path: Path, fault: int | str, touch: int
) -> None:
    path = tmp_path / "map.pdf"
    path.write_bytes(b"old" * 100)
    with contextlib.suppress(CopydeskError, Dead):
        write_file(path, b"new" * 100, force=True, disk=FaultyDisk({touch: fault}))
    assert path.read_bytes() in (b"old" * 100, b"new" * 100)
