"""``copydesk spaces BOOK``: the reserved spaces, waiting first."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.materials.cautions import caution_words, cautions_for
from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.open_book import add_book, open_book
from copydesk.cli.output import give_json, say, table_of
from copydesk.tracking.decoration.rubrication_tally import tally, tally_words, total_of
from copydesk.tracking.decoration.space_columns import SPACES, TALLY
from copydesk.tracking.decoration.space_report import (
    ARRANGEMENTS,
    arranged,
    group_line,
    progress,
    progress_words,
    space_reports,
)

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace

    from copydesk.book.plan import Book
    from copydesk.tracking.decoration.space_report import Group, SpaceReport
    from copydesk.tracking.state.book_state import BookState


SAYS = (
    "Every reserved space with its size, how far it has come, and what its sheet waits for before it may leave the\n"
    "desk. A space takes so many ruled lines; widths and heights are millimetres."
)
EXAMPLES = (
    "copydesk spaces my-book",
    "copydesk spaces my-book --by material",
    "copydesk spaces my-book --tally",
    "copydesk spaces my-book --json",
)


def add_arguments(parser: ArgumentParser) -> None:
    """The book, how the spaces are put together, and ``--json``."""
    add_book(parser)
    ways = "put together by sheet (leaving: first those that may leave now), by stage or by material"
    parser.add_argument("--by", choices=ARRANGEMENTS, default="sheet", help=ways)
    parser.add_argument("--waiting", action="store_true", help="only those still to be filled")
    parser.add_argument(
        "--tally", action="store_true", help="small initials, headings and marks in colour, for each gathering"
    )


def run(arguments: Namespace) -> ExitCode:
    """Give the spaces, or the tally."""
    job = open_book(arguments)
    state = job.state
    if arguments.tally:
        _give_tally(state, as_json=arguments.json)
        return ExitCode.DONE
    reports = space_reports(state, job.clock())
    if arguments.waiting:
        reports = [report for report in reports if report.waiting]
    groups = arranged(state, reports, arguments.by)
    if arguments.json:
        give_json(SPACES.all_data(_in_order(groups)))
        return ExitCode.DONE
    _say_groups(groups, state.book, with_sheet=arguments.by != "sheet")
    if reports:
        say("", progress_words(progress(state, reports)))
    materials = (name for report in reports if report.waiting for name in report.account.plan.materials)
    say(*caution_words(cautions_for(materials)))
    return ExitCode.DONE


def _in_order(groups: list[Group]) -> list[SpaceReport]:
    """Each space once, waiting ones first, as the groups follow."""
    once: dict[str, SpaceReport] = {}
    for report in (each for group in groups for each in group.reports):
        once.setdefault(report.account.plan.id, report)
    return sorted(once.values(), key=lambda report: not report.waiting)


def _say_groups(groups: list[Group], book: Book, *, with_sheet: bool) -> None:
    if not groups:
        say("There are no spaces.")
    for group in groups:
        say("", group_line(group, book))
        table_of(SPACES if with_sheet else SPACES.without("sheet", "may_leave"), group.reports, book)


def _give_tally(state: BookState, *, as_json: bool) -> None:
    found = tally(state)
    if as_json:
        give_json(TALLY.all_data(found))
        return
    for each in found:
        where = (
            f"gathering {each.gathering} (foot of {state.book.named(each.foot)})"
            if each.foot is not None
            else "text without a page"
        )
        say(f"{where}: {tally_words(each.counts)}; {each.written} of {each.total} on pages written")
    say(f"in all: {tally_words(total_of(found))}")
