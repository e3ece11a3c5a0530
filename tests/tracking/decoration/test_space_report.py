"""The spaces for whoever fills them: three arrangements, progress, and what other programs get."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any

import pytest

from copydesk.book.plan import Anchor, SpacePlan, Workshop
from copydesk.book.structure.page import Page
from copydesk.tracking.decoration.space_columns import SPACES
from copydesk.tracking.decoration.space_report import (
    SpaceReport,
    arranged,
    group_line,
    kind_words,
    place_words,
    progress,
    progress_words,
    size_words,
    space_reports,
    subject_words,
    where_words,
)
from small_book import SmallBook

NOON = datetime(2026, 3, 2, 12, 0, tzinfo=UTC)
ROSE = SpacePlan("rose", "initial", Anchor(word=0), 2, guide_letter="w", materials=("minium",), hours=2.0)
MILL = SpacePlan(
    "mill", "miniature", Anchor(word=130), 4, subject="a mill", materials=("shell gold", "minium"), hours=8
)
SUN = SpacePlan("sun", "miniature", Anchor(page="11r"), 3, materials=("Shell gold",), artist="Zoe")
VINE = SpacePlan("vine", "border", Anchor(page="1r"))


def book(**changes: Any) -> SmallBook:
    spaces = (SUN, MILL, ROSE, VINE)
    return SmallBook(**{"spaces": spaces, "workshop": Workshop(artist="Ines"), **changes})


def reports(book: SmallBook) -> list[SpaceReport]:
    return space_reports(book.state, NOON)


def names(found: list[SpaceReport]) -> list[str]:
    return [report.account.plan.id for report in found]


def groups(book: SmallBook, by: Any) -> list[tuple[str, list[str]]]:
    return [(group.title, names(list(group.reports))) for group in arranged(book.state, reports(book), by)]


def test_those_to_fill_come_first_in_the_order_of_their_pages() -> None:
    work = book()
    assert names(reports(work)) == ["vine", "rose", "mill", "sun"]
    work.do(work.commands.space("vine", "done"))
    assert names(reports(work)) == ["rose", "mill", "sun", "vine"]


def test_by_sheet_the_pages_of_a_sheet_are_together() -> None:
    assert groups(book(), "sheet") == [("Sheet 1.1", ["vine", "rose"]), ("Sheet 1.2", ["mill"]), ("Sheet 3.2", ["sun"])]


def test_by_stage_those_that_wait_for_the_same_are_together() -> None:
    work = book()
    work.do(work.commands.space("mill", "drawn"))
    work.do(work.commands.space("vine", "done"))
    assert groups(work, "stage") == [
        ("To be drawn", ["rose", "sun"]),
        ("To be coloured", ["mill"]),
        ("Filled, or left", ["vine"]),
    ]


def test_by_material_all_the_gold_is_together_and_first() -> None:
    assert groups(book(), "material") == [
        ("Shell gold", ["mill", "sun"]),
        ("Minium", ["rose", "mill"]),
        ("No materials named", ["vine"]),
    ]


def test_a_space_without_a_place_is_told_apart() -> None:
    work = book(spaces=(ROSE._replace(at=Anchor(word=890)),), count=1)
    assert groups(work, "sheet") == [("Without a place", ["rose"])]
    assert groups(work, "stage") == [("Without a place", ["rose"])]
    (report,) = reports(work)
    assert (report.may_leave, report.waits_for) == (False, ("a page with room for it",))


def test_progress_counts_what_is_needed_and_done() -> None:
    work = book()
    work.do(work.commands.space("mill", "drawn"))
    work.do(work.commands.space("rose", "done"))
    work.do(work.commands.space("sun", "left-empty"))
    found = progress(work.state, reports(work))
    assert [tuple(each) for each in found] == [
        ("drawn", 3, 2),
        ("gilded", 2, 0),
        ("coloured", 3, 1),
        ("outlined", 2, 0),
    ]
    assert progress_words(found[:2]) == "drawn 2 of 3, gilded 0 of 2"


def test_hours_left_go_down_with_the_stages() -> None:
    work = book()
    assert [report.account.hours_left for report in reports(work)] == [0.0, 2.0, 8.0, 0.0]
    work.do(work.commands.space("mill", "drawn"))
    assert reports(work)[2].account.hours_left == 6.0


def test_a_sheet_that_is_done_may_leave() -> None:
    work = book()
    for page in ("1r", "1v", "4r", "4v"):
        work.write(page)
        work.do(work.commands.check(Page.parse(page)), "B")
    rose = next(report for report in reports(work) if report.account.plan.id == "rose")
    assert (rose.may_leave, rose.waits_for) == (True, ())
    assert (
        group_line(arranged(work.state, [rose], "sheet")[0], work.state.book)
        == "Sheet 1.1: may leave the desk now; about 2 hours to paint"
    )


KEYS = [
    *("space", "kind", "page", "column", "from_line", "lines", "width", "height", "stage", "waiting"),
    *("sheet", "may_leave", "waits_for", "subject", "materials"),
]


def test_other_programs_get_the_keys_that_are_promised() -> None:
    data = SPACES.data(reports(book())[2])
    assert list(data)[: len(KEYS)] == KEYS
    assert {key: data[key] for key in KEYS} == {
        "space": "mill",
        "kind": "miniature",
        "page": "2v",
        "column": 1,
        "from_line": data["from_line"],
        "lines": 4,
        "width": 70.0,
        "height": 40.0,
        "stage": "reserved",
        "waiting": True,
        "sheet": "1.2",
        "may_leave": False,
        "waits_for": ["2r written", "2v written", "3r written", "3v written"],
        "subject": "a mill",
        "materials": ["shell gold", "minium"],
    }
    assert isinstance(data["from_line"], int)


def test_a_space_without_a_place_has_the_same_keys() -> None:
    work = book(spaces=(ROSE._replace(at=Anchor(word=890)), MILL), count=1)
    found = [SPACES.data(report) for report in reports(work)]
    assert [list(each) for each in found] == [list(found[0])] * len(found)
    lost = next(each for each in found if each["space"] == "rose")
    assert (lost["page"], lost["sheet"], lost["column"], lost["stage"]) == (None, None, None, "never reached")


@pytest.mark.parametrize(
    ("name", "where", "place", "size", "about"),
    [
        ("rose", "1r col. 1 l. 1-2", "1r, column 1, lines 1 to 2", "20 × 20 mm", 'rose, initial for "w"'),
        ("vine", "1r", "1r", "page 100 × 140 mm", "vine, border"),
        ("sun", "11r col. 1 l. 1-3", "11r, column 1, lines 1 to 3", "70 × 30 mm", "sun, miniature"),
    ],
)
def test_a_space_in_words(name: str, where: str, place: str, size: str, about: str) -> None:
    work = book()
    report = next(each for each in reports(work) if each.account.plan.id == name)
    account = report.account
    assert (
        where_words(account, work.state.book),
        place_words(account, work.state.book),
        size_words(account),
    ) == (where, place, size)
    assert (kind_words(account), subject_words(account)) == (about, "")


@pytest.mark.parametrize(
    ("subject", "instruction", "said"),
    [("an owl", "", "an owl"), ("an owl", "asleep", "an owl; asleep"), ("", "asleep", "not given; asleep")],
)
def test_what_a_space_shows(subject: str, instruction: str, said: str) -> None:
    account = reports(book())[0].account
    plan = account.plan._replace(subject=subject, instruction=instruction)
    assert subject_words(account._replace(plan=plan)) == said


def test_sizes_are_told_in_the_unit_of_the_book() -> None:
    account = reports(book())[1].account
    assert size_words(account, "cm") == "2 × 2 cm"
    assert size_words(account, "in") == "0.79 × 0.79 in"


def test_a_material_that_is_called_like_a_sheet_is_a_material() -> None:
    work = SmallBook(spaces=(SUN._replace(materials=("sheet gold",)),))
    reports = space_reports(work.state, NOON)
    (by_material,), (by_sheet,) = arranged(work.state, reports, "material"), arranged(work.state, reports, "sheet")
    assert (group_line(by_material, work.plan), by_material.sheet) == ("Sheet gold", None)
    assert by_sheet.sheet is reports[0].sheet is not None
    assert "waits for" in group_line(by_sheet, work.plan)


def test_one_material_under_several_names_is_one_group() -> None:
    names = [("King's yellow",), ("orpiment (genuine)", "orpimet"), ("Orpiment", "indigo hue"), ("indigo hue",)]
    work = SmallBook(spaces=tuple(SUN._replace(id=f"s{at}", materials=each) for at, each in enumerate(names)))
    assert groups(work, "material") == [("Indigo hue", ["s2", "s3"]), ("Orpiment", ["s0", "s1", "s2"])]


def test_sheets_that_may_leave_now_come_first() -> None:
    work = book()
    before = [group.title for group in arranged(work.state, reports(work), "leaving")]
    assert before == [group.title for group in arranged(work.state, reports(work), "sheet")]
    for page in ("2r", "2v", "3r", "3v"):
        work.write(page)
        work.do(work.commands.check(Page.parse(page)), "B")
    found = arranged(work.state, reports(work), "leaving")
    may = [group.sheet is not None and group.sheet.may_leave for group in found]
    assert may == sorted(may, reverse=True)
    assert {group.title for group in found} == {group.title for group in arranged(work.state, reports(work), "sheet")}
