"""Letters on paper: widths, breaking, and letters the typeface lacks."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from reportlab.lib.utils import simpleSplit

from copydesk.papers import fonts

WORDS = st.lists(st.text("abcdefghijklmnopqrstuvwxyzåéþ,.", min_size=1, max_size=14), max_size=60).map(" ".join)


@given(WORDS, st.integers(60, 160))
@settings(max_examples=60, deadline=None)
def test_lines_break_where_the_pdf_librarys_own_do(text: str, room: int) -> None:
    fonts.typeface()
    assert fonts.lines(text, 3.5, room) == (simpleSplit(text, fonts.ROMAN, 3.5, room) or [""])


def test_a_word_too_long_for_a_line_is_cut() -> None:
    lines = fonts.lines("a " + "m" * 50, 3, 20)
    assert lines[0] == "a"
    assert "".join(lines[1:]) == "m" * 50
    assert all(fonts.width(line, 3) <= 20 for line in lines)
    assert fonts.lines("mm", 3, 0.1) == ["m", "m"]


def test_text_is_cut_short_to_fit() -> None:
    assert fonts.fitting("reeds", 3, 50) == "reeds"
    short = fonts.fitting("when the reeds stand up again", 3, 30)
    assert short.endswith("…")
    assert fonts.width(short, 3) <= 30
    assert fonts.fitting("when", 3, 0.5) == "…"


@pytest.mark.parametrize(
    ("letter", "drawn"), [("ā", ["a", "¯"]), ("ǫ", ["o", "˛"]), ("n\u0304", ["n", "¯"]), ("Ē", ["E", "¯"])]
)
def test_an_accented_letter_is_built_from_its_parts(letter: str, drawn: list[str]) -> None:
    runs, wide = fonts.runs(letter, fonts.ROMAN)
    assert [run.text for run in runs] == drawn
    assert wide == pytest.approx(fonts.width(drawn[0], 1))
    middle = runs[1].across + fonts.width(drawn[1], 1) / 2
    assert middle == pytest.approx(wide / 2)


def test_accents_stand_higher_over_tall_letters() -> None:
    assert fonts.runs("Ā", fonts.ROMAN)[0][1].above > fonts.runs("ā", fonts.ROMAN)[0][1].above == 0


def test_a_letter_it_has_is_left_whole() -> None:
    assert fonts.runs("café", fonts.ROMAN)[0] == [fonts.Run("café", 0, 0)]
    assert fonts.runs("cafe\u0301", fonts.ROMAN)[0] == [fonts.Run("café", 0, 0)]


@given(st.text(max_size=20))
@settings(max_examples=150, deadline=None)
def test_any_text_can_be_measured(text: str) -> None:
    runs, wide = fonts.runs(text, fonts.BOLD)
    assert wide >= 0
    assert all(run.text.isprintable() for run in runs)
