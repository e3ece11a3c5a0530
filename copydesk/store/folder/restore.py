"""Restoring a book folder from a backup; the folder that stood there is kept under another name."""

from __future__ import annotations

import os
import shutil
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime
from pathlib import PurePosixPath
from typing import TYPE_CHECKING

from copydesk.book.common.errors import Refused
from copydesk.store.files.disk import Disk, refusal
from copydesk.store.folder.backup import PIECE, free_name

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path
    from zipfile import ZipFile, ZipInfo


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
        Refused: where the archive is damaged, is no backup of a book, or would write outside the folder, or the disk
            refuses; then the folder is as it was.
    """
    from zipfile import BadZipFile, ZipFile
    from zlib import error as zlib_error

    disk, folder = disk or Disk(), folder.resolve()
    if not archive.is_file():
        raise Refused(f"Nothing was restored: there is no file {archive}; name one that copydesk backup made")
    if not folder.parent.is_dir():
        raise Refused(f"Nothing was restored: there is no folder {folder.parent} to put it in; make that first")
    try:
        with ZipFile(archive) as copy:
            members = _members(copy, archive)
            _expect_room(members, folder.parent, archive)
            beside = _unpacked(copy, members, folder, disk)
        return Restored(folder, len(members), _change_names(beside, folder, disk))
    except (BadZipFile, zlib_error, EOFError, RuntimeError, NotImplementedError, ValueError) as error:
        raise Refused(f"Nothing was restored: {archive} is damaged or is no backup; take another copy") from error
    except OSError as error:
        raise refusal(error, folder, "Nothing was restored") from error


def _members(copy: ZipFile, archive: Path) -> list[ZipInfo]:
    """The files in the archive, where every name stays inside the folder and a book is among them."""
    from zipfile import ZIP_DEFLATED, ZIP_STORED

    members = [member for member in copy.infolist() if not member.is_dir()]
    for member in members:
        parts = PurePosixPath(member.filename).parts
        if not parts or parts[0] == "/" or ".." in parts or any(sign in member.filename for sign in "\\:\0"):
            raise Refused(f"Nothing was restored: {archive} holds {member.filename!r}, which would leave the folder")
    names = {member.filename for member in members}
    known_packing = all(member.compress_type in (ZIP_STORED, ZIP_DEFLATED) for member in members)
    if len(names) < len(members) or names.isdisjoint(_MARKS) or not known_packing:
        raise Refused(
            f"Nothing was restored: {archive} is not a backup of a book; name a file that copydesk backup made"
        )
    return members


def _expect_room(members: Sequence[ZipInfo], parent: Path, archive: Path) -> None:
    """Stop before an archive fills the disk."""
    needed, free = sum(member.file_size for member in members), shutil.disk_usage(parent).free
    if needed > free:
        raise Refused(f"Nothing was restored: {archive} needs {needed} bytes and the disk has {free} left; make room")


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
            kept = free_name(folder.parent, f"{folder.name}-before-{datetime.now().astimezone():%Y-%m-%d-%H%M%S}", "")
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
