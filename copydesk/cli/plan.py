"""``copydesk plan BOOK``: what the plan comes to."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.units import show_length
from copydesk.cli.book_argument import add_book, open_book
from copydesk.cli.exits import ExitCode
from copydesk.cli.output import give_json, say
from copydesk.ledger.plan_report import plan_as_data, plan_report

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace
    from collections.abc import Iterator

    from copydesk.ledger.standing import Standing

SAYS = "Lines, pages, gatherings, sheets and skins; what is left over or has no room; the page's measures."
EXAMPLES = ("copydesk plan my-book", "copydesk plan my-book --json")


def add_arguments(parser: ArgumentParser) -> None:
    """The book and ``--json``."""
    add_book(parser)


def run(arguments: Namespace) -> ExitCode:
    """Give the figures."""
    standing = open_book(arguments).standing
    if arguments.json:
        give_json(plan_as_data(standing))
    else:
        say(*_told(standing))
    return ExitCode.DONE


def _told(standing: Standing) -> Iterator[str]:
    report, layout = plan_report(standing), standing.layout
    yield report.title
    yield f"Text      {report.words} words, {report.letters} letters and word-spaces, {report.lines} lines"
    yield f"Pages     {report.pages_needed} needed of {report.pages}, on {report.leaves} leaves"
    yield f"Sheets    {report.sheets} in {report.gatherings} gatherings: {report.formula}"
    if report.skins:
        yield f"Skins     {report.skins} to order, {report.sheets_per_skin} sheets from each, spoilage allowed for"
    elif standing.book.skins is not None:
        yield "Skins     one skin is smaller than a sheet; choose larger skins or a smaller page"
    if report.lines_without_room:
        yield f"No room   for the last {report.lines_without_room} lines; add a gathering or write closer"
    else:
        yield f"Left over {report.lines_left_over} lines"
    if report.homeless:
        yield f"No place  for the spaces {', '.join(report.homeless)}"
    unit = standing.book.unit
    yield (
        f"Page      written space {show_length(layout.written_width, unit)} by "
        f"{show_length(layout.written_height, unit)}, {layout.columns} columns of {layout.lines} lines, "
        f"a line {show_length(layout.line_height, unit)} high and {show_length(layout.measure, unit)} long"
    )
