"""How keys of a plan are declared, and listed with all that stands under them."""

from __future__ import annotations

from copydesk.store.plan_file.keys import BOOK
from copydesk.store.plan_file.scalars import ValueKind
from copydesk.store.plan_file.sections import ByName, ListOf, Loose, PlanKey, keys_under, section

WORD = ValueKind("a word", lambda scalar: scalar)
SHELF = section(dict, PlanKey("wood", WORD, "its wood", needed=True), PlanKey("books", WORD, "what stands on it"))


def test_what_is_wanted_is_said_in_words_that_follow_write() -> None:
    assert SHELF.wanted == "keys under it, such as wood"
    assert section(dict, *(PlanKey(name, WORD, "") for name in "abcd")).wanted == "keys under it, such as a, b, c"
    assert ListOf(WORD).wanted == "a list, each item a word"
    assert ByName(WORD, SHELF, "the name of a wall").wanted == "keys under it, each a word"
    assert Loose(WORD).wanted == "keys under it with a word"


def test_keys_are_listed_with_those_under_them() -> None:
    room = section(
        dict,
        PlanKey("name", WORD, "its name"),
        PlanKey("shelves", ListOf(SHELF), "its shelves", needed=True),
        PlanKey("by_wall", ByName(WORD, ListOf(SHELF), "the name of a wall"), "shelves by wall"),
    )
    found = keys_under(room, "house.")
    assert [(key.path, key.needed) for key in found] == [
        ("house.name", False),
        ("house.shelves", True),
        ("house.shelves.wood", True),
        ("house.shelves.books", False),
        ("house.by_wall", False),
        ("house.by_wall.wood", True),
        ("house.by_wall.books", False),
    ]


def test_every_key_of_a_plan_has_its_line_of_help_and_stands_once() -> None:
    found = keys_under(BOOK)
    assert len({key.path for key in found}) == len(found)
    assert all(key.help and key.wanted for key in found)
