"""What ``copydesk record`` takes of leaves, whole sheets and gatherings."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.errors import NotAllowedError, UnknownNameError
from copydesk.book.common.typed_values import read_length, read_whole
from copydesk.book.structure.page import Surface
from copydesk.cli.open_book import add_typed
from copydesk.tracking.commands import leaf_commands as leaf_acts
from copydesk.tracking.views.page_lookup import leaf_called

if TYPE_CHECKING:
    from argparse import Namespace, _ArgumentGroup

    from copydesk.tracking.ledger.entry import Act
    from copydesk.tracking.state.book_state import BookState


_SIZES = {
    "from_head": "from the head edge to a flaw",
    "from_fold": "from the fold to a flaw",
    "width": "a flaw's width",
    "height": "a flaw's height",
}
_OF_A_SHEET = ("replaced", "added-inside")


def add_leaf_facts(parser: _ArgumentGroup) -> None:
    """The facts of added leaves and of flaws."""
    parser.add_argument("--tipped", action="store_true", help="the added leaf is tipped in, not hooked on a stub")
    parser.add_argument("--recto", choices=[each.value for each in Surface], help="what an added leaf's recto shows")
    parser.add_argument("--outward", choices=[each.value for each in Surface], help="what an added sheet turns outward")
    add_typed(parser, "--leaves", read_whole, metavar="N", help="leaves of an added gathering; as the first has if not")
    for name, says in _SIZES.items():
        said = f"{says}, seen on the recto: mm, or with its unit"
        add_typed(parser, f"--{name.replace('_', '-')}", read_length, metavar="LENGTH", help=said)


def is_leaf_act(kind: str, what: str) -> bool:
    """Whether what is recorded of this kind of place changes leaves, or tells of one."""
    return kind in ("leaf", "gathering") or (kind == "sheet" and what in _OF_A_SHEET)


def leaf_act(state: BookState, kind: str, name: str, given: Namespace) -> Act:
    """The act for ``leaf:5``, ``sheet:3.2`` or ``gathering:3``.

    Raises:
        CopydeskError: where there is no such thing, or it is not possible.
    """
    if kind == "sheet":
        return _sheet_act(state, name, given)
    if kind == "leaf":
        return _of_leaf(state, leaf_called(state, name), given)
    if not (name.isdecimal() and len(name) < 10):
        raise UnknownNameError(f"{name!r} is not a {kind}; give its number in the book, as in {kind}:3")
    return _of_gathering(state, int(name), given)


def _of_leaf(state: BookState, leaf: int, given: Namespace) -> Act:
    match given.what:
        case "cancelled":
            return leaf_acts.cancel_leaf(state, leaf, given.note)
        case "wanting":
            return leaf_acts.lose_leaf(state, leaf, given.note)
        case "replaced":
            return leaf_acts.replace_leaf(state, leaf, given.note)
        case "added-after" | "added-before":
            before = given.what == "added-before"
            recto = _surface(given.recto)
            return leaf_acts.add_leaf(state, leaf, before=before, tipped=given.tipped, recto=recto, note=given.note)
        case "flaw":
            return leaf_acts.note_flaw(state, leaf, {name: getattr(given, name) for name in _SIZES}, given.note)
    raise UnknownNameError(
        f"{given.what!r} cannot be recorded of a leaf; give cancelled, replaced, wanting, added-after, "
        "added-before or flaw"
    )


def _sheet_act(state: BookState, sheet: str, given: Namespace) -> Act:
    if given.what == "replaced":
        return leaf_acts.replace_sheet(state, sheet, given.note)
    return leaf_acts.add_sheet(state, sheet, _surface(given.outward), given.note)


def _of_gathering(state: BookState, number: int, given: Namespace) -> Act:
    outward = _surface(given.outward)
    if given.what == "added-round":
        return leaf_acts.add_sheet(state, f"{number}.0", outward, given.note)
    if given.what != "added-gathering":
        raise UnknownNameError(f"{given.what!r} cannot be recorded of a gathering; give added-round or added-gathering")
    gatherings = state.collation.gatherings
    if number != gatherings[-1].number:
        raise NotAllowedError(
            f"a gathering can be added only after the last one; that is gathering {gatherings[-1].number}"
        )
    leaves = given.leaves if given.leaves is not None else len(state.planned.gatherings[0].leaves)
    return leaf_acts.add_gathering(state, leaves, outward, given.note)


def _surface(name: str | None) -> Surface | None:
    return None if name is None else Surface(name)
