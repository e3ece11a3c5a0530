"""Checking a page at the desk, by reading and by transcription."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from textual.content import Content
from textual.widgets import Input, OptionList, Static, TextArea

from copydesk.book.structure.page import Page
from copydesk.desk.app import Desk
from copydesk.desk.dialogs.form import Choice, Form
from copydesk.desk.page_screens.check import CheckScreen, LineList
from copydesk.desk.page_screens.grid import GridScreen
from copydesk.desk.page_screens.transcribe import TranscribeScreen
from copydesk.desk.wording.check_words import check_lines
from copydesk.desk.wording.page_words import page_lines
from copydesk.tracking.commands.leaf_commands import cancel_leaf
from copydesk.tracking.ledger.entry import Act
from copydesk.tracking.views.page_view import page_account
from seen import said

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from textual.pilot import Pilot

    from copydesk.job import Job
    from copydesk.tracking.ledger.page_record import PageRecord

SIZE = (100, 30)
PAGE = Page.parse("11r")
"""Written by A, not checked yet; A sits at the desk."""


def record(job: Job) -> PageRecord:
    return job.state.record(job.state.skin_at(PAGE.index))


def lines(job: Job) -> list[str]:
    return [" ".join(line.words) for line in check_lines(job.state, PAGE.index)]


async def go(pilot: Pilot[None], *keys: str, page: Page = PAGE) -> None:
    grid = pilot.app.screen
    assert isinstance(grid, GridScreen)
    grid.go_to(page)
    await pilot.press(*keys)


async def type_in(pilot: Pilot[None], text: str) -> None:
    pilot.app.screen.query_one(TextArea).text = text
    await pilot.pause()


async def test_a_reading_is_kept_and_goes_on_from_there(desk: Desk, job: Job) -> None:
    async with desk.run_test(size=SIZE) as pilot:
        await go(pilot, "x")
        assert isinstance(desk.screen, CheckScreen)
        assert said(desk).startswith("A wrote 11r, so its check is marked as its own writer's; B would see more.")
        await pilot.press("space", "space", "escape")
        assert isinstance(desk.screen, GridScreen)
        assert (record(job).read_to, record(job).read_by) == (2, "A")
        assert "line 2" in said(desk)
        await go(pilot, "x")
        assert desk.screen.query_one(LineList).highlighted == 2


async def test_every_line_ticked_the_page_is_checked_and_marked_as_its_writers(desk: Desk, job: Job) -> None:
    async with desk.run_test(size=SIZE) as pilot:
        await go(pilot, "x", "c")
        assert said(desk) == "48 lines are not ticked yet; d ticks all down to the line in hand."
        await pilot.press("end", "d", "c")
        assert isinstance(desk.screen, GridScreen)
        assert said(desk).startswith("11r checked against the exemplar by A. A wrote 11r")
        assert (record(job).state, record(job).self_checked, record(job).read_to) == ("corrected", True, 0)


async def test_a_fault_is_noted_at_the_word_marked(desk: Desk, job: Job) -> None:
    async with desk.run_test(size=SIZE) as pilot:
        await go(pilot, "x", "space", "right", "f")
        assert isinstance(desk.screen, Choice)
        await pilot.press("enter")
        assert isinstance(desk.screen, Form)
        word = lines(job)[1].split()[1]
        assert desk.screen.query_one("#should", Input).value == word
        await pilot.press(*["enter"] * 5)
        assert isinstance(desk.screen, CheckScreen)
        (fault,) = record(job).open_faults
        assert (fault.kind, fault.column, fault.line, fault.should) == ("omission", 1, 2, word)
        assert job.exemplar is not None
        assert job.exemplar.words[fault.word or 0] == word
        assert f'omission: "{word}" is missing' in str(desk.screen.query_one("#note", Static).content)


async def test_a_page_not_written_has_nothing_to_be_checked(desk: Desk) -> None:
    async with desk.run_test(size=SIZE) as pilot:
        await go(pilot, "x", page=Page.parse("20r"))
        assert isinstance(desk.screen, GridScreen)
        assert said(desk) == "20r: nothing is written on it that could be checked."


async def test_a_transcription_shows_what_differs_and_what_is_taken_in_is_noted(desk: Desk, job: Job) -> None:
    typed = lines(job)
    typed[2] = typed[2].replace("the", "teh")
    del typed[6]
    async with desk.run_test(size=SIZE) as pilot:
        await go(pilot, "x", "x")
        assert isinstance(desk.screen, TranscribeScreen)
        await type_in(pilot, "\n".join(typed[:20]))
        await pilot.press("f5")
        options = desk.screen.query_one("#differences", OptionList)
        shown = [str(option.prompt) for option in options.options]
        assert len(shown) == 2
        assert shown[0].startswith(" [x]  1.3  transposition")
        await pilot.press("tab", "enter", "f8")
        assert [fault.kind for fault in record(job).open_faults] == ["omission"]
        assert record(job).transcription == "\n".join(typed[:20])
        assert said(desk) == "1 fault noted; the transcription is kept."
        await pilot.press("escape", "escape")
        assert isinstance(desk.screen, GridScreen)
        assert len(record(job).faults) == 1


async def test_typed_to_its_end_it_is_a_check(desk: Desk, job: Job) -> None:
    async with desk.run_test(size=SIZE) as pilot:
        await go(pilot, "x", "x")
        await type_in(pilot, "\n".join(lines(job)[:-1]))
        await pilot.press("f9")
        assert said(desk) == "Typed to its end, the page has 1 fault; F9 once more records them."
        assert not record(job).checked_by
        await pilot.press("f9")
        assert isinstance(desk.screen, GridScreen)
        assert (record(job).state, record(job).checked_by) == ("checked", "A")
        assert said(desk).startswith("11r checked by A: 1 fault noted. A wrote 11r")


async def test_what_is_typed_is_kept_and_stands_there_again(desk: Desk, job: Job) -> None:
    async with desk.run_test(size=SIZE) as pilot:
        await go(pilot, "x", "x", "q", "u")
        assert isinstance(desk.screen, TranscribeScreen)
        await pilot.press("escape")
        assert isinstance(desk.screen, CheckScreen)
        assert record(job).transcription == "qu"
        await pilot.press("x")
        assert desk.screen.query_one(TextArea).text == "qu"


async def test_a_page_from_another_place_says_so(desk: Desk, job: Job) -> None:
    other = [" ".join(line.words) for line in check_lines(job.state, Page.parse("3r").index)]
    async with desk.run_test(size=SIZE) as pilot:
        await go(pilot, "x", "x")
        await type_in(pilot, "\n".join(other))
        await pilot.press("f9")
        assert desk.screen.query_one("#differences", OptionList).option_count == 0
        assert "that text belongs on 3r; nothing was recorded" in said(desk)
        assert not record(job).faults


async def test_the_lines_expected_stand_beside_the_typing(desk: Desk, job: Job) -> None:
    async with desk.run_test(size=SIZE) as pilot:
        await go(pilot, "x", "x")
        await type_in(pilot, "one\n\ntwo\n")
        desk.screen.query_one(TextArea).move_cursor((2, 0))
        await pilot.pause()
        shown = desk.screen.query_one("#lines", Static).content
        assert isinstance(shown, Content)
        (marked,) = [shown.plain[span.start : span.end] for span in shown.spans if "reverse" in str(span.style)]
        assert marked.strip() == f"1.2  {lines(job)[1]}"


async def test_the_screen_stays_with_its_skin_when_leaves_are_renumbered_and_closes_with_it(
    desk: Desk, job: Job
) -> None:
    async with desk.run_test(size=SIZE) as pilot:
        await go(pilot, "x")
        screen = desk.screen
        assert isinstance(screen, CheckScreen)
        first = lines(job)[0]
        screen.do(lambda: cancel_leaf(job.state, 2))
        assert str(screen.page) == "10r"
        row = screen.query_one(LineList).get_option_at_index(0).prompt
        assert isinstance(row, Content)
        assert first in row.plain
        screen.do(lambda: cancel_leaf(job.state, 10))
        await pilot.pause()
        assert isinstance(desk.screen, GridScreen)


async def test_of_a_flood_the_first_few_are_listed_and_none_is_noted_unseen(desk: Desk, job: Job) -> None:
    words = " ".join(lines(job)).split()
    spoilt = " ".join(word if at % 4 else f"x{word}x" for at, word in enumerate(words))
    async with desk.run_test(size=SIZE) as pilot:
        await go(pilot, "x", "x")
        await type_in(pilot, spoilt)
        await pilot.press("f5")
        options = desk.screen.query_one("#differences", OptionList)
        assert options.option_count == 13
        assert str(options.options[-1].prompt).endswith("differences more: enter shows all")
        assert "flood of differences" in said(desk)
        await pilot.press("f8")
        assert options.option_count > 40
        assert "see whether they are slips at all" in said(desk)
        assert not record(job).faults


async def test_a_gloss_stands_beside_its_line(desk: Desk, job: Job) -> None:
    exemplar = job.exemplar
    assert exemplar is not None
    (gloss,) = exemplar.glosses
    pages = enumerate(job.state.budget.pages)
    index = next(at for at, each in pages if each.start <= job.state.copy.piece(gloss.word) < each.end)
    beside = [line.place for line in check_lines(job.state, index) if gloss.word in line.positions]
    assert beside == [f'in its margin "{gloss.text}"']


def exemplar_shown(desk: Desk) -> list[str]:
    return str(desk.screen.query_one("#rows", Static).content).splitlines()


@pytest.mark.parametrize("size", [(80, 24), (120, 40), (200, 60)])
async def test_the_exemplar_stands_beside_the_page_in_its_own_lines_with_the_place_marked(
    desk: Desk, job: Job, size: tuple[int, int]
) -> None:
    async with desk.run_test(size=size) as pilot:
        await go(pilot, "x")
        rows = exemplar_shown(desk)
        assert desk.screen.query_one("#exemplar").region.right <= desk.screen.query_one(LineList).region.x
        assert all(len(row) <= desk.screen.query_one("#rows").size.width for row in rows)
        noted = {str(place): place.word for place in job.state.exemplar.places}  # type: ignore[union-attr]
        places = [row[1:9].strip() for row in rows if row[1:9].strip()]
        assert places
        for place in places:
            row = next(row for row in rows if row[1:9].strip() == place)
            assert row[10:].split()[0] == job.state.exemplar.words[noted[place]]  # type: ignore[union-attr]
        assert lines(job)[0] in " ".join(row[10:] for row in rows if row[0] == "▸")
        await pilot.press("down", "down")
        marked = " ".join(row[10:] for row in exemplar_shown(desk) if row[0] == "▸")
        assert lines(job)[2] in marked


async def test_words_that_recur_are_a_sign_in_the_list_and_a_sentence_for_the_line_in_hand(
    desk: Desk, job: Job
) -> None:
    watched = [line for line in check_lines(job.state, PAGE.index) if line.watch]
    async with desk.run_test(size=SIZE) as pilot:
        await go(pilot, "x")
        shown = [str(option.prompt) for option in desk.screen.query_one(LineList).options]
        assert [at for at, row in enumerate(shown, start=1) if "≈" in row] == [line.number for line in watched]
        await pilot.press(*["down"] * (watched[0].number - 1))
        assert watched[0].watch in str(desk.screen.query_one("#note", Static).content)


async def test_a_page_is_read_as_often_and_by_whom_the_book_wants(folder: Path, open_job: Callable[..., Job]) -> None:
    plan = folder / "book.yaml"
    wanted = "readings: {ways: [silently, aloud by two], by: not a writer, readers: [Mera]}"
    plan.write_text(f"{plan.read_text('utf-8')}\n{wanted}\n", "utf-8")
    job = open_job()
    desk = Desk(job)
    async with desk.run_test(size=SIZE) as pilot:
        await go(pilot, "x")
        assert said(desk).startswith("11r was written by A, and this book wants it read by somebody who wrote nothing")
        await pilot.press("end", "d", "c")
        assert isinstance(desk.screen, Choice)
        await pilot.press("enter")
        await pilot.pause()
        assert "11r was written by A" in said(desk)
        job.record(Act("at-desk", job.store.desk, "", {}), hand="Mera")
        await pilot.press("c", "down", "enter")
        await pilot.pause()
        await pilot.press("down", "enter")
        await pilot.pause()
        assert isinstance(desk.screen, GridScreen)
        assert said(desk).endswith("11r is still to be read silently")
    (reading,) = record(job).readings
    assert (reading.by, reading.how, reading.beside) == ("Mera", "aloud by two", "B")
    assert (record(job).wanted, record(job).state) == (("silently",), "written")
    told = [str(line) for line in page_lines(job.state, page_account(job.state, PAGE.index))]
    assert any("read by Mera with B, still to be read silently" in line for line in told)
    job.close()
