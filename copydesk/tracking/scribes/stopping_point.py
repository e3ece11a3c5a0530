"""Where the pen stopped, to the word, and where it goes on."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.sanitize import sanitize
from copydesk.book.structure.page import Page
from copydesk.tracking.checking.text_to_write import word_of
from copydesk.tracking.state.page_content import line_places, lines_of_page
from copydesk.tracking.views.page_lookup import expect_page

if TYPE_CHECKING:
    from copydesk.book.plan import Book
    from copydesk.tracking.ledger.page_record import PageRecord
    from copydesk.tracking.state.book_state import BookState


class LinePlace(NamedTuple):
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

    stop: LinePlace
    within: bool
    goes_on: LinePlace | None
    piece: int
    also: tuple[Page, ...]

    @property
    def ahead(self) -> int:
        """The index of the page that is written on next; of the page stopped on where none is."""
        return (self.goes_on or self.stop).page.index


def stopping_point(state: BookState, page: Page | None = None) -> StoppingPoint:
    """Where the pen stopped on ``page``; where none is named, on the page it left unfinished last.

    Where every page begun is whole, that is the page written last; in a book not begun it is the first.

    Raises:
        UnknownNameError: where the book has no such page.
    """
    if page is not None:
        expect_page(state, page)
    written = [(index, record) for index in range(state.collation.pages) if (record := _record(state, index)).stints]
    begun = [(index, record) for index, record in written if not record.whole]
    at = page.index if page is not None else _newest(state, begun or written)
    record = _record(state, at)
    goes_on = _goes_on(state, at)
    ahead = goes_on.page.index if goes_on is not None else at
    return StoppingPoint(
        stop=spot(state, at, record.stints[-1].to_line if record.stints else 0),
        within=record.within is not None,
        goes_on=goes_on,
        piece=piece_after(state, ahead),
        also=tuple(Page.at(index) for index, _ in begun if index not in (at, ahead)),
    )


def spot(state: BookState, index: int, text_line: int) -> LinePlace:
    """A text line of a page as it is found on the skin; one past the last is taken for the last."""
    places = line_places(state, index)
    if text_line < 1 or not places:
        return LinePlace(Page.at(index), 1, 0, 0)
    column, line = places[min(text_line, len(places)) - 1]
    return LinePlace(Page.at(index), column, line, text_line)


def piece_after(state: BookState, index: int) -> int:
    """The piece that follows what is written on a page; where nothing is, the one it begins with."""
    record = _record(state, index)
    if record.stints and record.ends is not None:
        return state.copy.piece(record.ends)
    return state.budget.pages[index].start


def words_before(state: BookState, piece: int, count: int) -> str:
    """The last ``count`` words before a piece, as written; none where the exemplar is not typed."""
    copy = state.copy
    end = word_of(copy, piece)
    return sanitize(" ".join(copy.written.words[max(end - count, 0) : end])) if copy.written is not None else ""


def words_from(state: BookState, piece: int, count: int) -> str:
    """The ``count`` words from a piece on, as they are to be written; none where the exemplar is not typed."""
    copy = state.copy
    start = word_of(copy, piece)
    return sanitize(" ".join(copy.written.words[start : start + count])) if copy.written is not None else ""


LONGEST_SENTENCE = 90
"""Words after which a sentence is not followed to its end."""

_CLOSING = "\"'’”»)]"


def ends_sentence(word: str) -> bool:
    """Whether a word is the last of a sentence, by the mark after it."""
    return word.rstrip(_CLOSING)[-1:] in (".", "?", "!")


def sentences_from(state: BookState, piece: int, count: int) -> str:
    """About ``count`` words from a piece on up to the end of a sentence, by which the place is found in any exemplar.

    Where no sentence ends within ``LONGEST_SENTENCE`` words, just so many; none where the exemplar is not typed.
    """
    words = words_from(state, piece, LONGEST_SENTENCE).split()
    ends = [at for at, word in enumerate(words, 1) if ends_sentence(word) and 2 * at >= count]
    near = [at for at in ends if at <= count]
    return " ".join(words[: near[-1] if near else ends[0] if ends else count])


def _record(state: BookState, index: int) -> PageRecord:
    return state.record(state.skin_at(index))


def _newest(state: BookState, pages: list[tuple[int, PageRecord]]) -> int:
    """The page written on last, by the order of entries."""

    def tick(page: tuple[int, PageRecord]) -> int:
        entry = state.ledger.find(page[1].stints[-1].entry)
        return entry.tick if entry is not None else 0

    return max(pages, key=tick)[0] if pages else 0


def _goes_on(state: BookState, index: int) -> LinePlace | None:
    """Where the next word goes: on this page, or on the next that is still to be written."""
    for each in range(index, state.collation.pages):
        record, budget = _record(state, each), state.budget.pages[each]
        if not record.whole and piece_after(state, each) < budget.end:
            return spot(state, each, record.written + 1)
    return None


class RunLine(NamedTuple):
    """A line of a page: where it stands, the words written in it, those still to come. Breaks are the likeliest."""

    page: Page
    column: int
    line: int
    written: str
    to_come: str

    def __str__(self) -> str:
        """The line with a stroke where the pen stopped within it."""
        return " | ".join(part for part in (self.written, self.to_come) if part)


def lines_ran(state: BookState, index: int, most: int = 8) -> tuple[RunLine, ...]:
    """The last full lines written on a page."""
    return tuple(line for line in _run(state, index) if not line.to_come)[-most:]


def lines_to_run(state: BookState, index: int, most: int = 6) -> tuple[RunLine, ...]:
    """The next lines of a page; the first of them may be written in part."""
    return tuple(line for line in _run(state, index) if line.to_come)[:most]


def _run(state: BookState, index: int) -> list[RunLine]:
    """Every line of a page, parted where the pen is; none where nobody typed the text."""
    if state.exemplar is None:
        return []
    record, copy = state.record(state.skin_at(index)), state.copy
    pen = piece_after(state, index) if record.stints else -1
    found: list[RunLine] = []
    for column, line, start, end in lines_of_page(state, index):
        stop = min(max(pen, start), end)
        written, to_come = sanitize(copy.line_text(start, stop)), sanitize(copy.line_text(stop, end))
        found.append(RunLine(Page.at(index), column, line, written, to_come))
    return found
