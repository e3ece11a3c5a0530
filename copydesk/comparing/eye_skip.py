"""The eye-skip watch: places of a page still to be written where the same or like words recur near one another.

The eye, coming back from the copy to the exemplar, looks for the word last written and may land on the same word,
or one that ends alike, a little further on. It does so the more easily the nearer the two stand, above all
beneath one another, at the ends or the beginnings of lines. The rule that triggers lie at like places of near
lines is that of E. A. Lowe and E. K. Rand, *A Sixth-Century Fragment of the Letters of Pliny the Younger*
(1922), who found the exemplar's lines by it; how much each counts here is our own judgement.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING, Literal, NamedTuple

from copydesk.comparing.likeness import BEGINNING, ENDING, LIKE_LETTERS, SAME, like_beginning
from copydesk.comparing.normalization import Allowances

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence


REACH_LINES = 3
"""How many lines further on a like word still draws the eye."""
BENEATH = 4
"""Letters by which two words may be out of line and still stand beneath one another."""
LONGEST_LINE = 40
"""More words than this in one of the exemplar's lines: its lines are not all known there."""
WORD_LETTERS = 6
"""Letters assumed for a word outside the page, with its space."""

NEARNESS = (0.5, 1.0, 0.5, 0.25)
"""What a pair counts for by how many lines lie from one word to the other."""
LIKENESS = {SAME: 1.0, ENDING: 0.35, BEGINNING: 0.3}
AT_EDGE, IN_COLUMN = 4.0, 2.5
"""How much more a pair counts at the ends or beginnings of lines, and elsewhere beneath one another."""
LONGER = 0.5
"""What each further word of a recurring phrase adds."""
SHORT = {1: 0.5, 2: 0.7, 3: 0.85}
"""A word of so few letters holds the eye less."""

Where = Literal["ends", "begins", "beneath", "same line", "near"]


class Recurrence(NamedTuple):
    """Words that recur near one another, so that the eye may leap from the first to the second.

    Attributes:
        words: what stands at the first and at the second place; the same words, or two that are like.
        alike: ``same word``, ``like ending`` or ``like beginning``.
        places: column, line and position in the text of the first word at each of the two places.
        sentence: what to look out for, as a scribe would say it.
        score: how likely a leap is beside other pairs; only the order means anything.
    """

    words: tuple[str, str]
    alike: str
    places: tuple[tuple[int, int, int], tuple[int, int, int]]
    sentence: str
    score: float


class _Spot(NamedTuple):
    """Where a word stands: its line through all columns, the letters to its left and to its end, and at which edge."""

    line: int
    left: int
    right: int
    first: bool
    last: bool


@dataclass(slots=True)
class _Pair:
    """Two places, by the first word of each and the number of words that recur."""

    one: int
    other: int
    length: int
    alike: str


def watch(
    lines: Sequence[Sequence[str]],
    start: int,
    *,
    exemplar_lines: Sequence[int] = (),
    places: Sequence[tuple[int, int]] = (),
    allow: Allowances | None = None,
    most: int = 5,
) -> tuple[Recurrence, ...]:
    """The places of a page where the eye is likeliest to leap, the likeliest first.

    Args:
        lines: the words of each cast line of the page, all columns in order.
        start: position in the text of the page's first word.
        exemplar_lines: positions at which the exemplar's own lines begin. Where they are known for the whole
            page, they and not the cast lines say what stands beneath what.
        places: column and line of each cast line, both from 1; one column if not given.
        allow: the workshop's allowances, by which words are the same.
        most: how many at most.
    """
    words = [word for line in lines for word in line]
    keys = (allow or Allowances()).keys(words)
    cast = _spots(lines)
    own = _spots_of_exemplar(words, start, sorted(exemplar_lines))
    spots = own or cast
    columns = places or [(1, number + 1) for number in range(len(lines))]
    ranked = sorted(((_score(pair, keys, spots), pair) for pair in _pairs(keys, spots)), key=lambda item: -item[0])
    page = _PageText(words, start, cast, columns, spots, bool(own))
    return tuple(page.recurrence(pair, score) for score, pair in _apart(ranked, most))


def _spots(lines: Sequence[Sequence[str]]) -> list[_Spot]:
    """Where each word stands, with a letter's space between words."""
    spots: list[_Spot] = []
    for number, line in enumerate(lines):
        left = 0
        for at, word in enumerate(line):
            spots.append(_Spot(number, left, left + len(word), at == 0, at == len(line) - 1))
            left += len(word) + 1
    return spots


def _spots_of_exemplar(words: Sequence[str], start: int, begins: Sequence[int]) -> list[_Spot]:
    """Where the page's words stand in the exemplar's own lines; empty where these are not known throughout."""
    end = start + len(words)
    first, past = bisect_right(begins, start), bisect_left(begins, end)
    if not first or past == first:
        return []
    cuts = [start, *begins[first:past], end]
    before = start - begins[first - 1]
    if max(before, *(after - begin for begin, after in pairwise(cuts))) > LONGEST_LINE:
        return []
    spots = _spots([words[begin - start : after - start] for begin, after in pairwise(cuts)])
    # The page may begin and end within lines of the exemplar; the words beyond take room there.
    indent, inner = before * WORD_LETTERS, cuts[1] - start
    spots[:inner] = [spot._replace(left=spot.left + indent, right=spot.right + indent) for spot in spots[:inner]]
    spots[0] = spots[0]._replace(first=not before)
    spots[-1] = spots[-1]._replace(last=end in begins)
    return spots


def _pairs(keys: Sequence[str], spots: Sequence[_Spot]) -> Iterator[_Pair]:
    """Every pair of like words within reach; words that recur running make one pair."""
    seen: dict[str, list[int]] = {}
    endings: dict[str, list[int]] = {}
    running: dict[int, _Pair] = {}
    for at, key in enumerate(keys):
        if not key:
            continue
        now: dict[int, _Pair] = {}
        for before in _within(seen.setdefault(key, []), spots, at):
            pair = running.get(at - before)
            if pair is None:
                pair = _Pair(before, at, 0, SAME)
            pair.length += 1
            now[at - before] = pair
        yield from (pair for way, pair in running.items() if way not in now)
        running = now
        seen[key].append(at)
        yield from _like(keys, spots, at, endings)
    yield from running.values()


def _within(earlier: Sequence[int], spots: Sequence[_Spot], at: int) -> Iterator[int]:
    """Earlier words, the nearest first, that are no more than the reach above."""
    for before in reversed(earlier):
        if spots[at].line - spots[before].line > REACH_LINES:
            return
        yield before


def _like(keys: Sequence[str], spots: Sequence[_Spot], at: int, endings: dict[str, list[int]]) -> Iterator[_Pair]:
    """Pairs of this word and earlier ones that end alike, or that begin alike where both begin lines."""
    key = keys[at]
    if len(key) > LIKE_LETTERS:
        earlier = endings.setdefault(key[-LIKE_LETTERS:], [])
        yield from (_Pair(before, at, 1, ENDING) for before in _within(earlier, spots, at) if keys[before] != key)
        earlier.append(at)
    if spots[at].first:
        before = at - 1
        while before > 0 and not spots[before].first:
            before -= 1
        if 0 <= before < at and spots[before].first and like_beginning(keys[before], key):
            yield _Pair(before, at, 1, BEGINNING)


def _seen(pair: _Pair, spots: Sequence[_Spot]) -> tuple[Where, _Pair]:
    """How the two places lie to one another, and the part of a phrase that lies so."""
    if spots[pair.one].line == spots[pair.other].line:
        return "same line", pair
    ways = [(spots[pair.one + by], spots[pair.other + by], by) for by in range(pair.length)]
    for one, other, by in ways:
        if one.last and other.last:
            return "ends", replace(pair, length=by + 1)
        if one.first and other.first:
            return "begins", _Pair(pair.one + by, pair.other + by, pair.length - by, pair.alike)
    one, other, _ = ways[0]
    apart = one.right - other.right if pair.alike == ENDING else one.left - other.left
    return ("beneath" if abs(apart) <= BENEATH else "near"), pair


def _score(pair: _Pair, keys: Sequence[str], spots: Sequence[_Spot]) -> float:
    """How likely a leap is, beside other pairs."""
    where, _ = _seen(pair, spots)
    score = LIKENESS[pair.alike] + LONGER * (pair.length - 1)
    # Lines too narrow for a word, beside a space, stay empty; two lines of text may then stand further apart.
    score *= NEARNESS[min(spots[pair.other].line - spots[pair.one].line, len(NEARNESS) - 1)]
    if pair.length == 1:
        score *= SHORT.get(len(keys[pair.one]), 1.0)
    if where in ("ends", "begins"):
        return score * AT_EDGE
    return score * IN_COLUMN if where == "beneath" else score


def _apart(ranked: Sequence[tuple[float, _Pair]], most: int) -> list[tuple[float, _Pair]]:
    """The first of the ranked pairs, without those that say the same again of the same two words."""
    kept: list[tuple[float, _Pair]] = []
    for score, pair in ranked:
        if len(kept) >= most:
            break
        if all(abs(pair.one - other.one) > 1 or abs(pair.other - other.other) > 1 for _, other in kept):
            kept.append((score, pair))
    return kept


class _PageText(NamedTuple):
    """A page in words: its words and where they stand on it."""

    words: Sequence[str]
    start: int
    cast: Sequence[_Spot]
    columns: Sequence[tuple[int, int]]
    spots: Sequence[_Spot]
    in_exemplar: bool

    def recurrence(self, pair: _Pair, score: float) -> Recurrence:
        """A pair as it is given to the scribe."""
        where, pair = _seen(pair, self.spots)
        one, other = self._words(pair.one, pair.length), self._words(pair.other, pair.length)
        places = self._place(pair.one), self._place(pair.other)
        sentence = self._sentence(where, pair.alike, (one, other), _lines(places))
        return Recurrence((one, other), pair.alike, places, sentence, round(score, 3))

    def _words(self, at: int, length: int) -> str:
        return " ".join(self.words[at : at + length])

    def _place(self, at: int) -> tuple[int, int, int]:
        return (*self.columns[self.cast[at].line], self.start + at)

    def _sentence(self, where: Where, likeness: str, words: tuple[str, str], lines: str) -> str:
        """``"water" ends lines 7 and 8``, or what else is to be said."""
        same = likeness == SAME
        what = f'"{words[0]}"' if same else f'"{words[0]}" and "{words[1]}"'
        verbs = {"ends": "end", "begins": "begin"}
        verb = verbs.get(where, "stand") + ("s" if same else "")
        alike = "" if same else " and end alike" if likeness == ENDING else " and begin alike"
        beneath = ", one beneath the other" if where == "beneath" else ""
        if not self.in_exemplar:
            joint = " " if where in verbs else " in "
            return f"{what} {verb}{joint}{lines}{beneath}{alike}"
        near = {"ends": "at the ends of near lines", "begins": "at the beginnings of near lines"}.get(where, "near by")
        in_exemplar = "one beneath the other" if where == "beneath" else near
        return f"{what} stand{'s' if same else ''} in {lines}{alike}; in the exemplar {in_exemplar}"


def _lines(places: tuple[tuple[int, int, int], tuple[int, int, int]]) -> str:
    """``lines 7 and 8``, with the column where the page has several and it matters."""
    (column, line, _), (other_column, other_line, _) = places
    if column != other_column:
        return f"column {column} line {line} and column {other_column} line {other_line}"
    told = f"line {line}" if line == other_line else f"lines {line} and {other_line}"
    return told if column == 1 else f"{told} of column {column}"
