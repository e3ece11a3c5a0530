"""Before sewing: obstacles, remarks, catchwords, register, and the binder's walk."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from copydesk.book.plan import Anchor, Flyleaves, GatheringPlan, Signing, SpacePlan
from copydesk.book.structure.page import Page
from copydesk.tracking.binding.assembly import ASSEMBLY, Assembly, Point, assembly, gathered
from copydesk.tracking.binding.flyleaf_walk import walk_flyleaf
from copydesk.tracking.commands import leaf_commands as leaf_acts
from small_book import SmallBook


def finish(book: SmallBook, *, but: tuple[str, ...] = ()) -> None:
    """Write and check every page that bears text."""
    for index in range(book.state.collation.pages):
        page, budget = Page.at(index), book.state.budget.pages[index]
        if budget.start < budget.end and str(page) not in but:
            book.write(str(page))
            book.do(book.commands.check(page), "B")


def said(points: tuple[Point, ...]) -> list[tuple[str, str]]:
    return [(point.where, point.what) for point in points]


def found(book: SmallBook) -> Assembly:
    return assembly(book.state)


def test_a_finished_book_is_ready() -> None:
    book = SmallBook(words=300)
    finish(book)
    assert found(book).ready
    assert ASSEMBLY.data(found(book))["obstacles"] == []


def test_the_promised_keys_are_there_and_go_through_json() -> None:
    data = ASSEMBLY.data(found(SmallBook()))
    assert {"ready", "obstacles", "catchwords"} <= data.keys()
    assert json.loads(json.dumps(data)) == data
    assert set(data["obstacles"][0]) == {"where", "what"}  # type: ignore[index]
    assert set(data["catchwords"][0]) == {"gathering", "catchword", "next_begins", "agrees"}  # type: ignore[index]


def test_every_page_says_what_is_still_to_be_done_on_it() -> None:
    book = SmallBook(words=300)
    finish(book, but=("1r", "1v", "2r", "2v", "3r"))
    book.do(book.commands.rule(Page.parse("1v")))
    book.write("2r", to_line=4)
    book.write("2v")
    book.write("3r")
    book.do(book.commands.fault(Page.parse("3r"), "omission", line=2, should="w1"))
    book.do(book.commands.check(Page.parse("3r")), "B")
    assert said(found(book).obstacles)[:5] == [
        ("1r", "to be ruled and written"),
        ("1v", "to be written"),
        ("2r", "to be written from line 5"),
        ("2v", "to be checked"),
        ("3r", "1 fault open"),
    ]


def test_pages_that_do_not_meet_stand_in_the_way() -> None:
    book = SmallBook(words=300)
    book.write("1r")
    book.do(book.commands.write(Page.parse("1v"), begins="w60 w61"))
    book.do(book.commands.write(Page.parse("2r"), begins="w90 w91"))
    what = dict(said(tuple(point for point in found(book).obstacles if "text" in point.what or "again" in point.what)))
    assert what["1v"] == "7 words of the text skipped before it"
    assert what["2r"].endswith("of the page before are written here again")


@pytest.mark.parametrize(
    ("stages", "waits"),
    [((), True), (("drawn",), True), (("done",), False), (("left-empty",), False)],
)
def test_a_space_waits_until_it_is_filled_or_left_on_purpose(stages: tuple[str, ...], waits: bool) -> None:
    book = SmallBook(words=200, spaces=(SpacePlan("frost", "miniature", Anchor(page="1v"), 3),))
    finish(book)
    for stage in stages:
        book.do(book.commands.space("frost", stage))
    assert (("1v", "space frost waits") in said(found(book).obstacles)) is waits
    assert (("1v", "space frost left empty on purpose") in said(found(book).remarks)) is ("left-empty" in stages)


@pytest.mark.parametrize(
    ("place", "away"), [("artist", True), ("checker", True), ("drying", True), ("press", False), ("desk", False)]
)
def test_sheets_must_be_at_home_and_dry(place: str, away: bool) -> None:
    book = SmallBook(words=200)
    finish(book)
    if place == "desk":
        book.do(book.commands.sheet("1.2", "press"))
    book.do(book.commands.sheet("1.2", place, "Ines"))
    assert any(point.where == "sheet 1.2" for point in found(book).obstacles) is away


def test_text_without_a_page_stands_in_the_way() -> None:
    book = SmallBook(words=900, sheets=1, count=1)
    assert said(found(book).obstacles)[-1][0] == "the end"


def test_catchwords_agree_where_the_text_runs_on_and_not_where_words_were_skipped() -> None:
    book = SmallBook()
    finish(book, but=("5r",))
    assert all(check.agrees for check in found(book).catchwords)
    ends = book.state.record(book.state.skin_at(7)).ends or 0
    book.do(book.commands.write(Page.parse("5r"), begins=f"w{ends + 5} w{ends + 6}"))
    first = found(book).catchwords[0]
    assert (first.catchword, first.next_begins) == (f"w{ends} w{ends + 1}", f"w{ends + 5} w{ends + 6}")
    assert not first.agrees
    assert (
        "gathering 1",
        f'catchword "w{ends} w{ends + 1}", but gathering 2 begins "w{ends + 5} w{ends + 6}"',
    ) in said(found(book).obstacles)


def test_a_book_without_catchwords_has_none_to_check() -> None:
    book = SmallBook(signing=Signing("none", catchwords=0))
    assert found(book).catchwords == ()
    assert [where for where, what in said(found(book).remarks) if "have no" in what] == ["the gatherings"] * 2


def test_remarks_hold_nobody_up() -> None:
    book = SmallBook(words=200, gatherings=GatheringPlan(sheets=2, count=2, habit="same"), flyleaves=Flyleaves(1, 1))
    for page in ("1r", "1v", "2r", "2v"):
        book.write(page)
        book.do(book.commands.check(Page.parse(page)))
    finish(book, but=("1r", "1v", "2r", "2v"))
    for flyleaf in ("i", "ii"):
        book.do(walk_flyleaf(book.state, flyleaf))
    remarks = said(found(book).remarks)
    assert found(book).ready
    assert any(what.startswith("hair faces flesh") for _, what in remarks)
    assert ("1r", "checked by A, who wrote it") in remarks
    assert any(what == "without text" for _, what in remarks)
    assert not any(where == "the covers" for where, _ in remarks)


def test_leaves_changed_in_mid_work_are_minded() -> None:
    book = SmallBook()
    book.do(leaf_acts.cancel_leaf(book.state, 2))
    remarks = said(found(book).remarks)
    assert ("leaf 2", "single, held by its stub") in remarks
    assert ("gathering 1", "its leaves were changed; they are now signed 1 a j") in remarks
    assert found(book).formula == "1⁴ (2 cancelled) 2–3⁴"


def test_points_of_pages_in_a_row_are_taken_together_for_people() -> None:
    points = [Point(str(Page.at(index)), "to be checked", Page.at(index)) for index in (0, 1, 2, 5, 6)]
    points.insert(3, Point("3r", "1 fault open", Page.at(4)))
    assert [(point.where, point.what, point.many) for point in gathered(points, SmallBook().plan)] == [
        ("1r to 2r", "to be checked", 3),
        ("3r", "1 fault open", 1),
        ("3v to 4r", "to be checked", 2),
    ]
    assert gathered([], SmallBook().plan) == []


@pytest.mark.parametrize(
    ("foliation", "said"),
    [("roman", ["i v|ii r", "i r", "ii v to iii r"]), ("pages", ["pp. 2|3", "p. 1", "p. 4 to p. 5"])],
)
def test_points_are_called_as_the_book_counts(foliation: str, said: list[str]) -> None:
    points = [Point("1v|2r", "hair faces flesh", Page.parse("1v")), Point("1r", "blank", Page.parse("1r"))]
    points += [Point(page, "to be checked", Page.parse(page)) for page in ("2v", "3r")]
    book = SmallBook(signing=Signing(foliation=foliation)).plan  # type: ignore[arg-type]
    assert [point.where for point in gathered(points, book)] == said


@given(
    st.lists(
        st.tuples(st.integers(0, 30), st.sampled_from(["checked", "written"])), max_size=20, unique_by=lambda x: x[0]
    )
)
def test_taking_together_loses_no_page(given_points: list[tuple[int, str]]) -> None:
    """Property: the rows cover just the pages they were made from."""
    points = [Point(str(Page.at(index)), what, Page.at(index)) for index, what in sorted(given_points)]
    covered = []
    for row in gathered(points, SmallBook().plan):
        first, _, last = row.where.partition(" to ")
        span = range(Page.parse(first).index, Page.parse(last or first).index + 1)
        covered += [(index, row.what) for index in span]
    assert covered == [(point.page.index, point.what) for point in points if point.page is not None]


def test_a_sheet_two_people_have_is_told() -> None:
    book = SmallBook(words=200)
    first = book.do(book.commands.sheet("1.1", "checker", "Bea"))
    second = first._replace(entry="e99", tick=99, desk="other", facts={"who": "Ole", "seen": "none"})
    subject = book.ledger.add(second)
    assert subject is not None
    book.state.touch(subject)
    assert ("sheet 1.1", "taken by two: with the checker (Bea) as well") in said(found(book).obstacles)


@pytest.mark.parametrize(("habit", "marks"), [("leaves", ("a", "b")), ("numbers", ("I", "II")), ("none", ("1", "2"))])
def test_the_register_follows_the_habit_of_signing(habit: Any, marks: tuple[str, ...]) -> None:
    book = SmallBook(words=60, count=2, signing=Signing(habit=habit))
    assert tuple(mark for line in found(book).register for mark in line.signatures) == marks


def test_a_pastedown_is_no_flyleaf_of_the_extent() -> None:
    leaves = found(SmallBook(words=60)).extent
    assert found(SmallBook(words=60, flyleaves=Flyleaves(2, 1))).extent == f"ii + {leaves} + i"
    assert found(SmallBook(words=60, flyleaves=Flyleaves(2, 1, pastedowns=True))).extent == f"i + {leaves}"
