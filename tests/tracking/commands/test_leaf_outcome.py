from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.plan import Anchor, SpacePlan
from copydesk.book.structure.page import Page
from copydesk.tracking.commands import leaf_commands as leaf_acts
from copydesk.tracking.commands.leaf_outcome import what_followed
from copydesk.tracking.commands.skin_commands import cut_sheet, move_skins
from copydesk.tracking.views.consequences import standing
from small_book import SmallBook

if TYPE_CHECKING:
    from copydesk.tracking.ledger.entry import Act


def after(book: SmallBook, act: Act) -> list[str]:
    before = standing(book.state)
    book.do(act)
    return what_followed(before, book.state)


def test_cancelling_a_written_leaf_costs_its_lines_and_breaks_an_opening() -> None:
    book = SmallBook()
    book.write("2r")
    book.write("2v", to_line=4)
    said = after(book, leaf_acts.cancel_leaf(book.state, 2))
    assert said == [
        '14 written lines went with it, of 2r and 2v, and are to be written again: "w102 w103 w104 w105" to '
        '"w154 w155 w156 w157", on 2r and 2v.',
        "The book has 11 leaves now, 1 leaf fewer.",
        "Hair faces flesh now at 1v|2r: a leaf is cancelled here.",
    ]


def test_taking_it_back_brings_the_lines_back() -> None:
    book = SmallBook()
    book.write("2r", to_line=1)
    entry = book.do(leaf_acts.cancel_leaf(book.state, 2))
    before = standing(book.state)
    book.undo(entry)
    assert what_followed(before, book.state) == [
        "1 written line came back with it.",
        "The book has 12 leaves now, 1 leaf more.",
    ]


def test_the_ruling_that_goes_with_a_leaf_and_comes_back_is_told() -> None:
    book = SmallBook()
    for page in ("2r", "2v", "3r"):
        book.do(book.commands.rule(Page.parse(page)))
    before = standing(book.state)
    entry = book.do(leaf_acts.cancel_leaf(book.state, 2))
    assert "The ruling of 2r and 2v went with it." in what_followed(before, book.state)
    before = standing(book.state)
    book.undo(entry)
    assert "The ruling of 2r and 2v came back with it." in what_followed(before, book.state)


def test_text_that_loses_its_room_is_told() -> None:
    book = SmallBook(words=1600)
    assert book.state.budget.lines_left_over < 20
    said = after(book, leaf_acts.cancel_leaf(book.state, 12))
    assert any("of text have no room in the book now." in each for each in said)


def test_a_space_whose_page_is_gone_is_named() -> None:
    book = SmallBook(spaces=(SpacePlan("mill", "border", Anchor(page="2r")),))
    said = after(book, leaf_acts.cancel_leaf(book.state, 2))
    assert "Space mill has no place now: the page it was tied to is gone or ruled without it." in said


def test_a_flaw_leads_to_the_other_sheets_of_its_skin() -> None:
    book = SmallBook()
    book.do(move_skins(book.state, "A", "ready", skins=6))
    for sheet, skin in (("1.1", 1), ("1.2", 4), ("2.1", 4), ("2.2", 4)):
        book.do(cut_sheet(book.state, sheet, "A", skin))
    book.do(cut_sheet(book.state, "2.2", "A"))
    sizes = {"from_head": 60.0, "from_fold": 30.0, "width": 5.0, "height": 5.0}
    said = after(book, leaf_acts.note_flaw(book.state, 2, sizes))
    assert "Of the same skin is sheet 2.1: check them for the same flaw." in said
    assert not any("same skin" in each for each in after(book, leaf_acts.note_flaw(book.state, 1, sizes)))


def test_replacing_a_blank_leaf_has_no_news() -> None:
    book = SmallBook()
    assert after(book, leaf_acts.replace_leaf(book.state, 2)) == []


def test_a_flaw_tells_the_lines_it_takes_on_either_side() -> None:
    book = SmallBook()
    book.write("1r", to_line=3)
    sizes = {"from_head": 32.0, "from_fold": 5.0, "width": 80.0, "height": 16.0}
    assert after(book, leaf_acts.note_flaw(book.state, 1, sizes)) == [
        "The leaf's flaws take 1 line of 1r.",
        "The leaf's flaws take 2 lines of 1v.",
    ]


def test_many_broken_openings_are_counted() -> None:
    book = SmallBook(sheets=4)
    said = after(book, leaf_acts.add_sheet(book.state, "1.0", book.state.collation.half(1).recto))
    broken = [each for each in said if "faces flesh" in each]
    assert broken
    assert len(said) <= 6
