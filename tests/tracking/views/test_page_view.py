"""What is told of pages and gatherings, in figures and for other programs."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from copydesk.book.flow import Flow
from copydesk.book.plan import Anchor, GatheringPlan, Hand, LeafException, SpacePlan
from copydesk.book.structure.page import Page
from copydesk.book.text.exemplar import read_exemplar
from copydesk.tracking.commands import leaf_commands as leaf_acts
from copydesk.tracking.ledger.ledger import Ledger
from copydesk.tracking.state.book_state import BookState
from copydesk.tracking.views.gathering_progress import gathering_reports
from copydesk.tracking.views.page_report import page_as_data, page_reports
from copydesk.tracking.views.page_view import ActKind, PageAccount, page_account
from small_book import SmallBook

if TYPE_CHECKING:
    from collections.abc import Callable

    from copydesk.tracking.ledger.entry import Act

KEYS = [  # the README names them
    *("page", "gathering", "leaf", "sheet", "side", "surface", "conjugate", "ruled_lines", "lines_in_spaces"),
    *("budget", "planned", "written", "over", "from_word", "to_word", "first_words", "last_words", "state", "hands"),
    *("spaces_waiting", "faults_open"),
]


def account(book: SmallBook, page: str) -> PageAccount:
    return page_account(book.state, Page.parse(page).index)


def next_acts(book: SmallBook, page: str = "1r") -> str:
    return str(account(book, page).next_act)


def test_a_page_as_plain_data() -> None:
    book = SmallBook()
    book.write("1r", 6)
    book.write("1r", hand="B")
    data = page_as_data(account(book, "1r"))
    assert set(KEYS) <= set(data)
    assert {key: data[key] for key in KEYS[:8]} == {
        "page": "1r",
        "gathering": 1,
        "leaf": 1,
        "sheet": 1,
        "side": "outer",
        "surface": "hair",
        "conjugate": "4v",
        "ruled_lines": 10,
    }
    assert (data["budget"], data["planned"], data["written"], data["over"]) == (10, 10, 10, 0)
    assert (data["from_word"], data["state"]) == (0, "written")
    assert data["hands"] == [
        {"hand": "A", "from_line": 1, "to_line": 6},
        {"hand": "B", "from_line": 7, "to_line": 10},
    ]
    assert data["first_words"] == "w0 w1 w2 w3"
    assert str(data["last_words"]).endswith(f"w{account(book, '1r').to_word - 1}")


def test_where_pages_stand_is_told_of_every_page() -> None:
    reports = page_reports(SmallBook(sheets=1, count=1).state)
    rows = [
        (str(report.page), report.place.side.value, report.place.surface.value, str(report.place.conjugate))
        for report in reports
    ]
    assert rows == [
        ("1r", "outer", "hair", "2v"),
        ("1v", "inner", "flesh", "2r"),
        ("2r", "inner", "flesh", "1v"),
        ("2v", "outer", "hair", "1r"),
    ]


def test_a_page_beside_which_only_a_stub_lies() -> None:
    plan = GatheringPlan(sheets=2, count=1, exceptions=(LeafException(4, "cancelled"),))
    assert page_as_data(account(SmallBook(gatherings=plan), "1r"))["conjugate"] is None


def test_what_comes_next_on_a_page() -> None:
    book = SmallBook(words=100)
    page = Page.parse("1r")
    seen = [next_acts(book)]
    steps: list[Callable[[], Act]] = [
        lambda: book.commands.rule(page),
        lambda: book.commands.write(page, to_line=4),
        lambda: book.commands.write(page),
        lambda: book.commands.fault(page, "omission"),
        lambda: book.commands.fault(page, "repetition"),
        lambda: book.commands.check(page),
        lambda: book.commands.mend(page, "1", "scraped"),
        lambda: book.commands.mend(page, "2", "scraped"),
    ]
    for step in steps:
        book.do(step())
        seen.append(next_acts(book))
    assert seen == ["rule", "write", "write", "check", "check", "check", "mend 2", "mend 1", "done"]
    assert next_acts(book, "12v") == "blank"


def test_a_page_of_spaces_alone() -> None:
    book = SmallBook(words=30, spaces=(SpacePlan(id="rim", kind="border", at=Anchor(page="12v")),))
    assert next_acts(book, "12v") == "rule"
    book.do(book.commands.rule(Page.parse("12v")))
    assert next_acts(book, "12v") == "paint 1"
    for stage in ("drawn", "gilded", "coloured", "outlined"):
        book.do(book.commands.space("rim", stage))
    assert next_acts(book, "12v") == "done"


def test_lines_that_spaces_take_are_no_budget() -> None:
    spaces = (
        SpacePlan(id="weir", kind="miniature", at=Anchor(word=0), lines=4),
        SpacePlan(id="key", kind="initial", at=Anchor(word=40), lines=2),
        SpacePlan(id="owl", kind="miniature", at=Anchor(page="1r", line=8), lines=2),
    )
    book = SmallBook(spaces=spaces)
    before = account(book, "1r")
    assert (before.ruled_lines, before.lines_in_spaces, before.budget.room) == (10, 6, 4)
    assert before.spaces_waiting == len(before.spaces)
    book.do(book.commands.rule(Page.parse("1r")))
    ruled = account(book, "1r")
    assert (ruled.lines_in_spaces, ruled.budget.room) == (6, 4)
    book.write("1r")
    written = account(book, "1r")
    assert (written.lines_in_spaces, written.budget.room, written.over) == (6, 4, 0)


def test_spaces_tied_to_one_page_stand_below_one_another() -> None:
    spaces = (
        SpacePlan(id="weir", kind="miniature", at=Anchor(page="2r"), lines=3),
        SpacePlan(id="owl", kind="miniature", at=Anchor(page="2r"), lines=4),
    )
    book = SmallBook(spaces=spaces)
    page = account(book, "2r")
    assert [(space.plan.id, space.placement.from_line) for space in page.spaces if space.placement] == [
        ("weir", 1),
        ("owl", 4),
    ]
    assert (page.lines_in_spaces, page.budget.room) == (7, 3)


def test_a_space_tied_to_a_page_that_is_gone_has_no_place() -> None:
    book = SmallBook(spaces=(SpacePlan(id="weir", kind="miniature", at=Anchor(page="2r"), lines=3),))
    assert not book.state.budget.homeless
    cut = book.do(leaf_acts.cancel_leaf(book.state, 2))
    assert list(book.state.budget.homeless) == ["weir"]
    book.undo(cut)
    assert not book.state.budget.homeless


def test_lines_over_and_lines_left() -> None:
    book = SmallBook(words=100)
    assert account(book, "12v").over == -10
    book.do(book.commands.hold(Page.parse("1v"), "w60 w61"))
    first = account(book, "1r")
    assert (first.budget.planned - first.budget.room, first.over) == (first.over, first.over)
    assert first.over > 0
    book.write("1r")
    assert account(book, "1r").over == 0  # written closer, it found room


def test_gaps_and_overlaps_are_told_in_words() -> None:
    book = SmallBook()
    book.write("1r")
    end = account(book, "1r").to_word
    book.do(book.commands.write(Page.parse("1v"), begins=f"w{end + 3} w{end + 4}"))
    data = page_as_data(account(book, "1v"))
    assert (data["gap_words"], "overlap_words" in data) == (3, False)
    book.do(book.commands.write(Page.parse("1v"), begins=f"w{end - 2} w{end - 1}"))
    data = page_as_data(account(book, "1v"))
    assert (data["overlap_words"], "gap_words" in data) == (2, False)
    assert "gap_words" not in page_as_data(account(book, "1r"))


def test_a_page_that_ends_elsewhere_moves_the_text_after_it() -> None:
    book = SmallBook()
    planned = account(book, "1v").from_word
    book.do(book.commands.write(Page.parse("1r"), ends=f"w{planned - 5}"))
    assert account(book, "1v").from_word == planned - 4


def test_gatherings_in_figures() -> None:
    book = SmallBook(hands=(Hand("A", "first", 20.0), Hand("B", "second", 16.0, gatherings=(2,))))
    book.write("1r")
    book.write("1v", hand="B")
    book.do(book.commands.check(Page.parse("1r")))
    book.do(book.commands.fault(Page.parse("1v"), "omission"))
    first, second, third = gathering_reports(book.state)
    assert (first.number, first.first, first.last, first.leaves, first.sheets, first.pages) == (1, 1, 4, 4, 2, 8)
    assert (first.written, first.checked, first.corrected, first.faults, first.hands) == (2, 1, 1, 1, "A, B")
    assert first.first_open == Page.parse("1v")
    assert (second.first, second.last, second.written) == (5, 8, 0)
    assert third.pages == len(
        [page for page in page_reports(book.state)[16:] if page.next_act.kind is not ActKind.BLANK]
    )


@pytest.mark.parametrize("text", ["[bold]w0[/bold] \x1b[31mred\x1b[0m \u202eturned\u202c 漢字", "e\u0301te\u0301 שלום"])
def test_words_are_told_harmlessly(text: str) -> None:
    book = SmallBook(flow=Flow())
    told = page_account(BookState(book.plan, read_exemplar(text), Ledger()), 0)
    assert told.first_words.isprintable()
    assert "\x1b" not in told.first_words
    assert "\u202e" not in told.last_words
