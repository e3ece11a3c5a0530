"""A page's cell: marks of flaws, skipped text and lines over, and what is cut where room is short."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from copydesk.book.structure.page import Page
from copydesk.desk.widgets.page_cell import CellForm, cell_needs, cell_rows
from copydesk.desk.widgets.toned_lines import plain
from copydesk.desk.wording.cell_words import cell_words, short_hands
from copydesk.tracking.views.page_view import page_account
from small_book import SmallBook
from worked_books import worked_book

FULL = [form for form in CellForm if form is not CellForm.STRIP]


def cell(book: SmallBook, page: str, form: CellForm) -> list[str]:
    words = cell_words(page_account(book.state, Page.parse(page).index))
    width = {CellForm.NARROW: 6, CellForm.NORMAL: 8, CellForm.WIDE: 17}[form]
    return [plain(row) for row in cell_rows(words, form, width, ("A", "B"))]


def test_a_page_that_does_not_begin_where_the_one_before_ends_bears_a_mark_that_is_no_colour() -> None:
    book = SmallBook()
    book.do(book.commands.write(Page.parse("1r"), ends="w48 w49"))
    book.do(book.commands.write(Page.parse("1v"), begins="w53 w54"))
    for form in FULL:
        assert "≠" in "".join(cell(book, "1v", form))
        assert "≠" not in "".join(cell(book, "1r", form))


def test_a_blank_page_says_so_and_nothing_else() -> None:
    for form in FULL:
        assert "".join(cell(SmallBook(words=0), "1r", form)).split() == ["blank"]


def test_lines_over_and_lines_left_empty() -> None:
    book = SmallBook(words=1000)
    book.do(book.commands.hold(Page.parse("1v"), "w70"))
    over = book.state.budget.pages[0].planned - 10
    assert cell(book, "1r", CellForm.NORMAL)[2] == f"0/10  +{over}".ljust(8)
    assert cell(book, "1r", CellForm.WIDE)[2].startswith(f"0/10 +{over} ")


def test_the_wide_cell_has_a_cross_where_another_hand_goes_on() -> None:
    book = SmallBook()
    book.write("1r", to_line=4)
    book.write("1r", hand="B")
    assert cell(book, "1r", CellForm.WIDE)[1].rstrip() == "━━┿━━━"
    assert cell(book, "1r", CellForm.WIDE)[3].split() == ["A+B", "?", "due"]


@pytest.mark.parametrize("seed", range(3))
@pytest.mark.parametrize("form", FULL)
def test_every_row_of_a_cell_is_as_wide_as_the_cell(seed: int, form: CellForm) -> None:
    state = worked_book(seed, 3).state
    every = [cell_words(page_account(state, index)) for index in range(state.collation.pages)]
    needs = cell_needs(every)
    width = {CellForm.NARROW: needs.narrow, CellForm.NORMAL: needs.normal, CellForm.WIDE: needs.wide}[form]
    for words in every:
        rows = cell_rows(words, form, width, ("agnes", "anna", "bea"), ahead=True)
        assert [len(plain(row)) for row in rows] == [width] * form.rows


@pytest.mark.parametrize(
    ("hands", "room", "shown"),
    [
        (("agnes", "bea"), 9, "agnes+bea"),
        (("agnes", "bea"), 6, "ag+be"),
        (("agnes", "bea"), 5, "ag+be"),
        (("agnes", "anna"), 6, "ag+an"),
        (("agnes", "anna", "bea"), 5, "b…(3)"),
        (("margaret",), 5, "marga"),
        ((), 5, ""),
    ],
)
def test_hands_are_shortened_as_far_as_they_can_be_told_apart(hands: tuple[str, ...], room: int, shown: str) -> None:
    said = short_hands(hands, ("agnes", "anna", "bea", "margaret"), room)
    assert len(said) <= room
    assert said == shown


@given(st.lists(st.text("abc", min_size=1, max_size=8), min_size=1, max_size=6, unique=True), st.integers(1, 20))
def test_hands_never_pass_their_room_unless_a_count_must(known: list[str], room: int) -> None:
    said = short_hands(known, known, room)
    assert len(said) <= max(room, 4)
