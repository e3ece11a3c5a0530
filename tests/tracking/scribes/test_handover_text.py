"""The handover in sentences."""

from __future__ import annotations

from copydesk.book.plan import Script
from copydesk.book.structure.page import Page
from copydesk.book.text.exemplar import read_exemplar
from copydesk.tracking.scribes.handover import HANDOVER, Handover, handover
from copydesk.tracking.scribes.handover_text import handover_lines
from copydesk.tracking.state.book_state import BookState
from small_book import SmallBook


def at(book: SmallBook, page: str | None = None) -> Handover:
    return handover(book.state, Page.parse(page) if page else None)


def told(book: SmallBook, head: str, page: str | None = None) -> str:
    return next(each.says for each in handover_lines(book.state, at(book, page)) if each.head == head)


def test_of_the_pen_only_what_the_plan_gives_is_told() -> None:
    assert told(SmallBook(), "Pen") == "usual heights of letters"
    assert told(SmallBook(script=Script("round", 0.7)), "Pen") == "round, nib 0.7 mm, usual heights of letters"
    given = Script(nib=0.7, x_height=4, ascender=3)
    assert told(SmallBook(script=given), "Pen") == "nib 0.7 mm, in nib widths: x-height 4, ascender 3"


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


def test_notes_left_with_entries_are_told_the_newest_first() -> None:
    book = SmallBook()
    for line, note in ((2, "nib 3"), (3, "thin ink")):
        book.do(book.commands.write(Page.parse("1r"), to_line=line, note=note))
    assert [entry.text("note") for entry in at(book).notes] == ["thin ink", "nib 3"]
