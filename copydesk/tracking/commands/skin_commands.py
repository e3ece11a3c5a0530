"""What can be recorded of skins: a batch put into a step of the making, a sheet cut from a skin."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.errors import AlreadyDoneError, InvalidValueError, NotAllowedError, UnknownNameError
from copydesk.book.common.typed_values import read_day
from copydesk.book.materials.skin_preparation import READY
from copydesk.book.materials.skin_preparation import next_step as step_after
from copydesk.book.structure.sheets import find_sheet
from copydesk.tracking.ledger.entry import Act
from copydesk.tracking.views.skin_batches import batch_named
from copydesk.tracking.views.skin_order import skin_steps

if TYPE_CHECKING:
    from datetime import date

    from copydesk.tracking.state.book_state import BookState


MOST_SKINS = 10_000
NEXT = "next"
"""Stands for the step that follows, where a person does not care to name it."""


def move_skins(
    state: BookState,
    batch: str,
    step: str = NEXT,
    skins: int | None = None,
    since: date | None = None,
    note: str = "",
) -> Act:
    """Put a batch of skins into a step; a new batch begins there.

    Args:
        state: the book as it stands.
        batch: the batch's name.
        step: a step of this workshop's making, ``ready``, or ``next`` for the one that follows.
        skins: how many skins there are from now on; as many as before where None.
        since: the day it went in, where that was before the day of recording.
        note: anything to be remembered.

    Raises:
        CopydeskError: where there is no such step, the batch is in it already, or a new one does not say how many
            skins.
    """
    name, steps = _batch_name(batch), skin_steps(state.book)
    before = batch_named(state.ledger, name)
    if before is None and skins is None:
        raise UnknownNameError(f"there is no batch {name} yet; to begin it, say how many skins it has")
    if skins is not None and not 1 <= skins <= MOST_SKINS:
        raise InvalidValueError(f"a batch cannot have {skins} skins; give a number from 1 to {MOST_SKINS}")
    step = _step(step, before.step if before else "", list(steps), name)
    count = skins if skins is not None else before.skins if before else 0
    if before is not None and (before.step, before.skins, before.since) == (step, count, since or before.since):
        raise AlreadyDoneError(f"batch {name} is in the step {step} already, with {count} skins; nothing was recorded")
    facts: dict[str, object] = {"step": step, "skins": count}
    if since is not None:
        facts["since"] = since.isoformat()
    if note:
        facts["note"] = note
    return Act("skins", name, "", facts)


def went_in(day: str, today: date) -> date | None:
    """The day a batch went into its step, as somebody wrote it; None where nothing is written.

    ``today`` is as clocks without a place have it, so the day after is let through: it has begun in the east.

    Raises:
        CopydeskError: where it is no day, or one still to come.
    """
    if not day:
        return None
    since = read_day(day, "the day the batch went into its step")
    if (since - today).days > 1:
        raise InvalidValueError(
            f"{since.isoformat()} is still to come; give the day on which the batch went into its step"
        )
    return since


def _step(step: str, before: str, steps: list[str], batch: str) -> str:
    """The step meant; ``next`` is the one after ``before``, the first where there is none."""
    if step == NEXT:
        if before == READY:
            raise NotAllowedError(f"batch {batch} is ready; its skins can be cut, and there is no step after that")
        return step_after(before, dict.fromkeys(steps, 0.0)) if before in steps else steps[0]
    found = {known.lower(): known for known in (*steps, READY)}.get(step.strip().lower())
    if found is None:
        raise UnknownNameError(
            f"{step!r} is no step of making skins here; give one of {', '.join((*steps, READY))}, or {NEXT}"
        )
    return found


def cut_sheet(state: BookState, sheet: str, batch: str, skin: int | None = None) -> Act:
    """Note that a sheet (``3.2``) was cut from a batch, and from which of its skins.

    Raises:
        CopydeskError: where there is no such sheet, batch or skin, or the batch is not ready.
    """
    found, name = find_sheet(state.collation, sheet), _batch_name(batch)
    known = batch_named(state.ledger, name)
    if known is None:
        raise UnknownNameError(f"there is no batch {name}, so no sheet can be cut from it; see copydesk skins")
    if known.step != READY:
        raise NotAllowedError(
            f"batch {name} is still in the step {known.step}; record it as {READY} before sheets are cut"
        )
    if skin is not None and not 1 <= skin <= known.skins:
        raise UnknownNameError(
            f"batch {name} has skins 1 to {known.skins}, so there is no skin {skin}; give one of them"
        )
    return Act("cut", found.name, "", {"batch": name, **({"skin": skin} if skin is not None else {})})


def _batch_name(name: str) -> str:
    plain = name.strip()
    if not plain or len(plain) > 40 or not plain.isprintable() or any(mark in plain for mark in " :/,"):
        raise InvalidValueError(f"{name!r} cannot name a batch of skins; write one word, as in A or spring-2")
    return plain
