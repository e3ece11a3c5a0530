"""The shelf of books, and setting a new one up."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from textual.widgets import Input, Label, OptionList

from copydesk.book.common.errors import CopydeskError
from copydesk.cli.desk_options import DeskOptions
from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.open_desk import open_desk
from copydesk.desk.base.screen_foot import FootLine
from copydesk.desk.setup import SettingUp
from copydesk.desk.shelf import Shelf, Wish
from copydesk.desk.widgets.lines_panel import LinesPanel
from copydesk.desk.wording.plan_words import QUESTIONS
from copydesk.job import Job
from copydesk.store.files.book_folder import books_in, free_name


def test_only_folders_with_a_book_are_books(folder: Path, tmp_path: Path) -> None:
    (tmp_path / "notes").mkdir()
    (tmp_path / "linked").symlink_to(folder)
    assert books_in(tmp_path) == [folder]
    assert free_name(tmp_path, "book") == tmp_path / "book-2"
    with pytest.raises(CopydeskError, match="no folder that can be read"):
        books_in(tmp_path / "nowhere")


async def test_books_show_how_far_they_have_come_and_one_is_chosen(folder: Path, tmp_path: Path) -> None:
    broken = Path(shutil.copytree(folder, tmp_path / "broken"))
    (broken / "book.yaml").write_text("title: [", "utf-8")
    shelf = Shelf(tmp_path, books_in(tmp_path))
    async with shelf.run_test(size=(120, 30)) as pilot:
        await shelf.workers.wait_for_complete()
        await pilot.pause()
        rows = [str(option.prompt) for option in shelf.query_one(OptionList).options]
        assert "The Twelve Waters" in rows[0]
        assert "25 of 57 written" in rows[0]
        assert "cannot be opened" in rows[1]
        await pilot.press("enter")
    assert shelf.return_value == Wish("open", folder)


async def test_what_came_to_nothing_is_said_at_the_shelf(folder: Path, tmp_path: Path) -> None:
    shelf = Shelf(tmp_path, [folder], amiss="book.yaml:2:1: this [b] is not YAML")
    async with shelf.run_test(size=(80, 24)):
        assert "this [b] is not YAML" in str(shelf.query_one("#amiss").render())
        assert [key.says for key in shelf.query_one(FootLine).pinned] == ["help", "quit"]


def test_a_book_that_cannot_be_opened_leads_back_to_the_shelf(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "broken").mkdir()
    (tmp_path / "broken" / "book.yaml").write_text("title: [", "utf-8")
    seen, wishes = [], iter([Wish("open", tmp_path / "broken"), None])

    def run(shelf: Shelf, *, mouse: bool) -> Wish | None:
        seen.append(shelf._amiss)
        return next(wishes)

    monkeypatch.setattr(Shelf, "run", run)
    assert open_desk(DeskOptions(str(tmp_path))) is ExitCode.DONE
    assert seen[0] == ""
    assert "this is not YAML" in seen[1]


async def test_an_empty_shelf_says_what_to_do(tmp_path: Path) -> None:
    shelf = Shelf(tmp_path, [])
    async with shelf.run_test(size=(80, 24)) as pilot:
        assert "There is no book in this folder yet" in str(shelf.query_one("#empty").render())
        await pilot.press("o")
    assert shelf.return_value == Wish("shipped")


async def test_answers_show_what_follows_and_make_a_book(tmp_path: Path) -> None:
    setting_up = SettingUp(tmp_path, "my-book")
    async with setting_up.run_test(size=(120, 40)) as pilot:
        setting_up.query_one("#title", Input).value = "The Salt Road [b]"
        setting_up.query_one("#words", Input).value = "24000"
        setting_up.query_one("#letters", Input).value = "40"
        await pilot.pause(0.8)
        shown = {line.head: line.says for line in setting_up.query_one(LinesPanel).lines_shown}
        assert shown["Text"].startswith("24,000 words in 3,420 lines")
        setting_up.query_one("#columns", Input).value = "no"
        await pilot.pause(0.8)
        assert setting_up.query_one(LinesPanel).lines_shown[0].wrong
        setting_up.query_one("#columns", Input).value = "2"
        await pilot.press("ctrl+s")
    assert setting_up.return_value == tmp_path / "my-book"
    assert Job.open(tmp_path / "my-book").book.title == "The Salt Road [b]"


async def test_the_first_question_is_in_sight_on_a_small_screen_and_each_fits(tmp_path: Path) -> None:
    setting_up = SettingUp(tmp_path, "mill")
    async with setting_up.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        questions = setting_up.query_one("#questions")
        assert questions.scroll_offset.y == 0
        assert all(
            len(str(label.content)) <= label.size.width for label in setting_up.query("Label.label").results(Label)
        )
        for _ in QUESTIONS[1:]:
            await pilot.press("enter")
        label = setting_up.query(Label).last()
        assert questions.region.contains_region(label.region)
        await pilot.press("ctrl+s")
    assert Job.open(tmp_path / "mill").book.title == "mill"


async def test_several_hands_and_the_script_are_asked_for(tmp_path: Path) -> None:
    setting_up = SettingUp(tmp_path, "mill")
    async with setting_up.run_test(size=(120, 40)) as pilot:
        answers = {"hand": "Agnes, Bea", "letters": "34, 31", "script": "a round hand", "heights": "4, 2.5 2.5"}
        answers["page"] = "7 in x 10 in"
        for name, answer in answers.items():
            setting_up.query_one(f"#{name}", Input).value = answer
        await pilot.pause(0.8)
        shown = {line.head: line.says for line in setting_up.query_one(LinesPanel).lines_shown}
        assert shown["Text"].endswith("of 34 letters (B 31)")
        assert "Advice" not in shown
        await pilot.press("ctrl+s")
    book = Job.open(tmp_path / "mill").book
    assert [(hand.id, hand.name, hand.letters_per_line) for hand in book.hands] == [
        ("A", "Agnes", 34),
        ("B", "Bea", 31),
    ]
    assert (book.unit, book.page.width) == ("in", 177.8)
    assert (book.script.name, book.script.x_height, book.script.ascender) == ("a round hand", 4, 2.5)


async def test_a_book_that_cannot_be_made_changes_nothing(tmp_path: Path) -> None:
    (tmp_path / "my-book").mkdir()
    (tmp_path / "my-book" / "kept.txt").write_text("kept", "utf-8")
    setting_up = SettingUp(tmp_path, "my-book")
    async with setting_up.run_test(size=(120, 40)) as pilot:
        setting_up.query_one("#title", Input).value = "Another"
        await pilot.press("ctrl+s")
        assert setting_up.query_one(LinesPanel).lines_shown[0].head == "Not made"
    assert [each.name for each in (tmp_path / "my-book").iterdir()] == ["kept.txt"]


async def test_help_and_words_are_there_before_a_book_is(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    for app in (Shelf(tmp_path, []), SettingUp(tmp_path)):
        async with app.run_test(size=(80, 24)) as pilot:
            await pilot.press("f1")
            assert type(app.screen).__name__ == "HelpScreen"
            await pilot.press("escape", "f3")
            assert type(app.screen).__name__ == "WordsScreen"


async def test_a_raw_text_is_looked_at_and_a_hand_measured_right_there(tmp_path: Path) -> None:
    raw = tmp_path / "raw.txt"
    raw.write_text("CHAPTER I\n\n" + "He went up and came down. " * 300 + "\n\nCHAPTER II\n\nAnd down.\n", "utf-8")
    setting_up = SettingUp(tmp_path, "mill")
    async with setting_up.run_test(size=(120, 60)) as pilot:
        setting_up.query_one("#text", Input).value = str(raw)
        setting_up.query_one("#skin", Input).value = "700 x 500"
        await pilot.pause(0.8)
        shown = {line.head: line.says for line in setting_up.query_one(LinesPanel).lines_shown}
        assert shown["In it"].startswith("h: 2 lines that look like headings")
        assert "nobody said how many skins spoil" in shown["Spoilage"]
        setting_up.query_one("#mend", Input).value = "h"
        await pilot.press("f4")
        await pilot.pause()
        for at, line in enumerate(("the gates stood open all the", "night and nobody went to see; 95")):
            setting_up.screen.query_one(f"#line{at}", Input).value = line
        await pilot.press("ctrl+s")
        await pilot.pause()
        assert any(line.says.endswith("(will be done)") for line in setting_up.screen.query_one(LinesPanel).lines_shown)
        await pilot.press("ctrl+s")
    assert (tmp_path / "mill" / "samples" / "a.txt").read_text("utf-8").endswith("went to see\t95")
    job = Job.open(tmp_path / "mill")
    assert job.book.hands[0].sample == "samples/a.txt"
    assert job.exemplar is not None
    assert [division.title for division in job.exemplar.divisions] == ["CHAPTER I", "CHAPTER II"]
