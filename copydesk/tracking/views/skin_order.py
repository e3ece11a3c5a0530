"""The skins a book needs: how one is cut, how many to order with what spoils, and when to begin making them."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.errors import InvalidValueError
from copydesk.book.common.phrases import count_of, decimal, say_day, say_left
from copydesk.book.materials.cautions import LABEL
from copydesk.book.materials.skin_cutting import cutting_of, skins_to_order
from copydesk.book.materials.skin_preparation import (
    LIME_CAUTION,
    USUAL_DAYS,
    batches_for,
    is_lime,
    lead_days,
    when_to_start,
)

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from datetime import date

    from copydesk.book.materials.skin_cutting import Cutting
    from copydesk.book.plan import Book, Flyleaves
    from copydesk.tracking.state.book_state import BookState


SKIN_TOO_SMALL = "one skin is smaller than a sheet; choose larger skins or a smaller page"
"""Said wherever skins are counted and no sheet goes into one."""


class SkinOrder(NamedTuple):
    """The skins to order: for ``sheets`` of the gatherings, and with those of the flyleaves, spoilage allowed for.

    ``skins`` and ``with_flyleaves`` are 0 where a skin gives no sheet.
    """

    cutting: Cutting
    sheets: int
    flyleaf_sheets: int
    skins: int
    with_flyleaves: int
    spoilage: float


class SkinDays(NamedTuple):
    """When ``skins`` are made: the steps and their days, the day each batch begins, the day the last is ready.

    ``lead`` is whole days from the first to the last; ``late`` the days by which the first beginning is past already.
    """

    skins: int
    steps: Mapping[str, float]
    lead: int
    starts: tuple[date, ...]
    ready: date
    late: int = 0


def skin_order(state: BookState) -> SkinOrder | None:
    """The skins for the book as it stands; None where the book says nothing of skins."""
    cutting, plan = cutting_today(state), state.book.skins
    if cutting is None or plan is None:
        return None
    sheets = len(state.collation.sheet_names)
    flyleaves = flyleaf_sheets(state.book.flyleaves)
    each = [
        skins_to_order(count, cutting.count, plan.spoilage) if cutting.count else 0
        for count in (sheets, sheets + flyleaves)
    ]
    return SkinOrder(cutting, sheets, flyleaves, each[0], each[1], plan.spoilage)


def cutting_today(state: BookState) -> Cutting | None:
    """How one skin is cut; None where the book says nothing of skins."""
    skins = state.book.skins
    return None if skins is None else cutting_of(skins, state.layout.width, state.layout.height, state.book.unit)


def flyleaf_sheets(flyleaves: Flyleaves) -> int:
    """Sheets for the flyleaves, front and back apart; an odd leaf is hooked in by a stub and takes a sheet too."""
    return -(-flyleaves.front // 2) - (-flyleaves.back // 2)


def skin_steps(book: Book) -> Mapping[str, float]:
    """The steps skins go through in this workshop, with their days; the usual ones where the book names none."""
    return (book.skins.days if book.skins is not None else None) or USUAL_DAYS


def skin_days(
    steps: Mapping[str, float], skins: int, today: date, ready_by: date | None = None, at_once: int = 0
) -> SkinDays:
    """When so many skins are begun so that they are ready on ``ready_by``; or when they are ready if begun today.

    Args:
        steps: the steps of the making and their days.
        skins: how many are made.
        today: the day of asking.
        ready_by: the day they are wanted; the earliest there is where None.
        at_once: how many skins the bath and the frames hold at once; all of them where 0.

    Raises:
        InvalidValueError: where fewer than none go in at once.
    """
    if at_once < 0:
        raise InvalidValueError(f"{at_once} skins at once cannot be; give how many the bath holds")
    from datetime import timedelta

    batches = max(batches_for(skins, at_once), 1)
    lead = lead_days(steps, batches)
    ready = ready_by or today + timedelta(days=lead)
    starts = when_to_start(ready, steps, batches)
    return SkinDays(skins, steps, lead, starts, ready, max((today - starts[0]).days, 0))


def order_words(order: SkinOrder) -> str:
    """The skins to order, in a sentence."""
    if not order.cutting.count:
        return SKIN_TOO_SMALL
    said = f"{order.with_flyleaves} to order for {count_of(order.sheets, 'sheet')}"
    if order.flyleaf_sheets:
        said += f" and {order.flyleaf_sheets} of flyleaves"
    said += f", {order.cutting.count} from each"
    return f"{said}, {order.spoilage:.0%} allowed to spoil" if order.spoilage else said


def days_words(days: SkinDays, today: date, *, asked: bool = False, steps: bool = True) -> str:
    """When to begin, in a sentence.

    Args:
        days: when the skins are made, as ``skin_days`` gives it.
        today: the day of asking.
        asked: whether a person named the day the skins are wanted.
        steps: whether the steps and their days are named too.
    """
    if not days.skins:
        return "nothing: every skin is here or in the making"
    ready, behind = say_day(days.ready, today), f": {steps_words(days.steps)}" if steps else ""
    *others, last = (say_day(day, today) for day in days.starts)
    if others:
        when = f"{len(days.starts)} batches, on {', '.join(others)} and {last}, ready on {ready}"
    elif asked:
        when = f"by {last}, to be ready on {ready}"
    else:
        when = f"start today, ready on {ready}"
    late = f"; the first was due {say_left(-days.late)}" if days.late else ""
    return f"{when}{behind}{late}"


def steps_words(steps: Mapping[str, float]) -> str:
    """The steps with their days: ``soak 1, lime 9, stretch 5 days``."""
    said = ", ".join(f"{name} {decimal(length)}" for name, length in steps.items())
    return f"{said} {'day' if list(steps.values()) == [1] else 'days'}"


def lime_caution(steps: Iterable[str]) -> str:
    """The one sentence on lime, where a step is a lime bath; else nothing."""
    return f"{LABEL}: {LIME_CAUTION}" if any(map(is_lime, steps)) else ""
