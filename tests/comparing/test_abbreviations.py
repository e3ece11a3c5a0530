"""Abbreviations read by rule: strokes, raised letters, final signs, sacred names; and what they do not stand for."""

from __future__ import annotations

import random
from typing import TYPE_CHECKING

import pytest

from copydesk.comparing.compare import compare
from copydesk.comparing.normalization import Allowances, keys_beside
from slips import PAGE, Spoiler, place

if TYPE_CHECKING:
    from slips import Text

USUAL = Allowances()


@pytest.mark.parametrize(
    ("short", "word"),
    [
        ("dñs", "dominus"),  # letters left out of the word on both sides of the stroke
        ("dno̅", "domino"),
        ("gr̄a", "gratia"),
        ("oīs", "omnis"),
        ("aīa", "anima"),
        ("nr̄i", "nostri"),
        ("epc̄opus", "episcopus"),
        ("cap̄", "capitulum"),  # a word cut short
        ("sbt̄ia", "substantia"),
        ("q̄", "quam"),
        ("n̄", "non"),
        ("ē", "est"),
        ("pͥmus", "primus"),
        ("qͥ", "qui"),
        ("qͣ", "qua"),
        ("tⁱbus", "tribus"),
        ("mͦ", "modo"),
        ("wᵗ", "with"),
        ("yᵉ", "the"),
        ("yͭ", "that"),
        ("omib;", "omibus"),
        ("om̄ibꝰ", "omnibus"),  # a stroke and a sign in one word
        ("nr̄oꝝ", "nostrorum"),
        ("ꝯs̄", "consul"),
        ("ꝟt̄e", "vertice"),
        ("om̄ib;", "omnibus"),
        ("tpꝰ̄", "tempus"),
        ("qⁱb;", "quibus"),
        ("atq;", "atque"),
        ("lib͛", "liber"),
        ("ꝟtute", "vertute"),
        ("ih̄s", "Iesus"),
        ("xp̄i", "Christi"),
        ("xp̄c", "christus"),
        ("d̄s", "deus"),
        ("sc̄i", "sancti"),
        ("sp̄u", "spiritu"),
    ],
)
def test_a_short_form_stands_for_its_word(short: str, word: str) -> None:
    assert USUAL.same(short, word)
    assert USUAL.same(word, short)
    assert not Allowances(signs=False).same(short, word)


@pytest.mark.parametrize(
    ("short", "word"),
    [
        ("dñs", "domini"),  # the end that is written is another case's
        ("wat̄er", "winter"),
        ("gl̄a", "gratia"),
        ("pͥmus", "prumus"),
        ("dns", "dominus"),  # no mark says that anything is left out
        ("ihs", "iesus"),
        ("tēpus", "tepus"),  # nothing is left out
        ("n̄a", "navigatoria"),  # too little is kept
        ("lamb;", "lambs"),
        ("nr̄oꝝ", "nostrum"),
        ("omnibꝰ", "omnibras"),
    ],
)
def test_what_a_short_form_does_not_stand_for(short: str, word: str) -> None:
    assert not USUAL.same(short, word)


def test_a_list_of_ones_own() -> None:
    own = Allowances.from_mapping({"abbreviations": {"pb": "presbyter", "ꝑochia": ["parochia", "parochiam"]}})
    assert own.same("pb", "presbyter")
    assert own.same("PB.", "Presbyter,")
    assert own.same("ꝑochia", "parochiam")
    assert not own.same("parochia", "parochiam")
    assert own.key("pb") == "pb"


def test_a_word_drawn_together_is_read_as_the_exemplar_has_it() -> None:
    copied, exemplar = ["et", "dñs", "mōs", "oīm"], ["et", "dominus", "mons", "omnium"]
    assert keys_beside(copied, exemplar, USUAL)[0] == exemplar


def test_a_letter_of_the_language_is_no_abbreviation_where_the_exemplar_has_the_word() -> None:
    exemplar = [
        "el",
        "antiguo",
        "molino",
        "del",
        "año",
        "primero",
        "y",
        "el",
        "río",
        "que",
        "baja",
        "de",
        "la",
        "sierra",
    ]
    copied = ["el", "año", *exemplar[2:]]
    (fault,) = compare(copied, exemplar, 0).faults
    assert (fault.stands, fault.should) == ("año", "antiguo")


def _drawn_together(words: list[str], draw: random.Random) -> list[str]:
    """Long words (names of programs aside) with their first two letters, one within and the last, under a stroke."""
    return [
        f"{word[:2]}\u0305{word[len(word) // 2]}{word[-1]}"
        if word.islower() and word.isalpha() and word.isascii() and len(word) > 6 and draw.random() < 0.7
        else word
        for word in words
    ]


@pytest.mark.parametrize("seed", range(25))
def test_a_page_thick_with_abbreviations_raises_no_alarm(open_text: Text, seed: int) -> None:
    start = seed * 2000
    page = _drawn_together(list(open_text.words[start : start + PAGE]), random.Random(seed))
    outcome = compare(page, open_text.words, start, exemplar_lines=open_text.lines)
    assert outcome.clean, outcome.faults
    assert outcome.reached == start + PAGE


def test_slips_among_abbreviations_are_found(open_text: Text) -> None:
    found = named = 0
    for seed in range(40):
        slip = Spoiler(open_text, seed).slip("eye-skip")
        copied = _drawn_together(list(slip.copied), random.Random(seed))
        outcome = compare(copied, slip.exemplar, slip.start, places=[place(at) for at in range(len(copied))])
        found += bool(outcome.faults)
        named += [fault.kind for fault in outcome.faults] == ["eye-skip"]
    assert found == 40
    assert named >= 36
