"""Recording the steps of a batch of skins, and what is cut from it."""

from __future__ import annotations

from datetime import date, timedelta
from typing import TYPE_CHECKING

import pytest

from copydesk.book.common.errors import CopydeskError
from copydesk.book.plan import SkinPlan
from copydesk.tracking.commands.skin_commands import MOST_SKINS, cut_sheet, move_skins, went_in
from copydesk.tracking.views.skin_batches import batch_named, skin_of_sheet
from small_book import SmallBook

if TYPE_CHECKING:
    from copydesk.tracking.ledger.entry import Entry

STEPS = {"soak": 1, "lime": 8, "stretch": 4}
RECORDED = date(2026, 3, 2)  # the day the small book's entries bear


def book(**changes: object) -> SmallBook:
    skins = SkinPlan(420, 310, trim=5, days=STEPS)
    return SmallBook(900, sheets=2, count=3, **{"skins": skins, **changes})  # type: ignore[arg-type]


def begin(one: SmallBook, name: str, step: str = "next", skins: int | None = None, since: date | None = None) -> Entry:
    return one.do(move_skins(one.state, name, step, skins, since))


def ready(one: SmallBook, name: str, skins: int) -> None:
    begin(one, name, "ready", skins)


@pytest.mark.parametrize(
    ("name", "step", "skins", "why"),
    [
        ("B", "soak", None, "no batch B yet; to begin it, say how many"),
        ("B", "soak", 0, "cannot have 0 skins"),
        ("B", "soak", MOST_SKINS + 1, "cannot have"),
        ("B", "tan", 3, "'tan' is no step of making skins here; give one of soak, lime, stretch, ready, or next"),
        ("", "soak", 3, "cannot name a batch"),
        ("two words", "soak", 3, "cannot name a batch"),
        ("a\x1b[31m", "soak", 3, "cannot name a batch"),
        ("A", "soak", None, "is in the step soak already, with 6 skins"),
        ("A", "soak", 6, "is in the step soak already, with 6 skins"),
    ],
)
def test_what_cannot_be_recorded_is_refused(name: str, step: str, skins: int | None, why: str) -> None:
    one = book()
    begin(one, "A", "soak", 6)
    with pytest.raises(CopydeskError, match=why):
        begin(one, name, step, skins)


def test_steps_are_found_whatever_their_case() -> None:
    one = book()
    begin(one, "A", " Lime", 2)
    assert batch_named(one.ledger, "A").step == "lime"  # type: ignore[union-attr]


def test_sheets_are_cut_from_skins_that_are_ready() -> None:
    one = book()
    begin(one, "A", "lime", 6)
    with pytest.raises(CopydeskError, match="still in the step lime"):
        one.do(cut_sheet(one.state, "2.1", "A", 1))
    begin(one, "A", "ready")
    one.do(cut_sheet(one.state, "2.1", "A", 4))
    one.do(cut_sheet(one.state, "2.2", "A"))
    assert skin_of_sheet(one.ledger, "2.1") == "A 4"
    assert skin_of_sheet(one.ledger, "2.2") == "A"
    assert skin_of_sheet(one.ledger, "1.1") is None
    one.do(cut_sheet(one.state, "2.1", "A", 5))
    assert skin_of_sheet(one.ledger, "2.1") == "A 5"


@pytest.mark.parametrize(
    ("sheet", "batch", "skin", "why"),
    [
        ("9.1", "A", 1, "no gathering 9"),
        ("1.7", "A", 1, "no sheet 7"),
        ("1", "A", 1, "does not name a sheet"),
        ("1.1", "Z", 1, "no batch Z"),
        ("1.1", "A", 7, "skins 1 to 6, so there is no skin 7"),
        ("1.1", "A", 0, "no skin 0"),
    ],
)
def test_what_cannot_be_cut_is_refused(sheet: str, batch: str, skin: int, why: str) -> None:
    one = book()
    ready(one, "A", 6)
    with pytest.raises(CopydeskError, match=why):
        one.do(cut_sheet(one.state, sheet, batch, skin))


def test_a_batch_goes_in_today_or_before() -> None:
    assert went_in("", RECORDED) is None
    assert went_in("2026-02-20", RECORDED) == date(2026, 2, 20)
    assert went_in((RECORDED + timedelta(days=1)).isoformat(), RECORDED) == RECORDED + timedelta(days=1)
    with pytest.raises(CopydeskError, match="2027-03-02 is still to come; give the day on which the batch went into"):
        went_in("2027-03-02", RECORDED)
