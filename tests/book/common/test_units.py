"""Lengths read and shown."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.common.errors import CopydeskError
from copydesk.book.common.typed_values import read_length, unit_said
from copydesk.book.common.units import MM_PER, Unit, show_length, show_size


@pytest.mark.parametrize(
    ("said", "unit"),
    [
        ("170", "mm"),
        ("170 mm", "mm"),
        ("17.5cm", "cm"),
        (" 7 in ", "in"),
        ("7 1/2 in.", "in"),
        ('7½"', "in"),
        ("x", "mm"),
    ],
)
def test_the_unit_a_length_is_written_in(said: str, unit: Unit) -> None:
    assert unit_said(said) == unit


@pytest.mark.parametrize(
    ("said", "length"),
    [
        (170, 170.0),
        (5.25, 5.25),
        (0, 0.0),
        ("170", 170.0),
        ("170 mm", 170.0),
        ("18 cm", 180.0),
        ("17.5cm", 175.0),
        (" 7 in ", 177.8),
        ("7 in.", 177.8),
        ("7 inches", 177.8),
        ('7"', 177.8),
        ("7 1/2 in", 190.5),
        ("7-1/2 in", 190.5),
        ("7½ in", 190.5),
        ("7 ½ in", 190.5),
        ("½ in", 12.7),
        ("7/8 in", 22.225),
        ("11/2 mm", 5.5),
        ("3⁄4 in", 19.05),
        ("2 MM", 2.0),
        (".5 mm", 0.5),
        ("5 Millimetres", 5.0),
    ],
)
def test_a_length_is_read_in_millimetres(said: object, length: float) -> None:
    assert read_length(said) == length


@pytest.mark.parametrize(
    "said",
    [
        None,
        True,
        "",
        "wide",
        "7 feet",
        "12 pt",
        "1,000 mm",
        "7 1/0 in",
        "1e3",
        "--5",
        [],
        "5 mm 3",
        "in",
        "٧ in",
        "1_000",
    ],
)
def test_what_is_no_length_is_refused_with_a_sentence(said: object) -> None:
    with pytest.raises(CopydeskError, match="is not a length; write millimetres"):
        read_length(said)


@pytest.mark.parametrize("said", [float("nan"), float("inf")])
def test_a_length_without_end_is_refused(said: float) -> None:
    with pytest.raises(CopydeskError, match="is not a length"):
        read_length(said)


@pytest.mark.parametrize(
    ("said", "why"),
    [(-1, "less than nothing"), (10_001, "ten metres"), ("500 in", "ten metres"), (1e300, "ten metres")],
)
def test_a_length_out_of_reason_is_refused(said: object, why: str) -> None:
    with pytest.raises(CopydeskError, match=why):
        read_length(said)


@pytest.mark.parametrize(
    ("length", "unit", "shown"),
    [
        (170, "mm", "170 mm"),
        (53.333, "mm", "53.33 mm"),
        (177.8, "cm", "17.78 cm"),
        (177.8, "in", "7 in"),
        (100, "mm", "100 mm"),
        (0.004, "mm", "0 mm"),
        (-0.004, "mm", "0 mm"),
        (190.5, "in", "7.5 in"),
    ],
)
def test_a_length_is_shown_in_the_books_unit(length: float, unit: Unit, shown: str) -> None:
    assert show_length(length, unit) == shown


def test_places_can_be_asked_for() -> None:
    assert show_length(5.26, "mm", places=1) == "5.3 mm"
    assert show_length(100, "mm", places=0) == "100 mm"


def test_a_size_says_its_unit_once() -> None:
    assert show_size(170, 240) == "170 × 240 mm"
    assert show_size(177.8, 254, "in") == "7 × 10 in"


@given(st.floats(0, 9000), st.sampled_from(list(MM_PER)))
@settings(max_examples=150)
def test_what_is_shown_reads_back_to_its_rounding(length: float, unit: Unit) -> None:
    places = {"mm": 2, "cm": 3, "in": 3}[unit]
    assert read_length(show_length(length, unit)) == pytest.approx(length, abs=MM_PER[unit] * 0.51 / 10**places)


@given(st.text(max_size=12))
@settings(max_examples=300)
def test_any_text_is_a_length_or_is_refused(text: str) -> None:
    try:
        assert 0 <= read_length(text) <= 10_000
    except CopydeskError as refused:
        assert len(refused.problems) == 1
