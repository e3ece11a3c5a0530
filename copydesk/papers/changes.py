"""The record of changes made on purpose: every departure from the exemplar, for the book's own papers."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from copydesk.book.common.phrases import say_day
from copydesk.papers.paper_forms import written
from copydesk.tracking.views.change_report import change_accounts

if TYPE_CHECKING:
    from copydesk.book.plan import Book
    from copydesk.papers.paper_forms import PaperRequest, Writer
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.change_report import ChangeAccount


_COLUMNS = ("Page", "Exemplar", "The exemplar has", "Written is", "Why", "Decided by")
_SHARES = (1.0, 1.8, 3.1, 2.8, 2.7, 2.5)


def printed(order: PaperRequest) -> bytes:
    """Make the list as PDF or as plain text.

    Raises:
        UnknownNameError: where we print on no such paper.
    """
    state = order.job.state
    return written(order, f"{state.book.title}: changes made on purpose", lambda paper: _write(paper, state))


def _write(paper: Writer, state: BookState) -> None:
    if rows := [_row(each, state.book) for each in change_accounts(state)]:
        paper.table(_COLUMNS, rows, _SHARES)
    else:
        paper.paragraph("The text is copied as the exemplar has it; nothing is changed on purpose.")


def _row(account: ChangeAccount, book: Book) -> tuple[str, ...]:
    change = account.change
    page = book.named(account.page) if account.page is not None else ""
    place = account.place or f"word {change.from_word}"
    stands = account.stands or f"(after: {account.before})"
    day = say_day(date.fromisoformat(account.at[:10])) if account.at else ""
    decided = ", ".join(part for part in (change.who, day) if part)
    return (page, place, stands, change.write or "(left out)", change.why, decided)
