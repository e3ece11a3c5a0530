"""What acts would do to the lines and pages of the book, before they are recorded."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.phrases import count_of
from copydesk.book.structure.page import Page
from copydesk.tracking.planning.plan_report import pages_needed
from copydesk.tracking.views.consequences import consequences, standing
from copydesk.tracking.views.space_homes import space_homes

if TYPE_CHECKING:
    from collections.abc import Sequence

    from copydesk.tracking.ledger.entry import Act
    from copydesk.tracking.state.book_state import BookState


def effect_of(state: BookState, acts: Sequence[Act]) -> list[str]:
    """What would follow from acts that nobody recorded yet, as sentences: where spaces would stand, pages, lines."""
    after = state.supposing(acts)
    homes = space_homes(after)
    said = [
        f"{act.about} would stand on {state.book.named(Page.at(homes[act.about].page))}."
        for act in acts
        if act.about in homes
    ]
    was, would_be = pages_needed(state), pages_needed(after)
    room, room_before = _room(after), _room(state)
    more = f"{count_of(would_be, 'page')}, {was if was != would_be else 'as'} before"
    return [
        *said,
        f"The text takes {more}; {room}, {room_before if room != room_before else 'as'} before.",
        *consequences(standing(state), after),
    ]


def _room(state: BookState) -> str:
    budget = state.budget
    if budget.lines_without_room:
        return f"{count_of(budget.lines_without_room, 'line')} without room"
    return f"{count_of(budget.lines_left_over, 'line')} left over"
