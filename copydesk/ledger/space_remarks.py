"""What is to be remarked on a stage or a change of plan that is recorded all the same."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.spaces import STAGES, takes_lines
from copydesk.ledger.moments import say_at

if TYPE_CHECKING:
    from collections.abc import Iterator

    from copydesk.book.book import SpacePlan
    from copydesk.ledger.space_account import SpaceAccount
    from copydesk.ledger.standing import Standing


def remarks_on_stage(standing: Standing, account: SpaceAccount, what: str) -> Iterator[str]:
    """What a person should hear when this is recorded of a space."""
    record = account.record
    if record.ended == "left-empty" and what != "left-empty":
        yield "it was left empty on purpose, and is filled now"
    if what in STAGES:
        yield from _remarks_on_order(account, what)
        earlier = record.step(what)
        if earlier is not None:
            yield f"it was {what} before, by {earlier.hand} on {say_at(earlier.at)}"
    elif what == "left-empty" and record.stages:
        yield f"it is {record.stages[-1].what} already"
    if account.page is None:
        yield "no page has room for it yet"
    elif takes_lines(account.plan.kind) and standing.record(standing.skin_at(account.page.index)).placements is None:
        yield f"{standing.book.named(account.page)} is not ruled yet, so its place is not settled"


def _remarks_on_order(account: SpaceAccount, stage: str) -> Iterator[str]:
    """Whether a stage is one the space needs, and in its turn."""
    if stage not in account.stages:
        needs = ", ".join(account.stages) or "nothing"
        yield f"it was not thought to be {stage}; it is to be {needs}"
        return
    at = account.stages.index(stage)
    missing = [each for each in account.stages[:at] if not account.has(each)]
    early = [each for each in account.stages[at + 1 :] if account.has(each)]
    if missing:
        yield f"out of the workshop's order: it is not {' or '.join(missing)} yet"
    if early:
        yield f"out of the workshop's order: it was {' and '.join(early)} before"


def remarks_on_plan(before: Standing, after: Standing, plan: SpacePlan) -> Iterator[str]:
    """What follows from another plan for a space: others that lose their place, text that loses its room."""
    lost = [space for space in after.budget.homeless if space not in before.budget.homeless and space != plan.id]
    if lost:
        yield f"no page has room then for space {', '.join(lost)}"
    more = after.budget.lines_without_room - before.budget.lines_without_room
    if more > 0:
        yield f"{more} more {'line' if more == 1 else 'lines'} of text then find no room in the book"
