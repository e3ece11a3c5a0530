"""Landing: the chance that text ends where it must, and how much closer to write to be fairly sure of it.

The lines a text will take are as uncertain as the hands that will write them (``book_end.lines_sd``): how single pages
differ evens out over many, and where a hand writes as usual, how sure its mean is affects all its lines alike. The
lines taken then lie about the lines planned as a normal curve does, and whole lines are counted: a text *fits* where it
takes at most half a line too many, and lands *within a line* where it is no more than one line off either way.

Whoever looks again after each page and writes as is then asked corrects what the pages before have put wrong, so only
the last page's own difference remains; the chances here are those of keeping to one closeness without looking.
"""

from __future__ import annotations

import math
from dataclasses import replace
from statistics import NormalDist
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.phrases import decimal
from copydesk.tracking.fit.book_end import LinesToWrite, lines_sd

if TYPE_CHECKING:
    from collections.abc import Set

    from copydesk.tracking.fit.stretches import Need
    from copydesk.tracking.state.book_state import BookState


FAIRLY_SURE = 0.9
"""The chance at which a text is said to have a margin."""


class Landing(NamedTuple):
    """The chances that a text fits and that it lands within a line, and the letters a line that leave a margin.

    ``within_a_line`` is None where blank lines after it do no harm, as at the book's end. ``with_margin`` are letters a
    line of the hand asked for; None where the text fits so surely already, or no closeness is known that makes it fit.
    """

    fits: float
    within_a_line: float | None
    with_margin: float | None


def landing_of(state: BookState, need: Need) -> Landing:
    """How surely a stretch lands right, its hands writing at the letters it is cast off at now.

    Whoever writes with a margin aims at those letters, so how sure a hand's usual mean is does not widen the margin.
    """
    usual = {state.hand_on(at) for at in range(need.first, need.last + 1) if at not in state.agreed}
    found, lines = chances(need.over, _sd(state, need, usual)), sum(each.lines for each in need.targets)
    letters = next((each.now for each in need.targets if each.hand == need.hand), need.letters)
    closer = closer_for_margin(need.over, _sd(state, need, frozenset()), lines)
    return found._replace(
        within_a_line=found.within_a_line if need.held else None,
        with_margin=letters * closer if found.fits < FAIRLY_SURE else None,
    )


def chances(over: float, sd: float) -> Landing:
    """The chances of a text planned to be so many lines over, its lines as uncertain as ``sd`` says."""
    if sd <= 0:
        return Landing(float(over < 0.5), float(abs(over) < 1.5), None)
    spread = NormalDist(over, sd)
    return Landing(spread.cdf(0.5), spread.cdf(1.5) - spread.cdf(-1.5), None)


def closer_for_margin(over: float, sd: float, lines: int) -> float:
    """How many times as many letters a line make a text fit with the chance ``FAIRLY_SURE``."""
    gain = max(over + NormalDist().inv_cdf(FAIRLY_SURE) * sd - 0.5, 0.0)
    return lines / max(lines - gain, 1.0) if lines else 1.0


def landing_words(found: Landing) -> str:
    """``fits 4 times in 10; within a line 7 in 10; for 9 in 10 write 33.9 letters a line``."""
    said = f"fits {_in_ten(found.fits)}"
    if found.within_a_line is not None:
        within = _in_ten(found.within_a_line).replace(" times", "").replace(" time", "")
        said += f"; within a line {within}"
    if found.with_margin is not None:
        said += f"; for a margin (9 in 10) write {decimal(found.with_margin, 1)} letters a line"
    return said


def _in_ten(chance: float) -> str:
    if chance >= 0.995:
        return "nearly always"
    if chance < 0.005:
        return "hardly ever"
    parts = 100 if chance >= 0.95 or chance < 0.05 else 10
    times = round(chance * parts)
    return f"{times} {'time' if times == 1 else 'times'} in {parts}"


def _sd(state: BookState, need: Need, usual: Set[str]) -> float:
    """How far the lines of a stretch may be off, as a standard deviation: hands err apart.

    Where letters a line were agreed on, a hand aims at those, so only its pages' differences count; for the hands that
    write as ``usual``, how sure their mean is counts too.
    """
    full = sum(each.now * each.lines for each in need.targets)
    text = _letters(state, need)
    ragged = min(max(1 - text / full, 0.0), 0.5) if full else 0.0
    stretches = []
    for each in need.targets:
        known = state.sets.get(each.hand) or next(iter(state.sets.values()))
        known = known if each.hand in usual else replace(known, error=0.0, ahead=())
        stretches.append(LinesToWrite(known, each.lines, each.pages, ragged * known.letters_per_line))
    return math.hypot(lines_sd(stretches), _breaks_sd(ragged, sum(each.lines for each in need.targets)))


def _breaks_sd(ragged: float, lines: int) -> float:
    """How far lines may be off because they break elsewhere than planned; ``ragged`` is the share left empty on a line.

    The room left at a line's end is as likely to be any from none to twice its mean: its variance is a third of the
    square of that mean. Where in its last line the text ends is not known either, which makes a twelfth of a line.
    """
    share = ragged / (1 - ragged)
    return math.sqrt(lines * share**2 / 3 + 1 / 12)


def _letters(state: BookState, need: Need) -> float:
    """Letters of the text that a stretch has left."""
    copy, cast = state.copy, state.budget.casts[need.first]
    if cast is None:
        return 0.0
    end = state.budget.pages[need.last].end if need.held else copy.pieces
    return (copy.sums[end] - copy.sums[cast.start.piece]) / (copy.mean * copy.grain)
