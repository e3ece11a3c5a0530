"""A raw text looked at: what is found, and what is mended of it where a person asks."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from copydesk.book.common.errors import InvalidValueError
from copydesk.book.text.exemplar import read_exemplar
from copydesk.book.text.raw_text import look_over, mended

RAW = """\
CHAPTER I

He went _up the road_ and saw\tthe mar-
ket. [Illustration: a gate]

The Salt Road   12

Then \ufb01ne weather.

13

The Salt Road   14

Chapter II

More text here, and more.

The Salt Road   15
"""


def test_everything_that_is_no_text_to_copy_is_told_with_an_example_and_a_proposal() -> None:
    assert list(map(str, look_over(RAW))) == [
        'h: 2 lines that look like headings, as "CHAPTER I": make each a division',
        'n: 4 lines that look like page numbers or running heads, as "13": leave them out',
        'y: 1 word parted at a line\'s end, as "mar- ket.": join them',
        'i: 1 stretch between _ and _, as "_up the road_": take the marks out',
        'p: 1 note of a picture, as "[Illustration: a gate]": leave them out',
        't: 1 tab, as "U+0009": make each a space',
        'o: 1 odd character, as "U+FB01": write them plainly',
    ]


def test_what_is_asked_for_is_mended_and_nothing_else() -> None:
    assert mended(RAW, "") == RAW
    assert mended(RAW, "i") == RAW.replace("_up the road_", "up the road")
    whole = read_exemplar(mended(RAW, "hnyipto"))
    assert [division.title for division in whole.divisions] == ["CHAPTER I", "Chapter II"]
    assert " ".join(whole.words) == (
        "CHAPTER I He went up the road and saw the market. Then fine weather. Chapter II More text here, and more."
    )


@pytest.mark.parametrize(
    "text", ["Plain words.\n\nAnd more of them.\n", "# One\n\nI\n\nWords\n", "a snake_case_name\n", "", "Well-known\n"]
)
def test_a_clean_text_is_left_in_peace(text: str) -> None:
    assert not look_over(text)


@given(st.text(st.sampled_from("aI_[]- \n\t#1\ufb01\xad"), max_size=60), st.text("hnyipto", max_size=4))
def test_any_text_is_looked_at_and_mending_twice_is_mending_once_more_at_most(text: str, letters: str) -> None:
    look_over(text)
    assert isinstance(mended(text, letters), str)
    assert mended(text, "") == text


def test_marked_verses_that_differ_in_a_figure_alone_are_no_running_heads() -> None:
    assert not look_over("".join(f"| Tolber {number} and halmer went\n" for number in range(20)))


def test_running_heads_in_capitals_are_no_divisions() -> None:
    pages = "".join(f"Some words of the page.\n\nTHE SALT ROAD   {page}\n\n" for page in range(2, 7))
    text = f"CHAPTER I\n\n{pages}"
    assert [str(each).partition(",")[0] for each in look_over(text)] == [
        "h: 1 line that looks like a heading",
        "n: 5 lines that look like page numbers or running heads",
    ]
    assert [division.title for division in read_exemplar(mended(text, "h")).divisions] == ["CHAPTER I"]


def test_a_letter_that_stands_for_nothing_is_refused() -> None:
    assert mended(RAW, "h, i") == mended(RAW, "hi")
    with pytest.raises(InvalidValueError, match="'z' is no letter of what is mended in a text; write some of chnyipto"):
        mended(RAW, "hz")
