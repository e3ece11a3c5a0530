"""Every key of the desk is in one table, means one thing on each screen, and does something there."""

from __future__ import annotations

import importlib
from collections import Counter
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from textual.binding import Binding
from textual.screen import Screen

from copydesk.desk.app import Desk
from copydesk.desk.base.book_screen import BookScreen
from copydesk.desk.base.keymap import Keymap, shown
from copydesk.desk.base.keys import KEYS, NO_KEY, OFFERED, bindings, key_named, offered_by
from copydesk.desk.base.screen_table import SCREENS as TABLE
from copydesk.desk.setup import SettingUp
from copydesk.desk.shelf import Shelf

if TYPE_CHECKING:
    from textual.app import App

    from copydesk.desk.base.keys import KeyBinding

DESK = Path(__file__).parents[2] / "copydesk" / "desk"


def screens() -> list[type[Screen[object]]]:
    """Every screen and dialog of the desk."""
    for path in sorted(DESK.rglob("*.py")):
        if path.stem != "__init__":
            importlib.import_module(".".join(("copydesk", *path.relative_to(DESK.parent).with_suffix("").parts)))
    found: list[type[Screen[object]]] = []
    waiting: list[type[Screen[object]]] = [Screen]
    while waiting:
        below = waiting.pop().__subclasses__()
        waiting += below
        found += [each for each in below if each.__module__.startswith("copydesk.")]
    return sorted(set(found), key=lambda each: each.__name__)


SCREENS = screens()
ON_THE_BOOK: list[type[BookScreen]] = [
    each for each in SCREENS if issubclass(each, BookScreen) and each is not BookScreen
]
SCOPES = {each.SCOPE: each for each in ON_THE_BOOK if each.SCOPE}


def scope_of(key: KeyBinding) -> str:
    return key.id.split(".")[0]


def keys_of(*scopes: str) -> list[KeyBinding]:
    return [key for key in KEYS if scope_of(key) in scopes]


def single(keys: list[KeyBinding]) -> list[str]:
    return [each for key in keys for each in key.key.split(",") if each]


def does(screen: type[object], action: str) -> bool:
    """Whether an action is one of a screen, or of the desk itself."""
    name = action.partition("(")[0]
    owner: type[object] = screen
    if name.startswith("app."):
        owner, name = Desk, name.removeprefix("app.")
    elif name.startswith("screen."):
        name = name.removeprefix("screen.")
    return hasattr(owner, f"action_{name}")


def test_ids_are_given_once() -> None:
    assert not [name for name, count in Counter(key.id for key in KEYS).items() if count > 1]
    assert all(key_named(key.id) is key for key in KEYS)


def test_every_key_says_what_it_does() -> None:
    for key in KEYS:
        assert Keymap().way_to(key) or key.id in BY_NAME_ONLY, key.id
        assert key.says, key.id
        assert key.more[0].isupper(), key.id
        assert key.more.endswith(" ...") or not key.more.endswith("."), key.id
        assert all(shown(each).isprintable() and "_" not in shown(each) for each in key.key.split(",")), key.id


BY_NAME_ONLY: frozenset[str] = frozenset()
"""Acts that are reached by their name alone."""


def test_every_scope_is_that_of_a_screen() -> None:
    used = {scope_of(key) for key in KEYS}
    assert used - {"all"} <= set(SCOPES) | other_scopes()
    assert set(SCOPES) <= used


def other_scopes() -> set[str]:
    """Scopes of screens that stand on no book, by the ids of their bindings."""
    others = [each for each in SCREENS if each not in ON_THE_BOOK]
    before_the_book = [*ids_of(Shelf), *ids_of(SettingUp)]
    return {
        binding.id.split(".")[0]
        for binding in (*before_the_book, *(binding for each in others for binding in ids_of(each)))
        if binding.id
    }


def ids_of(screen: type[Screen[object] | App[Any]]) -> list[Binding]:
    return [each for each in screen.BINDINGS if isinstance(each, Binding)]


@pytest.mark.parametrize("scope", sorted({scope_of(key) for key in KEYS}))
def test_a_key_means_one_thing_on_a_screen(scope: str) -> None:
    assert not [key for key, count in Counter(single(keys_of(scope))).items() if count > 1]


@pytest.mark.parametrize("scope", sorted(SCOPES))
def test_a_screen_takes_no_key_from_those_that_mean_the_same_everywhere(scope: str) -> None:
    everywhere = {each: key.action for key in keys_of("all") for each in key.key.split(",")}
    taken = {each: key.action for key in keys_of(scope) for each in key.key.split(",") if each in everywhere}
    # In the log u takes the entry in hand back: the same thing, of one entry.
    assert {each: action for each, action in taken.items() if action not in (everywhere[each], "take_back")} == {}


@pytest.mark.parametrize("scope", sorted(SCOPES))
def test_every_key_of_a_screen_does_something_there(scope: str) -> None:
    screen = SCOPES[scope]
    assert not [key.id for key in keys_of(scope, "all") if not does(screen, key.action)]


@pytest.mark.parametrize("screen", SCREENS, ids=lambda each: each.__name__)
def test_every_binding_of_a_screen_is_in_the_table(screen: type[Screen[object]]) -> None:
    known = {key.id: key for key in KEYS}
    for each in screen.BINDINGS:
        if isinstance(each, Binding) and each.id:
            assert each.id in known
            assert (each.key, each.action) == (known[each.id].key or NO_KEY, known[each.id].action)
        else:
            key, action, *says = (each.key, each.action, each.description) if isinstance(each, Binding) else each
            assert does(screen, action), (screen, key)
            assert says, f"{screen.__name__}: {key} does not say what it does"
            assert screen not in ON_THE_BOOK or action == "back", f"{screen.__name__}: {key} is not in keys.py"


def test_bindings_bear_the_id_the_label_and_the_tooltip() -> None:
    (first, *_) = bindings("grid")
    assert isinstance(first, Binding)
    key = key_named("grid.next")
    assert (first.id, first.key, first.description, first.tooltip) == (key.id, key.key, key.says, key.more)


MEANS = {
    "a": "hand",
    "b": "sheet back",
    "c": "check",
    "d": "tick down to here",
    "e": "written to",
    "f": "fault",
    "g": "go",
    "h": "left, before",
    "i": "add",
    "j": "down",
    "k": "up",
    "l": "right, next",
    "m": "more",
    "n": "next",
    "o": "show",
    "p": "next space",
    "q": "quit",
    "r": "rule",
    "s": "mend a fault",
    "t": "sheet to artist",
    "u": "undo",
    "v": "screens",
    "w": "write",
    "x": "read it, type it",
    "y": "redo",
}
"""What a letter means, on every screen that has it."""

LABELS = {
    "c": {"check"},
    "g": {"go to ...", "go there"},
    "h": {"left", "word back", "plot before", "other plot", "less", "pass before"},
    "j": {"down", "below"},
    "k": {"up", "above"},
    "l": {"right", "next word", "next plot", "other plot", "more", "next pass"},
    "i": {
        "add ...",
        "add a note ...",
        "add a change ...",
        "add a batch ...",
        "add a space ...",
        "add a book ...",
        "own words ...",
    },
    "m": {"more ...", "put elsewhere ..."},
    "n": {"next page", "next obstacle", "next plot", "other plot"},
    "o": {"show ...", "show all", "show the shipped book", "show what may begin", "ways ..."},
    "a": {"hand ...", "other hand"},
    "u": {"undo", "take it back"},
    "x": {"read it", "type it"},
}


def test_a_letter_means_one_thing_wherever_it_stands() -> None:
    found: dict[str, set[str]] = {}
    for key in KEYS:
        for each in key.key.split(","):
            if len(each) == 1 and each.isalpha():
                found.setdefault(each, set()).add(key.says)
    assert set(found) <= set(MEANS)
    for letter, labels in found.items():
        assert len(labels) == 1 or labels <= LABELS.get(letter, set()), (letter, labels)


def test_no_capital_means_anything() -> None:
    assert not [key.id for key in KEYS for each in key.key.split(",") if len(each) == 1 and each.isupper()]


def test_hjkl_move_or_mean_nothing() -> None:
    beside = {"h": "left", "j": "down", "k": "up", "l": "right"}
    for key in KEYS:
        keys = key.key.split(",")
        for letter, arrow in beside.items():
            assert letter not in keys or arrow in keys, key.id


def test_the_gatherings_have_at_most_fifteen_keys_of_their_own() -> None:
    own = [key for key in keys_of("grid") if key.key and not key.action.startswith("move(")]
    assert len(own) <= 15


def test_letters_in_a_list_are_given_once_and_do_not_move() -> None:
    lists = [[letter for letter, _ in offered] for offered in OFFERED.values()]
    lists.append([entry.letter for entry in TABLE if entry.letter])
    for letters in lists:
        assert len(letters) == len(set(letters))
        assert not set(letters) & set("hjkl")


def test_every_act_offered_is_one_of_its_scope() -> None:
    for opener, offered in OFFERED.items():
        name = opener.partition(".")[2]
        assert key_named(opener).action == f"offer('{name}')"
        assert [letter for letter, _ in offered_by(opener)] == [letter for letter, _ in offered]


@pytest.mark.parametrize(
    ("key", "as_known"),
    [
        ("question_mark,f1", "?"),
        ("f5", "F5"),
        ("ctrl+s", "ctrl+s"),
        ("greater_than_sign", ">"),
        ("shift+right", "shift+→"),
        ("escape", "esc"),
        ("plus", "+"),
    ],
)
def test_keys_are_shown_as_people_know_them(key: str, as_known: str) -> None:
    assert shown(key) == as_known
