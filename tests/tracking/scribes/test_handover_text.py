"""The handover in sentences."""

from __future__ import annotations

from copydesk.book.plan import Script
from copydesk.book.structure.page import Page
from copydesk.book.text.exemplar import read_exemplar
from copydesk.tracking.commands.page_commands import agree_letters
from copydesk.tracking.ledger.entry import Act
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


def test_letters_agreed_on_are_not_called_usual() -> None:
    book = SmallBook()
    book.do(agree_letters(book.state, 0, 3, 21.5))
    assert told(book, "Room") == "no later page has a fixed beginning: write as agreed, 21.5 letters a line"
    book.do(book.commands.hold(Page.parse("2r"), "w120 w121"))
    assert told(book, "Room").endswith("; agreed 21.5")


def test_held_too_near_no_closeness_helps() -> None:
    book = SmallBook(words=900)
    book.do(book.commands.hold(Page.parse("1v"), "w600 w601", sure=True))
    assert at(book).room.needed is None
    assert "choose a remedy first" in told(book, "Room")


def test_notes_left_with_entries_are_told_the_newest_first() -> None:
    book = SmallBook()
    for line, note in ((2, "nib 3"), (3, "thin ink")):
        book.do(book.commands.write(Page.parse("1r"), to_line=line, note=note))
    assert [entry.text("note") for entry in at(book).notes] == ["thin ink", "nib 3"]


PROSE = (
    "The mill stands below the weir. In the second winter, when the wheel froze, the miller went down with an axe and "
    "a lantern to free it, and the ice went out from under him with the whole of the old stair, which nobody had "
    "mended since the flood. He was found at Pell! Nobody asked after the axe."
)


def reading(text: str, **changes: object) -> SmallBook:
    book = SmallBook(**changes)  # type: ignore[arg-type]
    book.exemplar = read_exemplar(text)
    book.state = BookState(book.plan, book.exemplar, book.ledger)
    return book


def test_where_no_place_is_noted_the_next_words_are_whole_sentences() -> None:
    for written in range(60):
        book = reading(PROSE)
        words = book.exemplar.words
        if written:
            facts = {"from_line": 1, "to_line": 5, "from_word": 0, "to_word": written}
            book.do(Act("written", "1.1:r", "1r", facts))
        found = at(book)
        if not found.next_words:
            continue
        assert found.place is None
        shown = found.next_words.split()
        assert words[written : written + len(shown)] == shown
        assert shown[-1][-1] in ".!", shown
        assert told(book, "Go on").endswith(f': "{found.next_words}"')


def test_where_a_sentence_goes_on_points_say_so() -> None:
    book = reading(f"{{3r 2}} {PROSE}")
    assert len(at(book).next_words.split()) == 30
    assert f'{at(book).next_words} …"; exemplar 3r 2' in told(book, "Go on")
    endless = SmallBook()
    assert told(endless, "Go on").endswith('w29 …"')
