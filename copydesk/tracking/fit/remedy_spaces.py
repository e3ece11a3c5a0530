"""What the reserved spaces of a stretch could give to the text, or take from it, while their pages are unruled."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.errors import Refused
from copydesk.book.common.phrases import count_of
from copydesk.book.layout.spaces import is_initial, takes_lines
from copydesk.tracking.commands.page_commands import Commands

if TYPE_CHECKING:
    from collections.abc import Iterator

    from copydesk.book.plan import SpacePlan
    from copydesk.tracking.fit.stretches import Need
    from copydesk.tracking.ledger.entry import Act
    from copydesk.tracking.state.book_state import BookState


SMALLEST = 2
"""Lines of the smallest initial or picture anybody would ask for."""


class SpaceChange(NamedTuple):
    """A change of a space's plan: what kind of remedy it is, in words, and the act for it."""

    name: str
    says: str
    act: Act


def space_changes(state: BookState, need: Need) -> Iterator[SpaceChange]:
    """The changes that bring lines to a tight stretch, or take them from a loose one."""
    plans = list(_open_spaces(state, need))
    for plan in plans:
        yield from _resized(state, plan, need.over)
    if need.over > 0:
        for plan in plans:
            act = _act(state, plan, "given-up")
            if act is not None:
                says = f"give up the {plan.kind} {plan.id} of {count_of(plan.lines, 'line')}"
                yield SpaceChange("a space given up", says, act)


def _open_spaces(state: BookState, need: Need) -> Iterator[SpacePlan]:
    """The spaces on the pages of a stretch that are fixed on no skin yet."""
    for index in range(need.first, need.last + 1):
        settled = state.record(state.skin_at(index)).placements is not None
        fixed = () if settled else state.frame_of(index).fixed
        for placement in (*fixed, *state.budget.pages[index].placed):
            plan = state.plan_of(placement.id)
            if plan is not None and takes_lines(plan.kind):
                yield plan


def _resized(state: BookState, plan: SpacePlan, over: int) -> Iterator[SpaceChange]:
    size = "smaller" if over > 0 else "larger"
    kind = "initial" if is_initial(plan.kind) else "space"
    for lines in _sizes(state, plan, over):
        act = _act(state, plan, "resized", lines=lines)
        if act is not None:
            says = f"make the {plan.kind} {plan.id} {size}: {count_of(lines, 'line')} where {plan.lines} are planned"
            yield SpaceChange(f"a {size} {kind}", says, act)


def _sizes(state: BookState, plan: SpacePlan, over: int) -> list[int]:
    """Other sizes for a space: an initial a line smaller, or larger, or as small as can be; a picture as is asked."""
    if is_initial(plan.kind):
        sizes = {plan.lines - 1, SMALLEST} if over > 0 else {plan.lines + 1}
    else:
        columns = state.layout.columns if plan.across == "all" else 1
        sizes = {max(plan.lines + -over // columns, SMALLEST)}
    return sorted((lines for lines in sizes if lines >= SMALLEST and (plan.lines - lines) * over > 0), reverse=True)


def _act(state: BookState, plan: SpacePlan, what: str, **facts: int) -> Act | None:
    """The act, or None where it cannot be."""
    try:
        return Commands(state).space(plan.id, what, **facts)  # type: ignore[arg-type]
    except Refused:
        return None
