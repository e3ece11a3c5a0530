"""Entries: what they carry, how they are kept and read, and what is made of facts that cannot be."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from copydesk.book.common.errors import CopydeskError
from copydesk.book.structure.page import Side
from copydesk.tracking.ledger.entry import Entry
from copydesk.tracking.ledger.entry_kinds import KINDS, check_facts

WRITTEN = Entry(
    "5f0c", 7, "2026-11-25T10:20:00+00:00", "A", "north", "written", "1.1:r", "1r", {"to_line": 9, "whole": True}
)


def test_an_entry_is_kept_and_read_again() -> None:
    assert Entry.from_document(WRITTEN.as_document()) == WRITTEN


def test_an_entry_names_what_it_is_about() -> None:
    assert WRITTEN.subject == ("page", "1.1:r")
    assert (WRITTEN.skin.leaf_id, WRITTEN.skin.side) == ("1.1", Side.RECTO)


def test_a_kind_of_a_newer_program_is_kept_as_it_is() -> None:
    document = {**WRITTEN.as_document(), "what": "sprinkled", "with": ["sand", 3]}
    entry = Entry.from_document(document)
    assert entry.subject == ("unknown", "1.1:r")
    assert entry.as_document() == document


@pytest.mark.parametrize("wrong", [{"entry": ""}, {"entry": 5}, {"tick": "7"}, {"tick": True}, {"tick": None}])
def test_an_entry_without_identity_or_tick_is_refused(wrong: dict[str, object]) -> None:
    with pytest.raises(CopydeskError, match="no usable tick or entry; run copydesk audit"):
        Entry.from_document({**WRITTEN.as_document(), **wrong})


@pytest.mark.parametrize("field", ["what", "about", "hand", "desk", "at", "page"])
def test_a_field_of_the_wrong_type_counts_as_empty_and_is_kept(field: str) -> None:
    document = {**WRITTEN.as_document(), field: [1, 2]}
    entry = Entry.from_document(document)
    assert getattr(entry, field) == ""
    assert entry.as_document() == document


@pytest.mark.parametrize("value", ["9", 9.0, True, None, [9], 10**30, -(10**30)])
def test_what_is_no_whole_number_is_none(value: object) -> None:
    entry = Entry("a", 1, "", "", "", "written", "", "", {"to_line": value})
    assert entry.number("to_line") is None


@pytest.mark.parametrize("value", ["9", True, None, math.inf, math.nan, 10**400])
def test_what_is_no_number_is_no_amount(value: object) -> None:
    assert Entry("a", 1, "", "", "", "written", "", "", {"minutes": value}).amount("minutes") is None


def test_numbers_and_texts_among_the_facts() -> None:
    entry = Entry("a", 1, "", "", "", "written", "", "", {"minutes": 5, "note": "dry", "to_line": 3, "who": 4})
    assert (entry.amount("minutes"), entry.number("to_line"), entry.text("note")) == (5.0, 3, "dry")
    assert (entry.text("who"), entry.text("none"), entry.number("none")) == ("", "", None)


json_values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=5),
    lambda inside: st.lists(inside, max_size=3) | st.dictionaries(st.text(max_size=4), inside, max_size=3),
    max_leaves=5,
)


@given(st.dictionaries(st.sampled_from([*WRITTEN.as_document(), "new", "skin"]), json_values))
def test_any_document_with_identity_and_tick_is_kept_whole(given_document: dict[str, object]) -> None:
    document = {**given_document, "entry": "e1", "tick": 3}
    kept = Entry.from_document(document).as_document()
    known = {name: value for name, value in document.items() if value or name != "page"}
    assert all(kept[name] is value or kept[name] == value for name, value in known.items())


def test_facts_of_a_new_entry_are_those_of_its_kind() -> None:
    check_facts("written", {"to_line": 4, "whole": True, "minutes": 12, "placements": []})
    check_facts("fault", {"kind": "omission", "should": "water"})


@pytest.mark.parametrize(
    ("what", "facts", "says"),
    [
        ("sprinkled", {}, "'sprinkled' is not something the ledger records"),
        ("written", {"colour": "red"}, "an entry 'written' has no 'colour'"),
        ("at-desk", {"colour": "red"}, "it has no facts"),
        ("written", {"to_line": "4"}, "must be a whole number"),
        ("written", {"to_line": True}, "must be a whole number"),
        ("written", {"whole": 1}, "must be yes or no"),
        ("written", {"minutes": True}, "must be a number"),
        ("fault", {"kind": None}, "must be text"),
    ],
)
def test_other_facts_are_refused(what: str, facts: dict[str, object], says: str) -> None:
    with pytest.raises(CopydeskError, match=says):
        check_facts(what, facts)


def test_every_kind_says_what_it_is() -> None:
    about = {"page", "space", "sheet", "flyleaf", "leaf", "desk", "text", "book", "skins", "entry"}
    for name, kind in KINDS.items():
        assert kind.about in about, name
        assert kind.says, name
        assert not set(kind.facts) & {"entry", "tick", "at", "hand", "desk", "what", "about", "page"}, name
