"""One book being copied: opening, recording, taking back, following other desks and a changed plan."""

from __future__ import annotations

from datetime import datetime, timedelta, timezone
from typing import TYPE_CHECKING

import pytest

from copydesk.book.common.errors import CopydeskError
from copydesk.book.structure.page import Page
from copydesk.job import Job
from copydesk.tracking.binding.binding_walk import walk_sheet
from copydesk.tracking.binding.colophon import colophon
from copydesk.tracking.ledger.entry import Act
from copydesk.tracking.views.page_view import page_account
from plan_words import TWO_HANDS

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

PLAN = (
    TWO_HANDS
    + """workshop: {artist: Ines}
"""
)
P1, P2 = Page.parse("1r"), Page.parse("1v")
NOON = datetime(2026, 3, 2, 12, tzinfo=timezone(timedelta(hours=1)))


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "book.yaml").write_text(PLAN, "utf-8")
    (tmp_path / "exemplar.txt").write_text(" ".join(f"w{number}" for number in range(700)), "utf-8")
    return tmp_path


@pytest.fixture
def sit(folder: Path) -> Iterator[Callable[[str], Job]]:
    """Opens the book at a desk."""
    jobs: list[Job] = []

    def at(desk: str = "window") -> Job:
        jobs.append(Job.open(folder, desk=desk, clock=lambda: NOON))
        return jobs[-1]

    yield at
    for job in jobs:
        job.close()


def state(job: Job, page: Page = P1) -> str:
    return page_account(job.state, page.index).record.state


def test_what_is_recorded_stands_and_is_there_again(sit: Callable[[str], Job]) -> None:
    job = sit("window")
    entry = job.record(job.commands.rule(P1))
    assert (entry.at, entry.hand, entry.desk, entry.what) == ("2026-03-02T12:00:00+01:00", "A", "window", "ruled")
    assert entry.tick > 0
    assert state(job) == "ruled"
    again = sit("window")
    assert again.ledger.find(entry.entry) == entry
    assert state(again) == "ruled"


def test_opening_writes_nothing(sit: Callable[[str], Job], folder: Path) -> None:
    before = sorted(folder.iterdir())
    sit("window").state.budget  # noqa: B018 - looking is what is tried
    assert sorted(folder.iterdir()) == before


def test_the_hand_at_the_desk_is_whoever_sat_down_last(sit: Callable[[str], Job]) -> None:
    job = sit("window")
    assert job.hand == "A"
    job.record(Act("at-desk", job.store.desk, "", {}), hand="B")
    assert job.hand == "B"
    assert job.record(job.commands.rule(P1)).hand == "B"
    assert sit("door").hand == "A"
    job.undo(job.ledger.live("desk", "window")[0].entry)
    assert job.hand == "A"


def test_a_hand_nobody_knows_is_refused_and_the_artist_is_known(sit: Callable[[str], Job]) -> None:
    job = sit("window")
    with pytest.raises(CopydeskError, match="there is no hand 'Z' in this book; its hands are A, B"):
        job.record(job.commands.rule(P1), hand="Z")
    assert len(job.ledger) == 0
    assert job.record(job.commands.rule(P1), hand="Ines").hand == "Ines"


def test_the_binder_is_known_and_walks_the_sheets(sit: Callable[[str], Job], folder: Path) -> None:
    (folder / "book.yaml").write_text(PLAN.replace("{artist: Ines}", "{artist: Ines, binder: Odo}"), "utf-8")
    job = sit("press")
    assert job.record(walk_sheet(job.state, "1.1"), hand="Odo").hand == "Odo"
    job.record(Act("at-desk", job.store.desk, "", {}), hand="Odo")
    assert job.hand == job.record(walk_sheet(job.state, "1.2")).hand == "Odo"
    assert "Odo laid two sheets in order for sewing." in colophon(job.state).sentences
    with pytest.raises(CopydeskError, match="there is no hand 'Z' in this book; its hands are A, B, Ines, Odo"):
        job.record(job.commands.rule(P1), hand="Z")


def test_facts_that_do_not_belong_are_refused(sit: Callable[[str], Job]) -> None:
    job = sit("window")
    with pytest.raises(CopydeskError, match="has no 'colour'"):
        job.record(Act("ruled", "1.1:r", "1r", {"colour": "red"}))
    with pytest.raises(CopydeskError, match="is not something the ledger records"):
        job.record(Act("sprinkled", "1.1:r", "1r", {}))
    assert len(job.ledger) == 0


def test_several_things_are_recorded_together_or_not_at_all(sit: Callable[[str], Job]) -> None:
    job = sit("window")
    good, bad = job.commands.rule(P1), Act("ruled", "1.1:v", "1v", {"colour": "red"})
    with pytest.raises(CopydeskError):
        job.record_all([good, bad])
    assert len(job.ledger) == len(sit("door").ledger) == 0
    both = job.record_all([good, job.commands.rule(P2)])
    assert [entry.tick for entry in both] == sorted(entry.tick for entry in both)
    assert (state(job, P1), state(job, P2)) == ("ruled", "ruled")


def test_undo_and_redo(sit: Callable[[str], Job]) -> None:
    job = sit("window")
    job.record(job.commands.rule(P1))
    job.record(job.commands.write(P1))
    assert job.undo().what == "written"
    assert state(job) == "ruled"
    assert job.undo().what == "ruled"
    assert state(job) == "unruled"
    assert job.redo().what == "ruled"
    assert job.redo().what == "written"
    assert state(job) == "written"
    with pytest.raises(CopydeskError, match="nothing was taken back just now"):
        job.redo()


def test_undo_takes_this_desks_own_entries_first(sit: Callable[[str], Job]) -> None:
    window, door = sit("window"), sit("door")
    window.record(window.commands.rule(P1))
    door.refresh()
    door.record(door.commands.rule(P2))
    window.refresh()
    assert window.undo().page == "1r"
    assert state(window, P2) == "ruled"


def test_an_entry_may_be_taken_back_by_its_name_once(sit: Callable[[str], Job]) -> None:
    job = sit("window")
    first = job.record(job.commands.rule(P1))
    job.record(job.commands.rule(P2))
    job.undo(first.entry)
    assert (state(job, P1), state(job, P2)) == ("unruled", "ruled")
    with pytest.raises(CopydeskError, match="was taken back already"):
        job.undo(first.entry)
    with pytest.raises(CopydeskError, match="there is no entry 'none'"):
        job.undo("none")


def test_a_desk_sees_what_another_recorded(sit: Callable[[str], Job]) -> None:
    window, door = sit("window"), sit("door")
    assert door.refresh() is False
    window.record(window.commands.rule(P1))
    window.record(window.commands.write(P1, ends="w48 w49"))
    assert door.refresh() is True
    assert state(door) == "written"
    assert page_account(door.state, 1).from_word == 50
    assert door.refresh() is False
    assert [entry.entry for entry in door.ledger] == [entry.entry for entry in window.ledger]


def test_a_desk_takes_in_the_others_before_its_own(sit: Callable[[str], Job]) -> None:
    window, door = sit("window"), sit("door")
    window.record(window.commands.rule(P1))
    door.record(door.commands.rule(P2))
    assert (state(door, P1), state(door, P2)) == ("ruled", "ruled")
    ticks = [entry.tick for entry in door.ledger]
    assert ticks == sorted(set(ticks))


def test_a_changed_plan_is_taken_in_with_what_was_recorded(sit: Callable[[str], Job], folder: Path) -> None:
    job = sit("window")
    job.record(job.commands.rule(P1))
    (folder / "book.yaml").write_text(PLAN.replace("lines: 10", "lines: 12"), "utf-8")
    assert job.refresh() is True
    assert (job.plan_problems, job.state.layout.lines, state(job)) == ((), 12, "ruled")
    assert job.refresh() is False


def test_a_changed_text_is_taken_in(sit: Callable[[str], Job], folder: Path) -> None:
    job = sit("window")
    (folder / "exemplar.txt").write_text("only a few words", "utf-8")
    assert job.refresh() is True
    assert page_account(job.state, 0).to_word == 4


@pytest.mark.parametrize("wrong", ["titel: x", "title: [", "\tx", PLAN.replace("width: 100", "width: 20")])
def test_a_plan_with_mistakes_is_not_taken(sit: Callable[[str], Job], folder: Path, wrong: str) -> None:
    job = sit("window")
    before = page_account(job.state, 0)
    (folder / "book.yaml").write_text(wrong, "utf-8")
    assert job.refresh() is True
    assert job.plan_problems
    assert "book.yaml" in job.plan_problems[0]
    assert page_account(job.state, 0) == before
    assert job.record(job.commands.rule(P1)).what == "ruled"
    (folder / "book.yaml").write_text(PLAN, "utf-8")
    assert job.refresh() is True
    assert job.plan_problems == ()
    assert state(job) == "ruled"


def test_a_ledger_that_was_put_in_place_of_this_one_is_taken(sit: Callable[[str], Job], folder: Path) -> None:
    job = sit("window")
    job.record(job.commands.rule(P1))
    ledger = folder / "ledger.jsonl"
    kept = ledger.read_bytes()
    job.record(job.commands.rule(P2))
    ledger.write_bytes(kept)
    assert job.refresh() is True
    assert (state(job, P1), state(job, P2)) == ("ruled", "unruled")


@pytest.mark.parametrize("name", ["nothing", "book.yaml"])
def test_no_book_is_opened_where_there_is_none(folder: Path, name: str) -> None:
    with pytest.raises(CopydeskError, match=r"there is no such folder|is a file; name the folder"):
        Job.open(folder / name)


def test_entries_of_a_newer_program_are_kept_and_change_nothing(sit: Callable[[str], Job], folder: Path) -> None:
    job = sit("window")
    strange = {"entry": "x1", "at": "2030", "desk": "moon", "what": "sprinkled", "about": "1.1:r", "with": ["sand"]}
    job.store.append(strange)  # type: ignore[arg-type]
    again = sit("door")
    assert state(again) == "unruled"
    found = again.ledger.find("x1")
    assert found is not None
    assert found.facts == {"with": ["sand"]}
    again.record(again.commands.rule(P1))
    assert b'"with":["sand"]' in (folder / "ledger.jsonl").read_bytes()


@pytest.mark.parametrize(
    "strange",
    [
        {"entry": "x1", "what": 5, "about": ["1r"], "at": None},
        {"entry": "x1"},
        {"entry": "x1", "what": "written", "about": "x", "to_line": 10**12},
        {"entry": "x1", "what": "written", "about": "1.1:r", "placements": "all", "from_word": -4},
        {"entry": "x1", "what": "voided", "about": "x1"},
    ],
)
def test_entries_that_cannot_be_do_not_keep_the_book_shut(
    sit: Callable[[str], Job], strange: dict[str, object]
) -> None:
    sit("window").store.append(strange)  # type: ignore[arg-type]
    job = sit("door")
    assert job.state.budget.pages
    assert job.record(job.commands.rule(P2)).what == "ruled"


def test_two_hands_recording_one_page_both_stand_and_both_are_told(sit: Callable[[str], Job]) -> None:
    window, door = sit("window"), sit("door")
    meant = door.commands.write(P1)
    first = window.record(window.commands.write(P1))
    second = door.record(meant, hand="B")
    told = (
        "1r was recorded as written at window by A and again at door by B; the later one counts now: "
        f"to keep it undo {first.entry}, to have the earlier one instead undo {second.entry}"
    )
    assert door.news() == [told]
    assert window.refresh()
    assert window.news() == [told]
    assert window.news() == door.news() == []
    assert window.contradictions == door.contradictions
    assert [str(each) for each in window.contradictions] == [told]
    assert {entry.entry for entry in window.ledger} == {first.entry, second.entry}
    assert page_account(window.state, 0).record.stints[-1].hand == "B"
    door.undo(second.entry)
    assert door.contradictions == ()


def test_what_another_desk_did_to_the_page_at_this_moment_is_told(sit: Callable[[str], Job]) -> None:
    window, door = sit("window"), sit("door")
    meant = [door.commands.rule(P1), door.commands.rule(P2)]
    window.record(window.commands.rule(P1))
    window.record(window.commands.rule(Page.parse("2r")))
    door.record_all(meant)
    assert door.news() == ["Meanwhile at window: 1r ruled by A."]
    assert state(door) == "ruled"
    window.refresh()
    assert window.news() == []


def test_a_page_taken_back_at_one_desk_while_checked_at_another(sit: Callable[[str], Job]) -> None:
    window, door = sit("window"), sit("door")
    written = window.record(window.commands.write(P1))
    door.refresh()
    meant = door.commands.check(P1)
    window.undo()
    checked = door.record(meant, hand="B")
    taker = window.ledger.live("entry", written.entry)[0]
    told = (
        "1r was checked at door by B, and the writing that was checked has been taken back; "
        f"undo {checked.entry}, or let the writing stand again: undo {taker.entry}"
    )
    assert door.news() == [told]
    window.refresh()
    assert window.news() == [told]
    assert state(window) == state(door) == "unruled"
    window.undo(taker.entry)
    assert window.contradictions == ()
    assert state(window) == "corrected"


def test_one_entry_taken_back_at_two_desks_is_taken_back_once(sit: Callable[[str], Job]) -> None:
    window, door = sit("window"), sit("door")
    written = window.record(window.commands.write(P1))
    door.refresh()
    window.undo()
    with pytest.raises(
        CopydeskError,
        match=r"taken back by A: 1r written by A, .*; that was done at window already, so nothing was changed",
    ):
        door.undo(written.entry)
    assert [entry.what for entry in door.ledger] == ["written", "voided"]
    assert state(door) == "unruled"


def test_what_came_before_is_not_taken_back_in_the_place_of_what_another_desk_took_back(
    sit: Callable[[str], Job],
) -> None:
    window, door = sit("window"), sit("door")
    window.record(window.commands.rule(P1))
    ruled = window.record(window.commands.rule(P2))
    door.refresh()
    door.undo(ruled.entry)
    window.refresh()
    with pytest.raises(
        CopydeskError,
        match=r"taken back by A: 1v ruled by A; that was done at door already.* the one before it is: 1r ruled",
    ):
        window.undo()
    assert state(window) == "ruled"
    window.undo()
    assert state(window) == "unruled"
    with pytest.raises(CopydeskError, match="there is nothing to take back"):
        window.undo()


def test_one_sheet_taken_at_two_desks(sit: Callable[[str], Job]) -> None:
    window, door = sit("window"), sit("door")
    meant = door.commands.sheet("1.1", "checker")
    window.record(window.commands.sheet("1.1", "artist"))
    door.record(meant, hand="B")
    (told,) = door.news()
    assert told.startswith("sheet 1.1 was taken by Ines at window and by B at door; the later one counts")
    assert door.state.sheet_record("1.1").also == ("artist", "Ines")


def test_a_page_s_real_end_teaches_the_hand_at_once_and_a_tick_does_not(sit: Callable[[str], Job]) -> None:
    window = sit("window")
    before = window.state.measures
    window.record(window.commands.write(P1))
    assert window.state.measures == before
    start, end = (window.state.copy.word(piece) for piece in window.state.budget.pages[1][:2])
    words = window.exemplar.words[start : end - (end - start) // 4] if window.exemplar else ()
    window.record(window.commands.write(P2, ends=" ".join(words[-4:])))
    taught = window.state.measures
    assert taught != before
    assert window.refit() is False
    window.undo()
    assert window.state.measures == before
    window.redo()
    assert window.state.measures == taught
