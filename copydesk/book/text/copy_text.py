"""The text laid out for casting off: its pieces one after another, with their widths, and where new lines must begin.

A *piece* is what may not be broken at a line's end: a word; a syllable or a letter where the book breaks words;
a hundredth of a letter where only counts are known. Widths are in units of a letter (see ``letters.py``).
"""

from __future__ import annotations

from array import array
from bisect import bisect_right
from itertools import accumulate, pairwise
from types import MappingProxyType
from typing import TYPE_CHECKING, NamedTuple, Protocol

from copydesk.book.common.progress import no_progress, part, with_progress
from copydesk.book.flow import Flow
from copydesk.book.text.amended_text import Amended
from copydesk.book.text.hyphenation import anywhere
from copydesk.book.text.line_runs import LineRun, runs_of

if TYPE_CHECKING:
    from collections.abc import Callable, Collection, Mapping, Sequence

    from copydesk.book.common.progress import OnProgress
    from copydesk.book.plan import Change
    from copydesk.book.text.exemplar import Exemplar


LETTERS_A_WORD = 5.7
"""Letters and the word-space of an English word on the average; used where only words or only letters are counted.

Common practice: about 4.7 letters and a space.
"""

_TURN = 100_000
"""Words laid between two reports of progress."""

_SUMMED, _DIVIDED = 0.1, 0.7
"""The shares of laying a text with broken words that are done once words are summed, and divided."""


class Widths(Protocol):
    """Natural width of each word, its word-space left out; and of the word-space."""

    space: float

    def __getitem__(self, word: str) -> float:
        """The width of ``word`` in letters."""


class WithinWords:
    """Which pieces begin within a word, a byte for each: a long text has tens of millions of them."""

    __slots__ = ("_flags",)

    def __init__(self, flags: Sequence[int] = b"") -> None:
        self._flags = flags

    def __bool__(self) -> bool:
        return bool(self._flags)

    def __contains__(self, piece: int) -> bool:
        return piece < len(self._flags) and self._flags[piece] == 1


class CopyText(NamedTuple):
    """The pieces of the text with their widths summed from the start, and its runs.

    ``sums[k]`` is the width of the first ``k`` pieces, word-spaces included; ``space`` is what a line's last
    word-space takes back; ``mean`` the mean width of a letter or word-space of this very text, so that a line
    of n letters measures ``n * mean * grain``. ``divisions`` are the exemplar's words at which the divisions begin.
    ``inner`` are the pieces that begin within a word. Those among ``forced`` begin where the book does not break words:
    a line may end there only if none holds the part of a word they are of, whose first piece and the one after it
    ``forced`` gives. ``flow`` is how the book has the text begin its parts and go on.
    ``headings`` gives for each rubric that begins a line the piece at which the text after it begins a line.
    ``shaped`` tells that some runs have a shape, so that not all their lines are alike.
    """

    sums: Sequence[float]
    space: float
    hyphen: float
    mean: float
    grain: int
    runs: tuple[LineRun, ...]
    divisions: tuple[int, ...]
    words: int
    letters: int
    written: Amended | None
    first_piece: Sequence[int] | None
    parts: Sequence[tuple[int, int]] | None
    inner: WithinWords
    cuts: Mapping[str, tuple[int, ...]]
    forced: Mapping[int, tuple[int, int]] = MappingProxyType({})
    flow: Flow = Flow()
    headings: Mapping[int, int] = MappingProxyType({})
    shaped: bool = False

    @property
    def pieces(self) -> int:
        """How many pieces there are."""
        return len(self.sums) - 1

    def width(self, start: int, end: int) -> float:
        """The width of a line of the pieces from ``start`` to ``end``, the mark of a word broken there included."""
        return self.sums[end] - self.sums[start] + (self.hyphen if end in self.inner else -self.space)

    def run_end(self, at: int) -> int:
        """The piece after the last of the run numbered ``at``."""
        return self.runs[at + 1].start if at + 1 < len(self.runs) else self.pieces

    def blank_before(self, piece: int) -> int:
        """The blank lines to be left before the run that begins at ``piece``; 0 where none begins there."""
        run = self.run_of(piece) if self.shaped else None
        return run.shape.blank if run is not None and run.shape is not None and run.start == piece else 0

    def run_at(self, piece: int) -> int:
        """The number of the run that ``piece`` stands in."""
        return bisect_right(self.runs, piece, key=_run_start) - 1

    def run_of(self, piece: int) -> LineRun:
        """The run that ``piece`` stands in."""
        return self.runs[self.run_at(piece)]

    def indent_of(self, piece: int) -> float:
        """By how much a line that begins at ``piece`` is indented, in the units of ``sums``."""
        run = self.run_of(piece) if self.shaped else None
        if run is None or run.shape is None:
            return 0.0
        return run.shape.indent if run.start == piece else run.shape.hang

    def piece(self, word: int) -> int:
        """The first piece of the exemplar's ``word``; a position outside the text gives its beginning or its end."""
        word = min(max(word, 0), self.words)
        if self.parts is not None:
            return _interpolate(self.parts, word, by_word=True)
        index = self.written.written(word) if self.written is not None else word
        return index if self.first_piece is None else self.first_piece[index]

    def word(self, piece: int) -> int:
        """The exemplar's position of the word that ``piece`` is of."""
        if self.parts is not None:
            return _interpolate(self.parts, piece, by_word=False)
        return self.written.exemplar(self._index(piece)) if self.written is not None else piece

    def _index(self, piece: int) -> int:
        """Which of the written words ``piece`` is of."""
        return piece if self.first_piece is None else bisect_right(self.first_piece, piece) - 1

    def text(self, start: int, end: int) -> list[str]:
        """The written words from piece ``start`` up to ``end``; a word broken at either belongs to what follows."""
        if self.written is None:
            return []
        return list(self.written.words[self._index(start) : self._index(end)])

    def word_pieces(self, start: int, end: int) -> list[tuple[int, int]]:
        """The pieces from ``start`` up to ``end`` word by word: the first of each, and the one after its last."""
        if self.first_piece is None:
            return [(piece, piece + 1) for piece in range(start, end)]
        if start >= end:
            return []
        begins = self.first_piece[self._index(start) + 1 : self._index(end - 1) + 1]
        return list(pairwise((start, *begins, end)))

    def line_text(self, start: int, end: int) -> str:
        """What one line holds, as written: its words, and the part of a word broken at either end."""
        if self.written is None or start >= end:
            return ""
        if self.first_piece is None:
            return " ".join(self.written.words[start:end])
        words = self.written.words
        (first, before), (last, _) = self.within(start), self.within(end - 1)
        shown = list(words[first : last + 1])
        if end in self.inner:
            shown[-1] = words[last][: self.within(end)[1]] + ("-" if self.hyphen else "")
        shown[0] = shown[0][before:]
        return " ".join(shown)

    def within(self, piece: int) -> tuple[int, int]:
        """The written word that ``piece`` is of, and how many letters of it stand before the piece."""
        at = self._index(piece)
        if self.first_piece is None or self.written is None or piece not in self.inner:
            return at, 0
        return at, self.cuts[self.written.words[at]][piece - self.first_piece[at] - 1]


def _run_start(run: LineRun) -> int:
    return run.start


def _interpolate(parts: Sequence[tuple[int, int]], value: int, *, by_word: bool) -> int:
    """Turn a word position into a piece, or back, evenly within each counted division."""
    source, target = (0, 1) if by_word else (1, 0)
    found = bisect_right(parts, value, key=lambda part: part[source])
    if found >= len(parts):
        return parts[-1][target]
    low, high = parts[found - 1], parts[found]
    share = (value - low[source]) / (high[source] - low[source])
    return low[target] + round(share * (high[target] - low[target]))


class _Spaced(dict[str, float]):
    """Width of each word with its word-space, worked out once a word."""

    def __init__(self, widths: Widths) -> None:
        super().__init__()
        self._widths = widths

    def __missing__(self, word: str) -> float:
        width = self[word] = self._widths[word] + self._widths.space
        return width


def lay_text(  # noqa: PLR0913 - all that the layout depends on, each by its name
    exemplar: Exemplar,
    widths: Widths,
    flow: Flow,
    *,
    changes: Sequence[Change] = (),
    new_line_at: Collection[int] = (),
    whole_lines: Sequence[tuple[int, int]] = (),
    divide: Callable[[str], Sequence[int]] | None = None,
    hyphen: float = 0.0,
    widest: float | None = None,
    on_progress: OnProgress = no_progress,
) -> CopyText:
    """Lay a typed exemplar out for casting off.

    Args:
        exemplar: the text.
        widths: natural widths of words, in letters.
        flow: how divisions, paragraphs and rubrics begin.
        changes: departures made on purpose.
        new_line_at: word positions that begin a new line whatever the flow says (an initial stands there).
        whole_lines: word positions that each stand on one line, first and after the last.
        divide: gives the letter positions at which a word may be broken; None where words stay whole.
        hyphen: width of the mark at a broken word's end, in letters.
        widest: words, or parts of broken words, wider than this (in letters of the mean width) get places where a line
            that cannot hold them whole may break them.
        on_progress: given the share done, from 0 to 1.
    """
    written, flow = Amended(exemplar.words, exemplar.blocks, changes), _fitting(flow, divide, hyphen)
    words, spaced = written.words, _Spaced(widths)
    taken = with_progress(words, on_progress if divide is None else part(on_progress, 0.0, _SUMMED), _TURN)
    sums: list[float] = list(accumulate(map(spaced.__getitem__, taken), initial=0.0))
    letters, mean = _counted(words, spaced, sums[-1])
    most = mean * (float("inf") if widest is None else widest)
    if divide is not None or max(spaced.values(), default=0.0) - widths.space > most:
        sums.clear()  # a long text has little room for both
        laid = _divided(words, widths, divide, most, part(on_progress, _SUMMED, 1.0))
    else:
        laid = _Pieces(sums)
    runs = laid.placed(runs_of(written, flow, new_line_at, whole_lines, mean))
    return CopyText(
        sums=laid.sums,
        space=widths.space,
        hyphen=hyphen,
        mean=mean,
        grain=1,
        runs=tuple(runs),
        divisions=tuple(division.start for division in exemplar.divisions),
        words=len(exemplar.words),
        letters=letters,
        written=written,
        first_piece=laid.first_piece,
        parts=None,
        inner=laid.inner,
        cuts=laid.cuts,
        forced=laid.forced,
        flow=flow,
        headings=_headings(runs),
        shaped=any(run.shape is not None for run in runs),
    )


def _headings(runs: Sequence[LineRun]) -> dict[int, int]:
    """Where each heading begins, and the text after it; rubrics that follow one another are one heading."""
    found: dict[int, int] = {}
    begins: int | None = None
    for run in runs:
        if run.kind == "rubric":
            begins = run.start if begins is None else begins
        elif begins is not None:
            found[begins] = run.start
            begins = None
    return found


class _Pieces(NamedTuple):
    """The pieces of a text as ``CopyText`` holds them; without more than their sums, each is a word."""

    sums: Sequence[float]
    first_piece: Sequence[int] | None = None
    inner: WithinWords = WithinWords()
    cuts: Mapping[str, tuple[int, ...]] = MappingProxyType({})
    forced: Mapping[int, tuple[int, int]] = MappingProxyType({})

    def placed(self, runs: list[LineRun]) -> list[LineRun]:
        """Runs that begin at words of the text, with the pieces they begin at."""
        first = self.first_piece
        return runs if first is None else [run._replace(start=first[run.start]) for run in runs]


def _fitting(flow: Flow, divide: Callable[[str], Sequence[int]] | None, hyphen: float) -> Flow:
    """How the text goes on: words broken anywhere fill every line, so that there is nothing to choose."""
    return flow if divide is None or hyphen else flow._replace(line_ends="as they come")


def _counted(words: Sequence[str], distinct: Collection[str], width: float) -> tuple[int, float]:
    """The letters of a text of this width, and the mean width of one."""
    letters = _letters(words, distinct)
    return letters, width / letters if letters else 1.0


def _letters(words: Sequence[str], distinct: Collection[str]) -> int:
    """Letters and word-spaces, one after each word; marks over a letter and unseen characters count nothing."""
    if all(word.isascii() and word.isprintable() for word in distinct):
        return sum(map(len, words)) + len(words)
    from copydesk.book.text.letter_widths import letter_count

    return letter_count(words) + 1


class _Cut(NamedTuple):
    """A word cut into pieces: where, their widths, and of each piece not to begin a line freely, its part's bounds."""

    cuts: tuple[int, ...]
    widths: array[float]
    flags: bytes
    forced: tuple[tuple[int, int, int], ...]


def _cut(word: str, widths: Widths, divide: Callable[[str], Sequence[int]] | None, widest: float) -> _Cut:
    """Cut a word where it may be broken, and a part of it that is wider than ``widest`` between all its letters."""
    edges = [0]
    forced: list[tuple[int, int, int]] = []
    for start, end in pairwise((0, *(divide(word) if divide else ()), len(word))):
        within = anywhere(word[start:end]) if widths[word[start:end]] > widest else ()
        first, last = len(edges) - 1, len(edges) + len(within)
        forced += [(at, first, last) for at in range(first + 1, last)]
        edges += [*(start + at for at in within), end]
    pieces = array("d", [widths[word[a:b]] for a, b in pairwise(edges)])
    pieces[-1] += widths.space
    return _Cut(tuple(edges[1:-1]), pieces, b"\0" + b"\1" * (len(pieces) - 1), tuple(forced))


def _divided(
    words: Sequence[str],
    widths: Widths,
    divide: Callable[[str], Sequence[int]] | None,
    widest: float,
    on_progress: OnProgress,
) -> _Pieces:
    """The pieces of words that may be broken."""
    known: dict[str, _Cut] = {}
    # Numbers side by side, summed where they stand: a long text has tens of millions of pieces.
    sums, first, flags = array("d", [0.0]), array("q"), bytearray()
    forced: dict[int, tuple[int, int]] = {}
    for word in with_progress(words, part(on_progress, 0.0, _DIVIDED), _TURN):
        at = len(flags)
        first.append(at)
        cut = known.get(word)
        if cut is None:
            cut = known[word] = _cut(word, widths, divide, widest)
        sums.extend(cut.widths)
        flags += cut.flags
        for piece, begins, ends in cut.forced:
            forced[at + piece] = (at + begins, at + ends)
    first.append(len(flags))
    for at in with_progress(range(1, len(sums), _TURN), part(on_progress, _DIVIDED, 1.0), 1):
        sums[at : at + _TURN] = array("d", accumulate(sums[at : at + _TURN], initial=sums[at - 1]))[1:]
    return _Pieces(
        sums, first, WithinWords(flags if 1 in flags else b""), {word: cut.cuts for word, cut in known.items()}, forced
    )
