"""The spaces of a book for the artist: with the sheet each is on, grouped in three ways, and in words."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal, NamedTuple

from copydesk.book.common.phrases import count_of
from copydesk.book.common.sanitize import sanitize
from copydesk.book.common.units import AS_MEASURED, Unit, show_size
from copydesk.book.layout.space_stages import stages_in_order
from copydesk.book.layout.spaces import is_metal
from copydesk.book.materials.material_table import material_named
from copydesk.tracking.decoration.text_distance import distance_words, text_distance
from copydesk.tracking.ledger.entry_kinds import SheetPlace, SpaceEnd
from copydesk.tracking.views.sheet_pile import leave_words, pile_now
from copydesk.tracking.views.space_view import space_accounts

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence
    from datetime import datetime

    from copydesk.book.layout.page_frame import Placement
    from copydesk.book.layout.space_stages import Stage
    from copydesk.book.plan import Book
    from copydesk.tracking.decoration.text_distance import TextDistance
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.sheet_pile import SheetStatus
    from copydesk.tracking.views.space_view import SpaceAccount


Arrangement = Literal["sheet", "stage", "material", "leaving"]
ARRANGEMENTS: tuple[Arrangement, ...] = ("sheet", "stage", "material", "leaving")
"""``leaving`` is by sheet, those first that may leave the desk now."""


class SpaceReport(NamedTuple):
    """A space, and the sheet it is on with what that waits for; None where it stands nowhere.

    ``distance`` is how far it stands from its text, where it has one.
    """

    account: SpaceAccount
    sheet: SheetStatus | None
    artist: str
    distance: TextDistance | None

    @property
    def waiting(self) -> bool:
        """Whether it is still to be filled."""
        return self.account.waiting

    @property
    def waits_for(self) -> tuple[str, ...]:
        """What must come before its sheet may leave the desk."""
        return tuple(map(str, self.sheet.waits_for)) if self.sheet is not None else ("a page with room for it",)

    @property
    def may_leave(self) -> bool:
        """Whether its sheet may go to the artist now."""
        return not self.waits_for


def space_reports(state: BookState, now: datetime) -> list[SpaceReport]:
    """Every space, those to be filled first, each part in the order of their pages."""
    sheets = {page: sheet for sheet in pile_now(state, now) for page in sheet.sheet.pages()}
    artist = state.book.workshop.artist
    reports = [
        SpaceReport(
            account,
            sheets.get(account.page) if account.page else None,
            account.plan.artist or artist,
            text_distance(state, account),
        )
        for account in space_accounts(state)
    ]
    return sorted(reports, key=lambda report: not report.waiting)


class Group(NamedTuple):
    """Spaces put together: what they have in common, and they; ``by_sheet`` where that is the sheet they are on."""

    title: str
    reports: tuple[SpaceReport, ...]
    by_sheet: bool = False

    @property
    def sheet(self) -> SheetStatus | None:
        """The sheet they are on, where they are put together by sheet."""
        return self.reports[0].sheet if self.by_sheet else None

    @property
    def hours(self) -> float:
        """Hours they are expected to take."""
        return sum(report.account.hours_left for report in self.reports)


def arranged(state: BookState, reports: Iterable[SpaceReport], by: Arrangement) -> list[Group]:
    """The spaces by sheet, by the stage that comes next, or by material (under each that a space needs)."""
    if by in ("sheet", "leaving"):
        ordered = sorted(reports, key=_by_sheet)
        if by == "leaving":
            ordered.sort(key=lambda report: not _leaves_first(report))
        pairs = ((_sheet_title(report), report) for report in ordered)
        return [group._replace(by_sheet=True) for group in _grouped(pairs)]
    if by == "stage":
        order = [*stages_in_order(colour_first=state.book.workshop.colour_first), ""]
        staged = [(report.account.next_stage or "", report) for report in reports]
        staged.sort(key=lambda pair: order.index(pair[0]))
        return _grouped((_stage_title(stage, report), report) for stage, report in staged)
    return _grouped(_by_material(reports))


def _by_sheet(report: SpaceReport) -> tuple[int, int, int, int]:
    page = report.account.page
    if report.sheet is None or page is None:
        return (1, 0, 0, 0)
    return (0, report.sheet.sheet.gathering, report.sheet.sheet.sheet, page.index)


def _leaves_first(report: SpaceReport) -> bool:
    """Whether its sheet is here and may go to the artist now."""
    here = (SheetPlace.DESK, SheetPlace.DRYING)
    return report.may_leave and report.sheet is not None and report.sheet.record.place in here


def _sheet_title(report: SpaceReport) -> str:
    return f"Sheet {report.sheet.sheet.name}" if report.sheet is not None else "Without a place"


def _stage_title(stage: str, report: SpaceReport) -> str:
    if stage:
        return f"To be {stage}"
    return "Without a place" if report.waiting else "Filled, or left"


def _by_material(reports: Iterable[SpaceReport]) -> list[tuple[str, SpaceReport]]:
    """Each space under each of its materials: metals first, since gold is laid in one sitting; then by name.

    One material under several names (``king yellow``, ``orpiment (genuine)``) is one group, called as the table of
    materials calls it.
    """
    pairs = [(sanitize(name), report) for report in reports for name in report.account.plan.materials or ("",)]
    written: dict[str, set[str]] = {}
    for name, _ in pairs:
        written.setdefault(_one_material(name), set()).add(name.casefold())
    titles = {key: next(iter(names)) if len(names) == 1 else key for key, names in written.items()}
    titled = {(titles[_one_material(name)], each.account.plan.id): each for name, each in pairs}
    once = [(title, report) for (title, _), report in titled.items()]
    named = sorted(once, key=lambda pair: (not pair[0], not is_metal(pair[0]), pair[0].casefold()))
    return [(name.capitalize() if name else "No materials named", report) for name, report in named]


def _one_material(name: str) -> str:
    """The material that a name stands for, by its name in the table; the name itself where that has none."""
    known = material_named(name)
    return known.name if known is not None else name.casefold()


def _grouped(pairs: Iterable[tuple[str, SpaceReport]]) -> list[Group]:
    groups: dict[str, list[SpaceReport]] = {}
    for title, report in pairs:
        groups.setdefault(title, []).append(report)
    return [Group(title, tuple(found)) for title, found in groups.items()]


class Progress(NamedTuple):
    """How far a stage has come: spaces that need it, and those where it is done."""

    stage: Stage
    needed: int
    done: int


def progress(state: BookState, reports: Sequence[SpaceReport]) -> list[Progress]:
    """Each stage of the workshop that any space needs, in its order; spaces left empty or without a place count not."""
    order = stages_in_order(colour_first=state.book.workshop.colour_first)
    kept = [report.account for report in reports if report.account.record.ended is not SpaceEnd.LEFT_EMPTY]
    found = (
        Progress(stage, sum(stage in each.stages for each in kept), sum(_has(each, stage) for each in kept))
        for stage in order
    )
    return [stage for stage in found if stage.needed]


def _has(account: SpaceAccount, stage: Stage) -> bool:
    return stage in account.stages and account.has(stage)


def where_words(account: SpaceAccount, book: Book) -> str:
    """Where a space stands, in short: ``3v col. 1 l. 5-16``; ``no page`` where it stands nowhere."""
    placement = _on_lines(account)
    if account.page is None:
        return "no page"
    if placement is None:
        return book.named(account.page)
    column = "all col." if placement.column == 0 else f"col. {placement.column}"
    last = placement.from_line + placement.lines - 1
    return f"{book.named(account.page)} {column} l. {placement.from_line}{f'-{last}' if placement.lines > 1 else ''}"


def place_words(account: SpaceAccount, book: Book) -> str:
    """The same at length: ``3v, column 1, lines 5 to 16``."""
    placement = _on_lines(account)
    if account.page is None:
        return "on no page"
    if placement is None:
        return book.named(account.page)
    column = "all columns" if placement.column == 0 else f"column {placement.column}"
    last = placement.from_line + placement.lines - 1
    lines = f"lines {placement.from_line} to {last}" if placement.lines > 1 else f"line {placement.from_line}"
    return f"{book.named(account.page)}, {column}, {lines}"


def apart_words(report: SpaceReport, book: Book) -> str:
    """Where its text is: ``on 1r, 7 lines before it``; nothing where the space stands with its text."""
    return distance_words(report.distance, report.account, book)


def _on_lines(account: SpaceAccount) -> Placement | None:
    """The lines of its page a space stands on; None where it stands on none of its own, as a border does."""
    placement = account.placement
    return placement if placement and placement.from_line and account.plan.kind != "border" else None


def size_words(account: SpaceAccount, unit: Unit = "mm") -> str:
    """A space's size: ``53 × 66 mm``; a border's is that of the page."""
    size = show_size(account.width, account.height, unit, AS_MEASURED[unit])
    return f"page {size}" if account.plan.kind == "border" else size


def lines_words(account: SpaceAccount) -> str:
    """The ruled lines a space takes: ``12 lines``; nothing for one that takes none."""
    lines = account.placement.lines if account.placement is not None else account.plan.lines
    return count_of(lines, "line") if lines else ""


def hours_words(hours: float) -> str:
    """``about 3.5 hours``; nothing for none."""
    return f"about {count_of(round(hours, 1), 'hour')}" if hours else ""


def group_line(group: Group, book: Book) -> str:
    """The heading of a group: its title, how many spaces wait, hours, and for a sheet whether it may leave."""
    waiting = sum(report.waiting for report in group.reports)
    said = [group.title]
    if group.sheet is not None:
        said.append(leave_words(group.sheet, book))
    elif waiting > 1:
        said.append(f"{waiting} spaces")
    if hours := hours_words(group.hours):
        said.append(f"{hours} to paint")
    return ": ".join((said[0], "; ".join(said[1:]))).rstrip(": ")


def progress_words(stages: Iterable[Progress]) -> str:
    """How far each stage has come: ``drawn 5 of 22, gilded 2 of 9``."""
    return ", ".join(f"{each.stage} {each.done} of {each.needed}" for each in stages) or "no stages"


def kind_words(account: SpaceAccount) -> str:
    """A space's name, its kind and its guide letter."""
    plan = account.plan
    return sanitize(f"{plan.id}, {plan.kind}" + (f' for "{plan.guide_letter}"' if plan.guide_letter else ""))


def subject_words(account: SpaceAccount) -> str:
    """What a space is to show, and what the artist should know; empty where neither is given."""
    subject, instruction = account.plan.subject, account.plan.instruction
    return sanitize(f"{subject or 'not given'}; {instruction}" if instruction else subject)
