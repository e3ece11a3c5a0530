"""Whether a correction fits, worked out by hand on a page of equal letters: 20 to a line of 70 mm, so 3.5 mm each."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from copydesk.book.checks import NeverScraped
from copydesk.book.common.errors import CopydeskError
from copydesk.book.plan import Script
from copydesk.book.structure.page import Page
from copydesk.tracking.checking.fault_report import fault_numbered
from copydesk.tracking.commands.check_commands import remarks_on
from copydesk.tracking.fit.correction_fit import CorrectionFit, correction_fit, room_lines, skin_lines, ways_told
from text_book import TextBook

if TYPE_CHECKING:
    from copydesk.tracking.fit.correction_fit import CorrectionWay

TEXT = "aaaa bbbb cccc dddd " * 60
"""Four words of four letters: each line holds four of them, 19 letters with their spaces, and one letter is free."""


def written(**changes: Any) -> TextBook:
    book = TextBook(TEXT, **changes)
    for page in ("1r", "1v"):
        book.write(page)
    return book


def fit(book: TextBook, page: str = "1r", **facts: Any) -> CorrectionFit:
    book.do(book.commands.fault(Page.parse(page), facts.pop("kind", "substitution"), **facts))
    record = book.state.record(book.state.skin_at(Page.parse(page).index))
    return correction_fit(book.state, Page.parse(page), record.open_faults[-1])


def way(found: CorrectionFit, name: str) -> CorrectionWay:
    return next(each for each in found.ways if each.name == name)


LETTER = 70 / 20


def test_right_words_go_where_the_wrong_ones_stood() -> None:
    found = fit(written(), line=2, word=5, stands="bbob", should="bbbb")
    room = found.room
    assert (room.wrong, room.right, room.offset) == pytest.approx((4 * LETTER, 4 * LETTER, 5 * LETTER))
    assert room.slack == pytest.approx(LETTER)
    assert (found.ways[0].name, found.ways[0].fits) == ("scraped", True)
    assert found.ways[0].says == "14.0 mm in the room of 14.0 mm: just so"
    assert room_lines(found)[0] == f"Wrong: 14.0 mm; right: 14.0 mm, in A's letters; {room.surface} side."


def test_what_is_longer_takes_up_the_line_and_then_the_lines_after_it() -> None:
    book = written()
    one = fit(book, line=2, word=5, stands="bbb", should="bbbb")
    assert one.room.slack == pytest.approx(2 * LETTER), "the line as written lacks a letter, so one more is free"
    assert way(one, "scraped").fits
    assert way(one, "scraped").says == "the line from here to its end: 3.5 mm more, 7.0 mm free"
    missing = fit(book, kind="omission", line=2, word=4, should="aaaa bbbb")
    assert missing.room.right == pytest.approx(10 * LETTER), "with the word-space that comes with them"
    assert not way(missing, "scraped").fits
    assert way(missing, "written again from here").says == "the paragraph cannot take it up"
    assert [each.name for each in missing.ways[:2]] == ["interlined", "in the margin"]


def test_a_paragraph_with_room_takes_up_words_left_out() -> None:
    book = TextBook("aaaa bbbb cccc dddd aaaa bbbb cccc dddd aaaa bbbb\n\n" + TEXT)
    book.write("1r")
    found = fit(book, kind="omission", line=1, word=0, should="aaaa")
    assert found.room.lines_again == 3
    assert found.room.paragraph_slack == pytest.approx((1 + 1 + 11) * LETTER)
    assert way(found, "written again from here").cost == "3 lines scraped and written again"


def test_what_is_too_much_is_scraped_or_marked_away() -> None:
    found = fit(written(), kind="repetition", line=2, word=5, stands="bbbb")
    assert [each.name for each in found.ways] == ["scraped", "expunged", "struck", "leaf cancelled"]
    assert found.ways[0].says.startswith("17.5 mm left blank")


def test_skin_scraped_before_on_either_side_is_spared_and_what_lies_behind_is_told() -> None:
    book = written()
    first = fit(book, line=2, word=5, stands="bbob", should="bbbb")
    book.do(book.commands.mend(Page.parse("1r"), first.fault.id, "scraped"))
    again = fit(book, line=2, word=6, stands="ccoc", should="cccc")
    assert again.room.scraped_here == (1,)
    assert again.ways[0].name == "interlined"
    behind = fit(book, "1v", line=2, word=45, stands="bbob", should="bbbb")
    assert (behind.room.scraped_here, behind.room.scraped_behind) == ((), (1,))
    assert "1r column 1, line 2" in behind.room.behind
    assert any(each.startswith("Scraped on the other side of it (fault 1)") for each in skin_lines(behind))
    assert behind.room.surface is first.room.surface.other


def test_what_may_never_be_scraped_is_offered_no_knife_and_told_afterwards() -> None:
    rules = (
        NeverScraped("bbbb cccc", why="in gold"),
        NeverScraped(page="1r", line=9),
        NeverScraped(from_word=8, to_word=9),
    )
    book = written(never_scraped=rules)
    found = fit(book, line=2, word=5, stands="bbob", should="bbbb")
    assert found.room.never == ('"bbbb cccc" may never be scraped: in gold',)
    scraped = way(found, "scraped")
    assert (scraped.fits, scraped.barred, found.ways[0].name) == (False, True, "interlined")
    assert any(told.head.endswith("(never to be scraped)") for told in ways_told(found))
    assert fit(book, line=2, word=7, stands="ddod", should="dddd").room.never == ()
    assert fit(book, line=9, stands="x", should="y").room.never[0] == '"bbbb cccc" may never be scraped: in gold'
    assert fit(book, line=3, word=8, stands="x", should="aaaa").room.never == ("this passage may never be scraped",)
    done = book.do(book.commands.mend(Page.parse("1r"), "1", "scraped"))
    assert remarks_on(book.state, done) == ['1r: "bbbb cccc" may never be scraped: in gold']


def test_a_leaf_costs_what_stands_on_both_its_pages() -> None:
    found = fit(written(), line=2, word=5, stands="bbob", should="bbbb")
    assert way(found, "leaf cancelled").cost == "20 written lines of both its pages again"


def test_a_fault_whose_line_nobody_noted_has_no_room_known() -> None:
    found = fit(written(), stands="bbb", should="bbbb")
    assert (found.room.slacks, found.room.scraped_here, found.room.behind) == ((), (), "")
    assert way(found, "scraped").says == "its line is not known, nor what is free there"


def test_every_remedy_is_told_once_whatever_the_fault() -> None:
    from copydesk.comparing.corrections import REMEDIES

    book = written()
    for facts in ({"stands": "a"}, {"should": "a"}, {"stands": "a", "should": "b"}, {}):
        told = [each.name for each in ways_told(fit(book, line=2, **facts))]
        assert sorted(told) == sorted(each.name for each in REMEDIES)


def test_a_fault_is_found_by_its_number() -> None:
    book = written(script=Script())
    found = fit(book, line=2, stands="a", should="b")
    assert fault_numbered(book.state, "#1") == (Page.parse("1r"), found.fault)
    with pytest.raises(CopydeskError, match="no open fault has the number '7'"):
        fault_numbered(book.state, "7")
