"""Flyleaves and pastedowns in the binder's walk: those planned, each ticked when it is found in its place.

A leaf's name in the ledger is its end of the book and its place there, ``front.1`` the outermost, ``back.1`` the one
after the text; so it keeps its tick where leaves are added at the other end, and the roman numbers move.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal, NamedTuple

from copydesk.book.columns import Cell, Column, Report, rows_of
from copydesk.book.common.errors import AlreadyDoneError, NotAllowedError, UnknownNameError
from copydesk.book.common.phrases import count_of, listed
from copydesk.book.structure.foliation import Flyleaf, flyleaves
from copydesk.tracking.ledger.entry import Act

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from copydesk.book.plan import Book
    from copydesk.tracking.ledger.entry import Entry
    from copydesk.tracking.state.book_state import BookState


End = Literal["front", "back"]
ENDS: tuple[End, End] = ("front", "back")

WALKED = "flyleaf-walked"
"""The kind of entry that ticks one."""


class WalkedFlyleaf(NamedTuple):
    """A leaf before or after the text: its name in the ledger, what it is called, the entry that ticks it if any."""

    name: str
    leaf: Flyleaf
    entry: Entry | None = None

    @property
    def ticked(self) -> bool:
        """Whether it was found in its place."""
        return self.entry is not None

    @property
    def short(self) -> str:
        """What it is asked for by: ``ii``, or its end of the book where it is pasted to the board."""
        return self.leaf.number or self.leaf.at


def planned_flyleaves(book: Book) -> Iterator[WalkedFlyleaf]:
    """Every leaf planned before and after the text, in order, none ticked."""
    plan, places = book.flyleaves, {"front": 0, "back": 0}
    for leaf in flyleaves(plan.front, plan.back, pastedowns=plan.pastedowns):
        places[leaf.at] += 1
        yield WalkedFlyleaf(f"{leaf.at}.{places[leaf.at]}", leaf)


def flyleaf_walk(state: BookState) -> list[WalkedFlyleaf]:
    """Every leaf planned before and after the text, in order, with the entry that ticks it."""
    return [each._replace(entry=_tick(state, each.name)) for each in planned_flyleaves(state.book)]


def _tick(state: BookState, name: str) -> Entry | None:
    entries = state.ledger.live("flyleaf", name)
    return entries[-1] if entries else None


def walk_flyleaf(state: BookState, asked: str) -> Act:
    """Tick a leaf before or after the text as found in its place.

    Args:
        state: the book as it stands.
        asked: its number, as in ``ii``; ``front`` or ``back`` of one pasted to a board; or its name, ``front.1``.

    Raises:
        CopydeskError: where the plan has no such leaf, or it is ticked already.
    """
    walk = flyleaf_walk(state)
    if not walk:
        raise NotAllowedError("no flyleaves are planned; give their number in book.yaml under flyleaves")
    wanted = asked.strip().casefold()
    found = next((each for each in walk if wanted in (each.name, each.short)), None)
    if found is None:
        raise UnknownNameError(f"no flyleaf {asked!r} is planned; give one of {', '.join(each.short for each in walk)}")
    if found.ticked:
        raise AlreadyDoneError(f"{found.leaf} was found in its place already; nothing was recorded")
    return Act(WALKED, found.name, "", {})


def flyleaf_named(book: Book, name: str) -> str:
    """What the leaf of that name is called, ``flyleaf ii``; a leaf no longer planned by its name."""
    return next((str(each.leaf) for each in planned_flyleaves(book) if each.name == name), f"flyleaf {name}")


def not_found_words(walk: Iterable[WalkedFlyleaf], at: End) -> str:
    """The leaves at one end that nobody has ticked, in words; empty where there are none."""
    missing = [each.leaf for each in walk if each.leaf.at == at and not each.ticked]
    pasted = ["the pastedown"] if any(leaf.pastedown for leaf in missing) else []
    numbers = [leaf.number for leaf in missing if not leaf.pastedown]
    free = [f"flyle{'af' if len(numbers) == 1 else 'aves'} {listed(numbers)}"] if numbers else []
    parts = [*pasted, *free] if at == "front" else [*free, *pasted]
    return f"{' and '.join(parts)} not yet found in place" if parts else ""


def ticked_words(walk: Sequence[WalkedFlyleaf]) -> str:
    """``, 2 of 5 flyleaves``, those ticked of those planned, to go on a sentence; empty where none is planned."""
    ticked = sum(each.ticked for each in walk)
    return f", {ticked} of {count_of(len(walk), 'flyleaf', 'flyleaves')}" if walk else ""


FLYLEAVES: Report[WalkedFlyleaf] = rows_of(
    "flyleaves",
    "One flyleaf or pastedown of the binder's walk.",
    Column("flyleaf", Cell.TEXT, "its name for record", "name"),
    Column("called", Cell.TEXT, "what people call it", lambda each: str(each.leaf)),
    Column("walked", Cell.YES_NO, "whether it was found in place", "ticked"),
    Column(
        "by", Cell.TEXT, "who found it; null while nobody did", lambda each: each.entry.hand if each.entry else None
    ),
)
