"""The reading copy: a page's words line by line as they are written, numbered, for one who reads aloud to another."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.checks import ANY, ways_in_words
from copydesk.book.common.errors import NotAllowedError
from copydesk.book.common.phrases import capital, listed
from copydesk.book.structure.page import Page
from copydesk.papers.paper_forms import BLANK, BOX, written
from copydesk.tracking.checking.line_texts import line_texts
from copydesk.tracking.checking.never_scraped import WrittenPlace, unscraped_at
from copydesk.tracking.views.page_view import page_account

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from copydesk.papers.paper_forms import PaperRequest, Writer
    from copydesk.tracking.checking.line_texts import LineText
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.page_view import PageAccount


_COLUMNS = ("Line", "Read", "What stands there", "Place", "Found")
_SHARES = (0.9, 1.1, 6.0, 1.4, 3.1)


def printed(order: PaperRequest) -> bytes:
    """Make it of the page asked for, or of every page that waits to be read, as PDF or as plain text.

    Raises:
        CopydeskError: where nothing is written on that page, no page waits, or we print on no such paper.
    """
    state = order.job.state
    pages = [order.page] if order.page is not None else list(_waiting(state))
    accounts = [page_account(state, page.index) for page in pages]
    if not accounts:
        raise NotAllowedError("no page waits to be read; name one with --page")
    if bare := next((each.label for each in accounts if not each.record.written), ""):
        raise NotAllowedError(f"nothing is written on {bare} that could be read; name a page that is written")
    title = f"Reading copy: {state.book.title}"
    return written(order, title, lambda paper: _write_all(paper, state, accounts))


def _waiting(state: BookState) -> Iterator[Page]:
    """Pages written whole that are not checked yet."""
    for index in range(state.collation.pages):
        record = state.record(state.skin_at(index))
        if record.whole and not record.checked_by:
            yield Page.at(index)


def _write_all(paper: Writer, state: BookState, accounts: Iterable[PageAccount]) -> None:
    for account in accounts:
        _write(paper, state, account)


def _write(paper: Writer, state: BookState, account: PageAccount) -> None:
    record = account.record
    paper.heading(f"{capital(account.label)}, written by {listed(list(record.hands))}")
    lines = line_texts(state, account.page.index)[: record.written]
    if unscraped := unscraped_at(state, WrittenPlace(account.page, None, None, _words(state, lines))):
        paper.paragraph("; ".join(unscraped), strong=True)
    paper.table(_COLUMNS, [_row(state, account.page, line) for line in lines], _SHARES)
    for way in record.wanted or (ANY,):
        paper.paragraph(f"{BOX} To be read {ways_in_words([way])}: page followed by {BLANK}  read aloud by {BLANK}")
    paper.paragraph(f"On {BLANK}, minutes ________")


def _words(state: BookState, lines: list[LineText]) -> range:
    copy = state.copy
    return range(copy.word(lines[0].line.start), copy.word(lines[-1].line.end)) if lines else range(0)


def _row(state: BookState, page: Page, text: LineText) -> tuple[str, ...]:
    """A line: its number, a box, its words, the exemplar's place that begins in it, and what is never to be scraped."""
    line, copy = text.line, state.copy
    first, last = copy.word(line.start), copy.word(line.end)
    place = state.exemplar.place_of(last - 1) if state.exemplar is not None and last > first else None
    begun = str(place) if place is not None and place.word >= first else ""
    never = unscraped_at(state, WrittenPlace(page, line.column, line.line, range(first, last)))
    return (f"{line.column}.{line.line}", BOX, str(text), begun, "no knife" if never else "")
