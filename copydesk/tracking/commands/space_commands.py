"""Recording work in a reserved space: its stages and its end, and, before its page is ruled, another plan for it.

A stage out of the workshop's order, or one that the space was not planned to need, is recorded with a remark, because
the ledger holds what was really done. A change of plan is tried on the book first, and refused where the space then has
no place.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.errors import (
    AlreadyDoneError,
    DoesNotFitError,
    InvalidValueError,
    NotAllowedError,
    UnknownNameError,
)
from copydesk.book.layout import spaces as spaces_of
from copydesk.book.layout.space_stages import NEEDS, STAGES
from copydesk.book.layout.spaces import takes_lines
from copydesk.book.plan import SpacePlan
from copydesk.book.text.anchors import read_anchor, show_anchor
from copydesk.tracking.commands.space_checks import (
    check_anchor,
    check_free,
    check_lines_free,
    check_name,
    check_room,
    check_stages,
    on_this_skin,
)
from copydesk.tracking.ledger.entry import Act
from copydesk.tracking.ledger.entry_kinds import SPACE_ENDS, SpaceEnd
from copydesk.tracking.ledger.space_plans import anchor_facts, plan_facts
from copydesk.tracking.ledger.timestamps import say_at
from copydesk.tracking.state.page_content import fixed_on
from copydesk.tracking.views.narrow_lines import narrow_lines, narrow_words
from copydesk.tracking.views.space_view import find_space

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from copydesk.book.plan import Anchor
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.space_view import SpaceAccount


_FILLED = (*STAGES, SpaceEnd.DONE, SpaceEnd.LEFT_EMPTY)
"""What can be recorded of the work in a space."""


def space_act(state: BookState, space: str, what: str, *, note: str = "", **facts: object) -> Act:
    """Record a stage of a space, its end, or a change of its plan.

    Args:
        state: the book.
        space: the space's name.
        what: a stage, ``done``, ``left-empty``, ``resized``, ``moved``, ``added`` or ``given-up``.
        note: anything to be remembered.
        facts: ``lines`` of a space resized; ``at`` (words or an ``Anchor``) of one moved; the fields of a ``SpacePlan``
            of one added. Facts without a value are left out.

    Raises:
        CopydeskError: where nothing of the kind can be recorded of a space, or of this one.
    """
    if what in _FILLED:
        return _fill(state, space, what, note)
    if what not in _CHANGES:
        known = ", ".join((*_FILLED, *_CHANGES))
        raise UnknownNameError(f"{what!r} is not something that happens to a space; give one of {known}")
    change, takes = _CHANGES[what]
    given = {name: value for name, value in facts.items() if value not in (None, "", [], ())}
    if other := next((name for name in given if name not in takes), None):
        raise InvalidValueError(f"a space that is {what} takes no {other!r}; leave it out")
    return change(state, space, note, **given)


def _fill(state: BookState, space: str, what: str, note: str) -> Act:
    """Record a stage of a space as done, or the whole as done or left empty on purpose.

    Raises:
        CopydeskError: where there is no such space, or its end is recorded already.
    """
    account = _account(state, space)
    if what in SPACE_ENDS and account.record.ended == what:
        ended = SPACE_ENDS[what].words
        raise AlreadyDoneError(f"space {space} is {ended} already; nothing was recorded")
    remark = "; ".join(remarks_on_stage(state, account, what))
    plan = plan_facts(account.plan)
    return _act(what, space, on=on_this_skin(state, account), plan=plan, remark=remark, note=note)


def _resize(state: BookState, space: str, note: str, lines: int | None = None) -> Act:
    """Give a space another number of lines, while its page is unruled.

    Raises:
        CopydeskError: where its page is ruled, the lines have no room or are kept, or it takes none.
    """
    account = _account(state, space)
    if lines is None:
        raise InvalidValueError(f"space {space} is to have another size; say how many lines it takes")
    _check_unfixed(state, account, "its size is fixed")
    plan = account.plan._replace(lines=lines)
    check_room(state, plan)
    check_lines_free(state, plan)
    if lines == account.plan.lines:
        raise AlreadyDoneError(f"space {space} takes {lines} lines already; nothing was recorded")
    return _tried(state, plan, "resized", lines=lines, was=account.plan.lines, note=note)


def _move(state: BookState, space: str, note: str, at: str | Anchor = "") -> Act:
    """Tie a space to another place in the text, or to a page, while its page is unruled.

    Raises:
        CopydeskError: where its page is ruled, or there is no such place, or the place is taken or too small.
    """
    account = _account(state, space)
    _check_unfixed(state, account, "it stands where it is")
    told, anchor = _place(state, at)
    plan = account.plan._replace(at=anchor)
    check_room(state, plan)
    check_free(state, plan)
    return _tried(state, plan, "moved", anchor=anchor_facts(anchor), to=told, note=note)


def _add(state: BookState, space: str, note: str, at: str | Anchor = "", kind: str = "", **facts: object) -> Act:
    """Add a space that the book did not plan, where its page is unruled; the facts are those of a ``SpacePlan``.

    Raises:
        CopydeskError: where the name is taken, the place is not there or taken, or there is no room.
    """
    check_name(state, space)
    told, anchor = _place(state, at)
    given = {name: tuple(value) if isinstance(value, list) else value for name, value in facts.items()}
    if kind not in NEEDS:
        said = f"{kind!r} is not a kind of space" if kind else "a new space needs its kind"
        raise InvalidValueError(f"{said}; give one of {', '.join(NEEDS)}")
    check_stages(given.get("stages", ()))
    plan = SpacePlan(space, kind, anchor, **given)  # type: ignore[arg-type]
    check_room(state, plan)
    check_free(state, plan)
    return _tried(state, plan, "added", plan=plan_facts(plan), to=told, note=note)


def _give_up(state: BookState, space: str, note: str) -> Act:
    """Give a space up, so that the text takes its room, while its page is unruled.

    Raises:
        CopydeskError: where its page is ruled, or work in it has begun.
    """
    account = _account(state, space)
    _check_unfixed(state, account, "its room is kept; record it as left-empty if nothing is to stand there")
    return _act(SpaceEnd.GIVEN_UP, space, note=note)


_CHANGES: dict[str, tuple[Callable[..., Act], tuple[str, ...]]] = {
    "resized": (_resize, ("lines",)),
    "moved": (_move, ("at",)),
    "added": (_add, SpacePlan._fields[1:]),
    SpaceEnd.GIVEN_UP: (_give_up, ()),
}
"""Changes of a space's plan: the function for each, and the facts it takes."""


def _account(state: BookState, space: str) -> SpaceAccount:
    found = find_space(state, space)
    if found is None:
        known = ", ".join(plan.id for plan in state.plans) or "none"
        raise UnknownNameError(f"there is no space {space!r} in this book; its spaces are {known}")
    return found


def _place(state: BookState, at: str | Anchor) -> tuple[str, Anchor]:
    """A place in the words of its entry, and as it is there in the book: its page, if it has one, a piece of skin."""
    words = state.exemplar.words if state.exemplar is not None else ()
    asked = read_anchor(at, state.book.signing.foliation, words) if isinstance(at, str) else at
    return show_anchor(asked), check_anchor(state, asked)


def _check_unfixed(state: BookState, account: SpaceAccount, so: str) -> None:
    name, page = account.plan.id, fixed_on(state, account.plan.id)
    if page is not None and spaces_of.takes_lines(account.plan.kind):
        raise NotAllowedError(
            f"{state.book.named(page)} is ruled, with space {name} on it, and {so}; a space can be changed only "
            "while its page is unruled"
        )
    if account.record.stages:
        done = account.record.stages[-1].what
        raise NotAllowedError(
            f"space {name} is {done} already, so it can be changed no more; undo that first if it is a slip"
        )


def _tried(state: BookState, plan: SpacePlan, what: str, /, **facts: object) -> Act:
    """The act, once it has been tried on the book and the space has a place there."""
    act = _act(what, plan.id, **facts)
    after = try_out(state, act, plan)
    return _act(what, plan.id, **facts, remark="; ".join(remarks_on_plan(state, after, plan)))


def _act(what: str, space: str, **facts: object) -> Act:
    return Act(what, space, "", {name: value for name, value in facts.items() if value not in (None, "")})


def remarks_on_stage(state: BookState, account: SpaceAccount, what: str) -> Iterator[str]:
    """Remarks for the person who records this stage of a space."""
    record = account.record
    if record.ended is SpaceEnd.LEFT_EMPTY and what != SpaceEnd.LEFT_EMPTY:
        yield "it was left empty on purpose, and is filled now"
    if what in STAGES:
        yield from _remarks_on_order(account, what)
        earlier = record.step(what)
        if earlier is not None:
            yield f"it was {what} before, by {earlier.hand} on {say_at(earlier.at)}"
    elif what == SpaceEnd.LEFT_EMPTY and record.stages:
        yield f"it is {record.stages[-1].what} already"
    if account.page is None:
        yield "no page has room for it yet"
    elif takes_lines(account.plan.kind) and state.record(state.skin_at(account.page.index)).placements is None:
        yield f"{state.book.named(account.page)} is not ruled yet, so its place is not fixed"


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


def remarks_on_plan(before: BookState, after: BookState, plan: SpacePlan) -> Iterator[str]:
    """What follows from another plan for a space: others that lose their place, text that loses its room."""
    lost = [space for space in after.budget.homeless if space not in before.budget.homeless and space != plan.id]
    if lost:
        yield f"no page has room then for space {', '.join(lost)}"
    yield from (narrow_words(after, place) for place in narrow_lines(after) if place.space == plan.id)
    more = after.budget.lines_without_room - before.budget.lines_without_room
    if more > 0:
        yield f"{more} more {'line' if more == 1 else 'lines'} of text then find no room in the book"


def try_out(state: BookState, act: Act, plan: SpacePlan) -> BookState:
    """The book as it would stand after ``act``, which gives a space the plan ``plan``.

    Raises:
        CopydeskError: where no page has room for the space then, or the page that would have to take it is ruled.
    """
    after = state.supposing([act])
    account = find_space(after, plan.id)
    if account is None or not takes_lines(plan.kind):
        return after
    if account.page is None:
        raise DoesNotFitError(
            f"no page has room for space {plan.id} there: its text is written, or comes after the last page; "
            "choose another place, or fewer lines"
        )
    skin = after.skin_at(account.page.index)
    if after.record(skin).placements is not None:
        raise NotAllowedError(
            f"space {plan.id} would come to stand on {after.book.named(account.page)}, which is ruled; a space "
            "can be made only where its page is unruled"
        )
    return after
