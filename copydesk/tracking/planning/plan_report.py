"""The book in figures: lines, pages, sheets and skins, what is left over and what does not fit."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.casting.page_filling import fill
from copydesk.book.columns import Cell, Column, Report, one_of, rows_of
from copydesk.book.common.phrases import count_of
from copydesk.book.formula.formatter import formula_of, on_a_typewriter
from copydesk.book.layout.page_advice import letters_advice, page_advice
from copydesk.book.structure.page import Page
from copydesk.tracking.fit.book_end import end_of_book
from copydesk.tracking.fit.line_ends import LINE_ENDS, LineEnd, all_fillers, too_full
from copydesk.tracking.planning.gathering_choices import gathering_advice
from copydesk.tracking.state.plan_conflicts import plan_conflicts
from copydesk.tracking.views.narrow_lines import NARROW, NarrowPlace, narrow_lines
from copydesk.tracking.views.skin_order import flyleaf_sheets, skin_order

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from copydesk.book.common.units import Unit
    from copydesk.book.layout.page_layout import PageLayout
    from copydesk.book.plan import Script
    from copydesk.tracking.fit.book_end import Ending
    from copydesk.tracking.state.book_state import BookState


class KeptLines(NamedTuple):
    """Lines of a page that stay blank, as the heading, initial or division that follows has no room there."""

    page: Page
    lines: int


KEPT: Report[KeptLines] = rows_of(
    "plan, lines kept blank",
    "Lines of a page that stay blank, as the heading, initial or division that follows has no room there.",
    Column("page", Cell.PAGE, "the page", lambda each: str(each.page)),
    Column("lines", Cell.NUMBER, "lines that stay blank"),
)


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
    narrow: tuple[NarrowPlace, ...]
    kept: tuple[KeptLines, ...]
    too_full: tuple[LineEnd, ...]
    fillers: tuple[LineEnd, ...]
    conflicts: tuple[str, ...]
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
        sheets=len(collation.sheet_names),
        sheets_per_skin=order.cutting.count if order else 0,
        skins=order.skins if order else 0,
        lines_left_over=budget.lines_left_over,
        lines_without_room=budget.lines_without_room,
        formula=formula_of(collation),
        homeless=budget.homeless,
        narrow=tuple(narrow_lines(state)),
        kept=tuple(KeptLines(Page.at(index), page.kept) for index, page in enumerate(budget.pages) if page.kept),
        too_full=tuple(too_full(state)),
        fillers=tuple(all_fillers(state)),
        conflicts=plan_conflicts(state),
        flyleaf_sheets=flyleaf_sheets(state.book.flyleaves),
        skins_with_flyleaves=order.with_flyleaves if order else 0,
    )


def pages_needed(state: BookState) -> int:
    """Pages that bear text or a space, and those the text without room would take beyond the last one."""
    budget = state.budget
    if not budget.lines_without_room:
        return budget.last_page + 1
    start, last = state.budgeter.cursor(budget.end), state.collation.pages
    hand = state.hand_of(max(last - 1, 0))  # as the lines without room are counted
    beyond = fill(state.budgeter, start, last, {}, state.frame, lambda _: hand, budget.fixed)
    return last + beyond.pages


def ruled_otherwise(state: BookState) -> str:
    """How many pages were ruled with other lines than those still to rule, in a sentence; nothing where none was."""
    ruled = (at for at, record in state.recorded() if record.placements is not None)
    found = Counter(lines for at in ruled if (lines := state.frame_of(at).lines) != state.frame.lines)
    said = (f"{count_of(count, 'page')} ruled with {count_of(lines, 'line')}" for lines, count in sorted(found.items()))
    return ", ".join(said) + ", and kept so" if found else ""


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
    return advice_on(state.layout_to_rule, state.book.script, state.measures, sizes, state.book.unit)


def formula_warnings(state: BookState) -> tuple[str, ...]:
    """What cannot be right in the formula that the book file gives, in words."""
    given = state.book.gatherings.formula
    if not given:
        return ()
    from copydesk.book.formula.collation_formula import parse  # reading a formula takes longer to load than to do

    return parse(given).warnings


class PlanAsIs(NamedTuple):
    """The figures of the book with its page, what the handbooks say of it, and how its end will fall."""

    figures: PlanReport
    layout: PageLayout
    warnings: tuple[str, ...]
    advice: tuple[str, ...]
    end: Ending


def plan_as_is(state: BookState) -> PlanAsIs:
    """All there is to say of the plan as it stands."""
    layout = state.layout_to_rule
    return PlanAsIs(plan_report(state), layout, formula_warnings(state), plan_advice(state), end_of_book(state))


MEASURES: tuple[Column[PageLayout], ...] = (
    Column("written_width", Cell.NUMBER, "width of the written space", lambda page: round(page.written_width, 3)),
    Column("written_height", Cell.NUMBER, "height of the written space", lambda page: round(page.written_height, 3)),
    Column("line_height", Cell.NUMBER, "from one line to the next", lambda page: round(page.line_height, 4)),
    Column("measure", Cell.NUMBER, "length of a line", lambda page: round(page.measure, 3)),
    Column("lines", Cell.NUMBER, "ruled lines of a column"),
    Column("columns", Cell.NUMBER, "columns"),
)
TRIED_PAGE: Report[PageLayout] = Report("plan, a page tried", "The page, in mm.", MEASURES, rows=False)
PAGE: Report[PageLayout] = one_of(
    "plan, the page",
    "The page, in mm.",
    *MEASURES,
    Column("prickings", Cell.OBJECT, "horizontal from the head edge, vertical from the fold"),
)
NO_SHEET = "null where a skin gives no sheet or nothing is known of skins"

PLAN: tuple[Column[PlanAsIs], ...] = (
    Column("title", Cell.TEXT, "the title", "figures.title"),
    Column("words", Cell.NUMBER, "words of the text", "figures.words"),
    Column("letters", Cell.NUMBER, "letters and word-spaces", "figures.letters"),
    Column("lines", Cell.NUMBER, "lines the text takes", "figures.lines"),
    Column("pages_needed", Cell.NUMBER, "pages the text and its spaces take", "figures.pages_needed"),
    Column("pages", Cell.NUMBER, "pages there are", "figures.pages"),
    Column("leaves", Cell.NUMBER, "leaves there are", "figures.leaves"),
    Column("gatherings", Cell.NUMBER, "gatherings", "figures.gatherings"),
    Column("sheets", Cell.NUMBER, "sheets to be cut", "figures.sheets"),
    Column("sheets_per_skin", Cell.NUMBER, "sheets from one skin", "figures.sheets_per_skin"),
    Column("skins", Cell.NUMBER, f"skins for the gatherings; {NO_SHEET}", lambda of: of.figures.skins or None),
    Column("lines_left_over", Cell.NUMBER, "lines left blank after the text", "figures.lines_left_over"),
    Column("lines_without_room", Cell.NUMBER, "lines of text beyond the last page", "figures.lines_without_room"),
    Column("formula", Cell.TEXT, "the collation formula", lambda of: on_a_typewriter(of.figures.formula)),
    Column("homeless", Cell.TEXTS, "spaces that no page has room for", lambda of: list(of.figures.homeless)),
    Column("narrow", Cell.ROWS, "lines that stay empty beside spaces and holes", "figures.narrow", of=NARROW),
    Column("kept", Cell.ROWS, "lines that stay blank, as what follows has no room there", "figures.kept", of=KEPT),
    Column("too_full", Cell.ROWS, "lines that cannot hold the exemplar's", "figures.too_full", of=LINE_ENDS),
    Column("line_fillers", Cell.NUMBER, "ends that want a line filler", lambda of: len(of.figures.fillers)),
    Column("conflicts", Cell.TEXTS, "what it says otherwise than the skin", lambda of: list(of.figures.conflicts)),
    Column("flyleaf_sheets", Cell.NUMBER, "sheets for the flyleaves", "figures.flyleaf_sheets"),
    Column(
        "skins_with_flyleaves",
        Cell.NUMBER,
        f"skins for gatherings and flyleaves; {NO_SHEET}",
        lambda of: of.figures.skins_with_flyleaves or None,
    ),
    Column("page", Cell.OBJECT, "the page, in mm", "layout", of=PAGE),
    Column("formula_warnings", Cell.TEXTS, "what cannot be right in the plan's formula", lambda of: list(of.warnings)),
    Column("advice", Cell.TEXTS, "where the plan strays from the handbooks", lambda of: list(of.advice)),
    Column(
        "chance_text_fits",
        Cell.NUMBER,
        "the chance that the text fits the book",
        lambda of: round(of.end.chance_text_fits, 4),
    ),
    Column(
        "blank_lines",
        Cell.OBJECT,
        "lines left blank at the end: low, expected, high",
        lambda of: {name: round(getattr(of.end.blank_lines, name)) for name in ("low", "expected", "high")},
    ),
)
