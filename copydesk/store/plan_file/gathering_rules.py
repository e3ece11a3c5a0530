"""The gatherings can be, and nothing in the plan points beyond their leaves."""

from __future__ import annotations

from itertools import chain
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.errors import Refused
from copydesk.book.plan import Flaw, LeafException, SpacePlan
from copydesk.store.plan_file.text_rules import hands_beyond, leaves_beyond, spaces_beyond_leaves

if TYPE_CHECKING:
    from copydesk.store.plan_file.reading import Reading


MOST_LEAVES = 200_000


class Size(NamedTuple):
    """How many gatherings and leaves a plan settles."""

    gatherings: int
    leaves: int


def check(reading: Reading) -> None:
    """Note what is wrong with the gatherings, the leaves planned otherwise, and what points at leaves."""
    _leaves(reading)
    plan = reading.value(dict, "gatherings")
    if plan is None or not reading.sound("gatherings"):
        return
    size = _by_formula(reading, plan) if "formula" in plan else _by_number(plan)
    if size is None:
        return
    if size.leaves > MOST_LEAVES:
        reading.say(("gatherings",), f"come to {size.leaves} leaves, more than {MOST_LEAVES}; look at the figures")
        return
    _pages(reading, size)


def _by_formula(reading: Reading, plan: dict[str, str]) -> Size | None:
    from copydesk.book.formula.collation_formula import parse

    if double := next((key for key in ("sheets", "count") if key in plan), None):
        reading.say(("gatherings", double), "is given beside a formula, which says it already; take one out")
    parsed = parse(plan["formula"])
    try:
        parsed.collation()
    except Refused as error:
        reading.tell(("gatherings", "formula"), error.problems[0].what)
        return None
    return Size(len(parsed.gatherings), parsed.leaves)


def _by_number(plan: dict[str, int]) -> Size | None:
    """What the plan settles, or None where that follows from the text."""
    if "count" not in plan:
        return None
    return Size(plan["count"], plan["count"] * plan.get("sheets", 4) * 2)


def _leaves(reading: Reading) -> None:
    """No leaf is two things at once."""
    said: dict[int, int] = {}
    for at, leaf in reading.items(LeafException, "leaves"):
        if leaf.what != "added after" and said.setdefault(leaf.leaf, at) != at:
            reading.say(("leaves", at), f"speaks of leaf {leaf.leaf} a second time; take one of the two out")


def _pages(reading: Reading, size: Size) -> None:
    """Pages are counted with the leaves that are added; leaves planned otherwise, without."""
    added = sum(leaf.what == "added after" for _, leaf in reading.items(LeafException, "leaves"))
    hands = reading.value(dict, "hands") or {}
    numbers = ((str(name), tuple(chain(*hand.get("gatherings", ())))) for name, hand in hands.items())
    reading.say_all(spaces_beyond_leaves(reading.items(SpacePlan, "spaces"), size.leaves + added))
    reading.say_all(leaves_beyond("flaws", reading.items(Flaw, "flaws"), size.leaves + added))
    reading.say_all(leaves_beyond("leaves", reading.items(LeafException, "leaves"), size.leaves))
    reading.say_all(hands_beyond(numbers, size.gatherings))
