"""Numbers, times, lengths and days as people type them."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from copydesk.book.common.errors import InvalidValueError
from copydesk.book.common.phrases import speak_as
from copydesk.book.common.typed_values import (
    number_of,
    optional,
    read_day,
    read_hours,
    read_length,
    read_minutes,
    read_number,
    read_whole,
    whole_of,
)

READERS = (read_whole, read_number, read_minutes, read_hours, read_length, read_day)


@pytest.mark.parametrize(
    "text",
    [
        *("90", " 90 ", "90 min", "90min", "90 minutes", "90 m", "90.0", "90,0 min.", "1h30", "1 h 30", "1h 30 min"),
        *("1:30", "01:30", "1.5 h", "1,5h", "1.5 hours", "1 H 30 MIN", "1 hour 30 minutes"),
    ],
)
def test_ways_to_say_an_hour_and_a_half_in_minutes(text: str) -> None:
    assert read_minutes(text) == 90


@pytest.mark.parametrize("text", ["1.5", "1,5", "1.5 h", "1h30", "1:30", "90 min", "1 h 30 min"])
def test_ways_to_say_an_hour_and_a_half_in_hours(text: str) -> None:
    assert read_hours(text) == 1.5


def test_an_hour_without_minutes() -> None:
    assert (read_minutes("2h"), read_minutes("1h5"), read_hours("2"), read_minutes("7,5")) == (120, 65, 2, 7.5)


@pytest.mark.parametrize(
    "text",
    ["", "²", "٣", "1:5", "1:60", "1h60", "-5", "90 sec", "half", "1,000", "nan", "inf", "1e3", "1.5h30"],
)
@pytest.mark.parametrize("read", [read_minutes, read_hours])
def test_what_is_no_time(read: object, text: str) -> None:
    with pytest.raises(InvalidValueError, match=r"the time is .*, which is not a time; write .* as in"):
        read(text, "the time")  # type: ignore[operator]


def test_a_time_longer_than_anyone_works() -> None:
    with pytest.raises(InvalidValueError, match="--minutes is '9999999', which is longer than 100000 minutes"):
        read_minutes("9999999", "--minutes")


@pytest.mark.parametrize(("text", "number"), [("7,5", 7.5), ("7.5", 7.5), (" 12 ", 12), (".5", 0.5), ("0,125", 0.125)])
def test_a_number_has_a_point_or_a_comma(text: str, number: float) -> None:
    assert read_number(text) == number_of(text) == number


@pytest.mark.parametrize("text", ["", "1,000", "1.000.000", "1,5,0", "²", "-1", "1e5", "nan", "0x10", "1_000", "."])
def test_what_is_no_number(text: str) -> None:
    assert number_of(text) is None
    with pytest.raises(
        InvalidValueError, match=r"the pace is .* is not a number; write one in digits, as in 7\.5 or 7,5"
    ):
        read_number(text, "the pace")


def test_a_number_beyond_its_bounds() -> None:
    with pytest.raises(InvalidValueError, match=r"letters to a line cannot be 0\.5; give a number from 1 to 100"):
        read_number("0,5", "letters to a line", low=1, high=100)


@pytest.mark.parametrize("text", ["", "1.0", "-", "-3", "²", "٣", "thirty", "1 2", "1234567890123"])
def test_what_is_no_whole_number(text: str) -> None:
    assert whole_of(text) is None
    with pytest.raises(InvalidValueError, match=r"the line is .* is not a whole number; write one in digits, as in 12"):
        read_whole(text, "the line")


def test_a_length_may_have_a_comma() -> None:
    assert (read_length("17,5 cm"), read_length("7,5"), read_length("0,25 in")) == (175, 7.5, 6.35)
    with pytest.raises(InvalidValueError, match="the width is '1,000 mm', which is not a length"):
        read_length("1,000 mm", "the width")


@pytest.mark.parametrize("text", ["2027-01-04", " 2027-1-4 "])
def test_a_day(text: str) -> None:
    assert read_day(text) == date(2027, 1, 4)


@pytest.mark.parametrize(
    "text", ["", "soon", "2027-02-30", "04/01/2027", "30.2.2027", "4 Ja 2027", "20270104", "0001-01-01", "9999-01-01"]
)
def test_what_is_no_day(text: str) -> None:
    with pytest.raises(InvalidValueError, match=r"--ready-by is .* is not a day; write year, month and day"):
        read_day(text, "--ready-by")


def test_nothing_typed_is_no_value() -> None:
    assert optional(read_whole, "  ", "the line") is None
    assert optional(read_whole, "0", "the line") == 0


@given(st.integers(0, 1_000), st.integers(0, 59))
def test_every_spelling_of_a_time_is_the_same_time(hours: int, minutes: int) -> None:
    said = {f"{hours}:{minutes:02}", f"{hours}h{minutes:02}", f"{hours} h {minutes} min", f"{hours * 60 + minutes}"}
    assert {read_minutes(text) for text in said} == {hours * 60 + minutes}
    assert read_hours(f"{hours}h{minutes}") == pytest.approx(hours + minutes / 60)


@given(st.floats(0, 9_999, allow_nan=False).map(lambda value: round(value, 3)))
def test_a_comma_is_a_point(value: float) -> None:
    text = f"{value:.4f}"
    assert read_number(text.replace(".", ",")) == read_number(text) == pytest.approx(value)
    assert read_length(text.replace(".", ",")) == read_length(text)


@given(st.text(max_size=60))
def test_anything_is_read_or_refused_in_one_sentence_that_names_its_field(text: str) -> None:
    for read in READERS:
        try:
            read(text, "the field")
        except InvalidValueError as refused:
            (problem,) = refused.problems
            assert problem.what.startswith("the field ") and "\n" not in problem.what


@pytest.mark.parametrize(
    ("locale", "text"),
    [
        *(
            ("C", text)
            for text in ("2027-01-04", "4 January 2027", "4 jan 2027", "January 4, 2027", "4.1.2027", "04. 01. 2027")
        ),
        *(("en_GB.UTF-8", text) for text in ("4/1/2027", "04/01/2027")),
        *(("en_US.UTF-8", text) for text in ("1/4/2027", "Jan. 4 2027", "4.1.2027")),
    ],
)
def test_a_day_is_read_in_the_order_of_the_locale(locale: str, text: str) -> None:
    try:
        speak_as(locale)
        assert read_day(text) == date(2027, 1, 4)
    finally:
        speak_as("")
