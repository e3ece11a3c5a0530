"""Which readings of a page are those that the book wants."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from copydesk.book.checks import WAYS, PageReading, ReadingRules, counted_readings, persons_for, ways_in_words

A_NEW_ONE = "a new reader each time"


def read(by: str, how: str = "silently", beside: str = "", *, read: bool = True) -> PageReading:
    return PageReading(by, how, beside, "", read, f"{by}{how}")


@pytest.mark.parametrize(
    ("ways", "by", "made", "left"),
    [
        (("silently",), "anyone", [read("A")], ()),
        (("silently", "silently"), "anyone", [read("A")], ("silently",)),
        (("silently", "silently"), "anyone", [read("A"), read("A")], ()),
        (("silently", "any way"), "anyone", [read("A"), read("A")], ()),
        (("any way", "silently"), "anyone", [read("A"), read("B", "by typing")], ()),
        (("aloud by two",), "anyone", [read("B", "aloud by two", "C")], ()),
        (("aloud by two",), "anyone", [read("B", "aloud by two")], ("aloud by two",)),
        (("aloud by two",), "anyone", [read("B", "aloud by two", "B")], ("aloud by two",)),
        (("aloud by two",), "anyone", [read("B", "silently")], ("aloud by two",)),
        (("any way",), "anyone", [read("B", "", read=False)], ("any way",)),
        (("any way",), "anyone", [read("B", "")], ()),
        (("silently",), "not a writer", [read("A")], ("silently",)),
        (("silently",), "not a writer", [read("B")], ()),
        (("silently", "silently"), "not a writer", [read("B"), read("B")], ()),
        (("silently", "silently"), A_NEW_ONE, [read("B"), read("B")], ("silently",)),
        (("silently", "silently"), A_NEW_ONE, [read("B"), read("A"), read("C")], ()),
        (("aloud by two",), "not a writer", [read("B", "aloud by two", "A")], ()),
    ],
)
def test_what_is_still_to_be_read_on_a_page_that_a_wrote(ways, by, made, left) -> None:
    assert counted_readings(ReadingRules(ways, by), made, ("A",))[1] == left


@given(
    st.lists(st.sampled_from(("any way", *WAYS)), max_size=4),
    st.lists(st.tuples(st.sampled_from("ABC"), st.sampled_from(("", *WAYS)), st.sampled_from(("", "D"))), max_size=6),
    st.sampled_from(("anyone", "not a writer", A_NEW_ONE)),
)
def test_each_reading_takes_one_place_and_a_stricter_rule_takes_no_more(ways, made, by) -> None:
    readings = [read(*each) for each in made]
    counted, left = counted_readings(ReadingRules(tuple(ways), by), readings, ("A",))
    assert len(counted) + len(left) == len(ways)
    assert set(counted) <= set(readings)
    assert len(left) >= len(counted_readings(ReadingRules(tuple(ways)), readings, ("A",))[1])
    if by != "anyone":
        assert all(each.by != "A" for each in counted)
    if by == A_NEW_ONE:
        assert len({each.by for each in counted}) == len(counted)


def test_a_reading_aloud_takes_two_people_and_is_told_so() -> None:
    assert persons_for(("silently", "aloud by two", "any way")) == 4
    assert ReadingRules().persons == 1
    assert ways_in_words(("any way", "silently", "any way")) == "2 in any way, silently"
