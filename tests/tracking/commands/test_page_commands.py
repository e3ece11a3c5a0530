"""What can be recorded of pages, and what cannot, with the words for it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from copydesk.book.common.errors import CopydeskError
from copydesk.book.flow import CountedDivision, ExemplarLoan, Flow
from copydesk.book.plan import Anchor, SpacePlan
from copydesk.book.structure.page import Page
from copydesk.tracking.ledger.entry import Act
from copydesk.tracking.state.book_state import BookState
from copydesk.tracking.views.page_view import PageAccount, page_account
from small_book import SmallBook

if TYPE_CHECKING:
    from collections.abc import Callable


# Ten lines a page and twenty letters a line; words of two letters while under w10, of three to w99, of four beyond.
P1, P2, P3 = Page.parse("1r"), Page.parse("1v"), Page.parse("2r")


def account(book: SmallBook, page: Page) -> PageAccount:
    return page_account(book.state, page.index)


def facts(act: Act, *names: str) -> list[object]:
    return [act.facts.get(name) for name in names]


SPAN = ("from_line", "to_line", "from_word", "to_word", "whole")


def test_a_page_is_ruled_begun_written_and_checked() -> None:
    book = SmallBook()
    planned = account(book, P1).to_word
    assert book.commands.rule(P1).what == "ruled"
    book.do(book.commands.rule(P1))
    assert facts(book.commands.begin(P1), "from_word") == [0]
    book.do(book.commands.begin(P1))
    act = book.commands.write(P1, minutes=35, note="a dry day")
    assert facts(act, *SPAN) == [1, 10, 0, planned, True]
    assert facts(act, "minutes", "note") == [35, "a dry day"]
    assert (act.about, act.page) == ("1.1:r", "1r")
    book.do(act)
    book.do(book.commands.check(P1, minutes=9))
    assert account(book, P1).record.state == "corrected"


REFUSALS: list[tuple[Callable[[SmallBook], Act], str]] = [
    (lambda book: book.commands.rule(Page.parse("99r")), "there is no page 99r in this book; it has leaves 1 to 12"),
    (lambda book: book.commands.check(P1), "1r is unruled, not written whole; write it before it is checked"),
    (
        lambda book: book.commands.write(P1, to_line=11),
        "lines 1 to 10 to write, so it cannot be written to line 11",
    ),
    (lambda book: book.commands.write(P1, to_line=0), "cannot be written to line 0"),
    (lambda book: book.commands.write(P1, to_line=-3), "cannot be written to line -3"),
    (lambda book: book.commands.write(P1, ends="nowhere to be found"), "does not stand in the exemplar"),
    (lambda book: book.commands.write(P1, begins="   "), "no words were given to look for"),
    (lambda book: book.commands.write(P1, minutes=-4), "no page takes -4 minutes; give a number above 0"),
    (lambda book: book.commands.write(P1, minutes=float("nan")), "no page takes nan minutes"),
    (lambda book: book.commands.rule(P1, minutes=float("inf")), "no page takes inf minutes"),
    (lambda book: book.commands.write(Page.parse("12v")), "the plan has no text for 12v; give the first words"),
    (lambda book: book.commands.begin(Page.parse("12v")), "the plan has no text for 12v"),
    (lambda book: book.commands.hold(Page.parse("12v"), ""), "the plan has no text for 12v"),
    (lambda book: book.commands.fault(P1, "omission"), "nothing is written on 1r, so it can have no fault"),
    (lambda book: book.commands.mend(P1, "1", ""), "1r has no open fault"),
]


@pytest.mark.parametrize(("step", "says"), REFUSALS)
def test_what_cannot_be_is_refused_in_a_sentence(step: Callable[[SmallBook], Act], says: str) -> None:
    with pytest.raises(CopydeskError) as refused:
        step(SmallBook(words=300))
    assert says in str(refused.value)


def test_a_page_is_ruled_and_begun_once() -> None:
    book = SmallBook()
    book.do(book.commands.rule(P1))
    with pytest.raises(CopydeskError, match="1r is ruled already; nothing was recorded"):
        book.commands.rule(P1)
    book.do(book.commands.begin(P1))
    with pytest.raises(CopydeskError, match="1r is begun already; nothing was recorded"):
        book.commands.begin(P1)
    with pytest.raises(CopydeskError, match="its beginning is fixed"):
        book.commands.hold(P1, "w4")


def test_a_page_that_is_begun_or_written_is_not_ruled_afterwards() -> None:
    book = SmallBook()
    for act, state in (
        (lambda: book.commands.begin(P1), "begun"),
        (lambda: book.commands.write(P1), "written"),
        (lambda: book.commands.check(P1), "corrected"),
    ):
        book.do(act())
        with pytest.raises(CopydeskError, match=f"1r is {state} already, so it counts as ruled; nothing was recorded"):
            book.commands.rule(P1)


def test_faults_have_their_place_on_the_page() -> None:
    book = SmallBook()
    book.write("1r")
    entry = book.do(book.commands.fault(P1, "omission", column=1, line=7, should="water"))
    assert account(book, P1).record.open_faults[0].id == entry.entry
    for wrong, says in (({"column": 2}, "no column 2"), ({"line": 11}, "lines 1 to 10"), ({"line": 0}, "no line 0")):
        with pytest.raises(CopydeskError, match=says):
            book.commands.fault(P1, "omission", **wrong)
    assert facts(book.commands.fault(P1, "omission", line=7), "column", "line") == [1, 7]
    with pytest.raises(CopydeskError, match="a fault needs its kind"):
        book.commands.fault(P1, "  ")
    assert facts(book.commands.mend(P1, "1", "scraped"), "fault", "remedy") == [entry.entry, "scraped"]
    assert facts(book.commands.mend(P1, entry.entry, ""), "remedy") == ["settled"]
    with pytest.raises(CopydeskError, match="no open fault '2'; open there: fault 1, omission"):
        book.commands.mend(P1, "2", "scraped")
    with pytest.raises(CopydeskError, match="no open fault"):
        book.commands.mend(P1, "9" * 5000, "scraped")
    assert facts(book.commands.mend(P1, "1", "In the Margin"), "remedy") == ["in the margin"]
    with pytest.raises(CopydeskError, match="'sraped' is not a remedy; write one of scraped, expunged"):
        book.commands.mend(P1, "1", "sraped")


def test_a_held_page_begins_where_it_must() -> None:
    book = SmallBook()
    book.do(book.commands.hold(P3, "w90 w91"))
    assert account(book, P3).from_word == 90
    assert facts(book.commands.write(P3), "from_word") == [90]
    book.do(book.commands.release(P3))
    assert account(book, P3).from_word != 90
    with pytest.raises(CopydeskError, match="has no given beginning to take back"):
        book.commands.release(P3)


SPACES = (
    SpacePlan(id="weir", kind="miniature", at=Anchor(word=0), lines=3),
    SpacePlan(id="rim", kind="border", at=Anchor(page="1r")),
)


def test_spaces_are_fixed_with_whatever_is_recorded_first() -> None:
    for step in ("rule", "begin", "write"):
        book = SmallBook(spaces=SPACES)
        act = getattr(book.commands, step)(P1)
        assert sorted(row[0] for row in act.facts["placements"]) == ["rim", "weir"]
        book.do(act)
        assert [placement.id for placement in book.state.frame_of(0).fixed if placement.lines] == ["weir"]


def test_a_space_that_comes_to_a_page_after_it_was_ruled_stands_on_the_next() -> None:
    book = SmallBook()
    book.do(book.commands.rule(P1))
    owl = {"kind": "miniature", "at": {"word": 0}, "lines": 2}
    book.do(Act("added", "owl", "", {"plan": owl}))
    book.write("1r")
    assert book.state.frame_of(0).fixed == ()
    assert [placement.id for placement in book.state.budget.pages[1].placed] == ["owl"]
    assert book.state.budget.homeless == ()


class CountedBook(SmallBook):
    """A book of which only the letters are counted."""

    def __init__(self, *divisions: CountedDivision, **changes: object) -> None:
        super().__init__(divisions=divisions, exemplar=ExemplarLoan(), **changes)  # type: ignore[arg-type]
        self.exemplar = None  # type: ignore[assignment]
        self.state = BookState(self.plan, None, self.ledger)


def test_a_counted_book_is_recorded_by_its_lines() -> None:
    book = CountedBook(CountedDivision("On frost", letters=3000), CountedDivision("On thaw", letters=60))
    assert account(book, P1).budget.end == 200 * 100
    assert (account(book, P1).first_words, account(book, P1).last_words) == ("", "")
    act = book.commands.write(P1)
    assert facts(act, *SPAN) == [1, 10, 0, 35, True]  # 200 letters of 5.7 to a word
    book.do(act)
    assert facts(book.commands.write(P2, to_line=4), *SPAN)[:3] == [1, 4, 35]
    for words in ({"begins": "the ford"}, {"ends": "the ford"}):
        with pytest.raises(CopydeskError, match="known by its counts only, so 'the ford' is no place in it"):
            book.commands.write(P2, **words)  # type: ignore[arg-type]


def test_counted_divisions_begin_where_they_are_told_and_carry_spaces() -> None:
    plan = SpacePlan(id="thaw", kind="miniature", at=Anchor(division=2), lines=4)
    book = CountedBook(
        CountedDivision("On frost", letters=300),
        CountedDivision("On thaw", words=100),
        flow=Flow(divisions="page"),
        spaces=(plan,),
    )
    second = account(book, P3)  # the first division fills a page and a half
    assert (second.budget.start, second.budget.room, second.lines_in_spaces) == (300 * 100, 6, 4)
    assert [space.plan.id for space in second.spaces] == ["thaw"]
