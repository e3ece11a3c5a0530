"""The record of changes made on purpose: every departure from the exemplar, for the book's own papers."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.papers.drawing.flowing_text import FlowingPaper
from copydesk.tracking.views.change_report import change_accounts

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from copydesk.book.plan import Book
    from copydesk.papers.catalogue import PaperRequest
    from copydesk.tracking.views.change_report import ChangeAccount


_NONE = "The text is copied as the exemplar has it; nothing is changed on purpose."
_COLUMNS = ("Page", "Exemplar", "The exemplar has", "Written is", "Why", "Decided by")
_SHARES = (1.0, 1.8, 3.3, 2.9, 2.9, 1.9)


def printed(order: PaperRequest) -> bytes:
    """Make the list as PDF or as plain text.

    Raises:
        UnknownNameError: where we print on no such paper.
    """
    state = order.job.state
    book, found = state.book, change_accounts(state)
    title = f"{book.title}: changes made on purpose"
    day = order.job.clock().date().isoformat()
    if order.form == "text":
        return "\n".join(_text(found, book, f"{title}, {day}")).encode()
    paper = FlowingPaper(title, order.paper, note=day)
    if found:
        paper.table(_COLUMNS, [_row(each, book) for each in found], _SHARES)
    else:
        paper.paragraph(_NONE)
    return paper.finish()


def _row(account: ChangeAccount, book: Book) -> tuple[str, ...]:
    change = account.change
    stands = account.stands or f"(after: {account.before})"
    page = book.named(account.page) if account.page is not None else ""
    return (page, _place(account), stands, change.write or "(left out)", change.why, _decided(account))


def _place(account: ChangeAccount) -> str:
    return account.place or f"word {account.change.from_word}"


def _decided(account: ChangeAccount) -> str:
    """Who decided it, and on which day where it was recorded."""
    return " ".join(part for part in (account.change.who, account.at[:10]) if part)


def _text(found: Sequence[ChangeAccount], book: Book, title: str) -> Iterator[str]:
    yield title
    if not found:
        yield from ("", _NONE)
    for each in found:
        page = f"{book.named(each.page)}, " if each.page is not None else ""
        yield from ("", f"{page}exemplar {_place(each)}: {each.sentence()}")
        yield f"  why: {each.change.why or 'not said'}"
        if _decided(each):
            yield f"  decided by {_decided(each)}"
    yield ""
