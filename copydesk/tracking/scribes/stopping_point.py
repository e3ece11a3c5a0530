"""Where the pen stopped, to the word, and where it goes on."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.sanitize import plain
from copydesk.book.structure.page import Page
from copydesk.tracking.checking.text_to_write import word_of
from copydesk.tracking.state.page_lines import line_places
from copydesk.tracking.views.page_lookup import expect_page

if TYPE_CHECKING:
    from copydesk.book.plan import Book
    from copydesk.tracking.ledger.page_record import PageRecord
    from copydesk.tracking.state.book_state import Standing


class Spot(NamedTuple):
    """A line of a page: column, line in it, and the same line counted through the text lines of all columns, from 1.

    Line 0 is before the first: nothing is written on the page.
    """

    page: Page
    column: int
    line: int
    text_line: int

    def named(self, book: Book) -> str:
        """``20r, column 2, line 15``, the page called as the book counts."""
        return f"{book.named(self.page)}, column {self.column}, line {self.line}"


class StoppingPoint(NamedTuple):
    """``stop`` is the last line the pen wrote in, ``within`` whether it stopped inside it.

    ``goes_on`` is the line the next word goes in, None where nothing is left to write; ``piece`` is what is written
    next. ``also`` names other pages that are begun and not whole.
    """

    stop: Spot
    within: bool
    goes_on: Spot | None
    piece: int
    also: tuple[Page, ...]

    @property
    def ahead(self) -> int:
        """The index of the page that is written on next; of the page stopped on where none is."""
        return (self.goes_on or self.stop).page.index


def stopping_point(standing: Standing, page: Page | None = None) -> StoppingPoint:
    """Where the pen stopped on ``page``; where none is named, on the page it left unfinished last.

    Where every page begun is whole, that is the page written last; in a book not begun it is the first.

    Raises:
        Refused: where the book has no such page.
    """
    if page is not None:
        expect_page(standing, page)
    written = [
        (index, record) for index in range(standing.collation.pages) if (record := _record(standing, index)).stints
    ]
    begun = [(index, record) for index, record in written if not record.whole]
    at = page.index if page is not None else _newest(standing, begun or written)
    record = _record(standing, at)
    goes_on = _goes_on(standing, at)
    ahead = goes_on.page.index if goes_on is not None else at
    return StoppingPoint(
        stop=spot(standing, at, record.stints[-1].to_line if record.stints else 0),
        within=record.within is not None,
        goes_on=goes_on,
        piece=piece_after(standing, ahead),
        also=tuple(Page.at(index) for index, _ in begun if index not in (at, ahead)),
    )


def spot(standing: Standing, index: int, text_line: int) -> Spot:
    """A text line of a page as it is found on the skin; one past the last is taken for the last."""
    places = line_places(standing, index)
    if text_line < 1 or not places:
        return Spot(Page.at(index), 1, 0, 0)
    column, line = places[min(text_line, len(places)) - 1]
    return Spot(Page.at(index), column, line, text_line)


def piece_after(standing: Standing, index: int) -> int:
    """The piece that follows what is written on a page; where nothing is, the one it begins with."""
    record = _record(standing, index)
    if record.stints and record.ends is not None:
        return standing.copy.piece(record.ends)
    return standing.budget.pages[index].start


def words_before(standing: Standing, piece: int, count: int) -> str:
    """The last ``count`` words before a piece, as written; none where the exemplar is not typed."""
    copy = standing.copy
    end = word_of(copy, piece)
    return plain(" ".join(copy.written.words[max(end - count, 0) : end])) if copy.written is not None else ""


def words_from(standing: Standing, piece: int, count: int) -> str:
    """The ``count`` words from a piece on, as they are to be written; none where the exemplar is not typed."""
    copy = standing.copy
    start = word_of(copy, piece)
    return plain(" ".join(copy.written.words[start : start + count])) if copy.written is not None else ""


def _record(standing: Standing, index: int) -> PageRecord:
    return standing.record(standing.skin_at(index))


def _newest(standing: Standing, pages: list[tuple[int, PageRecord]]) -> int:
    """The page written on last, by the order of entries."""

    def tick(page: tuple[int, PageRecord]) -> int:
        entry = standing.ledger.find(page[1].stints[-1].entry)
        return entry.tick if entry is not None else 0

    return max(pages, key=tick)[0] if pages else 0


def _goes_on(standing: Standing, index: int) -> Spot | None:
    """Where the next word goes: on this page, or on the next that is still to be written."""
    for each in range(index, standing.collation.pages):
        record, budget = _record(standing, each), standing.budget.pages[each]
        if not record.whole and piece_after(standing, each) < budget.end:
            return spot(standing, each, record.written + 1)
    return None
