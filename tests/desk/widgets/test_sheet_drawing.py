"""The drawn sheet: what stands in which row, read off the drawing."""

from __future__ import annotations

import pytest

from copydesk.book.plan import Anchor, Columns, GatheringPlan, LeafException, SpacePlan
from copydesk.book.structure.gathering import SheetSide
from copydesk.book.structure.page import Page
from copydesk.book.structure.sheets import find_sheet
from copydesk.desk.widgets.sheet_drawing import SheetPicture, draw_side
from copydesk.tracking.commands import leaf_commands as leaf_acts
from copydesk.tracking.views.sheet_view import sheet_account
from small_book import SmallBook

FIRST = Page.parse("1r")


def drawn(
    book: SmallBook, sheet: str = "1.1", width: int = 81, height: int = 30, *, inner: bool = False
) -> SheetPicture:
    account = sheet_account(book.state, find_sheet(book.state.collation, sheet))
    side = account.side(SheetSide.INNER if inner else SheetSide.OUTER)
    return draw_side(book.state, side, FIRST, width, height)


def rows(picture: SheetPicture) -> list[str]:
    return ["".join(piece.text for piece in row) for row in picture.rows]


def right(picture: SheetPicture) -> list[str]:
    return [row[picture.fold + 1 :] for row in rows(picture)]


def left(picture: SheetPicture) -> list[str]:
    return [row[: picture.fold] for row in rows(picture)]


def tones(picture: SheetPicture, sign: str) -> set[str]:
    return {piece.tone for row in picture.rows for piece in row if sign in piece.text}


def test_the_two_pages_of_a_side_stand_at_the_fold_with_what_comes_next() -> None:
    picture = drawn(SmallBook())
    assert left(picture)[0].startswith("┌─ 4v  rule ─")
    assert right(picture)[0].endswith("─ 1r  rule ──┐")
    assert [row[picture.fold] for row in rows(picture)] == ["┬", *"┊" * 12, "┴"]
    assert tones(picture, "1r  rule") == {"cursor"}
    assert tones(picture, "4v  rule") == {"label"}
    turned = drawn(SmallBook(), inner=True)
    assert left(turned)[0].startswith("┌─ 1v ")
    assert "─ 4r  rule ─" in right(turned)[0]


def test_a_line_is_solid_where_written_broken_where_planned_and_a_rule_where_ruled() -> None:
    book = SmallBook(words=1000)
    book.write("1r", to_line=3)
    page = right(drawn(book))[2:12]
    words = book.state.copy.line_text(0, book.state.budget.pages[0].end).split()
    assert page[0].lstrip().startswith(" ".join(words[:4]))
    assert ["━" in row for row in page] == [True] * 3 + [False] * 7
    assert ["┄" in row for row in page] == [False] * 3 + [True] * 7
    assert ["▸" in row for row in page] == [False] * 3 + [True] + [False] * 6
    blank = SmallBook(words=3)
    blank.do(blank.commands.rule(Page.parse("4v")))
    assert all("────" in row for row in left(drawn(blank))[2:12])
    assert not any("─" in row for row in left(drawn(SmallBook(words=3)))[2:12])


def test_a_low_screen_puts_several_lines_on_a_row_and_says_so() -> None:
    book = SmallBook()
    book.write("1r", to_line=3)
    picture = drawn(book, height=7)
    assert picture.lines_a_row == 2
    assert len(picture.rows) == 7
    assert ["━" in row for row in right(picture)[1:6]] == [True, False, False, False, False]
    assert "╍" in right(picture)[2]


def test_spaces_are_boxes_with_their_name_and_stage_and_initials_push_the_text_aside() -> None:
    book = SmallBook(
        columns=Columns(2, 6.0),
        spaces=(
            SpacePlan("mill", "miniature", Anchor(page="1r", column=2), 4),
            SpacePlan("door", "initial", Anchor(page="1r", line=6), 3, width=16.0),
            SpacePlan("vine", "border", Anchor(page="1r")),
        ),
    )
    page = right(drawn(book))[2:12]
    assert ["┌" in row for row in page].index(True) == 0
    assert "mill" in page[1]
    assert "┌" in page[5][:20]
    assert "door" in page[6][:20]
    assert page[5].index("w") > page[4].index("w")
    assert all(row.endswith("║") for row in page)
    assert all(row.startswith("│") for row in left(drawn(book))[2:12])


def test_a_space_across_all_columns_spans_them() -> None:
    book = SmallBook(columns=Columns(2, 6.0), spaces=(SpacePlan("mill", "miniature", Anchor(page="1r"), 4, "all"),))
    top = right(drawn(book))[2].strip()
    assert top.count("┌") == 1
    assert len(top.split("┐")[0]) > 30


def test_a_flaw_stands_in_its_place_mirrored_behind() -> None:
    book = SmallBook()
    sizes = {"from_head": 32.0, "from_fold": 10.0, "width": 20.0, "height": 16.0}
    book.do(leaf_acts.note_flaw(book.state, 1, sizes))
    recto, verso = right(drawn(book)), left(drawn(book, inner=True))
    for page in (recto, verso):
        assert ["╳" in row for row in page] == [False] * 4 + [True] * 2 + [False] * 8
    assert recto[4].index("╳") < 3
    assert verso[4].rindex("╳") > len(verso[4]) - 5
    assert tones(drawn(book), "╳") == {"wrong"}


def test_faults_are_marked_beside_their_line() -> None:
    book = SmallBook()
    book.write("1r")
    book.do(book.commands.fault(FIRST, "omission", column=1, line=7))
    assert ["!" in row for row in right(drawn(book))[2:12]] == [False] * 6 + [True] + [False] * 3


def test_lines_beyond_the_page_signatures_and_catchwords_stand_at_the_foot() -> None:
    book = SmallBook(words=1000)
    book.do(book.commands.hold(Page.parse("1v"), "w70"))
    foot = rows(drawn(book))[-1]
    page = book.state.budget.pages[0]
    assert page.planned > page.room
    assert f" {page.planned - page.room} over " in foot
    assert " a j " in foot
    words = book.exemplar.words[book.state.budget.pages[8].start :][:2]
    assert f" {' '.join(words)} " in left(drawn(book))[-1]


@pytest.mark.parametrize(
    ("what", "leaf", "words", "stub"),
    [("cancelled", 4, "cancelled", True), ("wanting", 4, "wanting", False), ("singleton", 1, "single", True)],
)
def test_a_missing_half_shows_its_stub_and_a_word(what: str, leaf: int, words: str, stub: bool) -> None:
    book = SmallBook(gatherings=GatheringPlan(2, 3, exceptions=(LeafException(leaf, what),)))  # type: ignore[arg-type]
    gone = left(drawn(book))
    assert any(words in row for row in gone)
    assert any("╎" in row for row in gone) == stub
    assert not any("│" in row for row in gone)
    assert "1r" in right(drawn(book))[0]


def test_a_leaf_tipped_in_lies_alone() -> None:
    book = SmallBook()
    book.do(leaf_acts.replace_leaf(book.state, 1))
    picture = drawn(book, "1.3")
    assert "1r" in right(picture)[0]
    assert any("tipped in" in row for row in left(picture))


@pytest.mark.parametrize("width", [40, 79, 81, 120, 200])
@pytest.mark.parametrize("height", [8, 14, 40])
def test_any_screen_takes_it(width: int, height: int) -> None:
    book = SmallBook(columns=Columns(3, 2.0), spaces=(SpacePlan("m", "miniature", Anchor(page="1r"), 1),))
    picture = drawn(book, width=width, height=height)
    assert {len(row) for row in rows(picture)} == {2 * ((width - 1) // 2) + 1}
    assert len(picture.rows) <= height
