"""A plan changed by the desk: only the keys meant change, and every comment, space and order stays."""

import random
import re
from dataclasses import replace
from itertools import count

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from any_book import books
from copydesk.book.common.errors import NotAllowedError
from copydesk.store.plan_file.book_file import parse_plan
from copydesk.store.plan_file.plan_edits import edited, put
from copydesk.store.plan_file.plan_text import plan_text

PLAN = """\
# the book
title: Salt   # as on the door
page: {width: 170, height: 240, margins: ninths}   # a small page

# who writes
hands:
    A: {name: "Ann", letters_per_line: 34}
    # the second
    B:
        name: Bea       # from the coast
        letters_per_line: 30
ruling:
  lines: 30 # counted on the skin
exemplar:
  text: salt.txt
spaces:
  - id: gate   # the gate
    kind: miniature
    at: {division: 1}
    lines: 9
    materials:
      - gold   # from the drawer
      - chalk
  # the vine
  - {id: vine, kind: border, at: {page: 1r}}
"""


def read(text):
    return parse_plan(text, "book.yaml").finish()


@pytest.mark.parametrize(
    ("path", "value", "line"),
    [
        (("title",), "The Salt Road", "title: The Salt Road   # as on the door"),
        (("page", "width"), 180, "page: {width: 180, height: 240, margins: ninths}   # a small page"),
        (("hands", "A", "hours_a_week"), 12, '    A: {name: "Ann", letters_per_line: 34, hours_a_week: 12}'),
        (("hands", "B", "name"), "Bo", "        name: Bo       # from the coast"),
        (("hands", "B", "hours_a_week"), 12, "        hours_a_week: 12"),
        (("hands", "C"), {"name": "Cy"}, "    C:"),
        (("ruling", "lines"), 28, "  lines: 28 # counted on the skin"),
        (("spaces", 0, "materials", 0), "leaf gold", "      - leaf gold   # from the drawer"),
        (("spaces", 0, "materials", 2), "ash", "      - ash"),
        (("spaces", 1, "at", "page"), "2v", "  - {id: vine, kind: border, at: {page: 2v}}"),
        (("page", "margins", "canon"), "johnston", "page: {width: 170, height: 240, margins: {canon: johnston}}"),
        (("flyleaves", "front"), 2, "flyleaves: {front: 2}"),
    ],
)
def test_a_value_is_put_in_at_its_place(path, value, line):
    before, after = PLAN.splitlines(), put(PLAN, path, value).splitlines()
    assert any(each.startswith(line) for each in after)
    assert len([each for each in before if each not in after]) <= 1


@pytest.mark.parametrize(
    ("path", "gone"),
    [
        (("ruling", "lines"), "  lines: 30 "),
        (("hands", "A", "letters_per_line"), ", letters_per_line: 34"),
        (("spaces", 1), "  - {id: vine, kind: border, at: {page: 1r}}\n"),
        (("spaces", 0, "id"), "id: gate   "),
    ],
)
def test_a_value_is_taken_out_and_its_comment_stays(path, gone):
    after = put(PLAN, path, None)
    assert gone not in after
    assert re.findall("#.*", after) == re.findall("#.*", PLAN)


def test_a_line_taken_out_leaves_its_remark_and_nothing_else():
    assert put("a: 1\nb: 2\nc: 3\n", ("b",), None) == "a: 1\nc: 3\n"
    assert put("a: 1\nb: 2  # why\nc: 3\n", ("b",), None) == "a: 1\n# why\nc: 3\n"
    assert put("a:\r\n- 1\r\n- 2\r\n", ("a", 0), None) == "a:\r\n- 2\r\n"


def test_what_stands_nowhere_is_put_in_whole_with_its_line_of_help():
    assert put(PLAN, ("unit",), "in").endswith("\n\n# the unit that lengths are shown in\nunit: in\n")
    assert put("", ("title",), "Salt") == "title: Salt\n"
    assert put("ruling:\n", ("ruling", "lines"), 30) == "ruling: {lines: 30}\n"
    assert put("columns: 2\n", ("columns", "gap"), 8) == "columns: {count: 2, gap: 8}\n"


def test_a_plan_with_aliases_is_left_to_people():
    text = PLAN.replace("width: 170", "width: &w 170").replace("height: 240", "height: *w")
    before = read(text)
    after = replace(before, page=before.page._replace(height=200.0))
    with pytest.raises(NotAllowedError, match=r"only people can change it there; write page, height: 200"):
        edited(text, before, after)


def remarked(text, seed):
    """The text with remarks strewn over it: lines of their own, and behind lines."""
    chance, number, lines = random.Random(seed), count(), []
    for line in text.splitlines():
        if chance.random() < 0.3:
            lines.append(f"{' ' * chance.randrange(9)}# remark {next(number)}, a: {{b}}")
        lines.append(f"{line}   # remark {next(number)}" if line.strip() and chance.random() < 0.5 else line)
    return "\n".join(lines) + "\n"


@settings(max_examples=200, deadline=None, phases=[Phase.generate])
@given(books(), books(), st.integers(0, 9999))
def test_any_plan_is_edited_into_any_other_and_keeps_every_remark(before, after, seed):
    known = [hand.id for hand in before.hands]
    hands = sorted(after.hands, key=lambda hand: known.index(hand.id) if hand.id in known else len(known))
    after = replace(after, hands=tuple(hands))
    text = remarked(plan_text(before), seed)
    new = edited(text, before, after)
    assert read(new) == after
    assert sorted(re.findall(r"# remark \d+", new)) == sorted(re.findall(r"# remark \d+", text))
    assert edited(new, after, after) == new


@settings(max_examples=200, deadline=None, phases=[Phase.generate])
@given(books(), st.integers(0, 9999), st.data())
def test_a_key_changed_changes_its_own_line_alone(book, seed, data):
    text = remarked(plan_text(book), seed)
    path, value = data.draw(
        st.sampled_from([(("title",), "Salt"), (("page", "width"), 165), (("columns", "gap"), 7.25)])
    )
    new = put(text, path, value).splitlines()
    assert [each for each in text.splitlines() if each not in new][1:] == []
