"""What each hand writes with: ink, pen and pounce, as planned and as noted at the beginning of a stint."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.columns import Cell, Column, Report, rows_of
from copydesk.book.common.sanitize import sanitize

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from copydesk.tracking.state.book_state import BookState


class Tools(NamedTuple):
    """Ink, pen and pounce (a fine powder rubbed on the skin before writing); empty where nobody said."""

    ink: str = ""
    pen: str = ""
    pounce: str = ""

    def __str__(self) -> str:
        """``oak-gall ink, pen goose quill``, what names itself without its name; empty where nothing is known."""
        return ", ".join(
            sanitize(said if name in said.casefold().split() else f"{name} {said}")
            for name, said in self._asdict().items()
            if said
        )


NOTHING_SAID = Tools()
"""What is known of a hand's tools where nobody said."""


class HandTools(NamedTuple):
    """A hand and what it writes with."""

    hand: str
    tools: Tools


def tools_of(state: BookState, hand: str) -> Tools:
    """What a hand writes with now: what it noted last at a stint, else what the plan says."""
    noted = [each.tools for each in _noted(state) if each.hand == hand]
    return noted[-1] if noted else _planned(state)


def _noted(state: BookState) -> Iterator[HandTools]:
    """What was noted at stints, oldest first: each hand's tools as they were from then on."""
    now: dict[str, Tools] = {}
    for entry in state.ledger.live_of("desk"):
        said = {name: text for name in Tools._fields if (text := entry.text(name).strip())}
        if entry.what == "stint-started" and said:
            now[entry.hand] = now.get(entry.hand, _planned(state))._replace(**said)
            yield HandTools(entry.hand, now[entry.hand])


def all_tools(state: BookState) -> tuple[HandTools, ...]:
    """Everything written with, hand by hand: what was noted, and what is planned for hands that noted nothing."""
    noted, planned = tuple(dict.fromkeys(_noted(state))), _planned(state)
    silent = [hand.id for hand in state.book.hands if hand.id not in {each.hand for each in noted}]
    rest = [HandTools(hand, planned) for hand in silent] if any(planned) else []
    order = [hand.id for hand in state.book.hands]
    return tuple(sorted((*noted, *rest), key=lambda each: order.index(each.hand) if each.hand in order else len(order)))


def tools_words(found: Iterable[HandTools]) -> str:
    """``A: ink oak-gall; B: ink carbon``; without the hands where all write with the same."""
    told = [(each.hand, str(each.tools)) for each in found]
    kinds = {said for _, said in told}
    return next(iter(kinds)) if len(kinds) == 1 else "; ".join(f"{hand}: {said}" for hand, said in told)


def _planned(state: BookState) -> Tools:
    script = state.book.script
    return Tools(script.ink, script.pen, script.pounce)


TOOLS: Report[HandTools] = rows_of(
    "tools",
    "What a hand writes with.",
    Column("hand", Cell.TEXT, "the hand"),
    Column("ink", Cell.TEXT, "its ink; empty where nobody said", "tools.ink"),
    Column("pen", Cell.TEXT, "its pen", "tools.pen"),
    Column("pounce", Cell.TEXT, "the powder rubbed on the skin before writing", "tools.pounce"),
)
