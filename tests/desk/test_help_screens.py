"""Help and the words of the trade, from a screen, from a form, and back."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.widgets import Input, Markdown, OptionList

from copydesk.desk.base.glossary_screen import WordsScreen
from copydesk.desk.base.help_screen import HelpScreen
from copydesk.desk.book_screens.log import LogScreen
from copydesk.desk.dialogs.form import Form
from copydesk.desk.page_screens.grid import GridScreen
from copydesk.desk.widgets.lines_panel import LinesPanel
from copydesk.help.glossary import find_words, meaning_and_source, titles_of

if TYPE_CHECKING:
    from copydesk.desk.app import Desk


def panel(desk: Desk) -> str:
    return " ".join(line.says for line in desk.screen.query_one(LinesPanel).lines_shown)


async def test_a_long_form_keeps_question_and_refusal_in_sight_on_a_small_screen(desk: Desk) -> None:
    async with desk.run_test(size=(80, 24)) as pilot:
        await pilot.press("v", "i", "i")
        form = desk.screen.query_one("#form")
        seen = form.scrollable_content_region
        assert seen.contains_region(desk.screen.query_one("#title").region)
        labels = list(desk.screen.query("Label.label"))
        await pilot.press(*["tab"] * (len(labels) - 1))
        assert seen.contains_region(labels[-1].region)
        await pilot.press("shift+tab", "shift+tab", "ctrl+s")
        assert seen.contains_region(desk.screen.query_one("#refusal").region)


async def test_acts_are_found_by_name_in_our_own_words(desk: Desk) -> None:
    async with desk.run_test() as pilot:
        await pilot.press("colon")
        assert str(desk.screen.query_one("#title").render()) == "Any act or screen, by its name"


async def test_help_tells_what_the_screen_is_for(desk: Desk) -> None:
    async with desk.run_test() as pilot:
        await pilot.press("v", "u", "f1")
        assert isinstance(desk.screen, HelpScreen)
        assert "Nothing is ever struck out" in desk.screen.query_one(Markdown).source
        await pilot.press("escape")
        assert isinstance(desk.screen, LogScreen)


async def test_a_word_is_found_explained_and_sourced(desk: Desk) -> None:
    async with desk.run_test() as pilot:
        await pilot.press("f3", *"sheet")
        await pilot.pause()
        assert isinstance(desk.screen, WordsScreen)
        words = desk.screen.query_one(OptionList)
        assert str(words.get_option_at_index(0).prompt).strip() == "sheet"
        assert panel(desk).startswith("sheet: ")
        assert "Source" in [line.head for line in desk.screen.query_one(LinesPanel).lines_shown]
        first = panel(desk)
        await pilot.press("down")
        await pilot.pause()
        assert panel(desk) != first
        await pilot.press("escape")
        assert isinstance(desk.screen, GridScreen)


async def test_a_word_that_is_not_there_is_said_so(desk: Desk) -> None:
    async with desk.run_test() as pilot:
        await pilot.press("f3", *"zzz[b]")
        await pilot.pause()
        assert panel(desk) == "The glossary has nothing on 'zzz[b]'."
        await pilot.press("down", "pagedown")
        assert desk.is_running


async def test_a_form_has_help_and_words_and_keeps_what_was_typed(desk: Desk) -> None:
    async with desk.run_test() as pilot:
        await pilot.press("g", "4", "f1", "f3", "escape", "escape")
        assert isinstance(desk.screen, Form)
        assert desk.screen.query_one(Input).value == "4"


def test_the_word_itself_comes_first_and_its_sources_by_their_titles() -> None:
    assert find_words("Recto")[0][0] == "recto"
    assert find_words("") and find_words("no such thing at all") == []
    meaning, source = meaning_and_source("A thing of the trade. [Hanna 2002; our own use]")
    assert (meaning, source) == ("A thing of the trade.", "Hanna 2002; our own use")
    [title] = titles_of(source)
    assert title.startswith("R. Hanna, A Descriptive Catalogue") and "2002; by the Bodleian catalogue" in title
    assert meaning_and_source("bare") == ("bare", "")
