"""The skins a book needs, and when to begin making them."""

from __future__ import annotations

from datetime import date

import pytest

from copydesk.book.common.errors import CopydeskError
from copydesk.book.materials.skin_preparation import USUAL_DAYS, step_cautions
from copydesk.book.plan import Flyleaves, SkinPlan
from copydesk.tracking.planning.plan_report import plan_report
from copydesk.tracking.views.skin_order import (
    cutting_today,
    days_words,
    flyleaf_sheets,
    lime_caution,
    order_words,
    skin_days,
    skin_order,
    skin_steps,
    steps_words,
)
from small_book import SmallBook

TODAY = date(2026, 11, 25)
SKINS = SkinPlan(420, 310, trim=5, spoilage=0.2, days={"soak": 1, "lime": 8, "dry": 3})


def test_skins_for_the_gatherings_and_with_the_flyleaves() -> None:
    book = SmallBook(900, sheets=2, count=6, skins=SKINS, flyleaves=Flyleaves(front=3, back=2))
    order = skin_order(book.state)
    assert order is not None
    assert (order.cutting.count, order.sheets, order.flyleaf_sheets) == (4, 12, 3)
    assert (order.skins, order.with_flyleaves) == (4, 5)  # 3 / 0.8 and 4 / 0.8, whole skins
    report = plan_report(book.state)
    assert (report.skins, report.flyleaf_sheets, report.skins_with_flyleaves) == (4, 3, 5)
    assert order_words(order) == "5 to order for 12 sheets and 3 of flyleaves, 4 from each, 20% allowed to spoil"


def test_a_book_that_says_nothing_of_skins_has_no_order() -> None:
    book = SmallBook(900)
    assert skin_order(book.state) is None
    assert cutting_today(book.state) is None
    assert (plan_report(book.state).skins, plan_report(book.state).sheets_per_skin) == (0, 0)
    assert skin_steps(book.plan) == USUAL_DAYS


def test_a_skin_smaller_than_a_sheet_is_told() -> None:
    order = skin_order(SmallBook(900, skins=SkinPlan(150, 150)).state)
    assert order is not None
    assert (order.skins, order.with_flyleaves) == (0, 0)
    assert "smaller than a sheet" in order_words(order)


@pytest.mark.parametrize(("front", "back", "sheets"), [(0, 0, 0), (1, 1, 2), (2, 3, 3), (4, 0, 2)])
def test_flyleaves_come_from_sheets_of_their_own(front: int, back: int, sheets: int) -> None:
    assert flyleaf_sheets(Flyleaves(front, back)) == sheets


def test_begun_today_they_are_ready_after_all_steps() -> None:
    days = skin_days(SKINS.days, 4, TODAY)
    assert (days.lead, days.starts, days.ready, days.late) == (12, (TODAY,), date(2026, 12, 7), 0)
    assert days_words(days, TODAY) == "start today, ready on 7 December: soak 1, lime 8, dry 3 days"


def test_wanted_by_a_day_they_are_begun_before_it() -> None:
    days = skin_days(SKINS.days, 4, TODAY, date(2027, 1, 4))
    assert days.starts == (date(2026, 12, 23),)
    said = days_words(days, TODAY, asked=True, steps=False)
    assert said == "by 23 December, to be ready on 4 January 2027"


def test_batches_wait_for_the_bath() -> None:
    days = skin_days(SKINS.days, 4, TODAY, date(2026, 12, 20), at_once=2)
    assert days.starts == (date(2026, 11, 30), date(2026, 12, 8))
    assert days_words(days, TODAY, asked=True, steps=False) == (
        "2 batches, on 30 November and 8 December, ready on 20 December"
    )


def test_a_day_that_is_too_near_is_told() -> None:
    days = skin_days(SKINS.days, 4, TODAY, date(2026, 11, 30))
    assert days.late == 7
    assert days_words(days, TODAY, asked=True, steps=False).endswith("; the first was due 7 days ago")


def test_no_skins_wanting_is_nothing_to_begin() -> None:
    assert days_words(skin_days(SKINS.days, 0, TODAY), TODAY) == "nothing: every skin is here or in the making"
    with pytest.raises(CopydeskError, match="cannot be"):
        skin_days(SKINS.days, 4, TODAY, at_once=-1)


def test_steps_and_their_cautions() -> None:
    assert steps_words({"lime": 1}) == "lime 1 day"
    assert steps_words({"lime": 8, "dry": 0.5}) == "lime 8, dry 0.5 days"
    lime = step_cautions(["rest", "second lime"])
    assert lime[0].startswith("Lime: burns skin")
    assert "safety data sheet" in lime[-1]
    assert any(words.startswith("Blade:") for words in step_cautions(["scrape"]))
    assert step_cautions(["soak"])[0].startswith("Raw hides:")
    assert step_cautions(["rest", "dry"]) == ()
    assert lime_caution(["soak"]) == ""
    assert "can blind" in lime_caution(["lime"])
