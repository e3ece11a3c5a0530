"""What has happened on a page, folded from its entries."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.layout.page_frame import Placement
from copydesk.tracking.ledger.entry import Entry
from copydesk.tracking.ledger.page_record import BLANK, PageRecord, fold_page
from copydesk.tracking.ledger.space_record import placements_from

if TYPE_CHECKING:
    from collections.abc import Mapping


def entry(what: str, hand: str = "A", *, name: str = "", **facts: object) -> Entry:
    return Entry(name or what, 1, "2026-11-25T10:00:00+00:00", hand, "north", what, "1.1:r", "1r", facts)


def written(first: int, last: int, start: int, end: int, hand: str = "A", *, whole: bool = False) -> Entry:
    return entry("written", hand, from_line=first, to_line=last, from_word=start, to_word=end, whole=whole)


def fold(*entries: Entry) -> PageRecord:
    return fold_page(entries)


ROW = ["frost", 1, 3, 6, 0.25]
FROST = Placement("frost", 1, 3, 6, 0.25)


def test_a_page_that_is_begun_has_its_ruling_though_nobody_recorded_it() -> None:
    assert not fold().has_ruling
    assert not fold(entry("held", from_word=4)).has_ruling
    assert all(fold(each).has_ruling for each in (entry("ruled"), entry("begun", from_word=4), written(1, 9, 4, 80)))


def test_a_page_goes_from_state_to_state() -> None:
    steps = [
        (entry("ruled", placements=[ROW]), "ruled"),
        (entry("begun", from_word=4), "begun"),
        (written(1, 9, 4, 80), "begun"),
        (written(10, 20, 80, 160, whole=True), "written"),
        (entry("fault", name="f1", kind="omission"), "written"),
        (entry("checked", "B"), "checked"),
        (entry("settled", fault="f1", remedy="scraped"), "corrected"),
    ]
    entries = []
    for step, state in steps:
        entries.append(step)
        assert fold(*entries).state == state
    record = fold(*entries)
    assert (record.begins, record.ends, record.written, record.placements) == (4, 160, 20, (FROST,))
    assert (record.checked_by, record.self_checked, record.faults[0].remedy) == ("B", False, "scraped")


def test_a_page_nothing_happened_on() -> None:
    assert fold() is BLANK
    assert (BLANK.state, BLANK.written, BLANK.placements, BLANK.self_checked) == ("unruled", 0, None, False)


def test_a_page_checked_with_no_fault_is_corrected_at_once() -> None:
    record = fold(written(1, 20, 0, 90, whole=True), entry("checked", "A"))
    assert (record.state, record.self_checked) == ("corrected", True)


def test_a_page_that_another_hand_wrote_on_too_is_not_self_checked() -> None:
    record = fold(written(1, 9, 0, 40, "A"), written(10, 20, 40, 90, "B", whole=True), entry("checked", "A"))
    assert not record.self_checked


def test_two_hands_on_one_page() -> None:
    record = fold(written(1, 9, 0, 40, "A"), written(10, 20, 40, 90, "B", whole=True))
    assert [(stint.hand, stint.from_line, stint.to_line) for stint in record.stints] == [("A", 1, 9), ("B", 10, 20)]
    assert (record.begins, record.ends) == (0, 90)


def test_lines_written_anew_take_the_place_of_those_before() -> None:
    record = fold(
        written(1, 9, 0, 40),
        written(10, 20, 40, 90, whole=True),
        entry("checked", "B"),
        written(6, 18, 25, 88, "B", whole=True),
    )
    assert [(stint.hand, stint.from_line, stint.to_line, stint.to_word) for stint in record.stints] == [
        ("A", 1, 5, 25),
        ("B", 6, 18, 88),
    ]
    assert (record.written, record.ends, record.state, record.written_again) == (18, 88, "written", True)


def test_a_page_written_anew_from_its_first_line() -> None:
    record = fold(written(1, 20, 0, 90, whole=True), written(1, 18, 7, 90, "B", whole=True))
    assert (len(record.stints), record.begins, record.written) == (1, 7, 18)


def test_spaces_are_fixed_by_whichever_entry_comes_first_and_none_is_lost() -> None:
    other = ["ford", 2, 1, 4, 0]
    assert fold(written(1, 9, 0, 40)).placements == ()
    assert fold(entry("begun", from_word=0, placements=[ROW])).placements == (FROST,)
    record = fold(entry("ruled", placements=[ROW]), entry("written", to_line=4, placements=[ROW, other]))
    assert [placement.id for placement in record.placements or ()] == ["frost", "ford"]


def test_a_page_held_keeps_its_beginning_until_it_is_begun() -> None:
    record = fold(entry("held", from_word=7))
    assert (record.held, record.begins, record.state) == (7, None, "unruled")


def test_a_reading_in_part_stops_where_lines_are_written_anew() -> None:
    record = fold(written(1, 20, 0, 90, whole=True), entry("read-to", "B", line=12), written(6, 20, 25, 90, whole=True))
    assert record.read_to == 5
    assert fold(written(1, 20, 0, 90, whole=True), entry("read-to", line=12), entry("checked")).read_to == 0


def test_kinds_unknown_or_of_other_things_change_nothing() -> None:
    assert fold(entry("sprinkled"), entry("gilded"), entry("")) == BLANK


@pytest.mark.parametrize(
    "row",
    [
        None,
        5,
        "frost",
        [],
        ["frost", 1, 3, 6],
        ["frost", 1, 3, 6, 0.25, 9],
        [None, 1, 3, 6, 0.25],
        ["frost", "1", 3, 6, 0.25],
        ["frost", 1, -3, 6, 0.25],
        ["frost", 1, 3, 10**12, 0.25],
        ["frost", 1, 3, True, 0.25],
        ["frost", 1, 3, 6, 1.0],
        ["frost", 1, 3, 6, float("nan")],
        ["frost", 1, 3, 6, "half"],
    ],
)
def test_a_placement_of_another_form_is_passed_over(row: object) -> None:
    assert placements_from({"placements": [row, ROW]}) == (FROST,)


@pytest.mark.parametrize("facts", [{}, {"placements": None}, {"placements": "all"}, {"placements": {"frost": ROW}}])
def test_placements_that_are_no_list_are_none(facts: Mapping[str, object]) -> None:
    assert placements_from(facts) == ()


def test_figures_that_cannot_be_are_brought_to_some_that_can() -> None:
    record = fold(
        entry("written", from_line=-4, to_line=10**8, from_word=-9, to_word=-3, whole="no", minutes=float("inf"))
    )
    stint = record.stints[0]
    assert (stint.from_line, stint.to_line, stint.from_word, stint.to_word) == (1, 10_000, 0, 0)
    assert (record.whole, stint.minutes) == (False, None)
    assert fold(entry("written", from_line=9, to_line=2)).written == 9
    assert fold(entry("held", from_word=-1)).held == 0
    assert fold(entry("begun", from_word="x")).state == "unruled"


hostile = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=4) | st.integers(0, 60),
    lambda inside: st.lists(inside, max_size=5) | st.dictionaries(st.text(max_size=3), inside, max_size=2),
    max_leaves=8,
)
FACTS = (
    *("from_line", "to_line", "from_word", "to_word", "whole", "placements"),
    *("line", "column", "fault", "remedy", "minutes"),
)
WHATS = ("ruled", "begun", "written", "checked", "fault", "settled", "held", "read-to", "transcribed", "gilded", "x")


@given(st.lists(st.tuples(st.sampled_from(WHATS), st.dictionaries(st.sampled_from(FACTS), hostile)), max_size=8))
@settings(max_examples=200)
def test_no_facts_whatever_break_the_fold(steps: list[tuple[str, dict[str, object]]]) -> None:
    entries = [
        Entry(f"e{at}", at, "", "A", "north", what, "1.1:r", "1r", facts) for at, (what, facts) in enumerate(steps)
    ]
    record = fold_page(entries)
    assert record.state in ("unruled", "ruled", "begun", "written", "checked", "corrected")
    assert 0 <= record.written <= 10_000
    lines = [line for stint in record.stints for line in (stint.from_line, stint.to_line)]
    assert lines == sorted(lines)
    assert all(stint.from_line >= 1 and 0 <= stint.from_word <= stint.to_word for stint in record.stints)
    assert len({placement.id for placement in record.placements or ()}) <= len(record.placements or ())


@given(st.lists(st.tuples(st.integers(1, 20), st.integers(0, 5), st.integers(0, 90), st.integers(0, 40)), max_size=8))
def test_stints_never_overlap(steps: list[tuple[int, int, int, int]]) -> None:
    record = fold(*(written(first, first + more, word, word + words) for first, more, word, words in steps))
    for before, after in pairwise(record.stints):
        assert before.to_line < after.from_line
        assert before.from_word <= before.to_word


def test_a_line_stopped_within_begins_with_one_of_the_pages_own_words() -> None:
    record = fold(entry("written", from_line=1, to_line=2, from_word=9, to_word=20, line_from_word=3))
    assert record.stints[0].line_from == 9
    record = fold(entry("written", from_line=1, to_line=2, from_word=9, to_word=20, line_from_word=99))
    assert record.stints[0].line_from == 20
