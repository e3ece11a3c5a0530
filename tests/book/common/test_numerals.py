"""Roman numerals, today's and the scribes': as books print and write them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from copydesk.book.common.errors import InvalidValueError
from copydesk.book.common.numerals import LARGEST, is_roman, read_roman, roman

WRITTEN = {
    1: "i", 4: "iv", 5: "v", 9: "ix", 10: "x", 40: "xl", 49: "xlix", 50: "l", 90: "xc", 99: "xcix", 100: "c",
    400: "cd", 444: "cdxliv", 500: "d", 600: "dc", 900: "cm", 999: "cmxcix", 1000: "m", 1666: "mdclxvi",
    2026: "mmxxvi", 4999: "mmmmcmxcix",
}  # fmt: skip
BY_SCRIBES = {1: "j", 4: "iiij", 6: "vj", 9: "viiij", 14: "xiiij", 40: "xxxx", 90: "lxxxx", 400: "cccc", 3: "iij"}


@pytest.mark.parametrize(("number", "letters"), WRITTEN.items())
def test_a_number_is_written_and_read_as_today(number: int, letters: str) -> None:
    assert roman(number) == letters
    assert read_roman(letters) == read_roman(letters.upper()) == number


@pytest.mark.parametrize(("number", "letters"), BY_SCRIBES.items())
def test_a_number_is_written_and_read_as_scribes_did(number: int, letters: str) -> None:
    assert roman(number, scribal=True) == letters
    assert read_roman(letters) == number


@given(st.integers(1, LARGEST), st.booleans())
def test_what_is_written_reads_as_the_same_number(number: int, scribal: bool) -> None:
    assert read_roman(roman(number, scribal=scribal)) == number


@pytest.mark.parametrize("number", [0, -3, 5000])
def test_a_number_out_of_reach_is_refused(number: int) -> None:
    with pytest.raises(InvalidValueError, match=f"{number} cannot be written in roman numerals; .* from 1 to 4999"):
        roman(number)


@pytest.mark.parametrize("text", ["", "iiiii", "vv", "ic", "xm", "abc", "ⅳ", "jx", "ivj", "mmmmm", "x v"])
def test_what_is_no_numeral_is_refused(text: str) -> None:
    assert not is_roman(text)
    with pytest.raises(InvalidValueError, match="is not a roman numeral"):
        read_roman(text)
