"""Any work, in any order, taken back and done again: the book always stands as if worked out from the beginning."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from copydesk.book.common.errors import CopydeskError
from copydesk.book.flow import Flow
from copydesk.book.plan import Anchor, Hand, SpacePlan
from copydesk.book.structure.page import Page
from copydesk.tracking.commands import leaf_commands as leaf_acts
from copydesk.tracking.ledger.entry import Act, Entry
from copydesk.tracking.state.page_content import line_places, lines_of_page
from copydesk.tracking.views.gathering_progress import gathering_reports
from copydesk.tracking.views.page_report import page_as_data
from copydesk.tracking.views.page_view import page_account
from copydesk.tracking.views.space_view import space_accounts
from small_book import SmallBook

if TYPE_CHECKING:
    from copydesk.tracking.state.book_state import BookState

WORDS = 330
PLANS = (
    SpacePlan(id="weir", kind="miniature", at=Anchor(word=60), lines=4),
    SpacePlan(id="key", kind="initial", at=Anchor(division=1, paragraph=1), lines=2),
    SpacePlan(id="owl", kind="initial", at=Anchor(word=150), lines=3),
    SpacePlan(id="rim", kind="border", at=Anchor(page="2r")),
)

Step = Callable[[SmallBook], Act]


def small_book() -> SmallBook:
    hands = (Hand("A", "first", 20.0), Hand("B", "second", 16.0, gatherings=(2,)))
    return SmallBook(words=WORDS, count=2, spaces=PLANS, hands=hands, flow=Flow())


def told(state: BookState) -> list[object]:
    """Everything that is told of the book."""
    found: list[object] = []
    for index in range(state.collation.pages):
        found.append(page_as_data(page_account(state, index)))
        found.append(line_places(state, index))
    found += [(account.plan, account.page, account.placement, account.stage) for account in space_accounts(state)]
    found += gathering_reports(state)
    budget = state.budget
    found += [budget.stretches, budget.lines_without_room, budget.lines_left_over, budget.homeless]
    return found


LEAVES: tuple[Callable[[BookState, int], Act], ...] = (
    leaf_acts.cancel_leaf,
    leaf_acts.replace_leaf,
    leaf_acts.lose_leaf,
    leaf_acts.add_leaf,
)
pages = st.integers(0, 15).map(Page.at)
lines = st.integers(1, 12)
somewhere = st.integers(0, WORDS - 3).map(lambda word: f"w{word} w{word + 1}")
maybe_words = st.just("") | somewhere


@st.composite
def steps(draw: st.DrawFn) -> Step:
    """One thing that may happen."""
    page, line, begins, ends = draw(pages), draw(lines), draw(maybe_words), draw(maybe_words)
    leaf = draw(st.integers(1, 9))
    choice = draw(st.integers(0, 11))
    what = draw(st.sampled_from(["drawn", "coloured", "done", "left-empty"]))
    space = draw(st.sampled_from(["weir", "key", "owl", "rim"]))
    befalls = draw(st.sampled_from(LEAVES))
    table: list[Step] = [
        lambda book: book.commands.rule(page),
        lambda book: book.commands.begin(page, begins),
        lambda book: book.commands.write(page),
        lambda book: book.commands.write(page, ends=ends),
        lambda book: book.commands.write(page, to_line=line, begins=begins),
        lambda book: book.commands.write(page, to_line=line, ends=ends),
        lambda book: book.commands.check(page),
        lambda book: book.commands.fault(page, "omission", column=1, line=1),
        lambda book: book.commands.mend(page, "1", "scraped"),
        lambda book: book.commands.hold(page, begins),
        lambda book: book.commands.space(space, what),
        lambda book: befalls(book.state, leaf),
    ]
    return table[choice]


def do(book: SmallBook, step: Step, hand: str) -> Entry | None:
    try:
        return book.do(step(book), hand)
    except CopydeskError as refused:
        assert all(str(problem) for problem in refused.problems)
        return None


@given(st.lists(st.tuples(steps(), st.sampled_from("AB")), max_size=9), st.data())
@settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_the_book_stands_as_if_worked_out_from_the_beginning(work: list[tuple[Step, str]], data: st.DataObject) -> None:
    book, entries = small_book(), list[Entry]()
    for step, hand in work:
        if entries and data.draw(st.integers(0, 3)) == 0:
            entries.append(book.undo(data.draw(st.sampled_from(entries))))
        entry = do(book, step, hand)
        if entry is not None:
            entries.append(entry)
        if data.draw(st.booleans()):
            assert told(book.state) == told(book.afresh())
    assert told(book.state) == told(book.afresh())
    for index in range(book.state.collation.pages):
        assert lines_of_page(book.state, index) == lines_of_page(book.afresh(), index)


@given(st.lists(st.tuples(steps(), st.sampled_from("AB")), min_size=1, max_size=8))
@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_taking_back_restores_everything_and_doing_again_too(work: list[tuple[Step, str]]) -> None:
    book = small_book()
    before, entries = [told(book.state)], []
    for step, hand in work:
        entry = do(book, step, hand)
        if entry is not None:
            entries.append(entry)
            before.append(told(book.state))
    undone = []
    for entry, was in zip(reversed(entries), reversed(before[:-1]), strict=True):
        undone.append(book.undo(entry))
        assert told(book.state) == was
    for taker, was in zip(reversed(undone), before[1:], strict=True):
        book.undo(taker)
        assert told(book.state) == was


@given(st.lists(st.tuples(steps(), st.sampled_from("AB")), max_size=8))
@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_pages_tile_the_text_but_for_what_is_told(work: list[tuple[Step, str]]) -> None:
    book = small_book()
    for step, hand in work:
        do(book, step, hand)
    reached = 0
    for index in range(book.state.collation.pages):
        account = page_account(book.state, index)
        assert account.from_word == reached + account.gap_words - account.overlap_words
        reached = account.to_word


@pytest.mark.parametrize("undone", [0, 1, 2])
def test_entries_of_one_page_may_be_taken_back_in_any_order(undone: int) -> None:
    book = small_book()
    page = Page.parse("1r")
    entries = [book.do(book.commands.rule(page)), book.write("1r", 4), book.write("1r")]
    book.undo(entries[undone])
    assert told(book.state) == told(book.afresh())
    fixed = [placement.id for placement in book.state.record(book.state.skin_at(0)).placements or ()]
    assert "key" in fixed
