"""The reserved spaces as planned today: what the book says, and what was added, moved, resized or given up since."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from copydesk.book.book import Anchor, SpacePlan

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from copydesk.ledger.space_record import SpaceRecord


def plans_now(
    planned: Iterable[SpacePlan], named: Iterable[str], record_of: Callable[[str], SpaceRecord]
) -> tuple[SpacePlan, ...]:
    """The planned spaces after what the ledger says of those ``named`` in it."""
    plans = {plan.id: plan for plan in planned}
    for name in named:
        record = record_of(name)
        if record.plan is not None and name not in plans:
            plans[name] = plan_from(name, record.plan)
        if name not in plans:
            continue
        if record.ended == "given-up":
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
        kind=facts.get("kind", "miniature"),  # type: ignore[arg-type]
        at=anchor_from(at if isinstance(at, Mapping) else {}),
        lines=lines if isinstance(lines, int) else 0,
        across="all" if facts.get("across") == "all" else "column",
        subject=str(facts.get("subject", "")),
        instruction=str(facts.get("instruction", "")),
        materials=_texts(facts.get("materials")),
    )


def _texts(value: object) -> tuple[str, ...]:
    return tuple(str(each) for each in value) if isinstance(value, list) else ()


def anchor_from(facts: Mapping[str, object]) -> Anchor:
    """What a space is tied to, from the facts of an entry."""

    def number(name: str) -> int | None:
        value = facts.get(name)
        return value if isinstance(value, int) else None

    page = facts.get("page")
    return Anchor(
        division=number("division"),
        paragraph=number("paragraph"),
        word=number("word"),
        page=str(page) if page else None,
        column=number("column"),
        line=number("line"),
    )
