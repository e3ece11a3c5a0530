"""Skins in the making as the ledger tells: what is recorded, what follows, what is refused."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.common.errors import CopydeskError
from copydesk.book.plan import Flyleaves, SkinPlan
from copydesk.tracking.commands.skin_commands import cut_sheet, move_skins
from copydesk.tracking.ledger.entry import Act, Entry
from copydesk.tracking.log.entry_text import describe
from copydesk.tracking.views.skin_batches import SKINS, batch_named, batches_of, skins_today
from small_book import SmallBook

STEPS = {"soak": 1, "lime": 8, "stretch": 4}
RECORDED = date(2026, 3, 2)  # the day the small book's entries bear


def book(**changes: object) -> SmallBook:
    skins = SkinPlan(420, 310, trim=5, days=STEPS)
    return SmallBook(900, sheets=2, count=3, **{"skins": skins, **changes})  # type: ignore[arg-type]


def begin(one: SmallBook, name: str, step: str = "next", skins: int | None = None, since: date | None = None) -> Entry:
    return one.do(move_skins(one.state, name, step, skins, since))


def ready(one: SmallBook, name: str, skins: int) -> None:
    begin(one, name, "ready", skins)


def test_a_batch_goes_from_step_to_step() -> None:
    one = book()
    for _ in range(4):
        begin(one, "A", skins=6)
    (account,) = skins_today(one.state, RECORDED).batches
    assert [each.step for each in account.taken] == ["soak", "lime", "stretch", "ready"]
    assert account.batch.step == "ready"
    assert (account.due, account.next, account.ready) == (None, "", RECORDED)
    with pytest.raises(CopydeskError, match="no step after that"):
        begin(one, "A")


def test_when_it_is_due_and_ready() -> None:
    one = book()
    begin(one, "A", "lime", 6)
    (account,) = skins_today(one.state, RECORDED + timedelta(days=3)).batches
    assert (account.next, account.due, account.left) == ("stretch", RECORDED + timedelta(days=8), 5)
    assert account.ready == RECORDED + timedelta(days=12)


def test_the_day_it_went_in_can_be_earlier_than_the_record() -> None:
    one = book()
    begin(one, "A", "lime", 6, RECORDED - timedelta(days=7))
    today = skins_today(one.state, RECORDED)
    assert today.batches[0].left == 1
    assert today.warnings == (
        "Batch A (6 skins) must leave the lime tomorrow, for stretch: too long in lime harms the skin.",
    )


def test_skins_lost_on_the_way_are_fewer_from_then_on_and_the_step_goes_on() -> None:
    one = book()
    begin(one, "A", "soak", 6)
    begin(one, "A", "lime", since=RECORDED - timedelta(days=5))
    begin(one, "A", "lime", 5)
    batch = batch_named(one.ledger, "A")
    assert batch is not None
    assert (batch.skins, batch.step, batch.since) == (5, "lime", RECORDED - timedelta(days=5))
    begin(one, "A")
    assert batch_named(one.ledger, "A")._replace(since=RECORDED) == batch._replace(step="stretch", since=RECORDED)  # type: ignore[union-attr]


def test_taking_back_brings_the_step_before_again() -> None:
    one = book()
    first = begin(one, "A", "soak", 6)
    second = begin(one, "A")
    one.undo(second)
    assert batch_named(one.ledger, "A").step == "soak"  # type: ignore[union-attr]
    one.undo(first)
    assert batches_of(one.ledger) == []


def test_what_cannot_be_right_about_the_notes_is_told() -> None:
    one = book()
    ready(one, "A", 6)
    for sheet in ("1.1", "1.2", "2.1", "2.2", "3.1"):
        one.do(cut_sheet(one.state, sheet, "A", 2))
    one.do(cut_sheet(one.state, "3.2", "A", 6))
    begin(one, "A", "ready", 4)
    doubts = skins_today(one.state, RECORDED).doubts
    assert doubts == (
        "Skin A 2 is noted as giving 5 sheets, but the cutting gives 4.",
        "Sheet 3.2 is noted as cut from skin A 6, but batch A has 4.",
    )


def test_needed_here_and_wanting() -> None:
    one = book(flyleaves=Flyleaves(front=2))
    ready(one, "A", 1)
    today = skins_today(one.state, RECORDED)
    assert (today.needed, today.here, today.wanting) == (2, 1, 1)
    begin(one, "B", "soak", 9)
    assert skins_today(one.state, RECORDED).wanting == 0


def test_the_lime_is_warned_of_first_and_its_caution_is_always_told() -> None:
    one = book()
    begin(one, "A", "soak", 2)
    begin(one, "B", "lime", 3)
    data = SKINS.data(skins_today(one.state, RECORDED + timedelta(days=9)))
    warnings, cautions = data["warnings"], data["cautions"]
    assert [str(words).split()[1] for words in warnings] == ["B", "A"]  # type: ignore[attr-defined]
    assert "can blind" in str(cautions)
    assert "can blind" in str(SKINS.data(skins_today(book().state, RECORDED))["cautions"])


def test_a_step_the_book_no_longer_names_is_shown_without_days() -> None:
    one = book()
    one.do(Act("skins", "A", "", {"step": "pumice", "skins": 3}))
    (account,) = skins_today(one.state, RECORDED).batches
    assert (account.batch.step, account.next, account.due, account.ready) == ("pumice", "", None, None)
    assert skins_today(one.state, RECORDED).warnings == ()
    begin(one, "A")
    assert batch_named(one.ledger, "A").step == "soak"  # type: ignore[union-attr]


def test_entries_of_another_make_do_no_harm() -> None:
    one = book()
    one.ledger.add(Entry("x1", 50, "no time", "A", "desk", "skins", "A", "", {"step": "soak", "skins": 3}))
    one.ledger.add(Entry("x2", 51, "2026-03-02T10:00", "A", "desk", "skins", "B", "", {"skins": "many"}))
    one.ledger.add(Entry("x3", 52, "2026-03-02T10:00", "A", "desk", "cut", "1.1", "", {"skin": "x"}))
    today = skins_today(one.state, RECORDED)
    assert today.batches == ()
    assert today.cut[0].of == ""


def test_entries_are_told_in_words() -> None:
    one = book()
    entry = one.do(move_skins(one.state, "A", "lime", 6, date(2026, 3, 1), "in the yard"))
    assert describe(entry) == 'batch A, 6 skins, into the step lime by A, since 1 March 2026, note "in the yard"'
    begin(one, "A", "ready", 1)
    assert describe(one.do(cut_sheet(one.state, "1.2", "A", 1))) == "sheet 1.2 cut from skin A 1 by A"
    assert describe(one.do(cut_sheet(one.state, "1.2", "A"))) == "sheet 1.2 cut from batch A by A"


@given(st.lists(st.tuples(st.sampled_from("ABC"), st.sampled_from(["next", *STEPS, "ready"]), st.integers(1, 9))))
@settings(max_examples=40, deadline=None)
def test_whatever_is_recorded_the_last_word_holds(said: list[tuple[str, str, int]]) -> None:
    one = book()
    last: dict[str, tuple[str, int]] = {}
    for name, step, skins in said:
        try:
            entry = begin(one, name, step, skins)
        except CopydeskError:
            continue
        last[name] = (str(entry.facts["step"]), skins)
    assert {batch.name: (batch.step, batch.skins) for batch, _ in batches_of(one.ledger)} == last
    assert skins_today(one.state, RECORDED).here == sum(skins for _, skins in last.values())
