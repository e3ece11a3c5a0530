from __future__ import annotations

import pytest

from copydesk.book.common.errors import CopydeskError, Problem
from copydesk.book.formula.collation_formula import parse
from copydesk.book.formula.formatter import formula_of, show
from copydesk.book.structure.collation import Collation
from copydesk.book.structure.leaf_additions import add_after, add_gathering, add_sheet
from copydesk.book.structure.leaf_changes import cancel, make_single, replace, replace_sheet, want
from copydesk.book.structure.openings import unlike_openings
from copydesk.book.structure.page import LeafId, Page, Surface


@pytest.mark.parametrize(
    "text",
    ["1–3⁸ 4⁶", "1-3^8 4^6", "1-3:8, 4:6", "1-3.8 4.6", "1–3(8) 4(6)", "1—3 ^ 8; 4^{6}", "1^8 2^8 3^8 4^6",
     "1-3\n^8 4^6", "1–3 quaternions 4 ternion", "3 quaternions, 1 ternion", "2 quaternions, 1 quaternion, 1 ternion"],
)  # fmt: skip
def test_ways_of_writing_one_thing(text: str) -> None:
    assert parse(text) == parse("1–3⁸ 4⁶")
    assert show(parse(text)) == "1–3⁸ 4⁶"
    assert show(parse(text), plain=True) == "1-3^8 4^6"


@pytest.mark.parametrize(
    "text",
    ["1^8 (wants 2, 4, 5, 6)", "1^8 wants 2 and 4-6", "1^8 lacks leaves 2, 4 to 6", "1^8(–2, –4 to –6)",
     "1^8(-2; -4 through -6)", "1^8 (2, 4–6 missing)", "1⁸⁻⁴ (−2, −4−6)", "1^8-4 (2 & 4-6 lost)"],
)  # fmt: skip
def test_ways_of_missing_leaves(text: str) -> None:
    assert show(parse(text)) == "1⁸ (wants 2, 4–6)"
    assert parse(text).leaves == 4


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("1^8 (2–4 canc.)", "1⁸ (2–4 cancelled)"),
        ("1^8 (5 cancelled; 5 replaced)", "1⁸ (5 replaced)"),
        ("1^8 (–5, +5)", "1⁸ (5 replaced)"),
        ("1^8 (3, 6 single leaves)", "1⁸ (3, 6 single)"),
        ("1^8 + a single leaf after leaf 5", "1⁸ (+1 leaf after 5)"),
        ("1^8 (+2 leaves tipped in after 5)", "1⁸ (+2 leaves inserted after 5)"),
        ("1^8 (+ 1 after 4)", "1⁸ (+1 leaf after 4)"),
        ("1^8 +2 after 4 2^8", "1⁸ (+2 leaves after 4) 2⁸"),
        ("1^8 (a leaf added after 5)", "1⁸ (+1 leaf after 5)"),
        ("1^8 (+1 leaf after 5; +1 leaf after 5)", "1⁸ (+2 leaves after 5)"),
        ("1^8 (+1 bifolium after 4)", "1⁸ (+1 sheet after 4)"),
        ("1^8 (+1 sheet after 2 and 6)", "1⁸ (+1 sheet after 2 and 6)"),
        ("1^8 +1 sheet after 6", "1⁸ (+1 sheet after 2 and 6)"),
        ("1^8? 2^8", "1⁸? 2⁸"),
        ("1^8 modern paper 2^8", "1⁸ (modern paper) 2⁸"),
        ("1^8 wants 2, 2^8", "1⁸ (wants 2) 2⁸"),
        ("1^8 wants 2, 2-4^8", "1⁸ (wants 2) 2–4⁸"),
        ("A^4 [4] | B^8 ‖ C^8", "A⁴ [4] | B⁸ | C⁸"),
        ("8vo: *^2 A–C^8 ii + 26 + i leaves [$4 signed]", "8vo: *² A–C⁸ ii + 26 + i leaves [$4 signed]"),
        ("i^8 ii-iv^6", "i⁸ ii–iv⁶"),
        ("a-z^8 &^8 con^8 aa^4", "a–con⁸ aa⁴"),
        ("A-C^8 2A-2C^8", "A–C⁸ 2A–2C⁸"),
        ("Y^8 Z^8 Aa-Cc^8", "Y–Z⁸ Aa–Cc⁸"),
        ("I^8 K^8 L^8 M^8 N^8 O^8 P^8 Q^8 R^8 S^8 T^8 V^8", "I⁸ K–V⁸"),
        ("C^8 D^8", "C–D⁸"),
        ("I (1, 2) II^4", "I (1, 2) II⁴"),
    ],
)
def test_what_is_written_back(text: str, shown: str) -> None:
    formula = parse(text)
    assert show(formula) == shown
    assert parse(shown) == formula


def test_numerals_and_letters_are_told_apart_by_their_company() -> None:
    assert len(parse("I–V^8 VI^6").gatherings) == 6
    assert len(parse("A–I^8 K–V^6").gatherings) == 20
    assert len(parse("V–X^8").gatherings) == 6
    assert len(parse("T–X^8").gatherings) == 3


@pytest.mark.parametrize(
    ("text", "warning"),
    [
        ("1^7", "gathering 1 has 7 leaves, an odd number; leaf 4 is taken to be single"),
        ("1^1", "gathering 1 has 1 leaf, an odd number; leaf 1 is taken to be single"),
        ("1–3^8 (wants 8)", "what is remarked on gatherings 1 to 3 is taken of each of them"),
        ("1^8+1", "it is not said which leaf of gathering 1 was added; the last is taken to be"),
        ("1^8-2", "it is not said which leaves of gathering 1 are gone; the last 2 are taken to be"),
        ("1^8+1 (+3, +4)", "gathering 1 says 1 added but names 2; those named are counted"),
        ("1^8-1 (2–4 cancelled)", "gathering 1 says 1 gone but names 3; those named are counted"),
        ("1–2^8 6^8", "3 gatherings are left out between 2 and 6"),
        ("a^8 c^8", "one gathering is left out between a and c"),
        ("1^8 1^8", "the numbering goes back: gathering 1 follows 1"),
        ("[4] 1^8", "4 leaves are stated at the beginning, but those before it come to 0"),
        ("I (1, 2) II (4, 5)", "gathering II begins with leaf 4, but 2 leaves go before it"),
    ],
)
def test_what_cannot_be_right_is_warned_of(text: str, warning: str) -> None:
    assert parse(text).warnings == (warning,)


@pytest.mark.parametrize("text", ["1–2^8 | 1–2^8", "a–b^8 1–2^8 c^8", "π^2 A^8 χ^1 (1 single) B^8", "4–6^8", "h–l^8"])
def test_nothing_to_warn_of(text: str) -> None:
    assert parse(text).warnings == ()


@pytest.mark.parametrize(
    ("text", "line", "column", "sentence"),
    [
        ("", 1, 1, "there is no gathering"),
        ("  ", 1, 1, "there is no gathering"),
        ("1–6^8 7^", 1, 7, "'7^' cannot be read here"),
        ("1–6^8 7^6 (wants 7)", 1, 12, "gathering 7 has no leaf 7; its leaves go from 1 to 6"),
        ("1–6^8\n7^6 (wants 7)", 2, 6, "gathering 7 has no leaf 7"),
        ("1^8 (wants 6", 1, 5, "never closed"),
        ("1^8 wants some", 1, 5, "write its place, as in wants 6"),
        ("1^8 (6)", 1, 6, "it is not said what of which leaf"),
        ("1^8 (4+1)", 1, 6, "it is not said what of which leaf"),
        ("three quaternions and a ternion", 1, 1, "'three' is a number spelt out; write it in figures"),
        ("1^8 (wants 6–4)", 1, 12, "'6–4' goes back"),
        ("1^8 (–6 to –4)", 1, 6, "goes back"),
        ("1^8 ((6))", 1, 7, "it is not said what of which leaf"),
        ("1^8+1 (+10)", 1, 8, "gathering 1 has no leaf 10; its leaves go from 1 to 9"),
        ("1^8 +1 leaf after 9", 1, 5, "has no leaf 9"),
        ("1^8 +1 leaf before 0", 1, 5, "has no leaf -1"),
        ("1^8 (+1 sheet after 2 and 5)", 1, 6, "no sheet fits in after leaves 2 and 5; it lies inside"),
        ("6–1^8", 1, 1, "6–1 goes back"),
        ("1^8 2–b^8", 1, 5, "2–b is no series of gatherings"),
        ("A–W^8", 1, 1, "A–W is no series of gatherings"),
        ("1^0", 1, 1, "a gathering of 0 leaves cannot be"),
        ("1^2000000000000000000000", 1, 1, "cannot be; write a number from 1 to 200"),
        ("1–9999^8", 1, 1, "are more than 2000 gatherings"),
        ("9999 quaternions", 1, 1, "comes to more than 2000 gatherings"),
        ("1^?", 1, 3, "the number of leaves is not said"),
        ("1^{8", 1, 5, "the brace"),
        ("1^8 8 leaves 9 leaves", 1, 14, "stated a second time"),
        ("I (1, 3+4)", 1, 4, "do not follow one another"),
        ("I (1+2+3, 4)", 1, 4, "more than two leaves are joined"),
        ("I (1+2, 3+4)", 1, 4, "cross or lie side by side"),
        ("I (1+3, 2+4)", 1, 4, "cross or lie side by side"),
        ("(6)1 (8)2-4", 1, 1, "the leaves stand before the gathering here; write them behind it"),
        ("1-3^8 (6)4", 1, 8, "it is not said what of which leaf"),
        ("[9^8", 1, 1, "'[9^8' cannot be read here"),
        ("1^8 \x1b[31m", 1, 5, r"'\x1b[31m' cannot be read here"),
    ],
)
def test_bad_formula_names_the_column(text: str, line: int, column: int, sentence: str) -> None:
    with pytest.raises(CopydeskError) as refused:
        parse(text)
    (problem,) = refused.value.problems
    assert isinstance(problem, Problem)
    assert (problem.file, problem.line) == ("formula", line)
    assert sentence in problem.what
    assert problem.column == column


@pytest.mark.parametrize(
    ("start", "again", "times", "sentence"),
    [
        ("", "1^8 ", 60_000, "longer than 200000 letters"),
        ("", "1^8 ", 40_000, "more than 2000 gatherings"),
        ("", "(", 90_000, "cannot be read here"),
        ("1^8 (", "1,", 90_000, "never closed"),
        ("1^8 ", "1,", 90_000, "cannot be read here"),
        ("1^8 ", "word ", 50_000, "longer than 200000 letters"),
        ("", "$4 ", 60_000, "cannot be read here"),
    ],
)
def test_formula_of_any_length_is_read_or_refused(start: str, again: str, times: int, sentence: str) -> None:
    with pytest.raises(CopydeskError, match=sentence):
        parse(start + again * times)


def test_many_words_and_places_are_read() -> None:
    assert parse("1^8 " + "word " * 30_000).leaves == 8
    assert parse("1^8 (wants " + "1," * 90_000 + ")").leaves == 7


def test_formula_of_a_book_as_it_stands() -> None:
    book = Collation.regular(7, 4)
    assert formula_of(book) == "1–7⁸"
    assert formula_of(book, plain=True) == "1-7^8"
    assert formula_of(cancel(book, LeafId("3.5"))) == "1–2⁸ 3⁸ (5 cancelled) 4–7⁸"
    assert formula_of(want(book, LeafId("7.8"))) == "1–6⁸ 7⁸ (wants 8)"
    assert formula_of(replace(book, LeafId("1.2"))) == "1⁸ (2 replaced) 2–7⁸"
    assert formula_of(replace_sheet(book, 1, 2)) == "1–7⁸"
    assert formula_of(make_single(book, LeafId("1.3"))) == "1⁸ (3, 6 single) 2–7⁸"
    assert formula_of(make_single(replace_sheet(book, 1, 3), LeafId("1.6r1"))) == "1⁸ (3, 6 single) 2–7⁸"
    assert formula_of(add_after(book, LeafId("1.3"))) == "1⁸ (+1 leaf after 3) 2–7⁸"
    assert formula_of(add_after(book, LeafId("1.0"), tipped=True)) == "1⁸ (+1 leaf inserted before 1) 2–7⁸"
    assert formula_of(add_sheet(book, 1, 4)) == "1⁸ (+1 sheet after 4) 2–7⁸"
    assert formula_of(add_sheet(book, 1)) == "1⁸ (+1 sheet after 0 and 8) 2–7⁸"
    assert formula_of(add_gathering(book, 3)) == "1–7⁸ 8³ (2 single)"


def test_leaf_put_in_for_one_cut_away_and_lost_again() -> None:
    book = cancel(replace(Collation.regular(1, 4), LeafId("1.5")), LeafId("1.5r1"))
    assert formula_of(book) == "1⁸ (5 cancelled)"


def test_book_of_a_formula_keeps_letters_and_signs_but_counts_numerals() -> None:
    assert formula_of(parse("*^2 A–C^8").collation()) == "*² A–C⁸"
    assert formula_of(parse("I–III^8").collation()) == "1–3⁸"
    assert formula_of(parse("4–6^8").collation()) == "4–6⁸"
    assert parse("1–3^8").collation() == Collation.regular(3, 4)


@pytest.mark.parametrize("outside", [Surface.HAIR, Surface.FLESH])
@pytest.mark.parametrize(
    "text", ["1^8 (3, 6 single) 2^8", "1^8 (4 single) 2^6 (1 single)", "I (1, 2+9, 3+8, 4+7, 5+6, 10)"]
)
def test_single_leaves_lie_so_that_like_faces_like(text: str, outside: Surface) -> None:
    book = parse(text).collation(outside)
    assert book.place(Page.parse("1r")).surface is outside
    assert unlike_openings(book) == ()


@pytest.mark.parametrize("text", ["1^8 2^8 (both want 8)", "1-2^8 (both want 8)", "1^8 (wants 8) 2^8 (8 stolen)"])
def test_what_is_said_of_both_holds_for_the_gathering_before_too(text: str) -> None:
    found = parse(text)
    assert (found.leaves, found.warnings) == (14, ())
    assert show(found) == "1⁸ (wants 8) 2⁸ (wants 8)"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("1^8 2^8 (each wants 8)", "what is said of each at gathering 2 is taken of that gathering alone"),
        ("1^8 (wants 1) 2^8 (both want 8)", "what is said of both at gathering 2 is taken of that gathering alone"),
        ("1^8 (3 now in Paris)", "'3 now in Paris' on gathering 1 is not understood"),
        ("1^8 (3 sold)", "'3 sold' on gathering 1 is not understood"),
    ],
)
def test_a_leaf_that_may_be_gone_is_warned_of(text: str, said: str) -> None:
    (warning,) = parse(text).warnings
    assert warning.startswith(said)
