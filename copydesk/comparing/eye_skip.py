"""The eye-skip watch: places of a page still to be written where the same or like words recur near one another.

The eye, coming back from the copy to the exemplar, looks for the word last written and may land on the same word,
or one that ends alike, a little further on. It does so the more easily the nearer the two stand, or where they stand
beneath one another in the exemplar, or at the ends or beginnings of its near lines. The rule that triggers lie at like
places of near lines is that of E. A. Lowe and E. K. Rand, *A Sixth-Century Fragment of the Letters of Pliny the
Younger* (1922), who found the exemplar's lines by it. Which of the three leads a scribe's eye is not known beforehand,
so all three count, each by its share of a page's leaps (``Habits``); how much is our own judgement until slips tell.
The copy's own lines are no evidence: the eye leaps in the exemplar.
"""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections import Counter
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING, Literal, NamedTuple

from copydesk.comparing.likeness import BEGINNING, ENDING, LIKE_LETTERS, SAME, like_beginning
from copydesk.comparing.normalization import Allowances

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence


REACH_LINES = 3
"""How many lines further on a like word still draws the eye."""
BENEATH = 4
"""Letters by which two words may be out of line and still stand beneath one another."""
LONGEST_LINE = 40
"""More words than this in one of the exemplar's lines: its lines are not all known there."""
WORD_LETTERS = 6
"""Letters assumed for a word outside the page, with its space."""

WORDS_AWAY = 10.0
"""Words over which the pull of a like word falls to a third."""
LINES_AWAY, LETTERS_AWAY = 1.0, 10.0
"""Lines and letters over which that of a word beneath does, as deviations of a bell curve."""
LIKENESS = {SAME: 1.0, ENDING: 0.35, BEGINNING: 0.3}
LONGER = 0.5
"""What each further word of a recurring phrase adds."""
SHORT = {1: 0.4, 2: 0.6, 3: 0.8}
"""A word of so few letters holds the eye less."""
COMMON = 0.08
"""The share by which a word counts less for each time it recurs on the page."""

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


class Pull(NamedTuple):
    """How strongly two like words draw the eye: as near words, as words beneath one another, as edges of lines."""

    near: float
    beneath: float = 0.0
    edge: float = 0.0


USUAL = Pull(near=25.0, beneath=8.0, edge=1.35)
"""What the pulls of a page of 300 words come to, about."""


SHARES = Pull(near=0.66, beneath=0.19, edge=0.15)
"""The share of leaps each kind of pull is thought to lead while no slip tells. Our own judgement."""

SHARES_WEIGHT = 3.0
"""What is thought beforehand counts as so many slips."""


class Habits(NamedTuple):
    """What leads a scribe's eye: how much each kind of pull counts. ``least`` is the score of which a warning is worth.

    Each stands for its share of the leaps over what it comes to on a usual page, so that the three are on one scale.
    """

    near: float = SHARES.near / USUAL.near
    beneath: float = SHARES.beneath / USUAL.beneath
    edge: float = SHARES.edge / USUAL.edge
    least: float = 0.0

    def score(self, pull: Pull) -> float:
        """How likely a leap is, in leaps of a usual page."""
        return self.near * pull.near + self.beneath * pull.beneath + self.edge * pull.edge


def habits_of(slips: Sequence[Pull], least: float = 0.0) -> Habits:
    """What leads a scribe's eye, from the pulls of the leaps that were made.

    The shares of a mixture of three kinds of leap, by repeated expectation and maximisation (A. P. Dempster and others,
    *Journal of the Royal Statistical Society B* 39 (1977), 1-38; from memory).
    """
    shares: tuple[float, ...] = SHARES
    for _ in range(_ROUNDS):
        counts = [SHARES_WEIGHT * before for before in SHARES]
        for slip in slips:
            parts = [share * (pull + _ANYWHERE) / usual for share, pull, usual in zip(shares, slip, USUAL, strict=True)]
            counts = [count + part / math.fsum(parts) for count, part in zip(counts, parts, strict=True)]
        shares = tuple(count / math.fsum(counts) for count in counts)
    near, beneath, edge = (share / usual for share, usual in zip(shares, USUAL, strict=True))
    return Habits(near, beneath, edge, least)


_ROUNDS, _ANYWHERE = 30, 0.01

UNKNOWN = Habits()
"""Nothing is known of the scribe; the shares are our own judgement."""


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
    habits: Habits = UNKNOWN,
) -> tuple[Recurrence, ...]:
    """The places of a page where the eye is likeliest to leap, the likeliest first.

    Args:
        lines: the words of each cast line of the page, all columns in order.
        start: position in the text of the page's first word.
        exemplar_lines: positions at which the exemplar's own lines begin. Where they are known for the whole
            page, they say what stands beneath what; else nothing does.
        places: column and line of each cast line, both from 1; one column if not given.
        allow: the workshop's allowances, by which words are the same.
        most: how many at most.
        habits: what leads this scribe's eye, and the score below which no place is given.
    """
    words = [word for line in lines for word in line]
    keys = (allow or Allowances()).keys(words)
    cast = _spots(lines)
    own = _spots_of_exemplar(words, start, sorted(exemplar_lines))
    spots = own or cast
    columns = places or [(1, number + 1) for number in range(len(lines))]
    often = Counter(keys)
    scored = ((habits.score(_pull(pair, keys, spots, often, bool(own))), pair) for pair in _pairs(keys, spots))
    ranked = sorted((each for each in scored if each[0] >= habits.least), key=lambda item: -item[0])
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


def _pull(
    pair: _Pair, keys: Sequence[str], spots: Sequence[_Spot], often: Mapping[str, int], in_exemplar: bool
) -> Pull:
    """How strongly a pair draws the eye; beneath one another and at edges in the exemplar's known lines alone."""
    weight = LIKENESS[pair.alike] + LONGER * (pair.length - 1)
    weight /= 1 + COMMON * (often[keys[pair.one]] + often[keys[pair.other]] - 2) / 2
    if pair.length == 1:
        weight *= SHORT.get(len(keys[pair.one]), 1.0)
    near = weight * math.exp(-(pair.other - pair.one) / WORDS_AWAY)
    if not in_exemplar:
        return Pull(near)
    where, _ = _seen(pair, spots)
    one, other = spots[pair.one], spots[pair.other]
    lines = other.line - one.line
    aside = one.right - other.right if pair.alike == ENDING else one.left - other.left
    far = (lines / LINES_AWAY) ** 2 + (aside / LETTERS_AWAY) ** 2
    edge = weight * math.exp(-lines / 2) if where in ("ends", "begins") else 0.0
    return Pull(near, weight * math.exp(-far / 2) if lines else 0.0, edge)


def leap_pull(words: Sequence[str], start: int, one: int, other: int, exemplar_lines: Sequence[int]) -> Pull:
    """The pull of a leap that was made between two words, counted from ``start`` through the text, as ``words`` lie."""
    spots = _spots_of_exemplar(words, start, sorted(exemplar_lines))
    keys = [str(at) for at in range(len(words))]
    flat = [_Spot(0, at * WORD_LETTERS, at * WORD_LETTERS, False, False) for at in range(len(words))]
    pair = _Pair(one - start, other - start, 1, SAME)
    long = dict.fromkeys(keys, 1)
    keys[pair.one] = keys[pair.other] = "x" * (max(SHORT) + 1)
    long[keys[pair.one]] = 1
    return _pull(pair, keys, spots or flat, long, bool(spots))


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
        return Recurrence((one, other), pair.alike, places, sentence, round(score, 5))

    def _words(self, at: int, length: int) -> str:
        return " ".join(self.words[at : at + length])

    def _place(self, at: int) -> tuple[int, int, int]:
        return (*self.columns[self.cast[at].line], self.start + at)

    def _sentence(self, where: Where, likeness: str, words: tuple[str, str], lines: str) -> str:
        """``"water" ends lines 7 and 8``, or what else is to be said."""
        same = likeness == SAME
        what = f'"{words[0]}"' if same else f'"{words[0]}" and "{words[1]}"'
        verbs, plural = {"ends": "end", "begins": "begin"}, "s" if same else ""
        stand = f"stand{plural} twice" if same and lines.startswith("line ") else f"stand{plural}"
        alike = "" if same else " and end alike" if likeness == ENDING else " and begin alike"
        if not self.in_exemplar:
            said = f"{verbs[where]}{plural} " if where in verbs else f"{stand} in "
            return f"{what} {said}{lines}{alike}"
        near = {"ends": "at the ends of near lines", "begins": "at the beginnings of near lines"}.get(where, "near by")
        in_exemplar = "one beneath the other" if where == "beneath" else near
        return f"{what} {stand} in {lines}{alike}; in the exemplar {in_exemplar}"


def _lines(places: tuple[tuple[int, int, int], tuple[int, int, int]]) -> str:
    """``lines 7 and 8``, with the column where the page has several and it matters."""
    (column, line, _), (other_column, other_line, _) = places
    if column != other_column:
        return f"column {column} line {line} and column {other_column} line {other_line}"
    told = f"line {line}" if line == other_line else f"lines {line} and {other_line}"
    return told if column == 1 else f"{told} of column {column}"
