"""Recording the binder's work: a sheet or flyleaf found in its place (``walked``), the book bound (``book bound``)."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.errors import UnknownNameError
from copydesk.tracking.binding.binding_walk import walk_sheet
from copydesk.tracking.binding.bound_book import BOUND, bind_book
from copydesk.tracking.binding.flyleaf_walk import walk_flyleaf

if TYPE_CHECKING:
    from argparse import Namespace

    from copydesk.tracking.ledger.entry import Act
    from copydesk.tracking.state.book_state import BookState


def is_binding_act(kind: str, what: str) -> bool:
    """Whether an entry is the binder's."""
    return kind in ("book", "flyleaf") or (kind, what) == ("sheet", "walked")


def binding_act(state: BookState, kind: str, name: str, given: Namespace) -> Act:
    """The act: a sheet or a flyleaf found in its place, or the book bound.

    Raises:
        CopydeskError: where nothing of the kind can be recorded there.
    """
    if kind == "sheet":
        return walk_sheet(state, name)
    known = BOUND if kind == "book" else "walked"
    if given.what != known:
        raise UnknownNameError(f"{given.what!r} cannot be recorded of a {kind}; give {known}")
    return bind_book(state, given.who, given.note) if kind == "book" else walk_flyleaf(state, name)
