"""Formulas of every kind are written and read back alike, and a book's formula makes the same book again."""

from __future__ import annotations

import string
from typing import TYPE_CHECKING

from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.common.errors import CopydeskError
from copydesk.book.common.numerals import roman
from copydesk.book.formula.builder import ParsedFormula, describe
from copydesk.book.formula.collation_formula import parse
from copydesk.book.formula.formatter import formula_of, show
from copydesk.book.structure.collation import Collation
from copydesk.book.structure.leaf_additions import add_after, add_sheet
from copydesk.book.structure.leaf_changes import cancel, make_single, replace, replace_sheet, want
from copydesk.book.structure.page import LeafId
from copydesk.book.structure.signatures import letter

if TYPE_CHECKING:
    from collections.abc import Callable

series: st.SearchStrategy[Callable[[int], str]] = st.sampled_from(
    [str, roman, lambda number: roman(number).upper(), letter, lambda number: letter(number).upper()]
)


@st.composite
def remarks(draw: st.DrawFn, leaves: int) -> str:
    places = draw(st.lists(st.integers(1, leaves), max_size=4, unique=True))
    word = draw(st.sampled_from(["wants {}", "{} cancelled", "{} replaced", "{} single", "-{}", "lacks {}"]))
    said = [word.format(place) for place in places]
    if draw(st.booleans()):
        said.append(
            draw(st.sampled_from(["+2 leaves after 1", "+1 leaf inserted before 1", "+1 sheet after 1", "modern"]))
        )
    return f" ({'; '.join(said)})" if said else ""


@st.composite
def formulas(draw: st.DrawFn) -> str:
    """A formula of up to eight pieces, its names in one series or two, with gaps, remarks and boundaries."""
    words = []
    for _ in range(draw(st.integers(1, 2))):
        name = draw(series)
        number = draw(st.integers(1, 60))
        for _ in range(draw(st.integers(1, 4))):
            last = number + draw(st.integers(0, 6))
            leaves = draw(st.integers(1, 16))
            names = name(number) if last == number else f"{name(number)}–{name(last)}"
            words.append(f"{names}^{leaves}{draw(remarks(leaves))}")
            words += draw(st.lists(st.sampled_from(["|", "[8]"]), max_size=1))
            number = last + draw(st.integers(1, 2))
    return " ".join(words)


@settings(max_examples=300, deadline=None)
@given(formulas())
def test_written_and_read_back_alike(text: str) -> None:
    try:
        formula = parse(text)
    except CopydeskError as refused:
        # Letters beside numerals of one case may be no series together, C–I^8 V–VI^8; single leaves leave no fold.
        # Letters may stand for numerals, and those for too many gatherings: ii–mm.
        assert any(each in str(refused) for each in ("–", "no sheet fits in", "more than 2000 gatherings"))
        return
    assert parse(show(formula)) == formula
    assert parse(show(formula, plain=True)) == formula
    assert formula.collation().leaves == formula.leaves


@settings(max_examples=200, deadline=None)
@given(st.text(string.digits + "^-–+|()[], wantsif.:AIVXa⁸⁺&$", max_size=24))
def test_whatever_is_typed_is_read_or_refused_with_its_column(text: str) -> None:
    try:
        formula = parse(text)
    except CopydeskError as refused:
        (problem,) = refused.problems
        assert 1 <= problem.column <= len(text) + 1
        return
    assert parse(show(formula)) == formula
    assert formula.collation().leaves == formula.leaves


def struck(collation: Collation, blow: str, at: int) -> Collation:
    """The book after one blow, or as it was where that is refused."""
    leaf = collation.half(at % collation.leaves + 1).id if collation.leaves else LeafId("1.0")
    gathering = collation.gatherings[at % len(collation.gatherings)]
    sheets = (0, *gathering.sheet_numbers())
    changes: dict[str, Callable[[], Collation]] = {
        "cancel": lambda: cancel(collation, leaf),
        "want": lambda: want(collation, leaf),
        "replace": lambda: replace(collation, leaf),
        "replace_sheet": lambda: replace_sheet(collation, gathering.number, sheets[at % len(sheets)]),
        "hook": lambda: add_after(collation, leaf),
        "tip": lambda: add_after(collation, leaf, tipped=True),
        "add_sheet": lambda: add_sheet(collation, gathering.number, sheets[at % len(sheets)]),
        "make_single": lambda: make_single(collation, leaf),
    }
    try:
        return changes[blow]()
    except CopydeskError:
        return collation


BLOWS = ("cancel", "want", "replace", "replace_sheet", "hook", "tip", "add_sheet", "make_single")


@settings(max_examples=200, deadline=None)
@given(
    st.lists(st.integers(1, 12), min_size=1, max_size=3),
    st.lists(st.tuples(st.sampled_from(BLOWS), st.integers(0, 99)), max_size=6),
)
def test_a_book_is_made_again_from_its_formula(sizes: list[int], blows: list[tuple[str, int]]) -> None:
    book = Collation.of_sizes(sizes)
    for blow, at in blows:
        book = struck(book, blow, at)
    formula = parse(formula_of(book))
    assert formula == ParsedFormula(describe(book))
    again = formula.collation()
    assert again.leaves == book.leaves
    assert describe(again) == describe(book)
