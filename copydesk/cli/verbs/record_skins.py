"""Recording of skins from the command line: ``record BOOK skins:A lime --skins 6``, ``record BOOK sheet:3.2 cut``."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.errors import InvalidValueError
from copydesk.book.common.typed_values import read_whole
from copydesk.cli.open_book import add_typed, add_words
from copydesk.tracking.commands.skin_commands import cut_sheet, move_skins, went_in

if TYPE_CHECKING:
    from argparse import Namespace, _ArgumentGroup
    from datetime import date

    from copydesk.tracking.ledger.entry import Act
    from copydesk.tracking.state.book_state import BookState


def add_skin_facts(parser: _ArgumentGroup) -> None:
    """What an entry about skins may carry."""
    add_typed(parser, "--skins", read_whole, metavar="N", help="how many skins the batch has from now on")
    add_words(parser, "--since", metavar="DATE", help="the day the batch went into its step, if not today")
    add_words(parser, "--batch", metavar="NAME", help="the batch a sheet was cut from")
    add_typed(parser, "--skin", read_whole, metavar="N", help="which of the batch's skins it was")


def is_skin_act(kind: str, what: str) -> bool:
    """Whether this records something of skins, or of a sheet cut from one."""
    return kind == "skins" or (kind == "sheet" and what == "cut")


def skin_act(state: BookState, kind: str, name: str, given: Namespace, today: date) -> Act:
    """The entry asked for.

    Raises:
        InvalidValueError: where it cannot be.
    """
    if kind == "skins":
        since = went_in(given.since, today)
        return move_skins(state, name, given.what, given.skins, since, given.note)
    if not given.batch:
        raise InvalidValueError(f"sheet {name} was cut from some batch; name it, as in --batch A --skin 4")
    return cut_sheet(state, name, given.batch, given.skin)
