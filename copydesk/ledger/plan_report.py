"""The book in figures: lines, pages, sheets and skins, what is left over and what does not fit."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.formula import formula_of

if TYPE_CHECKING:
    from copydesk.ledger.standing import Standing


class PlanReport(NamedTuple):
    """What the plan comes to today. Lines are text lines; sheets are those to be cut, leaves those that stand."""

    title: str
    words: int
    letters: int
    lines: int
    pages_needed: int
    pages: int
    leaves: int
    gatherings: int
    sheets: int
    sheets_per_skin: int
    skins: int
    lines_left_over: int
    lines_without_room: int
    formula: str
    homeless: tuple[str, ...]


def plan_report(standing: Standing) -> PlanReport:
    """The figures of the book as it stands."""
    budget, collation = standing.budget, standing.collation
    lines_a_page = max(standing.frame.columns * standing.frame.lines, 1)
    without = -(-budget.lines_without_room // lines_a_page)
    sheets = sum(len(gathering.sheet_numbers()) for gathering in collation.gatherings)
    a_skin, skins = _skins(standing, sheets)
    return PlanReport(
        title=standing.book.title,
        words=standing.copy.words,
        letters=standing.copy.letters,
        lines=sum(page.planned for page in budget.pages) + budget.lines_without_room,
        pages_needed=budget.last_page + 1 + without,
        pages=collation.pages,
        leaves=collation.leaves,
        gatherings=len(collation.gatherings),
        sheets=sheets,
        sheets_per_skin=a_skin,
        skins=skins,
        lines_left_over=budget.lines_left_over,
        lines_without_room=budget.lines_without_room,
        formula=formula_of(collation, plain=True),
        homeless=budget.homeless,
    )


def _skins(standing: Standing, sheets: int) -> tuple[int, int]:
    """Sheets from one skin and skins to order; 0 where the book says nothing of skins."""
    plan = standing.book.skins
    if plan is None:
        return 0, 0
    from copydesk.book.skins import cutting_of, skins_to_order

    a_skin = len(cutting_of(plan, standing.layout.width, standing.layout.height).sheets)
    return a_skin, skins_to_order(sheets, a_skin, plan.spoilage) if a_skin else 0


def plan_as_data(standing: Standing) -> dict[str, object]:
    """The figures as plain data, with the page's measures in mm."""
    report, layout = plan_report(standing), standing.layout
    data: dict[str, object] = report._asdict()
    data["homeless"] = list(report.homeless)
    data["page"] = {
        "written_width": round(layout.written_width, 3),
        "written_height": round(layout.written_height, 3),
        "line_height": round(layout.line_height, 4),
        "measure": round(layout.measure, 3),
        "lines": layout.lines,
        "columns": layout.columns,
        "prickings": layout.prickings,
    }
    return data
