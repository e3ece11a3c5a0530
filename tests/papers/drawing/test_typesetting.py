"""Letters on paper: how they are set, widths, breaking, and letters the typeface lacks."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from reportlab.lib.utils import simpleSplit

from copydesk.papers.drawing import typesetting as fonts
from copydesk.papers.drawing.fonts import face, ink

WORDS = st.lists(st.text("abcdefghijklmnopqrstuvwxyzåéþ,.", min_size=1, max_size=14), max_size=60).map(" ".join)


def shown(text: str, font: str = fonts.ROMAN) -> str:
    return "".join(run.text for run in fonts.setting(text, font).runs)


@given(WORDS, st.integers(60, 160))
@settings(max_examples=60, deadline=None)
def test_lines_break_where_the_pdf_librarys_own_do(text: str, room: int) -> None:
    face(fonts.ROMAN)
    assert fonts.lines(text, 3.5, room) == (simpleSplit(text, fonts.ROMAN, 3.5, room) or [""])


def test_a_word_too_long_for_a_line_is_cut() -> None:
    lines = fonts.lines("a " + "m" * 50, 3, 20)
    assert lines[0] == "a"
    assert "".join(lines[1:]) == "m" * 50
    assert all(fonts.width(line, 3) <= 20 for line in lines)
    assert fonts.lines("mm", 3, 0.1) == ["m", "m"]


def test_a_mark_stays_with_its_letter_where_a_word_is_cut() -> None:
    parts = fonts.lines("n\u0304m\u0303" * 20, 3, 20)
    assert len(parts) > 1
    assert not any(unicodedata.combining(part[0]) for part in parts)


def test_text_is_cut_short_to_fit() -> None:
    assert fonts.fitting("reeds", 3, 50) == "reeds"
    short = fonts.fitting("when the reeds stand up again", 3, 30)
    assert short.endswith("…")
    assert fonts.width(short, 3) <= 30
    assert fonts.fitting("when", 3, 0.5) == "…"


@pytest.mark.parametrize("letter", ["ā", "ǫ", "Ē", "é", "e\u0301"])
def test_a_letter_the_face_has_is_left_whole(letter: str) -> None:
    whole = unicodedata.normalize("NFC", letter)
    assert fonts.setting(f"r{letter}d").runs == (fonts.TypeRun(f"r{whole}d", fonts.ROMAN),)


def test_letters_the_face_lacks_come_from_its_helpers() -> None:
    assert [(run.text, run.face) for run in fonts.setting("faꝛe ᛗon").runs] == [
        ("fa", "DejaVuSans"),
        ("ꝛ", "NotoSans-Regular"),
        ("e ", "DejaVuSans"),
        ("ᛗ", "Junicode-Regular"),
        ("on", "DejaVuSans"),
    ]
    assert fonts.setting("ꝛ", fonts.BOLD).runs[0].face == "NotoSans-Bold"
    assert fonts.setting("faꝛe ᛗon").lacking == ()


@pytest.mark.parametrize(("letter", "mark"), [("n", "\u0304"), ("m", "\u0303"), ("b", "\u0363"), ("i", "\u0366")])
def test_a_mark_stands_over_the_middle_of_its_letter_and_takes_no_room(letter: str, mark: str) -> None:
    base, over = fonts.setting(letter + mark).runs
    wide = fonts.width(letter, 1)
    drawn, below = ink(mark, over.face), ink(letter, base.face)
    middle = wide + base.after + (drawn.left + drawn.right) / 2
    assert middle == pytest.approx((below.left + below.right) / 2)
    assert base.after + over.after == pytest.approx(0)
    assert fonts.width(letter + mark, 1) == pytest.approx(wide)


def above(text: str) -> list[float]:
    return [run.above for run in fonts.setting(text).runs if unicodedata.combining(run.text[0])]


def test_marks_stand_higher_over_tall_letters_and_lower_under_long_ones() -> None:
    assert above("n\u0304") == pytest.approx([0], abs=0.02)
    assert above("b\u0304")[0] > 0.15
    assert above("q\u0331")[0] < -0.15
    assert above("b\u0338") == [0]


def test_marks_on_one_letter_stand_above_one_another() -> None:
    first, second = fonts.setting("n\u0304\u0363").runs[1:]
    assert ink("\u0363", second.face).low + second.above >= ink("\u0304", first.face).high + first.above


def test_a_letter_no_face_has_stands_by_its_code_point() -> None:
    found = fonts.setting("a 漢 b")
    assert shown("a 漢 b") == "a [U+6F22] b"
    assert found.lacking == ("漢",)
    assert found.width == pytest.approx(fonts.width("a [U+6F22] b", 1))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("\ue5d1", "[U+E5D1]"),
        ("\U0001f600", "[U+1F600]"),
        ("ש", "[U+05E9]"),
        ("ש\u0305", "[U+05E9][U+0305]"),
        ("n\u0f18", "n[U+0F18]"),
        ("\ud800", "[U+D800]"),
        ("☞\ufe0e", "☞"),
    ],
)
def test_no_letter_is_a_box(text: str, said: str) -> None:
    assert shown(text) == said
    assert fonts.fitting(text, 3, 80) == text
    assert bool(fonts.setting(text).lacking) == ("U+" in said)


@given(st.text(max_size=20))
@settings(max_examples=150, deadline=None)
def test_any_text_can_be_measured(text: str) -> None:
    found = fonts.setting(text, fonts.BOLD)
    assert found.width >= 0
    wide = 0.0
    for run in found.runs:
        used = face(run.face)
        assert run.text.isprintable()
        assert set(map(ord, run.text)) <= set(used.face.charToGlyph)
        wide += used.stringWidth(run.text, 1) + run.after * len(run.text)
    assert found.width == pytest.approx(wide)
