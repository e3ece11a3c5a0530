"""A book known by its counts only, at the desk: the end of a page is asked for, and told, as a place of the count."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from textual.widgets import Input, Label

from copydesk.desk.app import Desk
from copydesk.desk.base.keymap import Keymap
from copydesk.desk.dialogs.form import Choice, Form
from copydesk.desk.line_desk import LineDesk
from copydesk.desk.wording.page_words import next_words, page_lines
from copydesk.job import Job
from copydesk.tracking.views.page_view import page_account

if TYPE_CHECKING:
    from pathlib import Path

PLAN = """
title: Of frost
page: {width: 100, height: 140, margins: {inner: 10, head: 10, outer: 20, foot: 30}}
ruling: {lines: 10}
hands:
  A: {letters_per_line: 20}
divisions:
  - {title: On frost, words: 400}
gatherings: {sheets: 2, count: 3}
"""


@pytest.fixture
def job(tmp_path: Path) -> Job:
    (tmp_path / "book.yaml").write_text(PLAN, "utf-8")
    return Job.open(tmp_path, desk="window")


async def test_the_end_given_in_the_form_moves_the_pages_after(job: Job) -> None:
    desk = Desk(job)
    async with desk.run_test(size=(120, 40)) as pilot:
        before = page_account(job.state, 1).from_word
        await pilot.press("e")
        assert isinstance(desk.screen, Form)
        asked = [str(label.render()) for label in desk.screen.query(Label)]
        assert any("Where its text ended, by the count" in each for each in asked)
        field = desk.screen.query_one("#ends", Input)
        assert field.placeholder.endswith(f"division 1 word {before}")
        field.value = "word 28"
        await pilot.press("ctrl+s")
        assert page_account(job.state, 0).record.ends == 28
        assert page_account(job.state, 1).from_word == 28


def test_a_place_is_told_where_words_would_stand(job: Job) -> None:
    account = page_account(job.state, 1)
    text = next(line.says for line in page_lines(job.state, account) if line.head == "Text")
    assert text == "division 1 word 36 to division 1 word 70, by the count"
    job.record(job.commands.rule(account.page))
    assert next_words(job.state, page_account(job.state, 1)) == "write 10 lines: division 1 word 36"
    job.record(job.commands.write(account.page, to_line=4, ends="word 48"))
    assert next_words(job.state, page_account(job.state, 1)) == "write from line 5: division 1 word 49"


def test_the_desk_a_line_at_a_time_asks_for_it_too(job: Job) -> None:
    answers = iter(["e", "", "word 30", "", "", "", "", "quit"])
    heard: list[str] = []

    def ask(prompt: str) -> str | None:
        heard.append(prompt)
        return next(answers, None)

    LineDesk(job, Keymap(), ask, lambda *said: heard.extend(map(str, said)), lambda _: None).run()
    assert any(said.startswith("Where its text ended, by the count (empty: division 1 word 35)") for said in heard)
    assert page_account(job.state, 0).record.ends == 30


async def test_an_end_nobody_can_have_reached_is_asked_about_with_no_in_hand(job: Job) -> None:
    desk = Desk(job)
    async with desk.run_test(size=(120, 40)) as pilot:
        await pilot.press("e")
        desk.screen.query_one("#ends", Input).value = "word 300"
        await pilot.press("ctrl+s")
        assert isinstance(desk.screen, Choice)
        assert "300 words in 10 lines" in str(desk.screen.query_one("#title", Label).render())
        await pilot.press("enter")
        assert isinstance(desk.screen, Form)
        assert desk.screen.query_one("#ends", Input).value == "word 300"
        assert len(job.ledger) == 0
        await pilot.press("ctrl+s", "down", "enter")
        assert page_account(job.state, 0).record.ends == 300
        assert not isinstance(desk.screen, Form | Choice)


async def test_a_beginning_nobody_can_have_reached_is_asked_about_with_no_in_hand(job: Job) -> None:
    desk = Desk(job)
    async with desk.run_test(size=(120, 40)) as pilot:
        desk.screen.action_hold()  # type: ignore[attr-defined]
        await pilot.pause()
        desk.screen.query_one("#begins", Input).value = "word 300"
        await pilot.press("ctrl+s")
        assert isinstance(desk.screen, Choice)
        assert "words would be skipped before it" in str(desk.screen.query_one("#title", Label).render())
        await pilot.press("enter")
        assert isinstance(desk.screen, Form)
        assert len(job.ledger) == 0
        await pilot.press("ctrl+s", "down", "enter")
        assert [entry.what for entry in job.ledger] == ["held"]
        assert not isinstance(desk.screen, Form | Choice)
