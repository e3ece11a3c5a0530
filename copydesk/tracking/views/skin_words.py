"""What there is to say of the skins a book needs: how many, how they are cut, when they must be begun."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.phrases import count_of, say_day
from copydesk.book.materials.skin_preparation import LIME_CAUTION, is_lime

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from datetime import date

    from copydesk.tracking.views.skin_batches import SkinsToday
    from copydesk.tracking.views.skin_order import SkinDays, SkinOrder


def order_words(order: SkinOrder) -> str:
    """The skins to order, in a sentence."""
    if not order.cutting.count:
        return "one skin is smaller than a sheet; choose larger skins or a smaller page"
    said = f"{order.skins} to order for {count_of(order.sheets, 'sheet')}, {order.cutting.count} from each"
    if order.spoilage:
        said += f", {order.spoilage:.0%} allowed to spoil"
    if order.flyleaf_sheets:
        said += f"; {order.with_flyleaves} with the {count_of(order.flyleaf_sheets, 'sheet')} of flyleaves"
    return said


def days_words(days: SkinDays, today: date, *, asked: bool = False, steps: bool = True) -> str:
    """When to begin, in a sentence.

    Args:
        days: what was reckoned.
        today: the day of asking.
        asked: whether a person named the day the skins are wanted.
        steps: whether the steps and their days are told too.
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
        when = f"begun today they are ready on {ready}"
    late = f"; the first was due {count_of(days.late, 'day')} ago" if days.late else ""
    return f"{when}{behind}{late}"


def steps_words(steps: Mapping[str, float]) -> str:
    """The steps with their days: ``soak 1, lime 9, stretch 5 days``."""
    said = ", ".join(f"{name} {length:g}" for name, length in steps.items())
    return f"{said} {'day' if list(steps.values()) == [1] else 'days'}"


def needed_words(skins: SkinsToday) -> str:
    """How many skins the book needs, how many there are, how many are still to be begun."""
    if not skins.needed:
        return f"{count_of(skins.here, 'skin')} here; the book file says nothing of the skins it needs."
    said = f"The book needs {count_of(skins.needed, 'skin')}, spoilage and flyleaves counted in; {skins.here} here"
    return f"{said}, {skins.wanting} still to be begun." if skins.wanting else f"{said}."


def lime_caution(steps: Iterable[str]) -> str:
    """The one sentence on lime, where a step is a lime bath; else nothing."""
    return LIME_CAUTION if any(map(is_lime, steps)) else ""
