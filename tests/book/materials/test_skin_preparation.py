"""Skins in the making."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.common.errors import CopydeskError
from copydesk.book.materials.cautions import LABEL
from copydesk.book.materials.skin_preparation import (
    READY,
    USUAL_DAYS,
    SkinBatch,
    batch_warning,
    batch_warnings,
    batches_for,
    due,
    is_lime,
    lead_days,
    next_step,
    ready_on,
    when_to_start,
)

DAY = date(2027, 3, 1)
IN_LIME = SkinBatch("A", 6, "lime", DAY)


def later(days: int) -> date:
    return DAY + timedelta(days=days)


def test_one_batch_takes_all_its_steps() -> None:
    assert lead_days(USUAL_DAYS) == 15
    assert when_to_start(date(2027, 4, 1), USUAL_DAYS) == (date(2027, 3, 17),)


def test_batches_follow_as_the_lime_comes_free() -> None:
    assert lead_days(USUAL_DAYS, 3) == 15 + 2 * 9
    assert when_to_start(later(33), USUAL_DAYS, 3) == (DAY, later(9), later(18))


def test_nothing_to_make_takes_no_days() -> None:
    assert lead_days({}) == lead_days(USUAL_DAYS, 0) == 0
    assert when_to_start(DAY, USUAL_DAYS, 0) == ()


def test_batches_are_counted_by_the_room() -> None:
    assert [batches_for(13, 6), batches_for(12, 6), batches_for(0, 6), batches_for(5, 0)] == [3, 2, 0, 0]


def test_steps_follow_one_another() -> None:
    assert [next_step(step, USUAL_DAYS) for step in ("soak", "lime", "stretch")] == ["lime", "stretch", READY]
    assert next_step(READY, {**USUAL_DAYS, READY: 0}) == READY


def test_an_unknown_step_is_refused() -> None:
    with pytest.raises(CopydeskError, match="'tan'; the book has soak, lime, stretch"):
        due(SkinBatch("A", 6, "tan", DAY), USUAL_DAYS)
    with pytest.raises(CopydeskError, match="the book has none"):
        next_step("tan", {})


def test_part_of_a_day_counts_against_the_lime_and_for_the_rest() -> None:
    days = {"soak": 1.5, "lime": 9.5}
    assert due(SkinBatch("A", 1, "soak", DAY), days) == later(2)
    assert due(SkinBatch("A", 1, "lime", DAY), days) == later(9)
    assert due(SkinBatch("A", 1, READY, DAY), days) is None


@pytest.mark.parametrize(
    ("on", "said"),
    [
        (7, "Batch A (6 skins) must leave the lime in 2 days, for stretch: too long in lime harms the skin."),
        (8, "Batch A (6 skins) must leave the lime tomorrow, for stretch: too long in lime harms the skin."),
        (9, "Batch A (6 skins) must leave the lime today, for stretch: too long in lime harms the skin."),
        (10, "Batch A (6 skins) should have left the lime yesterday: too long in lime harms the skin."),
        (
            12,
            "Batch A (6 skins) should have left the lime 3 days ago: too long in lime harms the skin. Caution: Lime: ",
        ),
    ],
)
def test_the_lime_is_warned_of_before_it_harms(on: int, said: str) -> None:
    warned = str(batch_warning(IN_LIME, USUAL_DAYS, later(on)))
    assert warned.startswith(said)
    assert (warned == said) == (on < 10)


def test_until_then_the_lime_is_left_alone() -> None:
    assert batch_warning(IN_LIME, USUAL_DAYS, later(6)) is None


def test_other_steps_are_spoken_of_when_done() -> None:
    one = SkinBatch("B", 1, "soak", DAY)
    assert batch_warning(one, USUAL_DAYS, DAY) is None
    assert batch_warning(one, USUAL_DAYS, later(1)) == "Batch B (1 skin) can go on from soak to lime."
    overdue = str(batch_warning(one, USUAL_DAYS, later(3)))
    assert overdue.startswith("Batch B (1 skin) could have gone on from soak to lime 2 days ago. Caution: Raw hides: ")
    assert batch_warning(SkinBatch("B", 1, READY, DAY), USUAL_DAYS, later(99)) is None


def test_the_lime_comes_first() -> None:
    said = batch_warnings((SkinBatch("B", 1, "soak", DAY), IN_LIME), USUAL_DAYS, later(9))
    assert [words[:7] for words in said] == ["Batch A", "Batch B"]


def test_a_second_lime_is_a_lime_too() -> None:
    days = {"lime": 8.0, "second lime": 8.0}
    assert "must leave the second lime today" in str(
        batch_warning(SkinBatch("C", 2, "second lime", DAY), days, later(8))
    )
    assert batch_warning(SkinBatch("C", 2, "sublime", DAY), {"sublime": 9}, later(8)) is None
    assert not is_lime("de-liming")


@pytest.mark.parametrize("step", ["lime", "liming", "quicklime", "second_lime", "lime2", "sulphide", "de-hairing"])
def test_what_is_left_too_long_in_any_such_step_is_harmed(step: str) -> None:
    said = batch_warning(SkinBatch("C", 2, step, DAY), {step: 8.0}, later(10))
    assert f"should have left the {step}" in str(said)
    assert "harms the skin" in str(said)


@pytest.mark.parametrize(
    ("step", "harms"),
    [
        ("pumice", ("lungs", "parchment dust")),
        ("wet scraping", ("can blind", "Blade: ", "Heavy load: ")),
        ("deliming", ("kills", "can blind", "Strong alkali: ")),
        ("sulphide", ("kills",)),
        ("unhairing", ("kills", "can blind", "Blade: ")),
    ],
)
def test_an_overdue_step_tells_all_that_can_hurt(step: str, harms: tuple[str, ...]) -> None:
    batch = SkinBatch("C", 2, step, DAY)
    warned = str(batch_warning(batch, {step: 8.0}, later(10)))
    assert warned.count(f" {LABEL}: ") == 1
    for harm in harms:
        assert harm not in str(batch_warning(batch, {step: 8.0}, later(8)))
        assert harm.casefold() in warned.casefold()


def test_the_day_a_batch_is_ready_moves_with_an_overdue_step() -> None:
    assert ready_on(IN_LIME, USUAL_DAYS, DAY) == later(14)
    assert ready_on(IN_LIME, USUAL_DAYS, later(11)) == later(16)
    assert ready_on(SkinBatch("A", 1, READY, DAY), USUAL_DAYS, later(11)) == DAY


@given(st.lists(st.floats(0, 40), min_size=1, max_size=6), st.integers(1, 8))
@settings(max_examples=80)
def test_started_so_all_batches_are_ready_in_time(lengths: list[float], batches: int) -> None:
    days = {f"step {number}": length for number, length in enumerate(lengths)}
    starts = when_to_start(DAY, days, batches)
    assert len(starts) == batches
    assert list(starts) == sorted(starts)
    assert starts[-1] + timedelta(days=sum(lengths)) <= DAY
