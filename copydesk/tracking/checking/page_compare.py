"""A copied page's transcription beside its exemplar: every fault with its place on the page.

The page is compared with the text as it is to be written, so that a change made on purpose is no fault, nor is a
missing letter that the artist is to paint. Positions in the results are those of the exemplar.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from dataclasses import replace
from itertools import accumulate
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.columns import Cell, Column, Report, one_of, rows_of
from copydesk.book.common.errors import NotAllowedError
from copydesk.book.structure.page import Page
from copydesk.comparing.compare import AHEAD, BACK, compare, is_flood, summary
from copydesk.comparing.faults import Comparison, WrongPlace, quoted
from copydesk.tracking.checking.text_to_write import (
    allowances,
    own_glosses,
    own_leaves,
    own_lines,
    painted_initials,
    word_of,
)
from copydesk.tracking.state.page_content import line_places, lines_of_page

if TYPE_CHECKING:
    from collections.abc import Sequence

    from copydesk.book.layout.page_frame import CastLine
    from copydesk.book.text.amended_text import Amended
    from copydesk.book.text.copy_text import CopyText
    from copydesk.book.text.exemplar import Place
    from copydesk.comparing.faults import Difference
    from copydesk.comparing.normalization import Allowances
    from copydesk.tracking.state.book_state import BookState


_AT_WORD = re.compile(r"at word (\d+)$")


class PageComparison(NamedTuple):
    """A page's transcription compared.

    ``comparison`` has the exemplar's positions, and the page's columns and lines. ``whole`` tells that it was taken
    as typed to the page's end; ``by_lines`` that places come from the lines typed, not from those cast. ``recorded``
    is the exemplar's position after the last word the page should hold.
    """

    page: Page
    typed: Transcription
    comparison: Comparison
    whole: bool
    by_lines: bool
    recorded: int

    @property
    def flood(self) -> bool:
        """Whether there are so many faults that they come of something else than slips."""
        return is_flood(self.comparison.words, len(self.comparison.faults))

    @property
    def goes_on(self) -> int:
        """Words by which the copied text goes past the end on record; they would be written twice."""
        return max(self.comparison.reached - self.recorded, 0) if self.whole else 0


def compare_page(
    state: BookState, index: int, text: str, *, whole: bool = False, allow: Allowances | None = None
) -> PageComparison:
    """Compare a page with the exemplar.

    Args:
        state: the book.
        index: the page's place in reading order.
        text: the transcription; where its lines are the page's lines, they say where a fault stands.
        whole: the page is typed to its end; it counts as such too where all its written lines are typed.
        allow: the differences allowed; the workshop's where None.

    Raises:
        CopydeskError: where the exemplar is not typed, or no text comes on the page.
    """
    bed = _Bed(state, index)
    typed = read_transcription(text)
    record = state.record(state.skin_at(index))
    places = places_by_line(typed, bed.lines, state.copy, written_places(state, index))
    whole = whole or (record.whole and bool(places) and typed.lines == record.written)
    found = compare(
        typed.words,
        bed.words,
        bed.start,
        allow=allow or allowances(state.book),
        places=places,
        exemplar_lines=bed.own_lines,
        exemplar_leaves=bed.own_leaves,
        glosses=bed.own_glosses,
        line_letters=state.book.exemplar.letters_per_line or 0.0,
        whole=whole,
        end=bed.end,
    )
    recorded = bed.amended.exemplar(bed.end)
    return PageComparison(Page.at(index), typed, bed.told(found), whole, bool(places), recorded)


class _Bed:
    """What a page is compared with: the words as written, where the page lies in them, and the way back."""

    def __init__(self, state: BookState, index: int) -> None:
        copy, budget = state.copy, state.budget.pages[index]
        if state.exemplar is None or copy.written is None:
            raise NotAllowedError(
                "the exemplar of this book is not typed, so nothing can be compared; read it line by line"
            )
        if budget.start >= budget.end:
            raise NotAllowedError(f"no text comes on {state.book.named(Page.at(index))}; name the page that was copied")
        self.state = state
        self.copy: CopyText = copy
        self.amended: Amended = copy.written
        self.lines: list[CastLine] = lines_of_page(state, index)
        self.start, self.end = word_of(copy, budget.start), word_of(copy, budget.end)
        self.words = self._words(budget.start, budget.end)
        self.initials = painted_initials(state, index)
        reach = max(self.start - BACK, 0), min(self.end + AHEAD, len(self.words))
        self.own_lines, self.own_leaves = own_lines(state, *reach), own_leaves(state, *reach)
        self.own_glosses = own_glosses(state, *reach)

    def _words(self, start: int, end: int) -> Sequence[str]:
        """All words as written; a word broken at the page's beginning or end by the part that stands on the page."""
        copy, words = self.copy, self.amended.words
        if copy.first_piece is None or not (start in copy.inner or end in copy.inner):
            return words
        words = list(words)
        if start in copy.inner:
            words[self.start] = copy.line_text(start, copy.first_piece[self.start + 1])
        if end in copy.inner:
            words[self.end] = copy.line_text(copy.first_piece[self.end], end)
            self.end += 1
        return words

    def told(self, found: Comparison) -> Comparison:
        """The comparison with the exemplar's positions, and every fault in its place."""
        faults = tuple(self._fault(fault) for fault in found.faults if not self._is_painted(fault))
        if len(faults) < len(found.faults):
            found = replace(found, sentence=summary(found.words, len(faults)))
        found = replace(found, faults=faults)
        if found.wrong_place is not None:
            place = self._wrong_place(found.wrong_place.word)
            found = replace(found, wrong_place=place, sentence=place.sentence)
        back = self.amended.exemplar
        return replace(found, began=back(found.began), reached=back(found.reached))

    def _fault(self, fault: Difference) -> Difference:
        column, line = fault.column, fault.line
        if not line:
            column, line = self._cast_place(fault.word - (not fault.stands))
        sentence = _AT_WORD.sub(lambda number: f"at word {self.amended.exemplar(int(number[1]))}", fault.sentence)
        return replace(fault, column=column, line=line, word=self.amended.exemplar(fault.word), sentence=sentence)

    def _is_painted(self, fault: Difference) -> bool:
        """Whether a word stands without the letters that the artist paints before it."""
        letters = self.initials.get(fault.word, 0)
        if not letters or fault.should != self.words[fault.word]:
            return False
        should, stands = (list(filter(str.isalnum, text.casefold())) for text in (fault.should, fault.stands))
        return stands == should[letters:]

    def _cast_place(self, word: int) -> tuple[int, int]:
        """Column and line that a written word stands in as cast; the page's first or last line beyond them."""
        piece = word if self.copy.first_piece is None else self.copy.first_piece[max(word, 0)]
        at = bisect_right(self.lines, piece, key=lambda line: line.start) - 1
        found = self.lines[min(max(at, 0), len(self.lines) - 1)]
        return found.column, found.line

    def _wrong_place(self, word: int) -> WrongPlace:
        """Where the words seem to come from, as a scribe can look it up."""
        exemplar, state = self.state.exemplar, self.state
        own = self.amended.exemplar(word)
        place = exemplar.place_of(own) if exemplar else None
        where = f", exemplar {place}" if place else ""
        piece = state.copy.piece(own)
        pages = state.budget.pages
        page = next((Page.at(at) for at, each in enumerate(pages) if each.start <= piece < each.end), None)
        planned = f"; that text belongs on {state.book.named(page)}" if page else ""
        words = quoted(self.amended.words[word : word + 6])
        return WrongPlace(own, f"nearly every word differs; this reads like {words}, word {own}{where}{planned}")


class ComparedPage(NamedTuple):
    """A page compared, where the wrong text was noted in the exemplar, and the faults recorded.

    ``noted`` are the entries of those faults, None where nothing was to be recorded.
    """

    compared: PageComparison
    place: Place | None
    noted: Sequence[str] | None


def compared_page(state: BookState, compared: PageComparison, noted: Sequence[str] | None = None) -> ComparedPage:
    """The row of a page compared."""
    wrong = compared.comparison.wrong_place
    place = state.exemplar.place_of(wrong.word) if state.exemplar and wrong else None
    return ComparedPage(compared, place, noted)


def _wrong_place(of: ComparedPage) -> dict[str, object] | None:
    wrong, place = of.compared.comparison.wrong_place, of.place
    if wrong is None:
        return None
    noted = {"leaf": place.leaf, "line": place.line} if place else None
    return {"word": wrong.word, "exemplar": noted, "sentence": wrong.sentence}


ALWAYS_OFF, OFF_BY_LINE = 0.12, 0.6
"""How far the letters of typed lines may be from those of as many lines of the page: this share of them, and this
share of one line. Lines of a page differ by about a tenth; text broken at another width differs by more."""


class Transcription(NamedTuple):
    """The words as they stand; for each the number of its line from 0, blank lines left out; and how many lines."""

    words: list[str]
    line_of: list[int]
    lines: int


def read_transcription(text: str) -> Transcription:
    """The words and lines of what was typed."""
    lines = [words for line in text.splitlines() if (words := line.split())]
    numbers = [number for number, words in enumerate(lines) for _ in words]
    return Transcription([word for words in lines for word in words], numbers, len(lines))


def written_places(state: BookState, index: int) -> list[tuple[int, int]]:
    """Column and line of every line written on a page, whether or not the words are known to fall into so many."""
    return line_places(state, index)[: state.record(state.skin_at(index)).written]


def places_by_line(
    typed: Transcription, page: Sequence[CastLine], copy: CopyText, written: Sequence[tuple[int, int]] = ()
) -> list[tuple[int, int]]:
    """Column and line of each typed word, where the lines typed are those of the page; none where they are not.

    Args:
        typed: the transcription, whole or begun.
        page: the lines of the page, as written and planned.
        copy: the text as it is to be written.
        written: column and line of every line written; as many lines typed are these, however the page is cast.
    """
    if 0 < typed.lines == len(written):
        return [written[number] for number in typed.line_of]
    if not 0 < typed.lines <= len(page):
        return []
    wanted = list(accumulate(_letters(copy.text(line.start, line.end)) for line in page))[typed.lines - 1]
    off = abs(_letters(typed.words) - wanted) / max(wanted, 1)
    if off > ALWAYS_OFF + OFF_BY_LINE / typed.lines:
        return []
    return [(page[number].column, page[number].line) for number in typed.line_of]


def _letters(words: Sequence[str]) -> int:
    """Letters and word-spaces."""
    return sum(map(len, words)) + len(words)


DIFFERENCES: Report[Difference] = rows_of(
    "compare, a fault",
    "One difference between the page and the exemplar.",
    Column("kind", Cell.TEXT, "its kind, as eye-skip"),
    Column("column", Cell.NUMBER, "its column, from 1"),
    Column("line", Cell.NUMBER, "its line in the column, from 1"),
    Column("word", Cell.NUMBER, "the exemplar's word there, from 0"),
    Column("stands", Cell.TEXT, "what stands on the page"),
    Column("should", Cell.TEXT, "what should stand there"),
    Column("cause", Cell.TEXT, "what led to it"),
    Column("sentence", Cell.TEXT, "the fault in a sentence"),
)
COMPARED: Report[ComparedPage] = one_of(
    "compare",
    "A transcription of a page against the exemplar.",
    Column("page", Cell.PAGE, "the page", lambda of: str(of.compared.page)),
    Column("clean", Cell.YES_NO, "whether no fault was found", "compared.comparison.clean"),
    Column("words", Cell.NUMBER, "words compared", "compared.comparison.words"),
    Column(
        "flood",
        Cell.YES_NO,
        "whether there are so many faults that they come of something else than slips",
        "compared.flood",
    ),
    Column(
        "wrong_place", Cell.OBJECT, "where the words seem to come from if nearly all differ; else null", _wrong_place
    ),
    Column("faults", Cell.ROWS, "the faults found", "compared.comparison.faults", of=DIFFERENCES),
    Column("sentence", Cell.TEXT, "the whole in a sentence", "compared.comparison.sentence"),
    Column("whole", Cell.YES_NO, "whether the transcription reaches the page's end", "compared.whole"),
    Column("from_word", Cell.NUMBER, "the exemplar's word it begins with", "compared.comparison.began"),
    Column("to_word", Cell.NUMBER, "the word after the last it reaches", "compared.comparison.reached"),
    Column("goes_on", Cell.NUMBER, "words it goes on with beyond the page", "compared.goes_on"),
    Column(
        "recorded",
        Cell.TEXTS,
        "entries made, where that was asked",
        lambda of: list(of.noted) if of.noted is not None else None,
        optional=True,
    ),
)
