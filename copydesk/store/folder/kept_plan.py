"""Keeping a changed plan: ``book.yaml`` written anew, shown as a difference first, and put back again.

What was kept last lies in the hidden folder, as it was before and after, so that it can be put back later too.
"""

from __future__ import annotations

import json
from difflib import unified_diff
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.errors import BadPlanError, NotAllowedError
from copydesk.store.files.book_folder import BOOK_FILE, LedgerPaths
from copydesk.store.files.disk import Disk, disk_errors
from copydesk.store.files.file_lock import held
from copydesk.store.files.text_file import decode, read_bytes
from copydesk.store.folder.read_book import pages_beyond, read_all
from copydesk.store.plan_file.book_file import LARGEST
from copydesk.store.plan_file.plan_edits import edited
from copydesk.tracking.planning.plan_objections import objections
from copydesk.tracking.state.book_state import BookState

if TYPE_CHECKING:
    from collections.abc import Callable

    from copydesk.book.plan import Book
    from copydesk.store.files.book_folder import BookFolder


_KEPT = "plan-kept.json"


class PlanChange(NamedTuple):
    """``book.yaml`` as it is and as it is to be, and the book as it would stand then."""

    before: str
    after: str
    state: BookState

    @property
    def difference(self) -> list[str]:
        """The lines that go, each behind ``-``, and the lines that come, each behind ``+``."""
        lines = unified_diff(self.before.splitlines(), self.after.splitlines(), n=0, lineterm="")
        return [line for line in list(lines)[2:] if not line.startswith("@@")]


def plan_change(folder: BookFolder, state: BookState, change: Callable[[str], str]) -> PlanChange:
    """What ``change`` makes of the text of ``book.yaml``, checked as the desk would when it reads it; nothing written.

    Raises:
        BadPlanError: with every mistake the file would have.
        NotAllowedError: with all that stands against it: pages ruled or written.
    """
    before = plan_written(folder)
    after = change(before)
    sources = read_all(folder, text=after)
    then = BookState(sources.book, sources.exemplar, state.ledger, sources.samples)
    if problems := pages_beyond(folder, sources.book, then.planned, written=False):
        raise BadPlanError(*problems)
    if against := objections(state, then):
        raise NotAllowedError(*(f"this cannot be kept: {why}" for why in against))
    return PlanChange(before, after, then)


def change_to(folder: BookFolder, state: BookState, book: Book) -> PlanChange:
    """The change after which ``book.yaml`` reads as ``book``.

    Raises:
        CopydeskError: as for ``plan_change``; where the file can only be changed by people.
    """
    return plan_change(folder, state, lambda text: edited(text, state.book, book))


def keep(folder: BookFolder, change: PlanChange, *, disk: Disk | None = None) -> None:
    """Write the changed plan in one step.

    Raises:
        CopydeskError: where the file is not as it was any more, or the disk refuses; nothing is written then.
    """
    disk, paths = disk or Disk(), LedgerPaths(folder.root)
    with disk_errors(folder.path(BOOK_FILE), "Nothing was written"), held(paths, disk):
        path = folder.path(BOOK_FILE)
        data = path.read_bytes()
        if decode(data, folder.name(BOOK_FILE)) != change.before:
            raise NotAllowedError(f"{folder.name(BOOK_FILE)} was changed meanwhile; look at it and try again")
        mark = data[: len(data) - len(change.before.encode())]
        disk.put(paths.hidden / _KEPT, json.dumps([change.before, change.after]).encode())
        disk.put(path, mark + change.after.encode())


def put_back(folder: BookFolder, state: BookState) -> PlanChange:
    """The change that takes back what was kept last; kept and put back in turn.

    Raises:
        CopydeskError: where nothing was kept, the file was changed since, or pages begun stand against it.
    """
    try:
        before, after = json.loads((LedgerPaths(folder.root).hidden / _KEPT).read_bytes())
    except (OSError, ValueError, TypeError):
        raise NotAllowedError("no change of the plan was kept here, so there is none to take back") from None
    texts = {after: before, before: after}
    text = plan_written(folder)
    if text not in texts:
        raise NotAllowedError(f"{folder.name(BOOK_FILE)} was changed since, so nothing was put back; change it there")
    return plan_change(folder, state, texts.__getitem__)


def plan_written(folder: BookFolder) -> str:
    """What ``book.yaml`` says now.

    Raises:
        CopydeskError: where it cannot be read.
    """
    name = folder.name(BOOK_FILE)
    return decode(read_bytes(folder.path(BOOK_FILE), name, LARGEST), name)
