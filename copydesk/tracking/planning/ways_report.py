"""Ways to gather the book, and what changing a figure would do, as plain data and as plans to be written down."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any, NamedTuple

from copydesk.book.columns import Cell, Column, Report, given, one_of, rows_of
from copydesk.book.common.errors import CopydeskError, InvalidValueError, NotAllowedError, UnknownNameError
from copydesk.book.common.phrases import decimal
from copydesk.book.common.typed_values import read_number
from copydesk.book.formula.formatter import formula_of, on_a_typewriter
from copydesk.book.structure.collation import Collation
from copydesk.book.structure.gathering import regular_gathering
from copydesk.book.structure.page import Surface
from copydesk.tracking.ledger.leaf_history import planned_collation
from copydesk.tracking.planning.plan_figures import LETTERS, Trial, figure_named, read_figure
from copydesk.tracking.planning.plan_report import NO_SHEET, TRIED_PAGE, advice_on

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from copydesk.book.plan import Book, GatheringPlan
    from copydesk.tracking.planning.gathering_choices import Sizes, Way
    from copydesk.tracking.planning.planner import Outcome, Planner


TURNS: tuple[tuple[str, float], ...] = (
    ("lines", -2),
    ("lines", -1),
    ("lines", 1),
    ("lines", 2),
    ("nib", -0.1),
    ("nib", 0.1),
    ("columns", -1),
    ("columns", 1),
)
"""The changes of figures that are always shown, and by how much: lines, mm, columns."""


class Turned(NamedTuple):
    """One figure turned: its name, what it was and would be, and what comes of it; or why it cannot be."""

    figure: str
    was: float
    would_be: float
    outcome: Outcome | None
    refused: str = ""


def read_trial(planner: Planner, given: Iterable[str]) -> Trial:
    """What to try, as people write it: ``lines=30``, ``nib=1.1``, ``letters=34``, ``letters.B=30``.

    Raises:
        CopydeskError: where one of them is no figure, no value, or not a hand of the book.
    """
    figures: dict[str, float] = {}
    letters: dict[str, float] = {}
    for each in given:
        name, sign, value = (part.strip() for part in each.partition("="))
        if not sign:
            raise InvalidValueError(f"{each!r} is no trial; write a figure and its value, as in lines=30")
        if name.partition(".")[0] == LETTERS:
            letters[_hand(planner.state.book, name)] = read_letters(value)
        else:
            figures[name] = read_figure(figure_named(name), value)
    trial = Trial(figures)
    if letters:
        natural = planner.outcome(trial).letters
        for hand, wanted in letters.items():
            trial = trial.with_letters(hand, wanted, natural[hand])
    return trial


def _hand(book: Book, name: str) -> str:
    _, dot, hand = name.partition(".")
    if not dot:
        return book.hands[0].id
    if book.hand(hand) is None:
        raise UnknownNameError(
            f"there is no hand {hand!r} in this book; its hands are {', '.join(each.id for each in book.hands)}"
        )
    return hand


def read_letters(value: str) -> float:
    """Letters to a line as a person writes them.

    Raises:
        InvalidValueError: where it is no such number.
    """
    return read_number(value, "letters to a line", low=1, high=10_000)


def turns(planner: Planner) -> Iterator[Turned]:
    """What a line, a tenth of the nib or a column more or less would do; a figure the book has not is left out."""
    base = planner.outcome(Trial())
    for name, by in TURNS:
        was = figure_named(name).value(base.book, base.layout)
        if was is None or was + by < figure_named(name).least:
            continue
        would_be = round(was + by, 4)
        try:
            yield Turned(name, was, would_be, planner.outcome(Trial({name: would_be})))
        except CopydeskError as refused:
            yield Turned(name, was, would_be, None, str(refused))


def outcome_advice(outcome: Outcome) -> tuple[str, ...]:
    """Where a tried plan strays from the handbooks."""
    return advice_on(outcome.layout, outcome.book.script, outcome.letters, outcome.sizes, outcome.book.unit)


def book_to_write(planner: Planner, trial: Trial, outcome: Outcome, way: Way | None = None) -> Book:
    """The book as its file would have to say it for a trial to come true, with the gatherings of ``way`` where chosen.

    Raises:
        CopydeskError: where the gatherings cannot be put into the plan.
    """
    kept = len(planner.ground.sizes)
    if way is not None:
        return replace(outcome.book, gatherings=plan_of_sizes(planner, way.sizes))
    if kept and "sheets" in trial.figures:
        return replace(outcome.book, gatherings=plan_of_sizes(planner, outcome.sizes[kept:]))
    return outcome.book


def write_remarks(planner: Planner, outcome: Outcome) -> tuple[str, ...]:
    """What to do where a tried plan is written to the book file: samples without lengths are to be measured."""
    measure = planner.state.layout.measure
    if abs(measure - outcome.layout.measure) < 1e-6:
        return ()
    samples = planner.state.samples
    return tuple(
        f"Measure the lines of {hand.sample} that have no length: they were full lines of {decimal(measure)} mm."
        for hand in outcome.book.hands
        if hand.sample is not None and any(line.length is None for line in samples.get(hand.id, ()))
    )


def formula_of_way(planner: Planner, way: Way) -> str:
    """The formula of the book as it stands, its last gatherings made so."""
    return formula_of(_behind(planner, planner.state.collation, way.sizes))


def plan_of_sizes(planner: Planner, sizes: Sizes) -> GatheringPlan:
    """The gatherings as ``book.yaml`` would have them, those to come of so many leaves each.

    Leaves planned otherwise are left to their own list.

    Raises:
        CopydeskError: where gatherings begun are not in the plan, so that none behind them can be.
    """
    state, plan = planner.state, planner.state.book.gatherings
    bare = replace(state.book, gatherings=replace(plan, exceptions=()))
    planned = planned_collation(bare, lambda: state.planned.pages)
    if len(planned.gatherings) < len(planner.ground.sizes):
        raise NotAllowedError("gatherings were added by record and are begun; add those behind them in the same way")
    collation = _behind(planner, planned, sizes)
    each = {len(gathering.leaves) for gathering in collation.gatherings}
    leaves = max(each, default=0)
    if plan.formula is None and len(each) == 1 and leaves % 2 == 0:
        return replace(plan, sheets=leaves // 2, count=len(collation.gatherings))
    return replace(plan, sheets=None, count=None, formula=formula_of(collation, plain=True))


def _behind(planner: Planner, collation: Collation, sizes: Sizes) -> Collation:
    """The gatherings that can no longer be chosen, and behind them new ones of so many leaves."""
    plan, kept = planner.state.book.gatherings, len(planner.ground.sizes)
    new = (regular_gathering(at, each, Surface(plan.outside), plan.habit) for at, each in enumerate(sizes, kept + 1))
    return Collation((*collation.gatherings[:kept], *new))


class GatheringWay(NamedTuple):
    """A way to gather the rest of the book, with its formula."""

    way: Way
    formula: str


def gathering_ways(planner: Planner, trial: Trial | None = None) -> list[GatheringWay]:
    """The ways to gather the rest of the book, the best first."""
    return [GatheringWay(way, formula_of_way(planner, way)) for way in planner.ways(trial or Trial())]


WAYS: Report[GatheringWay] = rows_of(
    "plan, a way to gather",
    "One way to gather the rest of the book; the best stands first.",
    Column("formula", Cell.TEXT, "its formula", lambda of: on_a_typewriter(of.formula)),
    Column("kind", Cell.TEXT, "what it is called", "way.kind"),
    Column(
        "gatherings_to_come", Cell.OBJECT, "leaves of each gathering to come, a list", lambda of: list(of.way.sizes)
    ),
    Column("leaves", Cell.NUMBER, "leaves in all", "way.leaves"),
    Column("sheets", Cell.NUMBER, "sheets in all", "way.sheets"),
    Column("blank_leaves", Cell.NUMBER, "leaves left blank", "way.blank_leaves"),
    Column("skins", Cell.NUMBER, f"skins in all, with the flyleaves; {NO_SHEET}", lambda of: of.way.skins or None),
)
OUTCOME: tuple[Column[Outcome], ...] = (
    Column("pages_needed", Cell.NUMBER, "pages the text takes", "pages"),
    Column("leaves_needed", Cell.NUMBER, "leaves it takes"),
    Column("leaves", Cell.NUMBER, "leaves there would be"),
    Column("gatherings", Cell.NUMBER, "gatherings", lambda found: len(found.sizes)),
    Column("sheets", Cell.NUMBER, "sheets"),
    Column(
        "sheets_per_skin",
        Cell.NUMBER,
        "sheets from one skin",
        lambda found: found.cutting.count if found.cutting else 0,
    ),
    Column("skins", Cell.NUMBER, f"skins for the gatherings; {NO_SHEET}", lambda found: found.skins or None),
    Column(
        "skins_with_flyleaves",
        Cell.NUMBER,
        f"skins for gatherings and flyleaves; {NO_SHEET}",
        lambda found: found.skins_with_flyleaves or None,
    ),
    Column("blank_leaves", Cell.NUMBER, "leaves left blank"),
    Column("blank_lines", Cell.NUMBER, "lines left blank"),
    Column(
        "letters_per_line",
        Cell.OBJECT,
        "letters a line, by hand",
        lambda found: {hand: round(letters, 1) for hand, letters in found.letters.items()},
    ),
    Column("page", Cell.OBJECT, "the page, in mm", "layout", of=TRIED_PAGE),
    Column("advice", Cell.TEXTS, "where it strays from the handbooks", lambda found: list(outcome_advice(found))),
    Column("estimate", Cell.TEXT, "why the figures are estimates; empty where all was cast"),
)
OUTCOMES: Report[Outcome] = Report("plan, an outcome", "What a plan tried comes to.", OUTCOME, rows=False)
TURN_COLUMNS: Report[Mapping[str, Any]] = rows_of(
    "plan --ways, a figure turned",
    "What turning one figure would do: an outcome's keys, or refused.",
    given("figure", Cell.TEXT, "the figure"),
    given("was", Cell.NUMBER, "its value in the plan"),
    given("would_be", Cell.NUMBER, "its value here"),
    *(given(column.key, column.cell, column.says) for column in OUTCOME),
    given("refused", Cell.TEXT, "why it cannot be; instead of an outcome"),
)
TRIED: Report[Mapping[str, Any]] = one_of(
    "plan --try",
    "What the plan tried comes to.",
    *(given(column.key, column.cell, column.says) for column in OUTCOME),
    given("ways", Cell.ROWS, "ways to gather it, the best first", of=WAYS),
)


def turn_rows(planner: Planner) -> list[dict[str, Any]]:
    """What turning one figure would do, one row a turn."""
    return [
        {"figure": each.figure, "was": round(each.was, 4), "would_be": each.would_be}
        | (OUTCOMES.data(each.outcome) if each.outcome else {"refused": each.refused})
        for each in turns(planner)
    ]
