"""Each hand at a glance."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import UTC, datetime

from copydesk.book.hands.hand_set import HandSet
from copydesk.tracking.checking.fault_rates import FaultRate
from copydesk.tracking.scribes.hands_now import HANDS, HandReport
from copydesk.tracking.scribes.pace import Pace, Sitting, pace_of

WRITTEN = HandSet(33.8, 0.8, 0.35, 8, "pages", 6)


def test_the_json_has_the_documented_keys() -> None:
    report = HandReport("A", "first scribe", WRITTEN, pace_of([], stated=22.5), FaultRate(6, 310, 1.94, 0.84, 3.9))
    found = json.loads(json.dumps(HANDS.data(report)))
    documented = {"hand": "A", "name": "first scribe", "letters_per_line": 33.8, "from": "pages", "pages": 6}
    assert documented.items() <= found.items()
    assert found["low"] == 33.1
    assert found["high"] == 34.5
    assert found["lines_per_hour"] == 22.5
    assert found["faults_per_100_lines"] == 1.94


def test_what_nobody_measured_is_null() -> None:
    found = HANDS.data(HandReport("B", "", HandSet.from_letters(34), pace_of([])))
    assert found["from"] == "guess"
    assert found["lines_per_hour"] is None
    assert found["faults_per_100_lines"] is None


def test_what_was_measured_stands_beside_what_is_believed() -> None:
    """All lines over all hours, whatever was stated before."""
    noon = datetime(2026, 3, 2, 12, tzinfo=UTC)
    sittings = [Sitting("A", 40, 60, noon), Sitting("A", 20, 120, noon), Sitting("A", 44, 60, noon)]
    report = HandReport("A", "", WRITTEN, pace_of(sittings, stated=20.0))
    found = HANDS.data(report)
    assert found["lines_per_hour_measured"] == 26.0
    assert 20.0 < found["lines_per_hour"] < 26.0
    said = report.pace_sentence()
    assert said.startswith("A wrote 26.0 lines an hour as measured, 104 lines in 4.0 hours; expected for the next")
    assert f" {found['lines_per_hour']:.0f} (" in said
    assert HANDS.data(HandReport("A", "", WRITTEN, pace_of([], stated=20.0)))["lines_per_hour_measured"] is None


def test_a_guess_says_that_it_is_one() -> None:
    said = HandReport("B", "", HandSet.from_letters(34), pace_of([])).set_sentence()
    assert said == "B writes 34.0 letters a line (31.8 to 36.2), a guess until a page is measured."


def test_a_hand_that_quickens_or_slows_is_told_so() -> None:
    steady = Pace(27.0, 0.5, 40.0, 4.0, "sittings", 16.0, 432.0, 16)
    said = {move: HandReport("A", "", WRITTEN, replace(steady, per_sitting=move)) for move in (0.0, 0.04, 1.0, -0.31)}
    ends = {move: report.pace_sentence().partition(", from ")[2] for move, report in said.items()}
    assert ends == {
        0.0: "16 sittings.",
        0.04: "16 sittings.",
        1.0: "16 sittings; sitting by sitting faster by 1.0.",
        -0.31: "16 sittings; sitting by sitting slower by 0.3.",
    }


def test_a_hand_that_moves_is_told_so() -> None:
    closing = HandSet(33.8, 0.8, 0.35, 8, "pages", 6, per_page=0.2, measured=6)
    assert (
        HandReport("A", "", closing, pace_of([]))
        .set_sentence()
        .endswith("measured on 6 pages; page by page closer by 0.2.")
    )
    one = HandSet(33.8, 0.8, 0.35, 8, "pages", 1, per_page=-0.2, measured=1)
    assert "measured on 1 page; page by page wider" in HandReport("A", "", one, pace_of([])).set_sentence()
