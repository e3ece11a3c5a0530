"""The hours that later passes take yet, by who does them: by what earlier ones took, else by our own judgement."""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

from copydesk.book.layout.passes import Sort
from copydesk.tracking.later.later_work import passes_on

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from copydesk.tracking.later.later_work import Mark
    from copydesk.tracking.state.book_state import BookState


USUAL_HOURS: Mapping[Sort, float] = {
    Sort.HEADINGS: 0.1,
    Sort.SMALL_INITIALS: 0.1,
    Sort.PARAGRAPH_MARKS: 0.03,
    Sort.VERSE_LETTERS: 0.03,
    Sort.FLOURISHES: 0.25,
    Sort.RUNNING_TITLES: 0.05,
    Sort.CHAPTER_NUMBERS: 0.03,
    Sort.CONTENTS_LINES: 0.1,
}
"""Hours a thing takes where no pass of its kind was timed. Our own judgement; minutes told with a pass are better."""


def pass_hours(state: BookState) -> dict[str, float]:
    """Hours left of all later passes, by the hand (or the artist) that does them."""
    left: defaultdict[tuple[str, str], float] = defaultdict(float)
    told: defaultdict[str, float] = defaultdict(float)
    usual: defaultdict[str, float] = defaultdict(float)
    for index in range(len(state.budget.pages) if state.book.later_passes else 0):
        done = state.record(state.skin_at(index)).passes
        for plan, marks in passes_on(state, index):
            found = done.get(plan.name)
            open_marks = [mark for mark in marks if found is None or mark.word in found.left]
            left[plan.name, plan.hand or state.hand_on(index)] += _hours(open_marks)
            if found is not None and found.minutes:
                told[plan.name] += found.minutes / 60
                usual[plan.name] += _hours(marks) - _hours(open_marks)
    hours: defaultdict[str, float] = defaultdict(float)
    for (name, hand), each in left.items():
        hours[hand] += each * (told[name] / usual[name] if usual[name] else 1.0)
    return {hand: each for hand, each in hours.items() if each}


def _hours(marks: Iterable[Mark]) -> float:
    return sum(USUAL_HOURS[mark.sort] for mark in marks)


def days_drying(state: BookState) -> float:
    """Days that the inks of all later passes that are not done yet dry, one after another, on the page done last."""
    usual = state.book.workshop.drying_days
    return sum(usual if plan.drying_days is None else plan.drying_days for plan in state.book.later_passes)
