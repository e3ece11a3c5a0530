"""Skins in the making: the steps they go through, when each is due, and what must not be left too long.

Days are days of the calendar: the lime works on Sundays too. How long a step takes is the workshop's to say; the
recipes differ widely. Lime harms skins left in it too long, and people who touch it.
"""

from __future__ import annotations

import math
import re
from datetime import date, timedelta
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.errors import UnknownNameError
from copydesk.book.common.phrases import count_of, say_left
from copydesk.book.materials.cautions import UNHAIRING, WORD_END, caution_paragraph, cautions_for
from copydesk.book.materials.hazards import HAZARDS, Hazard
from copydesk.book.materials.material_table import said_free_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from datetime import date


USUAL_DAYS: Mapping[str, float] = {"soak": 1, "lime": 9, "stretch": 5}
"""The steps and days where a book gives none: about a day, a week to a week and a half, some days on the frame."""

WARN_DAYS_BEFORE = 2
"""A batch in the lime is announced this many days before it must come out."""

LIME_CAUTION = f"{HAZARDS[Hazard.LIME].sentence} Follow its safety data sheet, local rules and trained practice."
"""The one sentence on lime, for where there is no room for all cautions."""

READY = "ready"
"""The step of a batch that is made: its skins wait to be cut."""


class SkinBatch(NamedTuple):
    """Skins that are made together: a name, how many, the step they are in, and the day that step began."""

    name: str
    skins: int
    step: str
    since: date


def lead_days(days: Mapping[str, float], batches: int = 1) -> int:
    """Whole days from the first soaking until the last of so many batches is ready.

    The steps follow one another in the order given. Each step has room for one batch at a time, so a batch waits
    for the one before it to leave the longest step.
    """
    if not days or batches < 1:
        return 0
    return math.ceil(sum(days.values()) + (batches - 1) * max(days.values()))


def when_to_start(ready_by: date, days: Mapping[str, float], batches: int = 1) -> tuple[date, ...]:
    """The day each batch must go into its first step so that the last is ready on ``ready_by``."""
    longest = max(days.values(), default=0)
    first = ready_by - timedelta(days=lead_days(days, batches))
    return tuple(first + timedelta(days=math.floor(number * longest)) for number in range(batches))


def batches_for(skins: int, room: int) -> int:
    """Batches that so many skins make where the bath and the frames have room for ``room`` at once."""
    return math.ceil(skins / room) if room > 0 else 0


def next_step(step: str, days: Mapping[str, float]) -> str:
    """The step after ``step``, or :data:`READY` after the last.

    Raises:
        CopydeskError: where the workshop has no such step.
    """
    steps = (*days, READY)
    return steps[min(_place(step, days) + 1, len(steps) - 1)]


def due(batch: SkinBatch, days: Mapping[str, float]) -> date | None:
    """The day a batch leaves the step it is in; None where it is ready.

    A part of a day is rounded up, except in the lime, where it is rounded down.

    Raises:
        CopydeskError: where the workshop has no such step.
    """
    if batch.step == READY:
        return None
    _place(batch.step, days)
    rounded = math.floor if is_lime(batch.step) else math.ceil
    return batch.since + timedelta(days=rounded(days[batch.step]))


def ready_on(batch: SkinBatch, days: Mapping[str, float], today: date) -> date:
    """The day a batch can be cut, if every step from today takes its days and an overdue one ends today."""
    leaves = due(batch, days)
    if leaves is None:
        return batch.since
    still = list(days.values())[_place(batch.step, days) + 1 :]
    return max(leaves, today) + timedelta(days=math.ceil(sum(still)))


def is_lime(step: str) -> bool:
    """Whether a step lies in lime or in what unhairs as lime does, so that skins left in it too long are harmed.

    Its name tells: lime, liming, quicklime, second lime, sulphide, unhairing. Deliming takes the lime out.
    """
    named = said_free_of(step)[0]
    return (
        re.search(rf"(?<!\bde.)\b(?:(?:quick|re)?lim(?:e|es|ed|ing){WORD_END}|slak|sulph|sulf|{UNHAIRING})", named)
        is not None
    )


def batch_warning(batch: SkinBatch, days: Mapping[str, float], today: date) -> str | None:
    """What a batch asks for today, as a sentence, or None where it can be left alone; overdue, with its cautions."""
    leaves = due(batch, days)
    if leaves is None:
        return None
    left = (leaves - today).days
    if left > (WARN_DAYS_BEFORE if is_lime(batch.step) else 0):
        return None
    then = next_step(batch.step, days)
    said = _lime_warning(batch, left, then) if is_lime(batch.step) else _may_go_on(batch, left, then)
    harm = [each for each in cautions_for(steps=[batch.step]) if each.hazard is not None] if left < 0 else ()
    return f"{said} {caution_paragraph(harm)}".rstrip()


def batch_warnings(batches: tuple[SkinBatch, ...], days: Mapping[str, float], today: date) -> tuple[str, ...]:
    """What all batches ask for today, the lime first."""
    said = [(not is_lime(batch.step), words) for batch in batches if (words := batch_warning(batch, days, today))]
    return tuple(words for _, words in sorted(said, key=lambda each: each[0]))


def _lime_warning(batch: SkinBatch, left: int, then: str) -> str:
    if left < 0:
        return f"{_skins(batch)} should have left the {batch.step} {say_left(left)}: {_too_long(batch.step)}"
    return f"{_skins(batch)} must leave the {batch.step} {say_left(left)}, for {then}: {_too_long(batch.step)}"


def _may_go_on(batch: SkinBatch, left: int, then: str) -> str:
    could = "can go on" if left == 0 else "could have gone on"
    when = f" {say_left(left)}" if left < 0 else ""
    return f"{_skins(batch)} {could} from {batch.step} to {then}{when}."


def _too_long(step: str) -> str:
    return f"too long in {'lime' if 'lim' in step.casefold() else 'it'} harms the skin."


def _skins(batch: SkinBatch) -> str:
    return f"Batch {batch.name} ({count_of(batch.skins, 'skin')})"


def _place(step: str, days: Mapping[str, float]) -> int:
    steps = list(days)
    if step not in days:
        raise UnknownNameError(f"no step of making skins is called {step!r}; the book has {', '.join(steps) or 'none'}")
    return steps.index(step)


def step_cautions(steps: Iterable[str]) -> tuple[str, ...]:
    """The usual cautions for what these steps handle, as sentences without a label."""
    return tuple(caution.sentence for caution in cautions_for(steps=steps))
