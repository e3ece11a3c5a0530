"""``copydesk plan BOOK``: what the plan comes to, how else the book could be gathered, what another figure would do."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from copydesk.book.columns import Cell, Column, Report, given, one_of
from copydesk.book.common.phrases import count_of, grouped
from copydesk.book.common.typed_values import read_whole
from copydesk.book.common.units import show_length
from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.open_book import add_book, add_typed, add_words, open_book
from copydesk.cli.output import give_json, say
from copydesk.tracking.fit.book_end import end_of_book
from copydesk.tracking.fit.line_ends import filler_words, too_full_words
from copydesk.tracking.planning.outlook import end_words
from copydesk.tracking.planning.plan_report import (
    PLAN,
    formula_warnings,
    plan_advice,
    plan_as_is,
    plan_report,
    ruled_otherwise,
)
from copydesk.tracking.state.plan_conflicts import plan_conflicts
from copydesk.tracking.views.narrow_lines import narrow_words
from copydesk.tracking.views.skin_order import (
    cutting_today,
    days_words,
    lime_caution,
    order_words,
    skin_days,
    skin_order,
)

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace
    from collections.abc import Iterator
    from datetime import date

    from copydesk.job import Job
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.skin_order import SkinDays


SAYS = (
    "Lines, pages, gatherings, sheets and skins; what is left over or has no room; the page's measures.\n"
    "--ways proposes ways to gather the book, and tells what a line, a nib or a column more or less would do.\n"
    "--try turns a figure and tells what follows. Figures: width, height, inner, head, outer, foot, columns, gap,\n"
    "lines, unit, nib, sheets, letters (of the first hand), letters.B; lengths may say their unit.\n"
    "--set sets a key of book.yaml. Nothing is written without --keep, which shows the lines that change."
)
EXAMPLES = (
    "copydesk plan my-book",
    "copydesk plan my-book --ways",
    "copydesk plan my-book --try lines=30 --keep",
    "copydesk plan my-book --ways 2 --keep",
    "copydesk plan my-book --set exemplar.due=2027-03-31 --set hands.A.hours_a_week=12 --keep",
    "copydesk plan my-book --ready-by 2027-01-04 --at-once 4",
    "copydesk plan my-book --json",
)


def add_arguments(parser: ArgumentParser) -> None:
    """The book, ``--json``, and what to try."""
    add_book(parser)
    add_typed(
        parser,
        "--ways",
        read_whole,
        nargs="?",
        const=0,
        metavar="N",
        help="ways to gather the book, and what turning a figure would do; N chooses one",
    )
    parser.add_argument(
        "--try", action="append", default=[], metavar="FIGURE=VALUE", dest="trial", help="turn a figure"
    )
    parser.add_argument(
        "--set", action="append", default=[], metavar="KEY=VALUE", dest="keys", help="set a key of book.yaml"
    )
    parser.add_argument("--keep", action="store_true", help="write what was tried, chosen or set into book.yaml")
    parser.add_argument("--put-back", action="store_true", help="take back what was kept last")
    add_words(parser, "--ready-by", metavar="DATE", help="the day the skins are wanted, as 2027-01-04")
    add_typed(parser, "--at-once", read_whole, default=0, metavar="N", help="how many skins the bath holds at once")


def run(arguments: Namespace) -> ExitCode:
    """Give the figures."""
    job = open_book(arguments)
    if arguments.keep or arguments.keys or arguments.put_back:
        from copydesk.cli.verbs.plan_keep import change_plan

        return change_plan(job, arguments)
    days = _skin_days(job, arguments)
    if arguments.json:
        give_json(_data(job.state, arguments, days))
    elif arguments.ways is not None or arguments.trial:
        from copydesk.cli.verbs.plan_ways import told_trial, told_ways

        if arguments.trial:
            told_trial(job.state, arguments.trial)
        if arguments.ways is not None:
            told_ways(job.state)
    else:
        say(*_told(job.state, days, job.clock().date(), asked=bool(arguments.ready_by)))
    return ExitCode.DONE


def _skin_days(job: Job, arguments: Namespace) -> SkinDays | None:
    """When the skins still wanting are to be begun; None where the book names no skins, or none gives a sheet."""
    from copydesk.book.common.typed_values import read_day
    from copydesk.tracking.views.skin_batches import skins_today

    wanted = read_day(arguments.ready_by, "--ready-by") if arguments.ready_by else None
    cutting = cutting_today(job.state)
    if cutting is None or not cutting.count:
        return None
    today = job.clock().date()
    skins = skins_today(job.state, today)
    return skin_days(skins.steps, skins.wanting, today, wanted, arguments.at_once)


def _data(state: BookState, arguments: Namespace, days: SkinDays | None) -> dict[str, Any]:
    from copydesk.tracking.planning.planner import Planner
    from copydesk.tracking.planning.ways_report import OUTCOMES, gathering_ways, read_trial, turn_rows

    planner, as_is = Planner(state), plan_as_is(state)
    row: dict[str, Any] = {column.key: column.raw(as_is) for column in PLAN}
    if days is not None:
        row["skin_days"] = days
    row["ways"] = gathering_ways(planner)
    if arguments.ways is not None:
        row["if_turned"] = turn_rows(planner)
    if arguments.trial:
        trial = read_trial(planner, arguments.trial)
        row["tried"] = OUTCOMES.data(planner.outcome(trial)) | {"ways": gathering_ways(planner, trial)}
    return plan_json().data(row)


def plan_json() -> Report[Any]:
    """The columns of ``plan --json``."""
    from copydesk.tracking.planning.ways_report import TRIED, TURN_COLUMNS, WAYS

    return one_of(
        "plan",
        "The book in figures.",
        *(given(column.key, column.cell, column.says, of=column.of) for column in PLAN),
        given("skin_days", Cell.OBJECT, "when to begin the skins, where the plan knows them", of=SKIN_DAYS),
        given("ways", Cell.ROWS, "ways to gather the rest of the book, the best first", of=WAYS),
        given("if_turned", Cell.ROWS, "with --ways: what turning one figure would do", of=TURN_COLUMNS),
        given("tried", Cell.OBJECT, "with --try: what the plan tried comes to", of=TRIED),
    )


SKIN_DAYS: Report[SkinDays] = one_of(
    "plan, days of the skins",
    "When to begin the skins still to be made.",
    Column("skins", Cell.NUMBER, "skins to begin"),
    Column("steps", Cell.OBJECT, "days of each step", lambda days: dict(days.steps)),
    Column("lead_days", Cell.NUMBER, "days from the first step to the last", "lead"),
    Column("begin", Cell.TEXTS, "the day each lot begins", lambda days: [day.isoformat() for day in days.starts]),
    Column("ready", Cell.DAY, "when the last is ready", lambda days: days.ready.isoformat()),
    Column("days_late", Cell.NUMBER, "days after the day wanted", "late"),
)


def _told(state: BookState, days: SkinDays | None, today: date, *, asked: bool) -> Iterator[str]:
    report, layout = plan_report(state), state.layout_to_rule
    yield report.title
    words, lines = count_of(report.words, "word"), count_of(report.lines, "line")
    yield f"Text      {words}, {grouped(report.letters)} letters and word-spaces, {lines}"
    yield f"Pages     {report.pages_needed} needed of {report.pages}, on {count_of(report.leaves, 'leaf', 'leaves')}"
    yield f"Sheets    {report.sheets} in {count_of(report.gatherings, 'gathering')}: {report.formula}"
    yield from (f"Look at   the formula: {warning}" for warning in formula_warnings(state))
    if report.lines_without_room:
        lines = count_of(report.lines_without_room, "line")
        yield f"No room   for the last {lines}; add a gathering or write closer"
    else:
        yield f"Left over {count_of(report.lines_left_over, 'line')}"
    yield f"End       {end_words(end_of_book(state))}"
    if report.homeless:
        yield f"No place  for the spaces {', '.join(report.homeless)}"
    yield from (f"Narrow    {narrow_words(state, place)}" for place in report.narrow)
    if report.kept:
        kept, pages = sum(each.lines for each in report.kept), state.book.listed(each.page for each in report.kept)
        yield f"Blank     {count_of(kept, 'line')} on {pages}, where what follows has no room"
    if full := too_full_words(report.too_full, state.book):
        yield f"Too full  {full}; copydesk ends BOOK --over lists them"
    if wanted := filler_words(report.fillers, state.book):
        yield f"Fillers   {wanted}"
    unit = state.book.unit
    yield (
        f"Page      written space {show_length(layout.written_width, unit)} by "
        f"{show_length(layout.written_height, unit)}, "
        f"{count_of(layout.columns, 'column')} of {count_of(layout.lines, 'line')}, "
        f"a line {show_length(layout.line_height, unit)} high and {show_length(layout.measure, unit)} long"
    )
    if other := ruled_otherwise(state):
        yield f"          {other}"
    yield from (f"On skin   {words}" for words in plan_conflicts(state))
    yield from (f"Advice    {words}" for words in plan_advice(state))
    yield from _skins(state, days, today, asked=asked)


def _skins(state: BookState, days: SkinDays | None, today: date, *, asked: bool) -> Iterator[str]:
    """The skins to order, when to begin them, and a picture of how one is cut."""
    from copydesk.papers.cutting import cutting_text, cutting_words, grain_words

    order = skin_order(state)
    if order is None:
        return
    yield f"Skins     {order_words(order)}"
    if days is None:
        return
    yield f"Begin     {days_words(days, today, asked=asked)}"
    caution = lime_caution(days.steps)
    yield from [caution] if caution else []
    yield f"Cutting   {cutting_words(order.cutting, state.book.unit)}"
    yield f"          {grain_words(order.cutting)}"
    yield from (f"          {row}" for row in cutting_text(order.cutting, PICTURE_WIDTH))


PICTURE_WIDTH = 36
"""Letters that the picture of a cutting is wide."""
