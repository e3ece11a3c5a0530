"""The guide of a page: each line still to be written with its words where this hand will write them, in millimetres.

A word stands where the widths of the text and the letters a line of the hand put it. Beside an initial or a hole it
keeps to the room that is left.
"""

from __future__ import annotations

from bisect import bisect_right
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.casting.line_breaking import line_end
from copydesk.book.columns import Cell, Column, Report, one_of, rows_of
from copydesk.book.common.errors import NotAllowedError
from copydesk.book.common.sanitize import sanitize
from copydesk.book.layout.flaws import LEAST_SHARE, TouchedLine, room_around
from copydesk.book.layout.page_frame import SplitLine
from copydesk.tracking.checking.eye_skip_watch import watch_for
from copydesk.tracking.checking.text_to_write import painted_initials, word_of
from copydesk.tracking.state.page_content import line_places, lines_of_page
from copydesk.tracking.views.page_marks import PageMarks, page_marks

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from copydesk.book.layout.page_frame import CastLine
    from copydesk.book.structure.page import Page
    from copydesk.book.text.copy_text import CopyText
    from copydesk.book.text.exemplar import Place
    from copydesk.tracking.state.book_state import BookState

    Stretch = tuple[float, float]


_HAIR = 1e-6


class GuideWord(NamedTuple):
    """A word, or the part of one that stands on the line: from where, mm from the column's left edge, and how wide.

    ``word`` is its position in the exemplar. Its first ``painted`` letters are the artist's. ``watched`` are the
    numbers, from 1, of the watch places it is one of. ``off`` is -1 or 1 where it stands on the line above its own or
    below, as the end of a long verse does.
    """

    text: str
    left: float
    width: float
    word: int
    painted: int = 0
    rubric: bool = False
    watched: tuple[int, ...] = ()
    off: int = 0


class GuideLine(NamedTuple):
    """A line: column and line from 1, its words, its room, how much of it is written already, and what is to spare.

    ``room`` holds the stretches that can be written on and ``written`` how far the line is written, in mm from the
    column's left edge. ``place`` is the exemplar's place at its first word. What is to spare is below 0 where the words
    are wider than the line.
    """

    column: int
    line: int
    words: tuple[GuideWord, ...]
    room: tuple[Stretch, ...]
    written: float
    place: Place | None
    spare_mm: float
    spare_letters: float

    @property
    def text(self) -> str:
        """What is to be written on it."""
        return " ".join(word.text for word in self.words)


class Guide(NamedTuple):
    """The guide of one page.

    ``written`` are the columns and lines already written, ``without_room`` is text of the page that no line of it
    takes, ``nothing`` says why there is nothing to write; else it is empty.
    """

    page: Page
    label: str
    hand: str
    letters: float
    lines: tuple[GuideLine, ...]
    written: tuple[tuple[int, int], ...]
    watch: tuple[str, ...]
    marks: PageMarks
    without_room: str
    nothing: str

    def changed_places(self) -> Iterator[tuple[GuideLine, str]]:
        """Each line with the exemplar's place at its first word, where that is another than on the line before."""
        before: Place | None = None
        for line in self.lines:
            yield line, str(line.place) if line.place is not None and line.place != before else ""
            before = line.place


def guide(state: BookState, page: Page) -> Guide:
    """The guide of a page.

    Raises:
        NotAllowedError: where the words of the book are not known.
    """
    index = page.index
    if state.exemplar is None:
        raise NotAllowedError(
            "a guide shows the words of each line, and this book knows the number of its words alone; "
            "name a typed text under exemplar: text in book.yaml"
        )
    record, budget = state.record(state.skin_at(index)), state.budget.pages[index]
    hand, done = state.hand_on(index), state.copy.piece(record.ends or 0) if record.stints else budget.start
    watch = watch_for(state, index)
    found = [] if record.whole else _to_write(state, index, done)
    end = found[-1].end if found else max(done, budget.start)
    watched: dict[tuple[int, int, int], list[int]] = {}
    for number, each in enumerate(watch, 1):
        for place in each.places:
            watched.setdefault(place, []).append(number)
    page_of_guide = _PageOfGuide(state, page, watched)
    marks = page_marks(state, page)
    return Guide(
        page,
        marks.label,
        hand,
        state.letters_on(index),
        tuple(page_of_guide.line(line, done) for line in found),
        tuple(line_places(state, index)[: record.written]),
        tuple(each.sentence for each in watch),
        marks,
        "" if record.whole else state.copy.line_text(end, budget.end),
        _why_nothing(state, page, whole=record.whole),
    )


def notes_of(found: Guide) -> list[str]:
    """What is to be said of the page: what to watch for, by number, and what has no room."""
    said = [f"{number}: {sentence}." for number, sentence in enumerate(found.watch, 1)]
    if found.without_room:
        said.append(f'No line has room for: "{found.without_room}".')
    return [sanitize(each) for each in said]


def _to_write(state: BookState, index: int, done: int) -> list[CastLine]:
    """The lines of a page that hold text still to be written."""
    return [line for line in lines_of_page(state, index) if line.end > max(line.start, done)]


def _why_nothing(state: BookState, page: Page, *, whole: bool) -> str:
    named, budget = state.book.named(page), state.budget.pages[page.index]
    if whole:
        return f"{named} is written; a guide shows what is still to be written"
    return f"no text comes on {named}" if budget.start >= budget.end else ""


class _PageOfGuide:
    """What all lines of a page have in common: how wide a letter is, what narrows which line, what is to be watched."""

    def __init__(self, state: BookState, page: Page, watched: Mapping[tuple[int, int, int], Sequence[int]]) -> None:
        index = page.index
        frame, budget = state.frame_of(index), state.budget.pages[index]
        self._state, self._copy = state, state.copy
        self._watched = watched
        self._measure = state.layout.measure
        self._letter = self._measure / state.letters_on(index)
        self._unit = self._letter / (self._copy.mean * self._copy.grain)
        self._indents = {
            place: each.share * self._measure
            for each in (*frame.fixed, *budget.placed)
            if each.share > 0.0
            for place in frame.lines_of(each)
        }
        shares = {(column, line): share for column, line, share in frame.flaws}
        flaws = [found.flaw for found in state.flaws.get(page.leaf, ())]
        touched = room_around(state.layout_on(index), flaws, page.side)
        self._holes = {(each.column, each.line): _kept(each, shares, self._measure) for each in touched}
        self._painted = painted_initials(state, index)

    def line(self, line: CastLine, done: int) -> GuideLine:
        """One line with the words from the piece ``done`` on."""
        copy, unit = self._copy, self._unit
        room = self._room(line)
        words: list[GuideWord] = []
        written = used = 0.0
        for (left, _), (start, end) in zip(room, _shared_out(copy, line, room, self._measure, unit), strict=False):
            if start >= end:
                continue
            words += [self._word(line, left, start, each) for each in copy.word_pieces(max(start, done), end)]
            written = left + (copy.sums[min(done, end)] - copy.sums[start]) * unit if done > start else written
            used += _width(copy, start, end) * unit
        wide = sum(right - left for left, right in room)
        spare = wide - used
        if spare < -_HAIR and copy.shaped:
            run = copy.run_of(line.start)
            if run.shape is not None and run.shape.whole:
                words = [_closer(word, room[0][0], wide / used) for word in words]
            else:
                words, spare = self._turned(words, room[0])
        exemplar = self._state.exemplar
        place = exemplar.place_of(copy.word(max(line.start, done))) if exemplar is not None else None
        return GuideLine(line.column, line.line, tuple(words), room, written, place, spare, spare / self._letter)

    def _turned(self, words: Sequence[GuideWord], room: Stretch) -> tuple[list[GuideWord], float]:
        """A verse whose end goes into the line above it or below it, at that one's end; what its own has to spare."""
        off = -1 if self._copy.flow.long_verses == "line above" else 1
        kept = [word for word in words if word.left + word.width <= room[1] + _HAIR]
        shift = self._measure - words[-1].left - words[-1].width
        over = [word._replace(left=word.left + shift, off=off) for word in words[len(kept) :]]
        return [*kept, *over], room[1] - max((word.left + word.width for word in kept), default=room[0])

    def _room(self, line: CastLine) -> tuple[Stretch, ...]:
        """The stretches of a line that can be written on; of an initial and a hole, what leaves less room counts."""
        indent = ((self._indents.get((line.column, line.line), 0.0), self._measure),)
        holes = self._holes.get((line.column, line.line))
        (left, right), *more = holes if holes and _longest(holes) < _longest(indent) else indent
        return ((left + self._copy.indent_of(line.start) * self._unit, right), *more)

    def _word(self, line: CastLine, left: float, start: int, pieces: tuple[int, int]) -> GuideWord:
        copy, (first, last) = self._copy, pieces
        index, word = word_of(copy, first), copy.word(first)
        return GuideWord(
            copy.line_text(first, last),
            left + (copy.sums[first] - copy.sums[start]) * self._unit,
            _width(copy, first, last) * self._unit,
            word,
            0 if first in copy.inner else self._painted.get(index, 0),
            self._is_rubric(index),
            tuple(self._watched.get((line.column, line.line, word), ())),
        )

    def _is_rubric(self, index: int) -> bool:
        blocks = self._copy.written.blocks if self._copy.written is not None else ()
        at = bisect_right(blocks, index, key=lambda block: block.start) - 1
        return at >= 0 and blocks[at].kind == "rubric"


def _closer(word: GuideWord, left: float, share: float) -> GuideWord:
    """A word of a line that must hold what the exemplar's line does, written so much closer."""
    return word._replace(left=left + (word.left - left) * share, width=word.width * share)


def _width(copy: CopyText, start: int, end: int) -> float:
    """The width of some pieces at a line's end, in the units of the text."""
    return copy.sums[end] - copy.sums[start] + (copy.hyphen if end in copy.inner else -copy.space)


def _longest(stretches: Sequence[Stretch]) -> float:
    return max((right - left for left, right in stretches), default=0.0)


def _kept(line: TouchedLine, shares: Mapping[tuple[int, int], float], measure: float) -> tuple[Stretch, ...]:
    """The stretches beside holes that the plan has text on."""
    if isinstance(shares.get((line.column, line.line)), SplitLine):
        return tuple(each for each in line.stretches if (each[1] - each[0]) / measure >= LEAST_SHARE)
    return (line.largest,)


def _shared_out(
    copy: CopyText, line: CastLine, room: Sequence[Stretch], measure: float, unit: float
) -> list[tuple[int, int]]:
    """Which pieces of a line stand on which of its stretches: on all in turn, or all on the largest."""
    if len(room) == 1:
        return [(line.start, line.end)]
    found, piece = [], line.start
    for left, right in room:
        end = line_end(copy, piece, (right - left) / unit, line.end, measure / unit)
        found.append((piece, end))
        piece = end
    if piece == line.end:
        return found
    largest = max(range(len(room)), key=lambda at: room[at][1] - room[at][0])
    return [(line.start, line.end) if at == largest else (line.start, line.start) for at in range(len(room))]


_HUNDREDTHS = 2

GUIDE_LINES: Report[GuideLine] = rows_of(
    "guide lines",
    "Each line of the page still to be written. Lengths are mm.",
    Column("column", Cell.NUMBER, "the column, from 1", heading="column"),
    Column("line", Cell.NUMBER, "the line in its column, from 1", heading="line"),
    Column(
        "place",
        Cell.TEXT,
        "the exemplar's leaf and line at its first word; null where none is noted",
        lambda line: str(line.place) if line.place is not None else None,
        "exemplar",
    ),
    Column("words", Cell.TEXT, "what is to be written on it", "text", "words"),
    Column("written", Cell.NUMBER, "how far the line is written already", lambda line: _mm(line.written)),
    Column("room", Cell.NUMBER, "the room for writing", lambda line: _mm(sum(b - a for a, b in line.room))),
    Column("spare_mm", Cell.NUMBER, "what is left of it, below 0 where the words are wider", lambda e: _mm(e.spare_mm)),
    Column(
        "spare_letters",
        Cell.NUMBER,
        "the same in letters of this hand",
        lambda line: round(line.spare_letters, 1),
        "letters to spare",
    ),
    last=("words",),
)


def _mm(length: float) -> float:
    return round(length, _HUNDREDTHS)


GUIDE: Report[Guide] = one_of(
    "pages --guide",
    "What is still to be written on one page, line by line.",
    Column("page", Cell.PAGE, "the page", lambda each: str(each.page)),
    Column("hand", Cell.TEXT, "the hand that goes on there"),
    Column("letters_per_line", Cell.NUMBER, "letters it writes to a full line", lambda each: _mm(each.letters)),
    Column("guide", Cell.ROWS, "its lines still to be written", "lines", of=GUIDE_LINES),
    Column("lines_written", Cell.NUMBER, "lines written already", lambda each: len(each.written)),
    Column("watch", Cell.TEXTS, "places where the eye may leap", lambda each: list(each.watch)),
    Column("signature", Cell.TEXT, "its signature; null for none", lambda each: each.marks.signature or None),
    Column("catchword", Cell.TEXT, "its catchword; null for none", lambda each: each.marks.catchword or None),
    Column("without_room", Cell.TEXT, "text that has no line; null for none", lambda each: each.without_room or None),
)
