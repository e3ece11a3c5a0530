"""The parts of a plan as forms ask for them, and hundreds of edits as a person makes them there."""

from __future__ import annotations

import random
import re

import pytest
from hypothesis import Phase, assume, given, settings
from hypothesis import strategies as st

from any_book import books
from copydesk.book.common.errors import CopydeskError
from copydesk.store.plan_file.keys import known_keys
from copydesk.store.plan_file.plan_parts import new_part, plan_parts
from copydesk.store.plan_file.plan_text import plan_text
from copydesk.store.plan_file.typed_plan import key_path, typed_in, typed_value

TYPED = (
    *(
        "12",
        "0,5",
        "7 in",
        "12r",
        "2027-03-31",
        "31 March 2027",
        "1-3, 5",
        "gold, azurite",
        "yes",
        "no",
        "en",
        "mon, tue",
    ),
    *(
        "line",
        "recto",
        "miniature",
        "column",
        "soak 1, lime 9",
        "3 recto",
        "hair",
        "free",
        "Salt: a # road",
        "words",
        "",
    ),
)
"""Values of every kind, as people type them; what a key does not take is not tried on it."""


def said(text):
    return {field.path: field.said for part in plan_parts(text) for field in part.fields}


def remarks(text):
    return sorted(re.findall(r"# remark \d+", text))


@settings(max_examples=200, deadline=None, phases=[Phase.generate])
@given(books(), st.integers(0, 9999), st.data())
def test_any_edit_keeps_every_remark_and_every_other_key(book, seed, data):
    chance, lines = random.Random(seed), []
    for number, line in enumerate(plan_text(book).splitlines()):
        remark = f"   # remark {number}" if line and not line.startswith("#") and chance.random() < 0.6 else ""
        lines.append(line + remark)
    text = "\n".join(lines) + "\n"
    before = said(text)
    path = data.draw(st.sampled_from(sorted(before, key=str)))
    typed = data.draw(st.sampled_from(TYPED))
    try:
        typed_value(path, typed)
    except CopydeskError:
        assume(False)
    new = typed_in(text, {path: typed})
    after = said(new)
    assert remarks(new) == remarks(text)
    assert {key: value for key, value in after.items() if key != path} == {
        key: value for key, value in before.items() if key != path
    }
    assert bool(after[path]) == bool(typed)
    assert typed_in(new, {path: after[path]}) == new or not typed


def test_every_key_of_the_table_stands_in_some_part():
    text = (
        "hands: {A: {}}\ndivisions: [{}]\nspaces: [{}]\npasses: [{}]\nflaws: [{}]\nleaves: [{}]\nnever_scraped: [{}]\n"
    )
    shown = {
        ".".join(map(str, (each for each in field if not isinstance(each, int) and each != "A")))
        for field in said(text)
        if field[0] != "allow"  # its lines are those of the differences that can be allowed
    }
    known = {key.path for key in known_keys() if not key.path.startswith(("changes", "allow"))}
    inner = {path for path in known if any(other.startswith(f"{path}.") for other in known)}
    assert shown == known - inner


def test_a_part_says_what_stands_there_and_one_more_has_nothing_yet():
    text = "page: {width: 7 in, height: 240, margins: ninths}\nhands: {A: {gatherings: [1, 3]}}\ncolumns: 2\n"
    parts = {part.says: part.said for part in plan_parts(text)}
    assert parts["page"] == "width 7 in, height 240, canon ninths"
    assert parts["hands A"] == "gatherings 1, 3"
    assert parts["columns"] == "count 2"
    added = new_part(text, "spaces")
    assert added.path == ("spaces", 0)
    assert not added.said


@pytest.mark.parametrize(
    ("key", "path"),
    [
        ("page.margins.inner", ("page", "margins", "inner")),
        ("hands.A.name", ("hands", "A", "name")),
        ("spaces.2.at.page", ("spaces", 1, "at", "page")),
        ("skins.days.soak", ("skins", "days", "soak")),
    ],
)
def test_a_key_is_named_as_people_write_it(key, path):
    assert key_path(key) == path


@pytest.mark.parametrize("key", ["", "page.widht", "spaces.gate.lines", "spaces.0", "title.x", "hands.A.name.x"])
def test_what_is_no_key_is_refused(key):
    with pytest.raises(CopydeskError, match="there is no key"):
        key_path(key)
