"""The lines of a page as they are read against the exemplar: words, places, faults, what to look at twice. Pure."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.sanitize import sanitize
from copydesk.book.structure.page import Page
from copydesk.tracking.checking.eye_skip_watch import watch_written
from copydesk.tracking.checking.line_texts import line_texts
from copydesk.tracking.checking.never_scraped import WrittenPlace, unscraped_at
from copydesk.tracking.checking.open_faults import fault_words
from copydesk.tracking.checking.page_compare import places_by_line, read_transcription, written_places
from copydesk.tracking.checking.text_to_write import word_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from copydesk.book.layout.page_frame import CastLine
    from copydesk.tracking.checking.line_texts import LineText
    from copydesk.tracking.ledger.page_record import Fault
    from copydesk.tracking.state.book_state import BookState


Spot = tuple[int, int]
"""Column and line."""


class CheckLine(NamedTuple):
    """One line of the page.

    ``number`` counts text lines of the page from 1; ``words`` are those that should stand there, ``first`` the
    exemplar's position of the first; ``typed`` is the line as it was transcribed, where it was; ``place`` the
    exemplar's own place that begins in it, with a gloss beside it; ``watch`` what recurs there and
    is worth a second look. ``indent`` are letters it is indented by, ``verse`` says what is special of a line of verse;
    ``never`` why no knife may touch it.
    """

    number: int
    column: int
    line: int
    words: tuple[str, ...]
    positions: tuple[int, ...]
    typed: str
    place: str
    faults: tuple[Fault, ...]
    watch: str
    indent: int = 0
    verse: str = ""
    never: tuple[str, ...] = ()

    @property
    def beside(self) -> tuple[str, str]:
        """What stands beside the line, and its tone: open faults, else what was typed of it."""
        return ("; ".join(self._open_faults()), "wrong") if self._open_faults() else (self.typed, "ink")

    def note(self) -> str:
        """What there is to say of the line: open faults, what recurs, where the exemplar's own place begins."""
        return "; ".join(filter(None, (*self._open_faults(), *self.never, self.verse, self.watch, self.place)))

    def _open_faults(self) -> list[str]:
        return [_short(fault) for fault in self.faults if not fault.remedy]


class ExemplarRow(NamedTuple):
    """A row of the exemplar as it is shown: the place noted at its beginning, its first word, its words."""

    place: str
    first: int
    words: tuple[str, ...]


def exemplar_rows(state: BookState, lines: Sequence[CheckLine], width: int) -> list[ExemplarRow]:
    """The exemplar beside these lines of a page, in its own lines as far as they are noted, ``width`` cells wide.

    A row begins at every place noted in the exemplar, at every paragraph, and in verse at every line; what is longer
    than a row goes on in the next.
    """
    exemplar = state.exemplar
    positions = [position for line in lines for position in line.positions]
    if exemplar is None or not positions:
        return []
    first, last = min(positions), max(positions)
    noted = {place.word: str(place) for place in exemplar.places}
    begins = sorted({*noted, *(block.start for block in exemplar.blocks)})
    begin = max((word for word in begins if word <= first), default=first)
    cuts = [begin, *(word for word in begins if begin < word <= last), last + 1]
    rows: list[ExemplarRow] = []
    for start, end in pairwise(cuts):
        rows += _wrapped(noted.get(start, ""), start, [sanitize(word) for word in exemplar.words[start:end]], width)
    return rows


def _wrapped(place: str, first: int, words: Sequence[str], width: int) -> Iterator[ExemplarRow]:
    row: list[str] = []
    for at, word in enumerate(words):
        if row and sum(map(len, row)) + len(row) + len(word) > width:
            yield ExemplarRow(place, first + at - len(row), tuple(row))
            place, row = "", []
        row.append(word)
    yield ExemplarRow(place, first + len(words) - len(row), tuple(row))


def _short(fault: Fault) -> str:
    return fault_words(fault._replace(column=None, line=None))


def check_lines(state: BookState, index: int) -> list[CheckLine]:
    """The written lines of the page at ``index``."""
    record = state.record(state.skin_at(index))
    texts = line_texts(state, index)[: record.written]
    lines = [text.line for text in texts]
    typed = _typed(state, lines, record.transcription, written_places(state, index))
    watched = _watched(state, index)
    found = (
        _line(state, number, text, typed, watched, _faults_on(record.faults, text.line))
        for number, text in enumerate(texts, start=1)
    )
    return [each._replace(never=_never(state, Page.at(index), each)) for each in found]


def _never(state: BookState, page: Page, line: CheckLine) -> tuple[str, ...]:
    """Why no knife may touch a line."""
    words = range(line.positions[0], line.positions[-1] + 1) if line.positions else range(0)
    return tuple(map(sanitize, unscraped_at(state, WrittenPlace(page, line.column, line.line, words))))


def _line(
    state: BookState,
    number: int,
    text: LineText,
    typed: Mapping[Spot, str],
    watched: Mapping[Spot, str],
    faults: tuple[Fault, ...],
) -> CheckLine:
    line = text.line
    copy, spot = state.copy, (line.column, line.line)
    words = tuple(sanitize(copy.line_text(line.start, line.end)).split())
    first = word_of(copy, line.start)
    back = copy.written.exemplar if copy.written is not None else int
    positions = tuple(back(first + at) for at in range(len(words)))
    place = _place_in(state, positions)
    said, watch, verse = typed.get(spot, ""), watched.get(spot, ""), _verse_words(state, text)
    return CheckLine(number, *spot, words, positions, said, place, faults, watch, text.indent, verse)


def _verse_words(state: BookState, text: LineText) -> str:
    """What is so about a line of verse: it is left blank, or it holds or lacks words of the verse beside it."""
    where = state.copy.flow.long_verses.removeprefix("line ")
    if text.line.start == text.line.end and state.copy.blank_before(text.line.start):
        return "left blank before a stanza"
    whole = state.copy.line_text(text.line.start, text.line.end)
    over = whole[len(text.words) :].strip()
    found = [f'"{sanitize(over)}" stands in the line {where}'] if over else []
    if text.turned:
        found.append(f'at its end, of the line {"below" if where == "above" else "above"}, "{sanitize(text.turned)}"')
    return "; ".join(found)


def _place_in(state: BookState, positions: tuple[int, ...]) -> str:
    """The exemplar's own place that begins in a line, if one does, and what stands in its margin beside it."""
    exemplar = state.exemplar
    if exemplar is None or not positions:
        return ""
    place = exemplar.place_of(positions[-1])
    begun = [f"exemplar {place}"] if place is not None and place.word >= positions[0] else []
    beside = (gloss.text for gloss in exemplar.glosses if positions[0] <= gloss.word <= positions[-1])
    return "; ".join((*begun, *(f'in its margin "{sanitize(text)}"' for text in beside)))


def _faults_on(faults: tuple[Fault, ...], line: CastLine) -> tuple[Fault, ...]:
    return tuple(fault for fault in faults if fault.line == line.line and (fault.column or 1) == line.column)


def _typed(state: BookState, lines: list[CastLine], text: str | None, written: list[Spot]) -> dict[Spot, str]:
    """What was transcribed of each line, where the transcription has the page's lines."""
    if text is None or state.exemplar is None:
        return {}
    typed = read_transcription(text)
    found: dict[Spot, list[str]] = {}
    for spot, word in zip(places_by_line(typed, lines, state.copy, written), typed.words, strict=False):
        found.setdefault(spot, []).append(sanitize(word))
    return {spot: " ".join(words) for spot, words in found.items()}


def _watched(state: BookState, index: int) -> dict[Spot, str]:
    """The words that recur about each line, by the line the eye may leap from."""
    found: dict[Spot, str] = {}
    for each in watch_written(state, index):
        (column, line, _), _ = each.places
        found.setdefault((column, line), sanitize(each.sentence))
    return found
