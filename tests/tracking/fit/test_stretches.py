"""What text asks of a hand that must end where a page begins already."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.hands.hand_set import HandSet
from copydesk.book.plan import Anchor, SpacePlan
from copydesk.book.structure.page import Page
from copydesk.tracking.commands.page_commands import agree_letters
from copydesk.tracking.fit.stretches import Need, need_at, need_to_the_end, needs, room_ahead, stretch_at, verdict_on
from copydesk.tracking.state.book_state import BookState
from copydesk.tracking.views.page_report import page_as_data
from copydesk.tracking.views.page_view import page_account
from text_book import TextBook, made_text

if TYPE_CHECKING:
    from copydesk.tracking.ledger.entry import Entry


def a_book(words: int = 700) -> TextBook:
    return TextBook(made_text(words))


def hold(book: TextBook, page: str, later: int) -> Entry:
    """Let a page begin so many words later than planned (earlier where negative)."""
    index = Page.parse(page).index
    word = book.state.copy.word(book.state.budget.pages[index].start) + later
    return book.do(book.commands.hold(Page.parse(page), " ".join(book.exemplar.words[word : word + 4])))


def stretch(book: TextBook, page: str = "2r") -> Need:
    found = need_at(book.state, Page.parse(page).index)
    assert found is not None
    return found


def test_text_that_may_run_on_is_in_no_stretch() -> None:
    book = a_book(400)
    book.write("1r")
    assert needs(book.state) == []
    assert need_at(book.state, 1) is None
    assert need_to_the_end(book.state) is None


def test_a_held_page_makes_a_stretch_that_may_be_tight_or_loose_or_just_right() -> None:
    book = a_book()
    book.write("1r")
    entry = hold(book, "4r", 0)
    assert (stretch(book).over, stretch(book).needed, stretch(book).verdict) == (0, 20.0, "easy")
    book.undo(entry)
    entry = hold(book, "4r", 6)
    tight = stretch(book)
    assert (tight.first, tight.last) == (1, 5)
    assert tight.over > 0
    assert tight.needed is not None
    assert tight.needed > 20.0
    book.undo(entry)
    hold(book, "4r", -6)
    loose = stretch(book)
    assert loose.over < 0
    assert loose.needed is not None
    assert loose.needed < 20.0


@given(later=st.integers(-12, 12), page=st.sampled_from(["2r", "3v", "5r"]))
@settings(max_examples=25, deadline=None)
def test_text_written_as_asked_fills_its_room(later: int, page: str) -> None:
    """Agreed on, the letters needed make the text fit, and those much wider do not."""
    book = a_book()
    book.write("1r")
    hold(book, page, later)
    need = stretch(book, "1v")
    if need.needed is None:
        return
    book.do(agree_letters(book.state, need.first, need.last, round(need.needed + 0.01, 2)))
    assert stretch(book, "1v").over <= 0
    book.do(agree_letters(book.state, need.first, need.last, need.needed * 0.94))
    wider = stretch(book, "1v").over
    assert wider > 0 if need.over > 0 else wider >= 0


def test_no_closeness_helps_where_there_is_no_text() -> None:
    book = a_book()
    book.write("1r")
    start = book.state.copy.word(book.state.budget.pages[1].start)
    book.do(book.commands.hold(Page.parse("2r"), " ".join(book.exemplar.words[start : start + 4])))
    need = stretch(book, "1v")
    assert (need.over, need.needed, need.verdict) == (-10, None, "impossible")


def test_two_hands_in_a_stretch_both_write_closer() -> None:
    book = a_book()
    book.write("1r")
    book.write("1v", to_line=4, hand="B")
    hold(book, "3r", 5)
    begun, after = stretch(book, "1v"), stretch(book, "2r")
    assert (begun.hand, after.hand) == ("B", "A")
    assert begun.targets == after.targets
    assert begun.needed is not None
    assert after.needed is not None
    assert after.needed > 20.0
    assert begun.needed == pytest.approx(0.8 * after.needed)


def test_what_is_easy_and_hard_is_set_by_how_the_hands_pages_differ() -> None:
    hand = HandSet(34.0, spread=0.85, error=0.3)
    assert verdict_on(hand, 35.3) == "easy"
    assert verdict_on(hand, 36.2) == "hard"
    assert verdict_on(hand, 31.4) == "hard"
    assert verdict_on(hand, 37.0) == "impossible"
    assert verdict_on(hand, None) == "impossible"


def test_an_uneven_hand_can_more() -> None:
    assert verdict_on(HandSet(34.0, spread=2.0, error=0.3), 37.0) == "easy"
    assert verdict_on(HandSet(34.0, spread=2.0, error=0.3), 39.5) == "hard"


def test_pages_carry_their_stretch_with_the_promised_keys() -> None:
    book = a_book()
    book.write("1r")
    hold(book, "4r", 6)
    index = Page.parse("2r").index
    data = page_as_data(page_account(book.state, index), stretch_at(book.state, index))
    told = data["stretch"]
    assert isinstance(told, dict)
    assert told.keys() == {"from", "to", "held", "lines_over", "letters_needed", "verdict", "hands"}
    assert (told["from"], told["to"]) == ("1v", "3v")
    assert "stretch" not in page_as_data(page_account(book.state, 0), stretch_at(book.state, 0))


def test_text_past_the_last_page_is_a_stretch_to_the_end() -> None:
    book = TextBook(made_text(1400))
    book.write("1r")
    without = book.state.budget.lines_without_room
    assert without > 0
    need = need_to_the_end(book.state)
    assert need is not None
    assert not need.held
    assert (need.first, need.over) == (1, without)
    assert need.needed is not None
    assert need.needed > 20.0


def test_a_long_stretch_is_reckoned_from_its_length(monkeypatch: pytest.MonkeyPatch) -> None:
    from copydesk.tracking.fit import stretches

    book = a_book(650)
    book.write("1r")
    hold(book, "8r", 9)
    exact = stretch(book).needed
    monkeypatch.setattr(stretches, "_LONG", 1)
    stretches._KNOWN.clear()
    reckoned = stretch(book).needed
    assert exact is not None
    assert reckoned == pytest.approx(exact, rel=0.02)


def test_what_a_stretch_asks_is_worked_out_once_while_it_stays() -> None:
    book = a_book()
    book.write("1r")
    hold(book, "4r", 6)
    assert stretch(book) is stretch(book, "3v")
    before = stretch(book)
    book.write("5r")
    assert stretch(book) is before


def test_a_space_given_up_changes_what_is_asked_though_the_lines_stay() -> None:
    """The picture is beyond the stretch until its text is written so close that it comes into it."""
    book = TextBook(made_text(300), spaces=(SpacePlan("weir", "miniature", Anchor(word=55), lines=7),))
    book.write("1r")
    hold(book, "2v", 5)
    assert stretch(book, "1v").over == 3
    book.do(book.commands.space("weir", "given-up"))
    after = stretch(book, "1v")
    fresh = need_at(BookState(book.plan, book.exemplar, book.ledger), 1)
    assert fresh is not None
    assert (after.over, after.needed) == (3, fresh.needed)


def test_a_stretch_that_fits_as_agreed_is_told_with_the_same_letters_at_the_handover() -> None:
    book = a_book()
    book.write("1r")
    hold(book, "4r", 0)
    book.do(agree_letters(book.state, 2, 3, 20.05))
    need, room = stretch(book), room_ahead(book.state, 2)
    assert (need.over, room.over) == (0, 0)
    assert room.needed == need.needed


def test_nobody_writes_three_times_as_close() -> None:
    book = a_book()
    book.do(book.commands.hold(Page.parse("1v"), " ".join(book.exemplar.words[300:304]), sure=True))
    need = stretch(book, "1r")
    assert (need.needed, need.verdict) == (None, "impossible")
    assert need.over > 50
