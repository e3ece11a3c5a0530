"""Text made harmless to show."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from copydesk.book.common.sanitize import sanitize


@pytest.mark.parametrize("text", ["", "the ford", "[red]not markup[/red]", "Łódź ſ æ 漢字", "e\u0301tude"])
def test_ordinary_text_stays(text: str) -> None:
    assert sanitize(text) == text


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("a\tb\nc\r\x0bd", "a b c  d"),
        ("\x1b[31mred\x1b[0m", "▫[31mred▫[0m"),
        ("\x07\x00\x9b", "▫▫▫"),
        ("abc\u202edef\u202c", "abcdef"),
        ("zero\u200bwidth\ufeff", "zerowidth"),
        ("no\u00a0break\u2003em", "no break em"),
        ("half \ud800 letter", "half ▫ letter"),
        ("soft\u00adhyphen", "softhyphen"),
    ],
)
def test_what_a_terminal_would_obey_is_gone(text: str, shown: str) -> None:
    assert sanitize(text) == shown


@given(st.text(st.characters(), max_size=60))
def test_nothing_unprintable_is_left_and_nothing_more_is_done_the_second_time(text: str) -> None:
    shown = sanitize(text)
    assert shown.isprintable()
    assert sanitize(shown) == shown
    assert not any(unicodedata.category(letter) in ("Cc", "Cs", "Zl", "Zp") for letter in shown)
    assert len(shown) <= len(text)
