"""Following a hand: against least squares with NumPy, and against simulated hands whose course is known.

The reference does not go from page to page: it writes out how all pages hang together under a course, and finds the
hand's next page by generalised least squares (Gauss and Markov; A. C. Aitken, "On least squares and linear
combinations of observations", *Proceedings of the Royal Society of Edinburgh* 55 (1935), 42-8; with the movement and
the wandering as random parts, G. K. Robinson, "That BLUP is a good thing", *Statistical Science* 6 (1991), 15-32).

Simulated hands go their course and stray from it page by page; the simulation is the source of the truth.
"""

from __future__ import annotations

import math
import random
from typing import NamedTuple

import numpy as np
import pytest
from scipy import stats

from copydesk.book.hands.hand_filter import COURSES, PRIOR_FREEDOM, Course, beliefs, follow
from copydesk.book.hands.hand_fit import Usage, from_pages
from copydesk.book.hands.hand_set import HandSet

CLAIMED = 0.90
UNIT = 33.0


class Reference(NamedTuple):
    mean: float
    variance: float
    movement: float
    misfit: float
    surprise: float


def by_least_squares(course: Course, values: np.ndarray, variances: np.ndarray) -> Reference:
    """The next page's mean, its variance, the movement then, and the restricted likelihood's two parts."""
    pages = len(values)
    steps = np.arange(pages + 1)
    turns = sum(
        np.outer(np.maximum(steps - at, 0), np.maximum(steps - at, 0)).astype(float) for at in range(1, pages + 1)
    )
    drift, wander, turn = ((share * UNIT) ** 2 for share in course)
    hang = drift * np.outer(steps, steps) + wander * np.minimum.outer(steps, steps) + turn * turns
    cover, to_next = hang[:-1, :-1] + np.diag(variances), hang[:-1, -1]
    inverse, ones = np.linalg.inv(cover), np.ones(pages)
    level = (ones @ inverse @ values) / (ones @ inverse @ ones)
    rest = values - level
    mean = level + to_next @ inverse @ rest
    lack = 1 - ones @ inverse @ to_next
    variance = hang[-1, -1] - to_next @ inverse @ to_next + lack**2 / (ones @ inverse @ ones)
    with_movement = drift * steps[:-1] + turn * np.array(
        [sum(max(page - at, 0) for at in range(1, pages + 1)) for page in range(pages)]
    )
    movement = with_movement @ inverse @ rest
    apart = np.diff(np.eye(pages), axis=0)
    _, surprise = np.linalg.slogdet(apart @ cover @ apart.T)
    return Reference(mean, variance, movement, rest @ inverse @ rest, surprise)


@pytest.mark.parametrize("course", COURSES)
@pytest.mark.parametrize("pages", [1, 2, 5, 30])
def test_a_course_is_the_least_squares_course(course: Course, pages: int) -> None:
    rng = np.random.default_rng(pages)
    variances = rng.uniform(0.3, 1.5, pages)
    values = UNIT * (1 + 0.004 * np.arange(pages)) + rng.normal(0, 1, pages) * np.sqrt(variances)
    ours = follow(course, list(values), list(variances), UNIT)
    reference = by_least_squares(course, values, variances)
    assert ours.mean == pytest.approx(reference.mean, rel=1e-9)
    assert ours.mean_variance == pytest.approx(reference.variance, rel=1e-7)
    assert ours.movement == pytest.approx(reference.movement, abs=1e-9)
    assert ours.misfit == pytest.approx(reference.misfit, rel=1e-7, abs=1e-9)
    assert ours.surprise == pytest.approx(reference.surprise, rel=1e-7, abs=1e-9)


def test_courses_are_believed_by_the_chance_they_gave_to_the_pages() -> None:
    """SciPy's Student distribution of all pages together, the level left out; the courses alike beforehand."""
    rng = np.random.default_rng(3)
    pages = 12
    variances = rng.uniform(0.4, 0.9, pages)
    values = UNIT + np.cumsum(rng.normal(0, 0.5, pages))
    apart = np.diff(np.eye(pages), axis=0)
    logs = []
    for course in COURSES:
        steps = np.arange(pages)
        turns = sum(np.outer(np.maximum(steps - at, 0), np.maximum(steps - at, 0)) for at in range(1, pages))
        drift, wander, turn = ((share * UNIT) ** 2 for share in course)
        hang = drift * np.outer(steps, steps) + wander * np.minimum.outer(steps, steps) + turn * turns
        shape = apart @ (hang + np.diag(variances)) @ apart.T
        logs.append(stats.multivariate_t(np.zeros(pages - 1), shape, PRIOR_FREEDOM).logpdf(apart @ values))
    wanted = np.exp(np.array(logs) - max(logs))
    paths = [follow(course, list(values), list(variances), UNIT) for course in COURSES]
    assert beliefs(paths, PRIOR_FREEDOM + pages - 1) == pytest.approx(list(wanted / wanted.sum()), rel=1e-6)


def course_of(kind: str, size: float, pages: int, rng: random.Random) -> list[float]:
    """The hand's mean on each page and the next, in shares of the first."""
    if kind == "moves":
        return [1 + size * page for page in range(pages + 1)]
    if kind == "steps":
        return [1 + size * (page >= pages // 2) for page in range(pages + 1)]
    if kind == "settles":
        return [1 + 8 * size * (1 - math.exp(-page / 8)) for page in range(pages + 1)]
    found = [1.0]
    for _ in range(pages):
        found.append(found[-1] * (1 + rng.gauss(0, size)))
    return found


def held(kind: str, size: float, pages: int, runs: int = 400) -> tuple[float, float]:
    """How often the range of 400 hands holds where the hand comes to, and how wide it mostly is, as a share."""
    rng = random.Random(f"{kind} {size} {pages}")
    hits, widths = 0, []
    for _ in range(runs):
        letters = rng.uniform(24, 40)
        course = course_of(kind, rng.choice((-size, size)), pages, rng)
        before = HandSet.from_letters(letters * (1 + rng.gauss(0, 0.04)))
        usages = []
        for share in course[:-1]:
            middle = letters * share * (1 + rng.gauss(0, 0.025)) + rng.uniform(-0.1, 0.1)
            usages.append(Usage(30, middle - 0.1, middle + 0.1))
        found = from_pages(before, usages)
        hits += found.low <= letters * course[-1] <= found.high
        widths.append((found.high - found.low) / letters)
    return hits / runs, sorted(widths)[runs // 2]


@pytest.mark.parametrize("pages", [4, 6, 8, 12, 24, 60])
@pytest.mark.parametrize("a_page", [0.0, 0.001, 0.002, 0.003, 0.005])
def test_ranges_hold_steady_hands_and_hands_that_move_slowly(a_page: float, pages: int) -> None:
    share, _ = held("moves", a_page, pages)
    assert CLAIMED - 0.06 <= share <= CLAIMED + 0.085, f"held {share:.3f}"


@pytest.mark.parametrize("pages", [8, 16, 40])
@pytest.mark.parametrize(
    ("kind", "size"), [("moves", 0.01), ("steps", 0.03), ("steps", 0.06), ("settles", 0.01), ("wanders", 0.003)]
)
def test_ranges_hold_hands_that_move_more(kind: str, size: float, pages: int) -> None:
    share, _ = held(kind, size, pages)
    assert CLAIMED - 0.08 <= share <= CLAIMED + 0.085, f"held {share:.3f}"


def test_ranges_of_a_steady_hand_narrow_with_its_pages() -> None:
    """Not wider than a straight line through the pages would give, and less than half as wide at the last."""
    widths = {pages: held("moves", 0.0, pages, runs=100)[1] for pages in (4, 8, 16, 60)}
    assert widths[4] > widths[8] > widths[16] > widths[60]
    for pages in (8, 16, 60):
        line = 0.025 * math.sqrt((4 * pages + 2) / (pages * (pages - 1)))
        assert widths[pages] < 2 * stats.t.ppf(0.95, pages - 2) * line * 1.25
    assert widths[60] < widths[8] / 2
