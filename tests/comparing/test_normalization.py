"""What a workshop allows: words folded so that allowed differences fall away, and no others."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.common.errors import CopydeskError
from copydesk.comparing.normalization import Allowances, keys_beside

USUAL = Allowances()


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("vnvm", "unum"),
        ("Iulius", "Julius"),
        ("&", "et"),
        ("&", "and"),
        ("⁊", "et"),
        ("Frost,", "frost"),
        ("frost", "“frost.”"),
        ("miſt", "mist"),
        ("ſtraſſe", "strasse"),
        ("tempus", "tēpus"),
        ("tempus", "te\u0303pus"),
        ("ꝑfectus", "perfectus"),
        ("ꝓbat", "probat"),
        ("omnibꝰ", "omnibus"),
        ("atqꝫ", "atque"),
        ("ꝯdit", "condit"),
        ("&c.", "etc"),
        ("water\u00admill", "watermill"),
    ],
)
def test_usual_allowances(one: str, other: str) -> None:
    assert USUAL.same(one, other)


@pytest.mark.parametrize(
    ("one", "other"), [("frost", "froth"), ("cafe", "café"), ("tēpus", "tepus"), ("et", "ut"), ("7", "et")]
)
def test_what_is_not_allowed_differs(one: str, other: str) -> None:
    assert not USUAL.same(one, other)


@pytest.mark.parametrize(
    ("setting", "one", "other"),
    [
        ("u/v", "vnum", "unum"),
        ("i/j", "iudex", "judex"),
        ("ampersand", "&", "et"),
        ("signs", "ꝑfectus", "perfectus"),
        ("case", "Frost", "frost"),
        ("punctuation", "frost,", "frost"),
    ],
)
def test_each_allowance_can_be_withdrawn(setting: str, one: str, other: str) -> None:
    assert USUAL.same(one, other)
    assert not Allowances.from_mapping({setting: False}).same(one, other)


def test_accents_count_unless_allowed() -> None:
    assert Allowances.from_mapping({"accents": True}).same("café", "cafe")


def test_own_pairs_of_letters_and_spellings() -> None:
    own = Allowances.from_mapping({"letters": {"þ": "th"}, "spellings": [["colour", "color"], ["dñs", "dominus"]]})
    assert own.same("Þe", "the")
    assert own.same("Colour,", "color")
    assert own.same("dñs", "dominus")
    assert not own.same("colours", "colors")


def test_nothing_set_is_the_usual() -> None:
    assert Allowances.from_mapping(None) == Allowances.from_mapping({}) == USUAL


@pytest.mark.parametrize(
    ("given_value", "says"),
    [
        ({"colour": True}, "the keys are u/v"),
        ({"case": "maybe"}, "write true or false"),
        ({"spellings": "colour"}, "write pairs"),
        ({"spellings": [["one"]]}, "pairs single words"),
        ({"spellings": {"to day": "today"}}, "pairs single words"),
        ({"letters": [["a", "b", "c"]]}, "each entry pairs two"),
    ],
)
def test_what_cannot_be_used_is_refused_in_a_sentence(given_value: dict[object, object], says: str) -> None:
    with pytest.raises(CopydeskError, match=says) as refused:
        Allowances.from_mapping(given_value, "mill/book.yaml")
    assert str(refused.value).startswith("mill/book.yaml: allow: ")


def test_every_wrong_key_is_told_at_once() -> None:
    with pytest.raises(CopydeskError) as refused:
        Allowances.from_mapping({"case": 1, "colour": True})
    assert len(refused.value.problems) == 2


def test_a_sign_is_read_as_the_other_side_has_it() -> None:
    assert keys_beside(["frost", "&", "snow"], ["frost", "and", "snow"], USUAL)[0] == ["frost", "and", "snow"]
    assert keys_beside(["frost", "and", "snow"], ["frost", "&", "snow"], USUAL)[1] == ["frost", "and", "snow"]


@settings(max_examples=150, deadline=None)
@given(st.text(min_size=1, max_size=12))
def test_folding_holds_still(word: str) -> None:
    """A key folds to itself, any word is the same as itself, and keys hold no capitals of the kind folded."""
    key = USUAL.key(word)
    assert USUAL.same(word, word)
    assert USUAL.key(key) == key


@settings(max_examples=100, deadline=None)
@given(st.text("abcdefghijklmnopqrstuvwxyz", min_size=1, max_size=12))
def test_plain_words_differ_only_by_their_letters(word: str) -> None:
    key = USUAL.key(word)
    assert key == word.replace("v", "u").replace("j", "i")
    assert USUAL.key(f"({word.upper()}),") == key


def test_groups_of_spellings_that_share_a_word_are_one_group() -> None:
    allow = Allowances(spellings=(("colour", "color"), ("gray", "grey"), ("hue", "colour")))
    assert len(set(allow.keys(["hue", "color", "colour"]))) == 1
    assert allow.key("grey") == allow.key("gray") != allow.key("hue")
