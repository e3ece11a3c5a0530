"""``copydesk pages BOOK``: one row a page."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.open_book import add_book, open_book
from copydesk.cli.output import give_json, say, table
from copydesk.tracking.fit.stretches import need_at
from copydesk.tracking.views.page_report import page_as_data, page_reports
from copydesk.tracking.views.sheet_view import instead_in_short

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace

    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.page_view import PageAccount


SAYS = "One row a page in reading order: what comes next, lines against the budget, text, hands, sheet and side."
EXAMPLES = ("copydesk pages my-book", "copydesk pages my-book --json")

_HEADS = (
    *("page", "next", "state", "written", "budget", "over", "sheet", "side", "surface", "beside", "hands"),
    *("begins", "ends"),
)


def add_arguments(parser: ArgumentParser) -> None:
    """The book and ``--json``."""
    add_book(parser)


def run(arguments: Namespace) -> ExitCode:
    """Give the pages, and where text was skipped between two of them or stands on both."""
    state = open_book(arguments).state
    reports = page_reports(state)
    if arguments.json:
        give_json([page_as_data(report, need_at(state, report.page.index)) for report in reports])
        return ExitCode.DONE
    from copydesk.desk.wording.stretch_words import meeting_words

    table(_HEADS, (_row(state, report) for report in reports))
    say(*(f"{words}." for report in reports if (words := meeting_words(state, report))))
    return ExitCode.DONE


def _row(state: BookState, report: PageAccount) -> tuple[object, ...]:
    place = report.place
    if place.conjugate:
        beside = state.book.named(place.conjugate)
    else:
        beside = instead_in_short(state.collation.gathering(place.gathering), place.sheet)
    return (
        report.label,
        report.next_act,
        report.record.state,
        f"{report.record.written}/{report.budget.planned}",
        report.budget.room,
        report.over if report.over > 0 else "",
        f"{place.gathering}.{place.sheet}",
        place.side,
        place.surface,
        beside,
        "".join(dict.fromkeys(stint.hand for stint in report.record.stints)),
        report.first_words,
        report.last_words,
    )
