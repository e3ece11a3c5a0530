"""Roman numerals against the PyPI package ``roman`` (by M. Pilgrim), itself equal to libxslt's ``xsl:number``."""

from __future__ import annotations

import pytest
import roman as by_others
from hypothesis import given
from hypothesis import strategies as st

from copydesk.book.common.errors import CopydeskError
from copydesk.book.common.numerals import LARGEST, is_roman, read_roman, roman
from copydesk.book.structure.foliation import page_label, read_page_label
from copydesk.book.structure.page import Page


def test_every_number_as_another_library_writes_it() -> None:
    for number in range(1, LARGEST + 1):
        written = by_others.toRoman(number)
        assert roman(number) == written.lower()
        assert read_roman(written) == number


# Forms of the hands, from memory: the i repeated up to four times, the last of them long.
SCRIBAL = {1: "j", 2: "ij", 3: "iij", 4: "iiij", 6: "vj", 9: "viiij", 14: "xiiij", 40: "xxxx", 90: "lxxxx", 100: "c"}


@pytest.mark.parametrize("number", SCRIBAL)
def test_scribal_forms(number: int) -> None:
    assert roman(number, scribal=True) == SCRIBAL[number]
    assert read_roman(SCRIBAL[number]) == number


@pytest.mark.parametrize(("text", "number"), [("IIII", 4), ("VIIII", 9), ("XXXX", 40), ("iiij", 4), ("xlj", 41)])
def test_forms_the_library_refuses_and_scribes_wrote(text: str, number: int) -> None:
    with pytest.raises(by_others.InvalidRomanNumeralError):
        by_others.fromRoman(text.upper())
    assert read_roman(text) == number


@given(st.text("ivxlcdmjIVXLCDMJ", max_size=8))
def test_what_the_library_reads_we_read_alike(text: str) -> None:
    try:
        number = by_others.fromRoman(text.upper())
    except by_others.InvalidRomanNumeralError:
        # We read more only where a letter stands four times or the last i is long.
        assert not is_roman(text) or text[-1] in "jJ" or any(letter * 4 in text.lower() for letter in "ixc")
    else:
        assert read_roman(text) == number


@given(st.integers(1, LARGEST))
def test_scribal_form_reads_back(number: int) -> None:
    assert read_roman(roman(number, scribal=True)) == number


@pytest.mark.parametrize("text", ["", "iix", "vv", "ivi", "jv", "ijj", "mmmmm", "abc", "ⅷ", "x x"])
def test_no_numeral_is_refused(text: str) -> None:
    with pytest.raises(CopydeskError, match="is not a roman numeral"):
        read_roman(text)


@pytest.mark.parametrize("number", [0, -1, 5000])
def test_number_out_of_reach_is_refused(number: int) -> None:
    with pytest.raises(CopydeskError, match="from 1 to 4999"):
        roman(number)


@pytest.mark.parametrize("leaf", range(1, 400, 7))
def test_leaf_in_roman(leaf: int) -> None:
    page = Page.parse(f"{leaf}v")
    assert page_label(page, "roman") == f"{by_others.toRoman(leaf).lower()} v"
    assert read_page_label(f"{by_others.toRoman(leaf)} v", "roman") == page


@pytest.mark.parametrize("leaf", range(1, 400, 7))
def test_a_verso_written_on_is_read_only_where_it_makes_no_other_numeral(leaf: int) -> None:
    text = f"{by_others.toRoman(leaf)}v"
    try:
        by_others.fromRoman(text.upper())
    except by_others.InvalidRomanNumeralError:
        assert read_page_label(text, "roman") == Page.parse(f"{leaf}v")
    else:
        with pytest.raises(CopydeskError, match="or the verso of leaf"):
            read_page_label(text, "roman")
