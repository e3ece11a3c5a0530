"""The spaces of a book for whoever fills them: with the sheet each is on, and put together in three ways."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal, NamedTuple

from copydesk.book.common.sanitize import plain
from copydesk.book.layout.spaces import COLOUR_FIRST, STAGES, is_metal
from copydesk.tracking.views.sheet_pile import pile_now
from copydesk.tracking.views.space_view import space_accounts

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence
    from datetime import datetime

    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.sheet_pile import SheetStanding
    from copydesk.tracking.views.space_view import SpaceAccount


Arrangement = Literal["sheet", "stage", "material"]
ARRANGEMENTS: tuple[Arrangement, ...] = ("sheet", "stage", "material")


class SpaceReport(NamedTuple):
    """A space, and the sheet it is on with what that waits for; None where it stands nowhere."""

    account: SpaceAccount
    sheet: SheetStanding | None
    artist: str

    @property
    def waiting(self) -> bool:
        """Whether it is still to be filled."""
        return self.account.waiting

    @property
    def waits_for(self) -> tuple[str, ...]:
        """What must come before its sheet may leave the desk."""
        return self.sheet.waits_for if self.sheet is not None else ("a page with room for it",)

    @property
    def may_leave(self) -> bool:
        """Whether its sheet may go to the artist now."""
        return not self.waits_for


def space_reports(state: BookState, now: datetime) -> list[SpaceReport]:
    """Every space, those to be filled first, each part in the order of their pages."""
    sheets = {page: sheet for sheet in pile_now(state, now) for page in sheet.sheet.pages()}
    artist = state.book.workshop.artist
    reports = [
        SpaceReport(account, sheets.get(account.page) if account.page else None, account.plan.artist or artist)
        for account in space_accounts(state)
    ]
    return sorted(reports, key=lambda report: not report.waiting)


class Group(NamedTuple):
    """Spaces put together: what they have in common, and they."""

    title: str
    reports: tuple[SpaceReport, ...]

    @property
    def hours(self) -> float:
        """Hours they are thought to take yet."""
        return sum(report.account.hours_left for report in self.reports)


def arranged(state: BookState, reports: Iterable[SpaceReport], by: Arrangement) -> list[Group]:
    """The spaces by sheet, by the stage that comes next, or by material (under each that a space needs)."""
    if by == "sheet":
        return _grouped((_sheet_title(report), report) for report in sorted(reports, key=_by_sheet))
    if by == "stage":
        order = [*(COLOUR_FIRST if state.book.workshop.colour_first else STAGES), ""]
        staged = [(report.account.next_stage or "", report) for report in reports]
        staged.sort(key=lambda pair: order.index(pair[0]))
        return _grouped((_stage_title(stage, report), report) for stage, report in staged)
    return _grouped(_by_material(reports))


def _by_sheet(report: SpaceReport) -> tuple[int, int, int, int]:
    page = report.account.page
    if report.sheet is None or page is None:
        return (1, 0, 0, 0)
    return (0, report.sheet.sheet.gathering, report.sheet.sheet.sheet, page.index)


def _sheet_title(report: SpaceReport) -> str:
    return f"Sheet {report.sheet.sheet.name}" if report.sheet is not None else "Without a place"


def _stage_title(stage: str, report: SpaceReport) -> str:
    if stage:
        return f"To be {stage}"
    return "Without a place" if report.waiting else "Filled, or left"


def _by_material(reports: Iterable[SpaceReport]) -> list[tuple[str, SpaceReport]]:
    """Each space under each of its materials: metals first, since gold is laid in one sitting; then by name."""
    pairs = [(plain(name), report) for report in reports for name in report.account.plan.materials or ("",)]
    pairs.sort(key=lambda pair: (not pair[0], not is_metal(pair[0]), pair[0].casefold()))
    return [(name.capitalize() if name else "No materials named", report) for name, report in pairs]


def _grouped(pairs: Iterable[tuple[str, SpaceReport]]) -> list[Group]:
    groups: dict[str, list[SpaceReport]] = {}
    for title, report in pairs:
        groups.setdefault(title, []).append(report)
    return [Group(title, tuple(found)) for title, found in groups.items()]


class Progress(NamedTuple):
    """How far a stage has come: spaces that need it, and those where it is done."""

    stage: str
    needed: int
    done: int


def progress(state: BookState, reports: Sequence[SpaceReport]) -> list[Progress]:
    """Each stage of the workshop that any space needs, in its order; spaces left empty or without a place count not."""
    order = COLOUR_FIRST if state.book.workshop.colour_first else STAGES
    kept = [report.account for report in reports if report.account.record.ended != "left-empty"]
    found = (
        Progress(stage, sum(stage in each.stages for each in kept), sum(_has(each, stage) for each in kept))
        for stage in order
    )
    return [stage for stage in found if stage.needed]


def _has(account: SpaceAccount, stage: str) -> bool:
    return stage in account.stages and account.has(stage)
