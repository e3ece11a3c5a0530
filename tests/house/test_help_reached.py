"""Every screen leads to a page of help, and every key of the house is listed on one."""

from __future__ import annotations

import re
from importlib import import_module
from pkgutil import walk_packages

import pytest

import copydesk.desk
from copydesk.desk.base.book_screen import BookScreen
from copydesk.desk.base.help_screen import EVERYWHERE, key_lines
from copydesk.desk.base.keymap import Keymap
from copydesk.desk.base.keys import KEYS, key_named
from copydesk.desk.base.screen_table import SCREENS as TABLE
from copydesk.help.topics import read_topic, topics

for module in walk_packages(copydesk.desk.__path__, "copydesk.desk."):
    import_module(module.name)


def screens(kind: type[BookScreen] = BookScreen) -> list[type[BookScreen]]:
    """Every screen on a book."""
    return [each for below in kind.__subclasses__() for each in (below, *screens(below))]


SCREENS = [screen for screen in screens() if screen.__module__.startswith("copydesk.") and screen.SCOPE]


def test_all_screens_are_looked_at() -> None:
    assert len(SCREENS) >= 17


@pytest.mark.parametrize("screen", SCREENS, ids=lambda screen: screen.__name__)
def test_a_screen_has_a_page_of_help_in_a_few_lines(screen: type[BookScreen]) -> None:
    page = read_topic(screen.TOPIC)
    assert page.startswith("# ")
    assert 3 <= len(page.splitlines()) <= 60
    assert "\t" not in page


@pytest.mark.parametrize("screen", SCREENS, ids=lambda screen: screen.__name__)
def test_the_keys_a_screen_binds_are_those_its_help_lists(screen: type[BookScreen]) -> None:
    ours = {key.id for key in KEYS if key.id.split(".")[0] in (screen.SCOPE, EVERYWHERE)}
    bound = {each.id for _, each in screen._merge_bindings() if each.id}
    in_its_place = {"all.undo"} if screen.SCOPE == "log" else set()  # there u takes back the entry in hand
    assert bound == ours - in_its_place


NOT_ON_A_BOOK = {"form", "choice", "told", "finder", "help", "words", "shelf", "setup"}
"""Scopes of dialogs, of help, and of what is open before a book is."""


def test_every_key_belongs_to_a_screen() -> None:
    scopes = {screen.SCOPE for screen in SCREENS} | {EVERYWHERE}
    assert {key.id.split(".")[0] for key in KEYS} == scopes | NOT_ON_A_BOOK


def test_every_act_a_key_names_is_there() -> None:
    for screen in SCREENS:
        for key in KEYS:
            if key.id.split(".")[0] in (screen.SCOPE, EVERYWHERE) and not key.action.startswith("app."):
                assert hasattr(screen, f"action_{key.action.split('(')[0]}"), f"{screen.__name__}: {key.id}"


def test_keys_changed_are_told_as_they_are_now() -> None:
    lines = list(key_lines("grid", Keymap({"grid.write": "f7"})))
    assert any(line.startswith(" F7") and "whole page as written" in line for line in lines)
    assert not any(line.startswith(" w ") for line in lines)


def test_pages_link_to_no_page_that_is_not_there() -> None:
    assert {"desk", "log", "overview", "forms", "glossary", "sources"} <= set(topics())


BEFORE_THE_BOOK = {
    "shelf": {"shelf"},
    "setting-up": {"setup"},
    "forms": {"form", "choice", "finder"},
    "tour": {"spaces", "handover"},
}
"""The scopes of what is open before a book is, and over its screens; of screens a page leads to."""

PLAIN_KEYS = {"enter", "space", "escape", "esc", "tab", "left", "right", "up", "down"}
"""Keys that lists, forms and questions take by themselves."""


YES_OR_NO = {"y", "n"}
"""What answers such a line of a form."""


def keys_in(topic: str) -> list[str]:
    """What stands as a key in a page of help: a letter, a function key, or a key with a name of its own."""
    bold = re.findall(r"\*\*([^*\n]+)\*\*", read_topic(topic))
    return [each for each in bold if re.fullmatch(r"[A-Za-z?:/]|[a-z] [a-z]|[Ff]\d+", each) or each in PLAIN_KEYS]


def keys_of_scopes(scopes: set[str]) -> set[str]:
    found = (key for key in KEYS if key.id.split(".")[0] in scopes)
    ways = {each for key in found for each in Keymap().way_to(key).split(", ")}
    return {way.lower() if len(way) > 1 else way for way in ways}


@pytest.mark.parametrize("topic", topics())
def test_every_key_a_page_names_is_one_of_its_screens_or_of_the_gatherings(topic: str) -> None:
    own = [screen for screen in SCREENS if getattr(screen, "TOPIC", "") == topic]
    known = keys_of_scopes({"all", "grid", *(getattr(screen, "SCOPE", "") for screen in own)}) | PLAIN_KEYS
    known |= keys_of_scopes(BEFORE_THE_BOOK.get(topic, set())) | YES_OR_NO
    known |= {Keymap().way_to(key_named(entry.key)) for entry in TABLE if entry.letter}
    named = {key if len(key) == 1 else key.lower() for key in keys_in(topic)}
    assert named <= known, sorted(named - known)


def test_keys_named_in_help_are_found() -> None:
    assert {"v b", "v o", "enter", "n", "g", "i"} <= set(keys_in("assembly"))
    assert {"F8", "F9", "x", "space"} <= set(keys_in("check"))
