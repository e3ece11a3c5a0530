"""Canons of page making."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.common.errors import CopydeskError
from copydesk.book.layout.canons import CANONS, canon, canon_named


@pytest.mark.parametrize("name", ["ninths", "Ninths", "van de Graaf", "Rosarivo", "  tschichold "])
def test_a_canon_answers_to_its_authors(name: str) -> None:
    assert canon_named(name) is CANONS["ninths"]


def test_the_recipes_name_may_be_written_loosely() -> None:
    assert canon_named("Saint Remi") is CANONS["saint-remi"]


def test_an_unknown_canon_is_refused_with_those_there_are() -> None:
    with pytest.raises(CopydeskError, match="choose one of ninths, johnston, saint-remi, or give the four margins"):
        canon("moonlight", 100, 150)


def test_every_canon_says_its_rule_and_source() -> None:
    for name, each in CANONS.items():
        assert each.name == name
        assert each.rule
        assert each.source


@given(st.sampled_from(list(CANONS)), st.floats(40, 600), st.floats(40, 600))
@settings(max_examples=100)
def test_every_canon_leaves_room_to_write(name: str, width: float, height: float) -> None:
    margins = canon(name, width, height).margins
    assert min(margins.inner, margins.head, margins.outer, margins.foot) > 0
    assert margins.inner + margins.outer < 0.75 * width
    assert margins.head + margins.foot < 0.75 * height
