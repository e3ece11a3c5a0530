"""What YAML readers make of a plain value, against what a plan makes of it.

PyYAML follows YAML 1.1: its implicit types are those of the YAML 1.1 type repository (yaml.org/type: bool, int with
octal and base 60 and underscores, float, timestamp). The left column is what PyYAML's own safe loader gives, checked
here; the right one is the text as it stands, or the plain reading of a figure or a day.
"""

from datetime import date

import pytest
import yaml

from copydesk.book.common.errors import CopydeskError
from copydesk.store.plan_file.book_file import parse_plan

PLAN = """\
title: {title}
divisions: [{{title: {title}, words: {words}}}]
exemplar: {{due: {due}}}
page: {{width: {width}, height: 240, margins: ninths}}
ruling: {{lines: 30}}
hands: {{A: {{name: {title}}}}}
"""


def read(**values):
    given = {"title": "T", "words": "10", "due": "2027-03-31", "width": "170"} | values
    return parse_plan(PLAN.format(**given), "book.yaml").finish()


@pytest.mark.parametrize(
    ("written", "by_yaml"),
    [
        ("NO", False),
        ("on", True),
        ("Yes", True),
        ("null", None),
        ("~", None),
        ("010", 8),
        ("0x1F", 31),
        ("0b11", 3),
        ("12:30", 750),
        ("12:30:00", 45000),
        ("1_000", 1000),
        ("1.10", 1.1),
        ("1e3", "1e3"),
        ("1.0e+3", 1000.0),
        (".inf", float("inf")),
        ("2027-03-31", date(2027, 3, 31)),
        ("1984", 1984),
        ("=", None),
        ("<<", None),
    ],
)
def test_a_title_and_a_name_stay_the_text_that_stands_there(written, by_yaml):
    if written not in ("=", "<<"):  # the default value and merge types: no constructor of their own for a plain value
        assert yaml.safe_load(written) == by_yaml
    book = read(title=written)
    assert (book.title, book.divisions[0].title, book.hands[0].name) == (written, written, written)


@pytest.mark.parametrize(("written", "by_yaml", "words"), [("010", 8, 10), ("0008", "0008", 8), ("+12", 12, 12)])
def test_a_count_is_read_in_tens(written, by_yaml, words):
    assert yaml.safe_load(written) == by_yaml
    assert read(words=written).divisions[0].words == words


@pytest.mark.parametrize(
    ("written", "by_yaml"), [("12:30", 750), ("1_000", 1000), ("0x1F", 31), ("0b11", 3), ("1e3", "1e3"), ("yes", True)]
)
def test_a_count_that_is_no_plain_figure_is_refused(written, by_yaml):
    assert yaml.safe_load(written) == by_yaml
    with pytest.raises(CopydeskError, match=r"divisions 1, words cannot be"):
        read(words=written)


@pytest.mark.parametrize(
    ("written", "by_yaml", "width"),
    [("010", 8, 10), ("0170.50", 170.5, 170.5), ("170.", 170.0, 170), (".17e4", ".17e4", None)],
)
def test_a_length_is_read_in_tens_too(written, by_yaml, width):
    assert yaml.safe_load(written) == by_yaml
    if width is None:
        with pytest.raises(CopydeskError, match="page, width cannot be"):
            read(width=written)
    else:
        assert read(width=written).page.width == width


def test_a_day_that_is_none_is_told_with_its_place_where_yaml_gives_none():
    with pytest.raises(ValueError, match="day is out of range") as bare:
        yaml.safe_load("due: 2026-02-30")
    assert "line" not in str(bare.value)
    with pytest.raises(
        CopydeskError, match=r"book\.yaml:3:17: exemplar, due is 2026-02-30, and the calendar has no such"
    ):
        read(due="2026-02-30")


def test_a_key_given_twice_is_told_where_yaml_takes_the_last():
    assert yaml.safe_load("a: 1\na: 2") == {"a": 2}
    with pytest.raises(CopydeskError, match=r"book\.yaml:7:1: 'title' is given twice, first on line 1"):
        parse_plan(PLAN.format(title="T", words=1, due="2027-03-31", width=170) + "title: U\n", "book.yaml").finish()


def test_a_language_may_be_norwegian():
    plan = PLAN.format(title="T", words=1, due="2027-03-31", width=170) + "language: no\n"
    assert yaml.safe_load(plan)["language"] is False
    assert parse_plan(plan, "book.yaml").finish().language == "no"


def test_a_page_stays_a_page():
    plan = PLAN.format(title="T", words=1, due="2027-03-31", width=170)
    for written, page in (("1r", "1r"), ("012v", "12v"), ('"3 recto"', "3r")):
        book = parse_plan(f"{plan}spaces: [{{id: x, kind: border, at: {{page: {written}}}}}]\n", "book.yaml").finish()
        assert book.spaces[0].at.page == page
