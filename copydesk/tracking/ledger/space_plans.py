"""The reserved spaces as planned today: what the book says, and what was added, moved, resized or given up since."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from copydesk.book.common.errors import InvalidValueError
from copydesk.book.layout.space_stages import NEEDS
from copydesk.book.plan import Anchor, SpacePlan
from copydesk.book.structure.page import SkinPage
from copydesk.tracking.ledger.entry_kinds import SpaceEnd

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from copydesk.tracking.ledger.space_record import SpaceRecord


_LARGEST = 100_000


def plans_now(
    planned: Iterable[SpacePlan], named: Iterable[str], record_of: Callable[[str], SpaceRecord]
) -> tuple[SpacePlan, ...]:
    """The planned spaces after what was recorded of them.

    Args:
        planned: the spaces of the book file.
        named: the names of all spaces that entries are about.
        record_of: the record of a space by its name.
    """
    plans = {plan.id: plan for plan in planned}
    for name in named:
        record = record_of(name)
        if record.plan is not None and (record.anew or name not in plans):
            plans[name] = plan_from(name, record.plan)
        if name not in plans:
            continue
        if record.ended is SpaceEnd.GIVEN_UP:
            del plans[name]
            continue
        if record.lines is not None:
            plans[name] = plans[name]._replace(lines=record.lines)
        if record.at is not None:
            plans[name] = plans[name]._replace(at=anchor_from(record.at))
    return tuple(plans.values())


def plan_from(name: str, facts: Mapping[str, object]) -> SpacePlan:
    """A space added in mid-work, from the facts of its entry."""
    at = facts.get("at")
    lines = facts.get("lines")
    return SpacePlan(
        id=name,
        kind=facts["kind"] if facts.get("kind") in list(NEEDS) else "miniature",  # type: ignore[arg-type]
        at=anchor_from(at if isinstance(at, Mapping) else {}),
        lines=max(lines, 0) if isinstance(lines, int) else 0,
        across="all" if facts.get("across") == "all" else "column",
        width=_figure(facts.get("width")),
        subject=str(facts.get("subject", "")),
        instruction=str(facts.get("instruction", "")),
        guide_letter=str(facts.get("guide_letter", "")),
        materials=_texts(facts.get("materials")),
        artist=str(facts.get("artist", "")),
        hours=_figure(facts.get("hours")),
        stages=_texts(facts.get("stages")) or None,
    )


def plan_facts(plan: SpacePlan) -> dict[str, object]:
    """A space as the facts of the entry that adds it; what ``plan_from`` reads."""
    usual = SpacePlan("", "miniature", Anchor())
    facts: dict[str, object] = {"kind": plan.kind, "at": anchor_facts(plan.at)}
    for name in SpacePlan._fields[3:]:
        value = getattr(plan, name)
        if value != getattr(usual, name):
            facts[name] = list(value) if isinstance(value, tuple) else value
    return facts


def anchor_facts(at: Anchor) -> dict[str, object]:
    """What a space is tied to, as facts of an entry; what ``anchor_from`` reads."""
    return {name: value for name, value in at._asdict().items() if value is not None}


def _texts(value: object) -> tuple[str, ...]:
    return tuple(str(each) for each in value) if isinstance(value, list) else ()


def _figure(value: object) -> float | None:
    """A figure above 0, as width and hours are; None for anything else."""
    usable = isinstance(value, int | float) and not isinstance(value, bool) and 0 < value < _LARGEST
    return float(value) if usable else None  # type: ignore[arg-type]


def anchor_from(facts: Mapping[str, object]) -> Anchor:
    """What a space is tied to, from the facts of an entry."""

    def number(name: str) -> int | None:
        value = facts.get(name)
        return value if isinstance(value, int) and value >= (0 if name == "word" else 1) else None

    page, exemplar = _page_of(facts.get("page")), facts.get("exemplar")
    return Anchor(
        division=number("division"),
        paragraph=number("paragraph"),
        word=number("word"),
        exemplar=str(exemplar) if exemplar else None,
        page=page,
        column=number("column"),
        line=number("line"),
    )


def _page_of(value: object) -> str | None:
    """A page's name as the ledger keeps it; None for what is no such name."""
    try:
        return str(SkinPage.parse(str(value))) if value else None
    except InvalidValueError:
        return None
