"""Lines beside a space or a hole where the next word has no room: told before ruling, with the width that cures."""

from __future__ import annotations

from dataclasses import replace

from copydesk.book.plan import Anchor, CountedDivision, ExemplarLoan, Flaw, Flow, SpacePlan
from copydesk.book.structure.page import Page
from copydesk.cli.verbs.plan import plan_json
from copydesk.desk.wording.page_words import page_lines
from copydesk.tracking.ledger.ledger import Ledger
from copydesk.tracking.planning.plan_report import PLAN, plan_as_is
from copydesk.tracking.state.book_state import BookState
from copydesk.tracking.state.page_content import lines_of_page
from copydesk.tracking.views.narrow_lines import narrow_lines, narrow_words
from copydesk.tracking.views.page_report import page_as_data
from copydesk.tracking.views.page_view import page_account
from text_book import TextBook

WORDS = "nineabcde ninefghij nineklmno ninepqrst nineuvwxy ninebcdfg " * 20
INITIAL = SpacePlan("owl", "initial", Anchor(word=0), 3, width=42.0)  # of a measure of 70 mm and 20 letters


def a_book(*spaces: SpacePlan, text: str = WORDS, **changes: object) -> TextBook:
    return TextBook(text.strip(), spaces=spaces, **changes)


def test_lines_beside_an_initial_stay_empty_where_no_word_has_room() -> None:
    book = a_book(INITIAL)
    assert book.lines("1r")[:4] == ["", "", "", "nineabcde ninefghij"]
    [found] = narrow_lines(book.state)
    assert (str(found.page), found.lines, found.space) == ("1r", 3, "owl")
    assert narrow_words(book.state, found) == (
        "3 lines beside space owl on 1r stay empty, too narrow for the next word; "
        "a space at most 38.5 mm wide would leave none"
    )
    page = book.state.budget.pages[0]
    assert (page.planned, page.room, page.empty) == (10, 10, 3)


def test_the_width_told_cures_it_and_a_wider_one_does_not() -> None:
    [found] = narrow_lines(a_book(INITIAL).state)
    assert found.widest is not None
    assert narrow_lines(a_book(INITIAL._replace(width=found.widest)).state) == []
    assert narrow_lines(a_book(INITIAL._replace(width=found.widest + 0.1)).state) != []


def test_words_are_broken_there_where_the_book_breaks_them() -> None:
    book = a_book(INITIAL, line_breaks="anywhere")
    assert book.lines("1r")[0] == "nineabcd"
    assert narrow_lines(book.state) == []


def test_a_line_beside_a_hole_stays_empty_too() -> None:
    book = a_book(flaws=(Flaw(leaf=1, from_head=10.0, from_fold=10.0, width=45.0, height=10.0),))
    [found] = [each for each in narrow_lines(book.state) if str(each.page) == "1r"]
    assert (found.space, found.widest) == ("", None)
    assert narrow_words(book.state, found) == "1 line beside a hole on 1r stays empty, too narrow for the next word"
    assert lines_of_page(book.state, 0)[0].start == lines_of_page(book.state, 0)[0].end


def test_a_division_still_begins_its_page_below_a_line_that_stays_empty() -> None:
    book = a_book(
        text=f"{WORDS}\n\n# Part\n\n{WORDS}",
        flaws=tuple(Flaw(leaf=leaf, from_head=10.0, from_fold=10.0, width=45.0, height=10.0) for leaf in range(1, 12)),
        flow=Flow("page"),
    )
    division = book.state.copy.runs[1].start
    starts = [page.start for page in book.state.budget.pages]
    assert division in starts


def test_every_door_tells_it() -> None:
    book = a_book(INITIAL)
    account = page_account(book.state, 0)
    assert page_as_data(account)["lines_empty"] == 3
    said = [line for line in page_lines(book.state, account) if line.head == "Narrow"]
    assert said and said[0].wrong
    row = {column.key: column.data(plan_as_is(book.state)) for column in PLAN}
    assert row["narrow"] == [{"page": "1r", "lines": 3, "space": "owl", "widest": 38.5}]
    assert "narrow" in plan_json().keys


def test_a_space_added_or_enlarged_says_which_lines_stay_empty() -> None:
    book = a_book()
    act = book.commands.space("owl", "added", at="word 0", kind="initial", lines=3, width=42.0)
    assert "3 lines beside space owl on 1r stay empty" in str(act.facts["remark"])


def test_recorded_as_planned_the_next_page_begins_as_planned() -> None:
    book = a_book(INITIAL)
    planned = book.state.budget.pages[1].start
    book.write("1r")
    assert book.state.budget.pages[1].start == planned
    assert book.state.record(book.state.skin_at(0)).written == 10
    assert book.lines("1r")[:4] == ["", "", "", "nineabcde ninefghij"]
    assert narrow_lines(book.state) == []  # what is written is no longer to be cured
    assert page_account(book.state, Page.parse("1v").index).gap_words == 0


def test_a_counted_book_leaves_lines_empty_that_hold_no_word() -> None:
    plan = replace(
        a_book(SpacePlan("owl", "initial", Anchor(division=1), 3, width=56.0)).plan,
        exemplar=ExemplarLoan(),
        divisions=(CountedDivision("one", words=500),),
    )
    [found] = narrow_lines(BookState(plan, None, Ledger()))
    assert (found.lines, found.space) == (3, "owl")
