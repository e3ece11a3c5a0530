"""What a book tells of itself at one moment, looked at once for all that is held against it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple
from weakref import WeakKeyDictionary

from copydesk.tracking.decoration.space_columns import SPACES
from copydesk.tracking.decoration.space_report import space_reports
from copydesk.tracking.fit.stretches import stretch_at
from copydesk.tracking.planning.plan_report import PLAN, plan_as_is
from copydesk.tracking.scribes.handover import HANDOVER, handover
from copydesk.tracking.views.page_report import PAGES, page_rows
from copydesk.tracking.views.sheet_report import SHEETS

if TYPE_CHECKING:
    from datetime import datetime

    from copydesk.job import Job
    from copydesk.tracking.decoration.space_report import SpaceReport
    from copydesk.tracking.scribes.handover import Handover
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.page_view import PageAccount


class Seen(NamedTuple):
    """The answers of the verbs as plain data, and what screens and papers are made from."""

    job: Job
    now: datetime
    accounts: list[PageAccount]
    pages: list[dict[str, Any]]
    space_reports: list[SpaceReport]
    spaces: dict[str, dict[str, Any]]
    sheets: list[dict[str, Any]]
    plan: dict[str, Any]
    given: Handover
    handover: dict[str, Any]

    @property
    def state(self) -> BookState:
        """The book."""
        return self.job.state


_LAST: WeakKeyDictionary[Job, tuple[tuple[object, ...], Seen]] = WeakKeyDictionary()
"""What was seen last of each book, with all that it rests on."""


def look(job: Job) -> Seen:
    """A book as it stands now; what was seen of it last where nothing was recorded and nothing worked out since."""
    rests_on = (job.state, job.state.budget, job.state.sets, len(job.ledger), job.clock())
    last = _LAST.get(job)
    if last is None or any(one is not two for one, two in zip(last[0][:3], rests_on, strict=False)):
        last = None
    if last is None or last[0][3:] != rests_on[3:]:
        last = _LAST[job] = (rests_on, look_anew(job))
    return last[1]


def look_anew(job: Job) -> Seen:
    state, now = job.state, job.clock()
    rows = page_rows(state, lambda at: stretch_at(state, at))
    reports = space_reports(state, now)
    gatherings = SHEETS.data(state.collation)["gatherings"]
    plan, given = plan_as_is(state), handover(state)
    return Seen(
        job,
        now,
        [row.account for row in rows],
        PAGES.all_data(rows),
        reports,
        {each["space"]: each for each in SPACES.all_data(reports)},
        [{"name": f"{each['gathering']}.{sheet['sheet']}", **sheet} for each in gatherings for sheet in each["sheets"]],
        {column.key: column.data(plan) for column in PLAN},
        given,
        HANDOVER.data(given),
    )


def told(seen: Seen) -> dict[str, object]:
    """All of it that can be compared with another time; what was noted and when is not among it."""
    budget = seen.state.budget
    given = {key: value for key, value in seen.handover.items() if key not in ("note", "also_begun")}
    rest = (budget.lines_without_room, budget.lines_left_over, budget.homeless, seen.state.agreed, seen.state.flaws)
    return {
        **{f"page {row['page']}": row for row in seen.pages},
        **{f"space {name}": row for name, row in seen.spaces.items()},
        **{f"sheet {row['name']}": row for row in seen.sheets},
        "plan": seen.plan,
        "handover": given,
        "rest": rest,
    }


def differs(before: dict[str, object], now: dict[str, object]) -> str:
    """Where two tellings differ first."""
    for name in (*before, *(name for name in now if name not in before)):
        one, two = before.get(name), now.get(name)
        if one == two:
            continue
        if isinstance(one, dict) and isinstance(two, dict):
            keys = [key for key in (*one, *two) if one.get(key) != two.get(key)]
            return f"{name}, {keys[0]}: {one.get(keys[0])} is {two.get(keys[0])}"
        return f"{name}: {one} is {two}"
    return "nothing"
