"""The book in figures: lines, pages, sheets and skins, what is left over and what does not fit."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.casting.page_filling import fill
from copydesk.book.formula.collation_formula import formula_of, parse
from copydesk.book.layout.page_advice import letters_advice, page_advice
from copydesk.tracking.fit.book_end import end_of_book
from copydesk.tracking.planning.gathering_choices import gathering_advice
from copydesk.tracking.views.skin_order import flyleaf_sheets, skin_order

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from copydesk.book.common.units import Unit
    from copydesk.book.layout.page_layout import PageLayout
    from copydesk.book.plan import Script
    from copydesk.tracking.state.book_state import BookState


class PlanReport(NamedTuple):
    """What the plan comes to today. Lines are text lines; sheets are those to be cut, leaves those that stand.

    ``skins`` are those for the sheets of the gatherings, ``skins_with_flyleaves`` for the flyleaves too, which are
    counted apart.
    """

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
    flyleaf_sheets: int
    skins_with_flyleaves: int


def plan_report(state: BookState) -> PlanReport:
    """The figures of the book as it stands."""
    budget, collation, order = state.budget, state.collation, skin_order(state)
    return PlanReport(
        title=state.book.title,
        words=state.copy.words,
        letters=state.copy.letters,
        lines=sum(page.planned for page in budget.pages) + budget.lines_without_room,
        pages_needed=pages_needed(state),
        pages=collation.pages,
        leaves=collation.leaves,
        gatherings=len(collation.gatherings),
        sheets=sum(len(gathering.sheet_numbers()) for gathering in collation.gatherings),
        sheets_per_skin=order.cutting.count if order else 0,
        skins=order.skins if order else 0,
        lines_left_over=budget.lines_left_over,
        lines_without_room=budget.lines_without_room,
        formula=formula_of(collation, plain=True),
        homeless=budget.homeless,
        flyleaf_sheets=flyleaf_sheets(state.book.flyleaves),
        skins_with_flyleaves=order.with_flyleaves if order else 0,
    )


def pages_needed(state: BookState) -> int:
    """Pages that bear text or a space, and those the text without room would take beyond the last one."""
    budget = state.budget
    if not budget.lines_without_room:
        return budget.last_page + 1
    start, last = state.budgeter.cursor(budget.end), state.collation.pages
    beyond = fill(state.budgeter, start, last, {}, state.frame, state.hand_of, budget.fixed)
    return last + beyond.pages


def advice_on(
    layout: PageLayout, script: Script, letters: Mapping[str, float], sizes: Iterable[int], unit: Unit
) -> tuple[str, ...]:
    """Where page, hands and gatherings stray from the handbooks.

    Args:
        layout: the page.
        script: the model the hands follow.
        letters: letters to a line, by hand, the book's first hand first.
        sizes: leaves of each gathering.
        unit: the unit lengths are shown in.
    """
    first, *others = letters.values()
    said = page_advice(layout, script, first, unit)
    named = zip(list(letters)[1:], others, strict=True)
    by_hand = (f"Hand {hand}: {words}" for hand, each in named if (words := letters_advice(each)) is not None)
    gathered = gathering_advice(sizes)
    return (*said, *by_hand, *((gathered,) if gathered else ()))


def plan_advice(state: BookState) -> tuple[str, ...]:
    """Where the plan strays from the handbooks."""
    sizes = (2 * len(gathering.sheet_numbers()) for gathering in state.collation.gatherings)
    return advice_on(state.layout, state.book.script, state.measures, sizes, state.book.unit)


def formula_warnings(state: BookState) -> tuple[str, ...]:
    """What cannot be right in the formula that the book file gives, in words."""
    given = state.book.gatherings.formula
    return parse(given).warnings if given else ()


def plan_as_data(state: BookState) -> dict[str, object]:
    """The figures as plain data, with the page's measures in mm."""
    report = plan_report(state)
    data: dict[str, object] = report._asdict()
    data["homeless"] = list(report.homeless)
    data["page"] = layout_as_data(state.layout)
    data["formula_warnings"] = list(formula_warnings(state))
    data["advice"] = list(plan_advice(state))
    end = end_of_book(state)
    data["chance_text_fits"] = round(end.chance_text_fits, 4)
    data["blank_lines"] = {name: round(getattr(end.blank_lines, name)) for name in ("low", "expected", "high")}
    return data


def layout_as_data(layout: PageLayout) -> dict[str, object]:
    """The page's measures in mm."""
    return {
        "written_width": round(layout.written_width, 3),
        "written_height": round(layout.written_height, 3),
        "line_height": round(layout.line_height, 4),
        "measure": round(layout.measure, 3),
        "lines": layout.lines,
        "columns": layout.columns,
        "prickings": layout.prickings,
    }
