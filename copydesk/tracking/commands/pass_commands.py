"""Recording a later pass of a page as done, whole or with something left open.

What is said to be done before its turn is questioned; if it was so it is recorded with a remark, because the ledger
holds what was really done. Where the text is not whole it is refused, since nobody knows then what the page needs.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.errors import (
    AlreadyDoneError,
    InvalidValueError,
    NotAllowedError,
    UnknownNameError,
    UnlikelyError,
)
from copydesk.book.common.phrases import listed
from copydesk.book.layout.passes import TAKES, TEXT
from copydesk.tracking.commands.writing import checked_minutes
from copydesk.tracking.ledger.entry import Act
from copydesk.tracking.passes.pass_status import PassState, status_of
from copydesk.tracking.views.page_lookup import expect_page

if TYPE_CHECKING:
    from collections.abc import Iterable
    from datetime import datetime

    from copydesk.book.structure.page import Page
    from copydesk.tracking.state.book_state import BookState


def is_pass(what: str) -> bool:
    """Whether something that happened to a page is a pass."""
    return what in TAKES


def go_over(
    state: BookState,
    page: Page,
    name: str,
    *,
    left: Iterable[int] = (),
    minutes: float | None = None,
    note: str = "",
    sure: bool = False,
    now: datetime | None = None,
) -> Act:
    """Record that a page was gone over in the pass ``name``.

    Args:
        state: the book.
        page: the page.
        name: the pass.
        left: the things left open, by their numbers in the list of the page (``pass_items``).
        minutes: how long it took.
        note: anything to be remembered.
        sure: whether it was done before its turn.
        now: the time, for ink still wet; not looked at where None.

    Raises:
        UnlikelyError: where the page waits for something first, unless ``sure``.
        CopydeskError: where the book has no such pass, or the page needs nothing in it, or its text is not whole, or
            all of it is done already, or there is nothing of that number.
    """
    expect_page(state, page)
    _expect_planned(state, name)
    found, label = status_of(state, page.index, name, now), state.book.named(page)
    if found is None or found.state is PassState.NOTHING:
        raise InvalidValueError(f"{label} has nothing to do in the pass {name}; name a page that has")
    record = state.record(state.skin_at(page.index))
    if not record.whole and state.budget.pages[page.index].planned:
        raise NotAllowedError(f"{label} is {record.state}, not written whole; {name} come after its text")
    marks = found.work.marks
    numbers = sorted(set(left))
    if wrong := [number for number in numbers if not 1 <= number <= len(marks)]:
        raise InvalidValueError(f"{label} has things 1 to {len(marks)} in the pass {name}, so there is no {wrong[0]}")
    if len(numbers) == len(marks):
        raise InvalidValueError(f"all that {label} needs in the pass {name} would be left open; nothing was recorded")
    waits = listed([wait.named(state.book) for wait in found.waits_for])
    if waits and not sure:
        raise UnlikelyError(f"the pass {name} on {label} waits for {waits}")
    words = [marks[number - 1].word for number in numbers]
    if found.state is PassState.DONE and not words:
        raise AlreadyDoneError(f"{label} has been gone over in the pass {name} already; nothing was recorded")
    facts = {
        "pass": name,
        "left": words,
        "items": len(marks),
        "minutes": checked_minutes(minutes),
        "remark": f"before {waits}" if waits else "",
        "note": note,
    }
    kept = {fact: value for fact, value in facts.items() if value not in (None, "", [])}
    return Act("gone-over", str(state.skin_at(page.index)), str(page), kept)


def _expect_planned(state: BookState, name: str) -> None:
    """See that the book has a later pass of this name.

    Raises:
        CopydeskError: saying which it has.
    """
    planned = [each.name for each in state.book.later_passes]
    if name == TEXT:
        raise InvalidValueError("the text of a page is recorded as written, not as a pass")
    if name not in planned:
        has = f"it has {listed(planned)}" if planned else "write passes: into book.yaml first"
        raise UnknownNameError(f"this book has no pass {name}; {has}")
