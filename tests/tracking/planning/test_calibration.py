"""Whether hours, pace and finish come true, in short; ``tests/bench/calibration.py`` has the long form."""

from __future__ import annotations

import random
from itertools import chain

from pace_trials import hours_told, pace_held, wrongly_moving
from workshop_trials import ROWS, bins, book, held


def test_hours_of_a_scribe_who_sits_every_weekday_are_right_after_a_week() -> None:
    rng = random.Random(3)
    told = [hours_told("every weekday", 7, rng) for _ in range(200)]
    assert 0.9 < sum(found.a_week / true for found, true in told) / len(told) < 1.1


def test_ranges_of_pace_hold_where_days_differ() -> None:
    for effect in (0.0, 0.1, 0.2):
        assert 0.84 <= pace_held(150, f"short {effect}", 15, effect, 0.12) <= 0.97


def test_steady_hands_are_seldom_said_to_move() -> None:
    assert wrongly_moving(40, "short", 30, 0.2, 0.1) <= 0.125


def test_finish_ranges_and_chances_come_true() -> None:
    rows = ("one hand, hours learnt", "three hands and an artist, hours stated")
    lives = [book(ROWS[name], f"short {name} {number}") for name in rows for number in range(20)]
    told = list(chain.from_iterable(lives))
    for what in ("written", "checked", "whole"):
        assert 0.65 <= held(told, what) <= 0.95
    likely = [each for each in told if (each.said.chance_by_due or 0.0) > 0.5]
    said = sum(each.said.chance_by_due or 0.0 for each in likely) / len(likely)
    true = sum(each.checked <= each.due for each in likely) / len(likely)
    assert abs(said - true) < 0.2
    assert bins([(0.05, True), (1.0, False)]) == [(0.05, 1.0, 1), (1.0, 0.0, 1)]
