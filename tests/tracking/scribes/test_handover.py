"""The handover: the stopping point to the word, the room, what is open, and the desk taken over."""

from __future__ import annotations

import json

import pytest

from copydesk.book.common.errors import CopydeskError
from copydesk.book.plan import Anchor, Hand, SpacePlan
from copydesk.book.structure.page import Page
from copydesk.tracking.log.entry_text import describe
from copydesk.tracking.scribes.handover import HANDOVER, Handover, handover, leave_note, take_desk
from copydesk.tracking.scribes.handover_text import handover_lines
from small_book import SmallBook

KEYS = {
    *("page", "column", "line", "last_words", "next_words", "next_word", "exemplar", "hand", "faults_open"),
    *("lines_over", "letters_needed", "watch", "note"),
}


def at(book: SmallBook, page: str | None = None) -> Handover:
    return handover(book.state, Page.parse(page) if page else None)


def told(book: SmallBook, head: str, page: str | None = None) -> str:
    return next(each.says for each in handover_lines(book.state, at(book, page)) if each.head == head)


def test_the_promised_keys_are_there_and_go_through_json() -> None:
    book = SmallBook()
    book.write("1r", to_line=4)
    data = HANDOVER.data(at(book))
    assert data.keys() >= KEYS
    assert json.loads(json.dumps(data)) == data


def test_a_text_that_the_book_cannot_hold_is_told_at_any_page() -> None:
    book = SmallBook(words=400, sheets=1, count=1)
    room = at(book).room
    assert room.over == book.state.budget.lines_without_room > 0
    assert str(room.last) == "2v"


def test_faults_of_this_page_come_first_and_are_counted_through_the_book() -> None:
    book = SmallBook()
    for page in ("1r", "1v"):
        book.write(page)
    book.do(book.commands.fault(Page.parse("1r"), "omission", line=2, should="w8"))
    book.do(book.commands.fault(Page.parse("1v"), "repetition", line=3, stands="w70 w70", should="w70"))
    found = at(book, "1v")
    assert [each.label for each in found.faults] == ["1v", "1r"]
    assert HANDOVER.data(found)["faults_open"] == 2
    assert told(book, "Faults", "1v") == '1v, fault 2, repetition, column 1, line 3: "w70 w70" should be "w70"'


def test_spaces_to_come_are_named_and_those_passed_are_not() -> None:
    spaces = (
        SpacePlan("gone", "miniature", Anchor(page="1r"), 2),
        SpacePlan("owl", "miniature", Anchor(page="1r", line=8), 2, subject="an owl"),
        SpacePlan("far", "miniature", Anchor(page="4v"), 2),
    )
    book = SmallBook(spaces=spaces)
    book.write("1r", to_line=3)
    assert [space.plan.id for space in at(book).spaces] == ["owl"]
    assert told(book, "Spaces") == "owl, miniature, 1r, column 1, lines 8 to 9: an owl"


def test_sheets_away_are_told_with_who_has_them() -> None:
    book = SmallBook()
    book.do(book.commands.sheet("2.1", "checker", "Bea"))
    assert told(book, "Sheets") == "1r is on sheet 1.1, at the desk; 2.1 with the checker (Bea)"


def test_a_note_is_read_until_somebody_writes_on() -> None:
    book = SmallBook()
    book.write("1r", to_line=4)
    entry = book.do(leave_note(book.state, None, " stir the ink "))
    assert describe(entry) == '1r: A leaves a note for the next hand at column 1, line 5, "stir the ink"'
    assert (at(book).note, told(book, "Note")) == ("stir the ink", "stir the ink")
    for act in take_desk(book.state, "B", "desk"):
        book.do(act, "B")
    assert at(book).note == "stir the ink"
    book.write("1r", to_line=5, hand="B")
    assert at(book).note == ""
    with pytest.raises(CopydeskError, match="needs its words"):
        leave_note(book.state, None, "  ")


def test_the_taker_is_expected_to_write_the_rest_of_the_gathering() -> None:
    book = SmallBook()
    book.write("1r", to_line=4)
    before = book.state.budget.pages
    entries = [book.do(act, "B") for act in take_desk(book.state, "B", "desk", note="yours")]
    assert [entry.what for entry in entries] == ["at-desk", "handover"]
    assert describe(entries[1]) == '1r: B takes the desk over from A at column 1, line 5, "yours"'
    assert at(book).hand == "B"
    assert [book.state.hand_of(index) for index in (0, 7, 8)] == ["B", "B", "A"]
    assert book.state.budget.pages[0].end < before[0].end  # B writes wider
    assert book.afresh().budget.pages == book.state.budget.pages
    book.undo(entries[1])
    assert book.state.budget.pages == before
    assert book.state.hand_of(0) == "A"


def test_another_hand_found_writing_ends_what_was_expected() -> None:
    book = SmallBook()
    for act in take_desk(book.state, "B", "desk"):
        book.do(act, "B")
    book.write("1r", hand="B")
    book.write("2r", hand="A")
    assert [book.state.hand_of(index) for index in range(5)] == ["B", "B", "A", "A", "A"]


def test_a_hand_that_is_not_in_the_book_cannot_take_the_desk() -> None:
    with pytest.raises(CopydeskError, match="no hand 'Z' in this book; its hands are A, B"):
        take_desk(SmallBook().state, "Z", "desk")
    with pytest.raises(CopydeskError, match="no page 99r"):
        handover(SmallBook().state, Page.parse("99r"))


def test_a_book_with_one_hand_hands_over_to_itself() -> None:
    book = SmallBook(hands=(Hand("A", "first", 20.0),))
    book.write("1r", to_line=4)
    assert [act.what for act in take_desk(book.state, "A", "desk")] == ["at-desk", "handover"]
