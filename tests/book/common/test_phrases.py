"""Days in words."""

from __future__ import annotations

from datetime import date

import pytest

from copydesk.book.common.phrases import (
    count_of,
    decimal,
    grouped,
    month_called,
    say_day,
    say_left,
    say_short,
    speak_as,
)
from copydesk.book.common.units import show_length

TODAY = date(2026, 11, 25)


def test_a_day_has_its_year_where_it_is_not_this_one() -> None:
    assert say_day(TODAY, TODAY) == "25 November"
    assert say_day(TODAY) == "25 November 2026"
    assert say_day(date(2027, 1, 4), TODAY) == "4 January 2027"
    assert say_short(TODAY, TODAY) == "25 Nov"
    assert say_short(date(2027, 5, 1), TODAY) == "1 May 2027"


@pytest.mark.parametrize(
    ("days", "said"),
    [(0, "today"), (1, "tomorrow"), (-1, "yesterday"), (5, "in 5 days"), (-5, "5 days ago")],
)
def test_how_far_off(days: int, said: str) -> None:
    assert say_left(days) == said


def test_counts() -> None:
    assert [count_of(1, "day"), count_of(2, "day"), count_of(0.5, "day"), count_of(0, "leaf", "leaves")] == [
        "1 day",
        "2 days",
        "0.5 days",
        "0 leaves",
    ]
    assert count_of(1, "leaf", "leaves") == "1 leaf"


def test_days_are_said_in_the_order_of_the_locale() -> None:
    """Long dates of CLDR: 25 November 2026 in en_GB, November 25, 2026 in en_US."""
    day = date(2026, 11, 25)
    try:
        speak_as("en_US.UTF-8")
        assert say_day(day) == "November 25, 2026"
        assert say_short(day, day) == "Nov 25"
    finally:
        speak_as("en_GB.UTF-8")
    assert say_day(day) == "25 November 2026"


def test_months_are_those_of_the_locale_where_the_system_has_them(monkeypatch: pytest.MonkeyPatch) -> None:
    import locale

    names = {getattr(locale, f"MON_{at}"): f"mois{at}" for at in range(1, 13)}
    names |= {getattr(locale, f"ABMON_{at}"): f"m{at}." for at in range(1, 13)}
    monkeypatch.setattr(locale, "setlocale", lambda *_: "C")
    monkeypatch.setattr(locale, "nl_langinfo", names.__getitem__)
    day = date(2026, 11, 25)
    try:
        speak_as("fr_FR.UTF-8")
        assert (say_day(day), say_short(day, day)) == ("25 mois11 2026", "25 m11")
        assert (month_called("mois11"), month_called("m1"), month_called("June")) == (11, 1, 6)
    finally:
        speak_as("")


def test_a_locale_the_system_has_not_keeps_english_months() -> None:
    try:
        speak_as("xx_YY.UTF-8")
        assert say_day(date(2026, 11, 25)) == "25 November 2026"
    finally:
        speak_as("")


def test_the_thousands_of_a_number_are_grouped() -> None:
    assert [grouped(number) for number in (7, 999, 11576, -1234567, 0.5, 2.0, 1234.5678)] == [
        *("7", "999", "11,576", "-1,234,567"),
        *("0.5", "2", "1,234.568"),
    ]
    assert count_of(11576, "line") == "11,576 lines"


@pytest.mark.parametrize(
    ("locale", "said"),
    [
        *[(point, ["33.8", "0.60", "1,234.5", "11,576"]) for point in ("", "C.UTF-8", "en_GB.UTF-8", "de_CH", "es_MX")],
        *[(comma, ["33,8", "0,60", "1\u00a0234,5", "11\u00a0576"]) for comma in ("de_DE.UTF-8", "it_IT@euro", "fr")],
    ],
)
def test_figures_have_the_marks_of_the_locale(locale: str, said: list[str]) -> None:
    """Decimal marks of CLDR; a space between thousands, as ISO 80000-1 (7.3) has it."""
    try:
        speak_as("", locale)
        assert [decimal(33.8), decimal(0.6, 2), grouped(1234.5), grouped(11576)] == said
        assert show_length(53.333) == said[0].replace("33", "53").replace("8", "33") + " mm"
    finally:
        speak_as("")
