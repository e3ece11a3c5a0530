"""The brace under a gathering, its heading, what is drawn where no leaf stands."""

from __future__ import annotations

import pytest

from copydesk.book.structure.page import Page
from copydesk.desk.widgets.gathering_drawing import Marks, OpenGathering, brace, closed_line, heading
from copydesk.desk.widgets.gathering_layout import lay_out
from copydesk.desk.widgets.page_cell import cell_needs
from copydesk.desk.widgets.toned_lines import plain
from copydesk.desk.wording.cell_words import cell_words
from copydesk.desk.wording.gathering_words import irregularities
from copydesk.tracking.commands.leaf_commands import add_leaf, cancel_leaf, lose_leaf
from copydesk.tracking.views.gathering_progress import page_glance
from copydesk.tracking.views.page_view import page_account
from small_book import SmallBook


@pytest.mark.parametrize(
    ("first", "last", "width", "drawn"),
    [
        (2, 16, 40, "  └─ sheet ─────┘"),
        (2, 12, 40, "  └─ sheet ─┘"),
        (2, 8, 40, "  └─────┘ sheet"),
        (10, 16, 18, "    sheet └─────┘"),
        (4, 4, 40, "    └─ sheet"),
        (36, 36, 40, "sheet ─┘"),
    ],
)
def test_a_brace_joins_two_leaves_and_names_the_sheet(first: int, last: int, width: int, drawn: str) -> None:
    shown = brace(first, last, "sheet", width)
    assert shown.strip() == drawn.strip()
    assert len(shown) <= width
    if first != last:
        assert (shown[first], shown[last]) == ("└", "┘")


def rows(book: SmallBook, number: int, width: int, page: str) -> list[str]:
    """A gathering (from 1) drawn open, with the cursor on a page."""
    state, gathering = book.state, book.state.collation.gathering(number)

    def words(index: int):  # type: ignore[no-untyped-def]
        return cell_words(page_account(state, index))

    leaves = state.collation.leaf_numbers(number)
    pages = range(2 * leaves.start - 2, 2 * leaves.stop - 2)
    layout = lay_out(state, gathering, width, cell_needs(map(words, pages)), Page.parse(page).leaf)
    drawn = OpenGathering(state, gathering, layout, words, ("A", "B"))
    above = heading(state, gathering, [page_glance(state, index) for index in pages], width)
    marks = Marks(state.collation.place(Page.parse(page)), None)
    return [plain(row).rstrip() for row in drawn.rows(marks, above, width)]


def test_what_stands_where_no_leaf_is_can_be_told_apart() -> None:
    book = SmallBook(sheets=3, count=2)
    book.do(cancel_leaf(book.state, 2))
    book.do(lose_leaf(book.state, 2))
    book.do(add_leaf(book.state, 1, tipped=True))
    book.do(add_leaf(book.state, 3))
    drawn = [row.ljust(78) for row in rows(book, 1, 78, "7r")]
    assert book.state.collation.place(Page.parse("7r")).gathering == 2
    numbers = next(at for at, row in enumerate(drawn) if "2 tip" in row)
    above = ["".join(row[at] for row in drawn[1:numbers]).strip() for at in range(78)]
    below = ["".join(row[at] for row in drawn[numbers + 1 : -1]) for at in range(78)]
    assert {"cut", "lost", "stub"} <= set(above)
    assert set(below[above.index("cut")]) == {"╳"}
    assert set(below[above.index("stub")]) == {"┆"}
    assert not below[above.index("lost")].strip()
    note = irregularities(book.state, book.state.collation.gathering(1))
    assert drawn[-1].strip() == f"{note[:73]}…"
    for said in ("2 tipped in", "lost", "cut away", "single, held by a stub"):
        assert said in note


def test_a_heading_says_less_where_there_is_less_room() -> None:
    state = SmallBook(sheets=4).state
    glances = [page_glance(state, index) for index in range(16)]
    gathering = state.collation.gathering(1)
    wide, usual, narrow = (plain(heading(state, gathering, glances, width)) for width in (150, 77, 52))
    assert wide.startswith(" Gathering 1  1–8  4 sheets, hair out   ")
    assert "4 sheets, hair out" in usual
    assert "sheets" not in narrow
    assert [len(wide), len(usual), len(narrow)] == [150, 77, 52]


def test_a_closed_gathering_has_a_letter_a_page_under_which_it_is_found() -> None:
    book = SmallBook(sheets=2)
    book.write("1r")
    book.do(book.commands.rule(Page.parse("1v")))
    state = book.state
    line = closed_line(state, state.collation.gathering(1), [page_glance(state, index) for index in range(8)], 80, 0)
    text = plain(line.pieces)
    assert text.startswith("   1  1–4     cw rr ║ rr rr ")
    assert {index: text[at] for at, index in line.columns.items()} == dict(enumerate("cwrrrrrr"))
    assert len(text) == 80
