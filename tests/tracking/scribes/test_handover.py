"""The handover: the stopping point to the word, the room, what is open, and the desk taken over."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.common.errors import CopydeskError
from copydesk.book.plan import Anchor, Change, Columns, CountedDivision, Hand, Script, SpacePlan
from copydesk.book.structure.page import Page
from copydesk.book.text.exemplar import read_exemplar
from copydesk.tracking.log.entry_text import tell
from copydesk.tracking.scribes.handover import HANDOVER, Handover, handover, leave_note, take_desk
from copydesk.tracking.scribes.handover_text import handover_lines
from copydesk.tracking.state.book_state import BookState
from small_book import SmallBook

if TYPE_CHECKING:
    from copydesk.tracking.scribes.stopping_point import LinePlace

KEYS = {
    *("page", "column", "line", "last_words", "next_words", "next_word", "exemplar", "hand", "faults_open"),
    *("lines_over", "letters_needed", "watch", "note"),
}


def at(book: SmallBook, page: str | None = None) -> Handover:
    return handover(book.state, Page.parse(page) if page else None)


def told(book: SmallBook, head: str, page: str | None = None) -> str:
    return next(each.says for each in handover_lines(book.state, at(book, page)) if each.head == head)


def test_of_the_pen_only_what_the_plan_gives_is_told() -> None:
    assert told(SmallBook(), "Pen") == "usual heights of letters"
    assert told(SmallBook(script=Script("round", 0.7)), "Pen") == "round, nib 0.7 mm, usual heights of letters"
    given = Script(nib=0.7, x_height=4, ascender=3)
    assert told(SmallBook(script=given), "Pen") == "nib 0.7 mm, in nib widths: x-height 4, ascender 3"


def where(spot: LinePlace | None) -> str:
    return spot.named(SmallBook().plan) if spot is not None else ""


def test_the_promised_keys_are_there_and_go_through_json() -> None:
    book = SmallBook()
    book.write("1r", to_line=4)
    data = HANDOVER.data(at(book))
    assert data.keys() >= KEYS
    assert json.loads(json.dumps(data)) == data


def test_it_stops_at_the_end_of_a_line_and_goes_on_in_the_next() -> None:
    book = SmallBook()
    book.write("1r", to_line=4)
    found = at(book)
    assert (where(found.point.stop), where(found.point.goes_on)) == (
        "1r, column 1, line 4",
        "1r, column 1, line 5",
    )
    assert (found.last_words, found.next_word) == ("w17 w18 w19 w20 w21 w22", 23)
    assert found.next_words.split() == [f"w{number}" for number in range(23, 53)]
    assert not found.point.within
    assert [line.line for line in found.before] == [1, 2, 3, 4]
    assert [(line.line, line.written) for line in found.after] == [
        (5, ""),
        (6, ""),
        (7, ""),
        (8, ""),
        (9, ""),
        (10, ""),
    ]


def test_within_a_line_the_next_words_go_on_beside_what_stands_there() -> None:
    book = SmallBook()
    book.do(book.commands.write(Page.parse("1r"), to_line=4, ends="w18 w19", within=True))
    found = at(book)
    assert (where(found.point.stop), where(found.point.goes_on)) == (
        "1r, column 1, line 4",
        "1r, column 1, line 4",
    )
    assert found.point.within
    assert found.next_words.startswith("w20 w21")
    assert (found.after[0].written, found.after[0].to_come) == ("w18 w19", "w20 w21 w22")
    assert str(found.after[0]) == "w18 w19 | w20 w21 w22"
    assert "within line 4" in told(book, "Stopped")
    assert "after the words already there" in told(book, "Go on")
    assert HANDOVER.data(found)["in_line"] is True


def test_columns_are_counted_as_they_stand_on_the_skin() -> None:
    book = SmallBook(columns=Columns(2, 10.0))
    book.write("1r", to_line=13)
    data = HANDOVER.data(at(book))
    assert (data["page"], data["column"], data["line"], data["text_line"]) == ("1r", 2, 3, 13)


def test_lines_that_a_space_takes_are_passed_over() -> None:
    space = SpacePlan("frost", "miniature", Anchor(page="1r"), 4)
    book = SmallBook(spaces=(space,))
    book.write("1r", to_line=2)
    assert (at(book).point.stop.line, at(book).point.stop.text_line) == (6, 2)


def test_after_a_whole_page_work_goes_on_on_the_next() -> None:
    book = SmallBook()
    book.write("1r")
    found = at(book)
    assert (where(found.point.stop), where(found.point.goes_on)) == (
        "1r, column 1, line 10",
        "1v, column 1, line 1",
    )
    assert found.last_words.endswith("w52")
    assert found.next_words.startswith("w53")


def test_after_a_whole_page_it_passes_over_pages_written_already() -> None:
    book = SmallBook()
    for page in ("1v", "2r", "1r"):
        book.write(page)
    found = at(book)
    assert (str(found.point.stop.page), str(found.goes_on.page)) == ("1r", "2v")


def test_the_page_left_unfinished_last_is_meant_and_others_are_named() -> None:
    book = SmallBook()
    book.write("2r", to_line=3)
    book.write("1r", to_line=3)
    book.write("1v")
    assert (str(at(book).point.stop.page), list(map(str, at(book).point.also))) == ("1r", ["2r"])
    assert str(at(book, "2r").point.stop.page) == "2r"


def test_a_book_not_begun_begins_at_its_first_word() -> None:
    book = SmallBook()
    found = at(book)
    assert (found.point.stop.line, found.next_word, found.last_words, found.before) == (0, 0, "", ())
    assert where(found.point.goes_on) == "1r, column 1, line 1"
    assert told(book, "Stopped") == "nothing is written on 1r yet"


def test_a_book_written_to_its_end_has_nothing_to_go_on_with() -> None:
    book = SmallBook(words=20, sheets=1, count=1)
    book.write("1r")
    found = at(book)
    assert (found.point.goes_on, found.next_words, found.next_word) == (None, "", 20)
    assert told(book, "Go on") == "nothing: the text is written to its end"
    assert HANDOVER.data(found)["goes_on"] is None


def test_words_changed_on_purpose_are_given_as_they_are_to_be_written() -> None:
    book = SmallBook(changes=(Change(24, 26, "other words here"),))
    book.write("1r", to_line=4)
    assert at(book).next_words.split()[:5] == ["w23", "other", "words", "here", "w26"]


def test_a_counted_text_has_lines_but_no_words() -> None:
    counted = SmallBook(divisions=(CountedDivision("On frost", words=900),))
    counted.state = BookState(counted.plan, None, counted.ledger)
    counted.write("1r", to_line=4)
    found = handover(counted.state)
    assert (found.point.stop.line, found.next_words, found.place, found.watch) == (4, "", None, ())
    assert HANDOVER.data(found)["exemplar"] is None


def test_the_exemplars_own_place_is_given_and_how_far_past_it() -> None:
    book = SmallBook()
    book.exemplar = read_exemplar("{14v 6} " + " ".join(book.exemplar.words))
    book.state = BookState(book.plan, book.exemplar, book.ledger)
    book.write("1r", to_line=4)
    assert HANDOVER.data(at(book))["exemplar"] == {"leaf": "14v", "line": 6}
    assert told(book, "Go on").endswith("exemplar 23 words after 14v 6")


def test_held_further_on_it_says_how_close_to_write() -> None:
    book = SmallBook()
    free = told(book, "Room")
    assert free == "no later page has a fixed beginning: write as usual, 20.0 letters a line"
    book.do(book.commands.hold(Page.parse("2r"), "w112 w113"))
    tight = at(book).room
    assert (tight.over, str(tight.last)) == (3, "1v")
    assert tight.needed is not None
    assert tight.needed > tight.usual == 20.0
    assert told(book, "Room").startswith("3 lines over to the end of 1v: write closer, ")


def test_held_too_near_no_closeness_helps() -> None:
    book = SmallBook(words=900)
    book.do(book.commands.hold(Page.parse("1v"), "w600 w601"))
    assert at(book).room.needed is None
    assert "choose a remedy first" in told(book, "Room")


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
    assert told(book, "Faults", "1v") == '1v, repetition, column 1, line 3: "w70 w70" should be "w70"'


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
    assert tell(entry) == '1r: A leaves a note for the next hand at column 1, line 5, "stir the ink"'
    assert (at(book).note, told(book, "Note")) == ("stir the ink", "stir the ink")
    for act in take_desk(book.state, "B", "desk"):
        book.do(act, "B")
    assert at(book).note == "stir the ink"
    book.write("1r", to_line=5, hand="B")
    assert at(book).note == ""
    with pytest.raises(CopydeskError, match="needs its words"):
        leave_note(book.state, None, "  ")


def test_notes_left_with_entries_are_told_the_newest_first() -> None:
    book = SmallBook()
    for line, note in ((2, "nib 3"), (3, "thin ink")):
        book.do(book.commands.write(Page.parse("1r"), to_line=line, note=note))
    assert [entry.text("note") for entry in at(book).notes] == ["thin ink", "nib 3"]


def test_the_taker_is_expected_to_write_the_rest_of_the_gathering() -> None:
    book = SmallBook()
    book.write("1r", to_line=4)
    before = book.state.budget.pages
    entries = [book.do(act, "B") for act in take_desk(book.state, "B", "desk", note="yours")]
    assert [entry.what for entry in entries] == ["at-desk", "handover"]
    assert tell(entries[1]) == '1r: B takes the desk over from A at column 1, line 5, "yours"'
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


@settings(max_examples=40, deadline=None)
@given(st.data())
def test_the_last_and_the_next_words_meet_at_the_stop(data: st.DataObject) -> None:
    """Property: wherever the pen stops, what is written and what comes are the text, with nothing between."""
    book = SmallBook()
    pages = data.draw(st.integers(0, 3))
    for index in range(pages):
        book.write(str(Page.at(index)), hand=data.draw(st.sampled_from("AB")))
    line = data.draw(st.integers(1, 10))
    word = book.state.copy.word(book.state.budget.pages[pages].start) + data.draw(st.integers(2, 30))
    page, ends = Page.at(pages), f"w{word - 2} w{word - 1}"
    within = data.draw(st.booleans())
    book.do(book.commands.write(page, to_line=line, ends=ends, within=within))
    found = handover(book.state, page)
    assert found.next_word == word
    assert found.last_words.endswith(ends)
    assert found.next_words.split()[0] == f"w{word}"
    if found.goes_on.page == page:
        shown = [
            part for each in (*found.before, *found.after) for part in (*each.written.split(), *each.to_come.split())
        ]
        numbers = [int(each[1:]) for each in shown]
        assert numbers == list(range(numbers[0], numbers[0] + len(numbers)))
