"""Every remark of a formula is understood, given back as harmless, or warned of; no leaf is lost quietly."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.common.errors import CopydeskError
from copydesk.book.formula.collation_formula import facts, parse
from copydesk.book.formula.formatter import show


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("1^8 (leaf 4 lost)", "1⁸ (wants 4)"),
        ("1^8 (4 excised)", "1⁸ (wants 4)"),
        ("1^8 (4 is gone)", "1⁸ (wants 4)"),
        ("1^8 (4 was cut away)", "1⁸ (wants 4)"),
        ("1^8 (missing third leaf)", "1⁸ (wants 3)"),
        ("1^8 (lost: 3)", "1⁸ (wants 3)"),
        ("1^8 (wants 4th)", "1⁸ (wants 4)"),
        ("1^8 (wants last)", "1⁸ (wants 8)"),
        ("1^8 (wants the last)", "1⁸ (wants 8)"),
        ("1^8 (last but one torn out)", "1⁸ (wants 7)"),
        ("1^8 (first leaf cut out)", "1⁸ (wants 1)"),
        ("1^8 (lacks the last two leaves)", "1⁸ (wants 7, 8)"),
        ("1^8 (first three leaves removed)", "1⁸ (wants 1–3)"),
        ("1^8 (wants 3 leaves after 2)", "1⁸ (wants 3–5)"),
        ("1^8 (2 leaves lost at the end)", "1⁸ (wants 7, 8)"),
        ("1^8 (wants all after 5)", "1⁸ (wants 6–8)"),
        ("1^8 (outer bifolium missing)", "1⁸ (wants 1, 8)"),
        ("1^8 (inner bifolium gone)", "1⁸ (wants 4, 5)"),
        ("1^8 (lacks the two outer bifolia)", "1⁸ (wants 1, 2, 7, 8)"),
        ("1^8 (third bifolium removed)", "1⁸ (wants 3, 6)"),
        ("1^8 (second and third bifolia missing)", "1⁸ (wants 2, 3, 6, 7)"),
        ("1^8 (sheets 1 to 3 lost)", "1⁸ (wants 1–3, 6–8)"),
        ("1^8 (the conjugate of 2 wanting)", "1⁸ (wants 7)"),
        ("1^8 lacks 3 and its conjugate", "1⁸ (wants 3, 6)"),
        ("1^8 (7 a stub)", "1⁸ (wants 7)"),
        ("1^8 (only 1 and 8 remain)", "1⁸ (wants 2–7)"),
        ("1^8 (outer two bifolia only present)", "1⁸ (wants 3–6)"),
        ("1^8 (cancelled 3)", "1⁸ (3 cancelled)"),
        ("1^8 (3 a cancel)", "1⁸ (3 cancelled)"),
        ("1^8 (-1, 3)", "1⁸ (wants 1, 3)"),
        ("1^8 (-1, and -3)", "1⁸ (wants 1, 3)"),
        ("1^8 (-1, 3 cancelled)", "1⁸ (wants 1; 3 cancelled)"),
        ("1^8 (wants 3, 5 cancelled)", "1⁸ (wants 3; 5 cancelled)"),
        ("1–2^8 (both want 8)", "1⁸ (wants 8) 2⁸ (wants 8)"),
        ("A^8 (A3+1)", "A⁸ (+1 leaf inserted after 3)"),
        ("[1]^8 2^8", "1–2⁸"),
        ("[1-3]^8", "1–3⁸"),
        ("i + 1-3^8 + ii", "i + 1–3⁸ + ii"),
        ("A-2C^8", "A–Z⁸ 2A–2C⁸"),
        ("A-Z^8 2A-2C^8", "A–Z⁸ 2A–2C⁸"),
        ("1^8 (wants 8, probably blank)", "1⁸ (wants 8; probably blank)"),
        ("1^8 (3 is blank)", "1⁸ (3 is blank)"),
        ("1^8 (4 blank, removed)", "1⁸ (wants 4)"),
        ("1^8 (8, probably blank, cut out)", "1⁸ (wants 8)"),
        ("1^8 (8 is blank and cut away)", "1⁸ (wants 8)"),
        ("1^8 (7 and 8, both blank, wanting)", "1⁸ (wants 7, 8)"),
        ("1^8 (last blank removed)", "1⁸ (wants 8)"),
        ("1^8 (wants final blank leaf)", "1⁸ (wants 8)"),
        ("1^8 (wants blank 8)", "1⁸ (wants 8)"),
        ("1^8 (8 blank, lacking 3)", "1⁸ (wants 3; 8 blank)"),
        ("1^8 (3 removed, 4 blank)", "1⁸ (wants 3; 4 blank)"),
        ("1^8 (3 not present)", "1⁸ (wants 3)"),
        ("1^8 (1 no longer extant)", "1⁸ (wants 1)"),
        ("1^8 (two missing after 4)", "1⁸ (wants 5, 6)"),
        ("1^8 (5 an inserted leaf)", "1⁸ (+1 leaf after 4)"),
        ("1^8 (wants the conjugate of the second)", "1⁸ (wants 7)"),
        ("1^8 (conjugate of 2nd gone)", "1⁸ (wants 7)"),
    ],
)
def test_understood_without_a_warning(text: str, shown: str) -> None:
    formula = parse(text)
    assert show(formula) == shown
    assert formula.warnings == ()
    assert parse(show(formula)) == formula


def test_letters_are_counted_in_the_alphabet_of_23() -> None:
    assert parse("A-2C^8").leaves == parse("A-Z^8 2A-2C^8").leaves == 26 * 8


def test_flyleaves_are_counted_apart() -> None:
    assert facts("i + 1-3^8 + ii")["leaves"] == 24
    assert facts("i + 1-3^8 + ii")["flyleaves"] == {"front": 1, "behind": 2}


@pytest.mark.parametrize(
    ("text", "leaves"),
    [
        ("1^8 (lacks one leaf)", 7),
        ("1^8 (two leaves cut out)", 6),
        ("1^8 (+1 leaf)", 9),
        ("1^8 (6 half gone)", 8),
        ("1^8 (lacks 3, blank, and 5)", 7),
        ("1^8 (wants 2 (blank) and 3)", 7),
        ("1^8 (4 replaced by a stub)", 8),
        ("1^8 (less 2)", 8),
        ("1^8 (now 6)", 8),
        ("1^8 (1.8, 2.7 missing)", 8),
        ("1^8 (ff. 3 and 4 lost)", 8),
        ("1^8 (leaf after 4 cut out)", 8),
        ("1–2^8, ii leaves", 16),
        ("1^8 (some leaves cut away)", 8),
        ("1^8 (three leaves gone)", 5),
        ("1^8 (three gone)", 5),
        ("1^8 (wants three)", 5),
        ("1^8 (less 3 leaves)", 5),
        ("1^8 (one of them lost)", 8),
        ("1^8 (lower half of 3 torn away)", 8),
        ("1^8 (3 xyzzy)", 8),
        ("1^8 (xyzzy)", 8),
        ("1^8 (leaf 3 frobbed)", 8),
        ("1^8 (2 supplied)", 8),
        ("1^8 (no fol. 3)", 8),
        ("1^8 (no leaf 3)", 8),
        ("1^8 (3 not bound in)", 8),
        ("1^8 (3 out)", 8),
        ("1^8 (originally ten)", 8),
        ("1^8 (formerly 10)", 8),
        ("1^8 (wants 1 and perhaps 2)", 7),
        ("1^8 (4 leaves only)", 8),
        ("1^8. The last leaf was cut out.", 8),
        ("1–3^8 (3 wants 4)", 24),
        ("1^8 [a leaf was removed here] 2^8", 16),
    ],
)
def test_what_is_in_doubt_is_warned_of(text: str, leaves: int) -> None:
    formula = parse(text)
    assert formula.leaves == leaves
    assert formula.warnings != ()


def test_words_that_change_no_leaf_are_given_back() -> None:
    formula = parse(
        "1-3^8 [to fol. 24, a booklet boundary] 4^8 (1 blank) [a later insertion] 5^8. No catchwords or signatures."
    )
    assert formula.warnings == ()
    assert formula.remarks == (
        "gathering 4: 1 blank",
        "a booklet boundary",
        "a later insertion",
        "No catchwords or signatures",
    )
    assert show(formula) == "1–3⁸ [24] | 4⁸ (1 blank) 5⁸"


def test_a_loss_that_is_only_likely_is_given_back_as_such() -> None:
    formula = parse("1^8 (probably wants 8)")
    assert (formula.leaves, formula.warnings, formula.remarks) == (7, (), ("gathering 1: probably wants 8",))


def test_words_of_the_language_are_no_gatherings() -> None:
    formula = parse("Quires of eight: 1-2^8. See (8) and note: 4.")
    assert len(formula.gatherings) == 2
    assert formula.leaves == 16


def test_remark_that_explains_one_understood_is_harmless() -> None:
    assert parse("1^8 (-8, cut out with a razor; a mere stub remaining)").warnings == ()
    assert parse("1^8 (-8, cut out with leaf 5)").warnings != ()


GONE = [
    "lost",
    "gone",
    "missing",
    "wanting",
    "cancelled",
    "excised",
    "cut out",
    "torn out",
    "removed",
    "canc.",
    "absent",
]
WHICH = {
    "{n}": 1, "leaf {n}": 1, "the {n}th leaf": 1, "last": 1, "first leaf": 1, "last two leaves": 2,
    "outer bifolium": 2, "inner bifolium": 2, "second bifolium": 2, "conjugate of {n}": 1, "one leaf": 1, "3 leaves": 3,
}  # fmt: skip
HARMLESS = ["modern paper", "1 blank", "no catchword", "signed at the foot", "ruled in lead", "[fol. 12]"]
FRAMES = ["({} {})", "({} is {})", "({} {}; ruled in lead)", "(blank, {} {})", " {} {}"]


@settings(max_examples=400, deadline=None)
@given(
    st.sampled_from([8, 10, 12]), st.sampled_from(sorted(WHICH)), st.sampled_from(GONE), st.integers(4, 8),
    st.sampled_from(FRAMES),
)  # fmt: skip
def test_so_many_leaves_go_as_are_said_to_be_gone(leaves: int, which: str, gone: str, place: int, frame: str) -> None:
    formula = parse(f"1^{leaves} {frame.format(which.format(n=place), gone)} 2^8")
    assert formula.leaves == leaves + 8 - WHICH[which]


@settings(max_examples=400, deadline=None)
@given(
    st.lists(st.sampled_from([*GONE, *HARMLESS, *(which.format(n=4) for which in WHICH), "and", "or", "half", "part of",
                              "not", "-", "+", "3", "perhaps", "stub", "only", ",", ";"]), max_size=7),
    st.booleans(),
)  # fmt: skip
def test_leaves_differ_only_where_it_is_said(words: list[str], bracketed: bool) -> None:
    said = " ".join(words)
    try:
        formula = parse(f"1–2^8 3^8 ({said}) 4^8" if bracketed else f"1–2^8 3^8. {said}. 4^8")
    except CopydeskError:
        return
    assert len(formula.gatherings) == 4
    again = parse(show(formula))
    assert again.leaves == formula.leaves
    assert formula.collation().leaves == formula.leaves
    speaks = any(each in said for each in GONE)
    if speaks and formula.leaves == 32:
        third = formula.gatherings[2]
        replaced = third.added or third.replaced
        assert formula.warnings or replaced or not any(word in WHICH_SAID for word in words)


NOISE = ["xyzzy", "frobbed", "Quonk", "zim-zum"]


@settings(max_examples=400, deadline=None)
@given(
    st.lists(
        st.sampled_from([*GONE, *HARMLESS, *(each.format(n=4) for each in WHICH), "and", "not", "3", ","]), max_size=5
    ),
    st.sampled_from(NOISE),
    st.integers(0, 5),
)
def test_a_word_nobody_knows_is_given_back_and_warned_of_where_no_leaf_goes(
    words: list[str], noise: str, at: int
) -> None:
    said = " ".join([*words[:at], noise, *words[at:]])
    try:
        formula = parse(f"1^8 ({said}) 2^8")
    except CopydeskError:
        return
    assert any(noise in each for each in formula.remarks)
    gathering = formula.gatherings[0]
    if not (gathering.wanting or gathering.cancelled or gathering.single or gathering.added or gathering.replaced):
        assert formula.leaves == 16
        assert any(noise in each or said in each for each in formula.warnings)


WHICH_SAID = {which.format(n=4) for which in WHICH}


@pytest.mark.parametrize("text", ["1^8 ii", "1^8 B", "1^8 less 1 2^8", "1^8 (4; 5 cut out)", "1^8 - 1"])
def test_what_might_be_a_leaf_or_a_gathering_is_refused(text: str) -> None:
    with pytest.raises(CopydeskError):
        parse(text)


def test_a_parenthesis_within_is_one_more_remark() -> None:
    formula = parse("1^8 (3 blank (8 cut out))")
    assert show(formula) == "1⁸ (wants 8; 3 blank)"
    assert parse(show(formula)).leaves == formula.leaves == 7


def test_words_after_a_leaf_said_to_be_single_are_not_taken_to_explain_a_loss() -> None:
    assert parse("1^8 (3 single removed)").warnings != ()
    assert parse("1^8 (+3, pasted to a stub)").warnings == ()


def test_a_word_before_a_parenthesis_is_no_gathering_told_leaf_by_leaf() -> None:
    assert parse("1^8. The bifolium ( ,) 2^8").leaves == 16
    assert parse("1^8. See also (1, 2) 2^8").leaves == 16
