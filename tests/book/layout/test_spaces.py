"""Reserved spaces: the stages each needs, its room, where it is tied."""

from __future__ import annotations

from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from copydesk.book.layout import spaces
from copydesk.book.layout.page_frame import Shape
from copydesk.book.layout.page_layout import PageLayout
from copydesk.book.layout.space_stages import NEEDS, STAGES
from copydesk.book.materials.material_table import all_materials
from copydesk.book.plan import Anchor, Margins, SpaceKind, SpacePlan
from copydesk.book.text.exemplar import read_exemplar

LAYOUT = PageLayout(170.0, 240.0, Margins(18.0, 24.0, 36.0, 48.0), 2, 10.0, 28, 6.0)
AT = Anchor(division=1)
KINDS: tuple[SpaceKind, ...] = get_args(SpaceKind)


def plan(kind: SpaceKind = "miniature", lines: int = 0, **rest: object) -> SpacePlan:
    return SpacePlan("x", kind, AT, lines, **rest)  # type: ignore[arg-type]


def test_every_kind_says_what_it_needs() -> None:
    assert set(NEEDS) == set(KINDS)
    assert all(set(needed) <= set(STAGES) for needed in NEEDS.values())


@pytest.mark.parametrize(
    ("kind", "materials", "stages"),
    [
        ("miniature", (), ("drawn", "gilded", "coloured", "outlined")),
        ("miniature", ("azurite", "Shell Gold"), ("drawn", "coloured", "gilded", "outlined")),
        ("miniature", ("azurite", "gold leaf"), ("drawn", "gilded", "coloured", "outlined")),
        ("miniature", ("azurite", "gold leaf, 24 ct"), ("drawn", "gilded", "coloured", "outlined")),
        ("miniature", ("azurite", "shell gold (genuine)"), ("drawn", "coloured", "gilded", "outlined")),
        ("miniature", ("azurite", "yellow ochre"), ("drawn", "coloured", "outlined")),
        ("flourished initial", (), ("drawn", "coloured")),
        ("flourished initial", ("gold leaf", "minium"), ("drawn", "gilded", "coloured")),
        ("rubric", ("vermilion",), ("coloured",)),
        ("line filler", (), ("coloured",)),
    ],
)
def test_a_space_is_gilded_if_a_metal_is_named(kind: SpaceKind, materials: tuple[str, ...], stages: object) -> None:
    assert spaces.stages_of(plan(kind, materials=materials), colour_first=False) == stages


def test_the_plan_has_the_last_word_on_stages_and_the_workshop_on_their_order() -> None:
    own = plan("initial", stages=("outlined", "gilded", "coloured"), materials=("minium",))
    assert spaces.stages_of(own, colour_first=False) == ("gilded", "coloured", "outlined")
    assert spaces.stages_of(own, colour_first=True) == ("coloured", "gilded", "outlined")


@given(st.sampled_from(KINDS), st.booleans(), st.none() | st.sets(st.sampled_from(list(STAGES))))
def test_the_setting_moves_only_gold_and_colour(kind: SpaceKind, metal: bool, own: set[str] | None) -> None:
    wanted = plan(kind, materials=("gold",) if metal else (), stages=tuple(own) if own is not None else None)
    first, later = (spaces.stages_of(wanted, colour_first=each) for each in (False, True))
    assert sorted(first) == sorted(later)
    kept = [stage for stage in first if stage not in ("gilded", "coloured")]
    assert kept == [stage for stage in later if stage not in ("gilded", "coloured")]


@pytest.mark.parametrize("material", all_materials(), ids=lambda each: each.name)
def test_metals_are_those_of_the_table(material: object) -> None:
    for name in (material.name, *material.also):  # type: ignore[attr-defined]
        assert spaces.is_metal(name) == (material.kind == "metal"), name  # type: ignore[attr-defined]


@pytest.mark.parametrize(
    ("made", "lines", "size"),
    [
        (plan("miniature", 12), 12, (53.0, 72.0)),
        (plan("miniature", 12, across="all"), 12, (116.0, 72.0)),
        (plan("miniature", 5, width=40.0), 5, (40.0, 30.0)),
        (plan("initial", 4), 4, (24.0, 24.0)),
        (plan("initial", 4, width=9.0), 4, (9.0, 24.0)),
        (plan("initial", 20), 20, (53.0, 120.0)),
        (plan("border"), 0, (170.0, 240.0)),
        (plan("rubric"), 0, (53.0, 6.0)),
    ],
)
def test_sizes_are_those_of_the_ruled_page(made: SpacePlan, lines: int, size: tuple[float, float]) -> None:
    assert spaces.size_mm(made, lines, LAYOUT) == size


@given(st.sampled_from(KINDS), st.integers(1, 28), st.sampled_from(["column", "all"]))
def test_only_what_takes_room_has_a_shape(kind: SpaceKind, lines: int, across: str) -> None:
    shape = spaces.shape_of(plan(kind, lines, across=across), LAYOUT)
    assert shape.lines == (lines if spaces.takes_lines(kind) else 0)
    assert (shape.share > 0.0) == spaces.is_initial(kind)
    assert shape.share <= 0.8
    assert shape.across == (kind in ("miniature", "contents") and across == "all")


def test_what_takes_no_room_and_is_tied_to_no_page_goes_with_its_text() -> None:
    assert [kind for kind in KINDS if spaces.goes_with_text(plan(kind))] == ["border", "line filler", "rubric"]
    assert not spaces.goes_with_text(plan("border")._replace(at=Anchor(page="1r")))


def test_where_each_tie_leads() -> None:
    text = read_exemplar("{1r} w0 w1\n\nw2 {1r 4} w3\n\n# w4\n\nw5\n")
    ties = {
        "division": Anchor(division=2),
        "paragraph": Anchor(division=1, paragraph=2),
        "word": Anchor(word=1),
        "exemplar": Anchor(exemplar="1r 4"),
        "beyond": Anchor(division=9),
        "unnoted": Anchor(exemplar="1r 5"),
        "page": Anchor(page="1r"),
    }
    plans = [SpacePlan(name, "miniature", at, 3) for name, at in ties.items()]
    assert spaces.anchor_words(plans, text, {}) == {"division": 4, "paragraph": 2, "word": 1, "exemplar": 3}


def test_a_counted_text_knows_where_divisions_begin() -> None:
    assert spaces.anchor_word(plan()._replace(at=Anchor(division=2, paragraph=3)), None, {1: 0, 2: 240}) == 240


def test_on_a_page_a_space_stands_at_its_head_unless_told() -> None:
    shape = Shape("x", 5, False, 0.0)
    assert spaces.placed_on_page(plan()._replace(at=Anchor(page="1r")), shape)[1:4] == (1, 1, 5)
    assert spaces.placed_on_page(plan()._replace(at=Anchor(page="1r", column=2, line=7)), shape)[1:4] == (2, 7, 5)
    across = spaces.placed_on_page(plan()._replace(at=Anchor(page="1r", column=2)), shape._replace(across=True))
    assert across.column == 0
