"""Where the eye may leap on a page to come: what is warned of, in what order, and how much it helps."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.comparing.eye_skip import UNKNOWN, Pull, habits_of, watch
from copydesk.comparing.normalization import Allowances
from leaps import cast, leaps, recall
from watch_trials import SCRIBES
from watch_trials import recall as recall_of

if TYPE_CHECKING:
    from slips import Text

PAGE = [
    ["when", "reeds", "turn", "brown", "above", "our", "water"],
    ["old", "herons", "wade", "into", "that", "cold", "water"],
    ["and", "nobody", "mends", "nets", "before"],
    ["first", "snow", "lies", "on", "every", "roof"],
]


def test_the_word_that_ends_two_lines_comes_first() -> None:
    first = watch(PAGE, 100)[0]
    assert first.sentence == '"water" ends lines 1 and 2'
    assert first.words == ("water", "water")
    assert first.places == ((1, 1, 106), (1, 2, 113))
    assert first.alike == "same word"


def test_a_word_twice_in_one_line_is_said_to_stand_there_twice() -> None:
    [found] = watch([["thicket", "yarrow", "yarrow", "and", "upland"]], 0)
    assert found.sentence == '"yarrow" stands twice in line 1'


def test_beginnings_and_words_beneath_one_another() -> None:
    begins = watch([["frost", "held", "fast"], ["frost", "gave", "way"]], 0)
    assert begins[0].sentence == '"frost" begins lines 1 and 2'
    lines = [["one", "frost", "held", "fast"], ["two", "frost", "gave", "way"]]
    beneath, apart = watch(lines, 0, exemplar_lines=(0, 4, 8)), watch(lines, 0)
    assert beneath[0].sentence == '"frost" stands in lines 1 and 2; in the exemplar one beneath the other'
    assert apart[0].sentence == '"frost" stands in lines 1 and 2'
    assert beneath[0].score > apart[0].score


def test_the_copys_own_lines_are_no_evidence() -> None:
    """Where the exemplar's lines are not known only the words between two like words count."""
    words = ["one", "frost", "held", "fast", "two", "frost", "gave", "way"]
    scores = {watch([words[:at], words[at:]], 0)[0].score for at in range(2, 6)}
    assert len(scores) == 1


def test_rare_long_words_come_first_and_short_ones_last() -> None:
    words = ["of", "frost", "came", "and", "of", "frost", "went", "of", "ice"]
    found = watch([words[:5], words[5:]], 0, most=9)
    assert found[0].words[0] == "of frost"
    common, rare = watch([["mill", "x", "mill"] + ["mill"] * 5], 0), watch([["mill", "x", "mill"]], 0)
    assert rare[0].score > common[-1].score


def test_slips_tell_what_leads_the_eye() -> None:
    near, edge = Pull(0.8), Pull(0.02, 0.0, 0.6)
    known = [habits_of([pull] * 20) for pull in (near, edge)]
    assert known[0].near > UNKNOWN.near > known[1].near
    assert known[1].edge > UNKNOWN.edge > known[0].edge
    assert tuple(habits_of([])) == pytest.approx(tuple(UNKNOWN))


def test_places_below_what_is_worth_a_warning_are_left_out() -> None:
    best = watch(PAGE, 0)[0].score
    assert watch(PAGE, 0, habits=UNKNOWN._replace(least=best * 1.01)) == ()
    assert watch(PAGE, 0, habits=UNKNOWN._replace(least=best * 0.99))


def test_like_endings() -> None:
    found = watch([["so", "went", "every", "old", "relation"], ["and", "so", "fell", "that", "nation"]], 0)
    assert '"relation" and "nation" end lines 1 and 2 and end alike' in [each.sentence for each in found]


def test_like_beginnings_of_lines() -> None:
    found = watch([["lantern", "held", "fast"], ["lantana", "grew", "wild"]], 0)
    assert [each.sentence for each in found] == ['"lantern" and "lantana" begin lines 1 and 2 and begin alike']


def test_a_phrase_is_one_warning() -> None:
    found = watch(
        [["then", "out", "of", "that", "mill", "came", "smoke"], ["and", "out", "of", "that", "mill", "came", "song"]],
        0,
    )
    assert found[0].words == ("out of that mill came", "out of that mill came")
    assert len(found) == 1


def test_words_too_far_apart_are_no_danger() -> None:
    far = [["frost"], ["reed"], ["mill"], ["pond"], ["snow"], ["frost"]]
    assert watch(far, 0) == ()


def test_columns_are_named_where_they_matter() -> None:
    lines = [["one", "frost", "held"], ["two", "frost", "gave"]]
    assert watch(lines, 0, places=[(2, 7), (2, 8)])[0].sentence.startswith(
        '"frost" stands in lines 7 and 8 of column 2'
    )
    across = watch(lines, 0, places=[(1, 30), (2, 1)])[0].sentence
    assert "column 1 line 30 and column 2 line 1" in across


def test_the_exemplars_own_lines_decide_where_they_are_known() -> None:
    words = ["sun", "on", "frost", "and", "ice", "on", "frost", "and", "sleet", "on", "all"]
    cast_lines = [words[:5], words[5:]]
    own = watch(cast_lines, 50, exemplar_lines=(40, 50, 53, 57, 61))
    assert own[0].sentence == '"on frost" stands in lines 1 and 2; in the exemplar at the ends of near lines'
    gap = watch(cast_lines, 50, exemplar_lines=(0, 55))
    assert gap == watch(cast_lines, 50)


def test_allowances_say_what_is_the_same_word() -> None:
    lines = [["vnde", "x"], ["Unde,", "y"]]
    assert watch(lines, 0)[0].alike == "same word"
    assert watch(lines, 0, allow=Allowances(u_v=False))[0].alike == "like ending"


def test_no_more_than_asked_for_ranked_and_apart() -> None:
    lines = [["mill", "pond", "reed"] for _ in range(6)]
    found = watch(lines, 0, most=3)
    assert 0 < len(found) <= 3
    assert [each.score for each in found] == sorted((each.score for each in found), reverse=True)


@pytest.mark.parametrize("lines", [[], [[]], [["frost"]], [["·"], ["·"]]])
def test_nothing_to_watch(lines: list[list[str]]) -> None:
    assert watch(lines, 0) == ()


@settings(max_examples=60, deadline=None)
@given(st.lists(st.lists(st.sampled_from(["et", "aqua", "aquam", "mill", "still", "·"]), max_size=6), max_size=8))
def test_every_warning_points_at_its_words(lines: list[list[str]]) -> None:
    words = [word for line in lines for word in line]
    for each in watch(lines, 7, exemplar_lines=range(0, 60, 4)):
        for words_there, (_, line, word) in zip(each.words, each.places, strict=True):
            assert words[word - 7 :][: len(words_there.split())] == words_there.split()
            assert words_there.split()[0] in lines[line - 1]
        assert each.places[0][2] < each.places[1][2]


def test_warnings_name_far_more_leaps_than_chance_does(open_text: Text) -> None:
    pages = [open_text.words[begin : begin + 300] for begin in range(0, 12000, 300)]
    five = recall(pages, leaps, 5, seed=1)
    assert five.leaps > 1000
    assert five.warned >= 2.5 * five.by_chance
    assert five.warned >= 0.14 * five.leaps


def test_more_warnings_name_more_leaps(open_text: Text) -> None:
    pages = [open_text.words[begin : begin + 300] for begin in range(0, 6000, 300)]
    assert recall(pages, leaps, 10, seed=1).warned > recall(pages, leaps, 3, seed=1).warned


KNOWN = {
    "near in words": habits_of([Pull(0.7, 0.05)] * 20),
    "exemplar's column": habits_of([Pull(0.2, 0.8)] * 20),
    "edges of lines": habits_of([Pull(0.15, 0.05, 0.6)] * 20),
}


@pytest.mark.parametrize("scribe", SCRIBES)
def test_whatever_leads_the_eye_most_of_what_the_best_rule_names_is_named(open_text: Text, scribe: str) -> None:
    """Little known of the scribe, well over half of it; the scribe known by its slips, nearly all."""
    pages = [open_text.words[begin : begin + 300] for begin in range(0, 18000, 300)]
    for habits, least in ((UNKNOWN, 0.55), (KNOWN[scribe], 0.85)):
        ours, best = recall_of(pages, scribe, habits, seed=2)
        assert ours >= least * best
    ours, best = recall_of(pages, "near in words", UNKNOWN, seed=2, own_lines=False)
    assert ours >= 0.9 * best


def test_lines_are_cast_no_longer_than_asked() -> None:
    lines = cast(("frost " * 40).split(), 20)
    assert all(len(" ".join(line)) <= 20 for line in lines)
    assert sum(map(len, lines)) == 40
