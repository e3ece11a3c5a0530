"""Sheets from skins."""

from __future__ import annotations

import pytest

from copydesk.book.common.errors import CopydeskError
from copydesk.book.layout.page_layout import Rectangle
from copydesk.book.materials.skin_cutting import Slash, cutting_of, sheet_size, skins_to_order
from copydesk.book.plan import SkinPlan

SKIN = SkinPlan(700, 500, trim=5)


def test_a_sheet_is_two_page_widths_by_a_height_each_with_the_trim() -> None:
    assert sheet_size(170, 240, 5) == (345, 245)


def test_four_sheets_come_from_a_skin_of_the_usual_size() -> None:
    cutting = cutting_of(SKIN, 170, 240)
    assert cutting.count == 4
    assert cutting.sheets[0] == Rectangle(0, 0, 345, 245)
    assert cutting.cuts == (
        Slash(690, 0, 690, 500),
        Slash(0, 490, 690, 490),
        Slash(0, 245, 690, 245),
        Slash(345, 0, 345, 245),
        Slash(345, 245, 345, 490),
    )
    assert cutting.waste == pytest.approx(1 - 4 * 345 * 245 / (700 * 500))


def test_turning_sheets_pays_where_the_grain_is_free() -> None:
    skin = SkinPlan(656, 519)
    assert cutting_of(skin, 112, 376).count == 3
    assert cutting_of(skin._replace(grain="fixed"), 112, 376).count == 2


def test_a_sheet_that_lies_across_is_known() -> None:
    turned = cutting_of(SkinPlan(250, 350), 170, 240)
    assert turned.count == 1
    assert turned.lies_turned(turned.sheets[0])
    assert cutting_of(SkinPlan(250, 350, grain="fixed"), 170, 240).count == 0


def test_lengths_between_millimetres_are_kept() -> None:
    assert cutting_of(SkinPlan(355.6, 254, grain="fixed"), 88.9, 127).count == 4
    assert cutting_of(SkinPlan(355.5, 254, grain="fixed"), 88.9, 127).count == 2


@pytest.mark.parametrize(("folds", "sheets"), [(1, 1), (2, 2), (3, 4)])
def test_a_folded_skin_gives_two_four_or_eight_leaves(folds: int, sheets: int) -> None:
    cutting = cutting_of(SKIN._replace(folds=folds), 170, 240)
    assert cutting.count == sheets
    assert cutting.folds == folds
    assert len({(sheet.left, sheet.top) for sheet in cutting.sheets}) == sheets


def test_a_skin_folded_is_turned_only_where_the_grain_is_free() -> None:
    upright = SkinPlan(500, 700, trim=5, folds=3)
    assert cutting_of(upright, 170, 240).count == 4
    assert cutting_of(upright._replace(grain="fixed"), 170, 240).count == 0


def test_a_skin_too_small_to_be_folded_so_often_gives_nothing() -> None:
    assert cutting_of(SkinPlan(600, 500, trim=5, folds=3), 170, 240).count == 0


def test_figures_that_cannot_be_meant_are_refused() -> None:
    with pytest.raises(CopydeskError, match="more than 1000 sheets of 10 × 5 mm"):
        cutting_of(SkinPlan(700, 500), 5, 5)
    with pytest.raises(CopydeskError, match="above 0"):
        cutting_of(SkinPlan(700, 0), 170, 240)


@pytest.mark.parametrize(
    ("sheets", "a_skin", "spoilage", "skins"),
    [(0, 4, 0.1, 0), (16, 4, 0, 4), (17, 4, 0, 5), (16, 4, 0.1, 5), (36, 4, 0.1, 10), (40, 4, 0.5, 20), (1, 8, 0, 1)],
)
def test_whole_skins_are_ordered_so_that_enough_are_left(sheets: int, a_skin: int, spoilage: float, skins: int) -> None:
    assert skins_to_order(sheets, a_skin, spoilage) == skins


def test_an_order_that_cannot_be_met_is_refused() -> None:
    with pytest.raises(CopydeskError, match="smaller than one sheet"):
        skins_to_order(4, 0, 0.1)
    with pytest.raises(CopydeskError, match="leaves no skin"):
        skins_to_order(4, 4, 1)
