"""``copydesk pages BOOK``: one row a page."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.cli.book_argument import add_book, open_book
from copydesk.cli.exits import ExitCode
from copydesk.cli.output import give_json, table
from copydesk.ledger.page_report import page_as_data, page_reports
from copydesk.ledger.stretches import need_at

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace

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
    """Give the pages."""
    job = open_book(arguments)
    reports = page_reports(job.standing)
    if arguments.json:
        give_json([page_as_data(report, need_at(job.standing, report.page.index)) for report in reports])
        return ExitCode.DONE
    table(
        _HEADS,
        (
            (
                report.label,
                report.next_act,
                report.record.state,
                f"{report.record.written}/{report.budget.planned}",
                report.budget.room,
                report.over if report.over > 0 else "",
                f"{report.place.gathering}.{report.place.sheet}",
                report.place.side,
                report.place.surface,
                job.book.named(report.place.conjugate) if report.place.conjugate else "stub",
                "".join(dict.fromkeys(stint.hand for stint in report.record.stints)),
                report.first_words,
                report.last_words,
            )
            for report in reports
        ),
    )
    return ExitCode.DONE
