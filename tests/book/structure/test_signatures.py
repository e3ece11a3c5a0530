from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from copydesk.book.structure.collation import Collation
from copydesk.book.structure.leaf_additions import add_after
from copydesk.book.structure.leaf_changes import cancel, make_single, want
from copydesk.book.structure.page import LeafId
from copydesk.book.structure.signatures import gathering_numbers, leaf_signatures, letter, letter_number, register


@given(st.integers(1, 500))
def test_letter_leads_back_to_its_number(number: int) -> None:
    assert letter_number(letter(number)) == letter_number(letter(number).upper()) == number


@given(st.integers(1, 500), st.integers(1, 500))
def test_no_two_gatherings_share_a_letter(one: int, other: int) -> None:
    assert (letter(one) == letter(other)) == (one == other)


@pytest.mark.parametrize("text", ["", "j", "u", "w", "ab", "1", "&&", "é"])
def test_no_signature(text: str) -> None:
    assert letter_number(text) is None


def test_leaf_added_before_the_fold_is_signed_too() -> None:
    signed = leaf_signatures(add_after(Collation.regular(1, 2), LeafId("1.1")), "arabic")
    assert {str(page): mark for page, mark in signed.items()} == {"1r": "a1", "2r": "a2", "3r": "a3"}


def test_leaf_gone_before_the_fold_moves_the_signatures_up() -> None:
    signed = leaf_signatures(cancel(Collation.regular(1, 2), LeafId("1.1")))
    assert {str(page): mark for page, mark in signed.items()} == {"1r": "a j"}


def test_gathering_without_its_first_half_signs_the_first_leaf_it_has() -> None:
    signed = leaf_signatures(want(Collation.regular(1, 1), LeafId("1.1")))
    assert {str(page): mark for page, mark in signed.items()} == {"1r": "a j"}


def test_gathering_of_which_nothing_is_left_is_not_signed() -> None:
    gone = want(want(Collation.regular(2, 1), LeafId("1.1")), LeafId("1.2"))
    assert list(leaf_signatures(gone).values()) == ["b j"]
    assert list(gathering_numbers(gone).values()) == ["II"]


def test_gathering_with_a_name_is_signed_with_it() -> None:
    named = Collation.regular(1, 2).gatherings[0]._replace(name="+")
    assert list(leaf_signatures(Collation((named,))).values()) == ["+ j", "+ ij"]


@pytest.mark.parametrize(("numerals", "fourth"), [("roman", "IV"), ("arabic", "4")])
def test_number_on_the_last_verso(numerals: str, fourth: str) -> None:
    numbers = gathering_numbers(Collation.regular(4, 4), "roman" if numerals == "roman" else "arabic")
    assert [str(page) for page in numbers] == ["8v", "16v", "24v", "32v"]
    assert list(numbers.values())[-1] == fourth


def test_register() -> None:
    collation = cancel(Collation.of_sizes([8, 8, 6, 8, 2]), LeafId("4.1"))
    assert [str(line) for line in register(collation)] == ["a b quaternions", "c ternion", "d 7 leaves", "e bifolium"]


def test_register_invents_no_letters_where_leaves_are_not_signed() -> None:
    collation = Collation.regular(4, 4)
    assert [str(line) for line in register(collation, "numbers")] == ["I II III IV quaternions"]
    assert [str(line) for line in register(collation, "none")] == ["1 2 3 4 quaternions"]


def test_register_of_sheets_alone() -> None:
    assert [str(line) for line in register(Collation.regular(3, 1))] == ["a b c bifolia"]


def test_register_of_single_leaves() -> None:
    parted = make_single(Collation.of_sizes([4, 1]), LeafId("1.1"))
    assert [str(line) for line in register(parted)] == ["a 4 leaves", "b 1 leaf"]
