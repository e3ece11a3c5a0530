"""Names for leaves as pieces of skin: what a name says, and the next one free.

``3.5`` is the fifth place of gathering 3 as first planned, ``3.5r1`` the first leaf that replaced it,
``3.5a1`` the first added after it, ``3.5a1r1`` the first that replaced that one; an ``s`` at the end is a
leaf's stub. ``3.0`` is the beginning of gathering 3, before its first leaf.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.errors import InvalidValueError
from copydesk.book.structure.page import LeafId

if TYPE_CHECKING:
    from collections.abc import Collection


def gathering_of(leaf_id: str) -> int:
    """The number of the gathering a leaf belongs to.

    Raises:
        InvalidValueError: where the text is no leaf's id.
    """
    if not names_leaf(leaf_id):
        raise InvalidValueError(f"{leaf_id!r} does not name a leaf; write its gathering and its place in it, as in 3.5")
    return int(leaf_id.partition(".")[0])


def names_leaf(text: str) -> bool:
    """Whether a text can be a leaf's id: a gathering's number, a point, a place."""
    number, _, place = text.partition(".")
    return _is_number(number) and _is_number(place[:1])


def place_of(leaf_id: str) -> LeafId:
    """The planned place a leaf belongs to: ``3.5`` for ``3.5a1r2``."""
    for mark in "ras":
        leaf_id = leaf_id.partition(mark)[0]
    return LeafId(leaf_id)


def is_planned(leaf_id: str) -> bool:
    """Whether a leaf was there when its gathering was first planned."""
    return leaf_id == place_of(leaf_id)


def start_of(gathering: int) -> LeafId:
    """The place before the first leaf of a gathering."""
    return LeafId(f"{gathering}.0")


def replaced(leaf_id: str) -> LeafId:
    """The leaf that stood here first: ``3.5`` for ``3.5r2``, ``3.5a1`` for ``3.5a1r1``; else itself."""
    stem, mark, _ = leaf_id.rpartition("r")
    return LeafId(stem if mark else leaf_id)


def next_replacement(leaf_id: str, taken: Collection[str]) -> LeafId:
    """The id of the next leaf put in for ``leaf_id``; ``taken`` holds the ids given already."""
    return _unused(f"{replaced(leaf_id)}r", taken)


def next_addition(leaf_id: str, taken: Collection[str]) -> LeafId:
    """The id of the next leaf added after the place of ``leaf_id``; ``taken`` holds the ids given already."""
    return _unused(f"{place_of(leaf_id)}a", taken)


def _is_number(text: str) -> bool:
    return text.isascii() and text.isdecimal() and len(text) < 10


def _unused(stem: str, taken: Collection[str]) -> LeafId:
    at = 1
    while f"{stem}{at}" in taken:
        at += 1
    return LeafId(f"{stem}{at}")
