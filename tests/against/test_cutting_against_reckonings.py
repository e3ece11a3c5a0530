"""Sheets out of a skin against reckonings made outside the project.

Each row: skin width and height, sheet width and height, then the sheets all lying along, all lying turned, and the
most by cuts from edge to edge with both ways. The counts come from a separate exhaustive recursion over edge-to-edge
cuts, itself equal to trying every whole-millimetre cut in 150 of 150 cases. Three rows were also proved with OR-Tools
9.15 (CP-SAT, NoOverlap2D), and the first of them packed with rectpack 0.2.2.
"""

from __future__ import annotations

import pytest

from copydesk.book.materials.skin_cutting import cutting_of, skins_to_order
from copydesk.book.materials.skin_preparation import lead_days
from copydesk.book.plan import SkinPlan

ROWS = [
    (656, 519, 224, 376, 2, 2, 3),
    (677, 666, 390, 319, 2, 2, 2),
    (700, 500, 210, 148, 9, 8, 9),
    (855, 409, 563, 339, 1, 0, 1),
    (902, 754, 588, 134, 5, 6, 7),
    (768, 765, 201, 173, 12, 12, 14),
    (697, 605, 469, 281, 2, 2, 2),
    (584, 484, 418, 148, 3, 3, 4),
    (660, 563, 585, 336, 1, 0, 1),
    (780, 407, 305, 253, 2, 3, 3),
    (797, 438, 170, 300, 4, 4, 5),
    (882, 503, 487, 225, 2, 3, 3),
    (519, 718, 498, 397, 1, 1, 1),
    (836, 655, 272, 123, 15, 12, 15),
    (751, 564, 482, 400, 1, 1, 1),
    (700, 500, 297, 210, 4, 3, 4),
    (675, 485, 268, 150, 6, 4, 6),
    (737, 707, 486, 407, 1, 1, 1),
    (721, 707, 428, 149, 4, 4, 5),
    (559, 613, 531, 225, 2, 2, 2),
    (515, 415, 527, 270, 0, 0, 0),
    (760, 422, 479, 123, 3, 0, 3),
    (579, 430, 200, 158, 4, 6, 6),
    (564, 679, 430, 142, 4, 3, 4),
    (556, 505, 375, 241, 2, 2, 2),
    (932, 678, 424, 183, 6, 5, 7),
    (524, 608, 261, 309, 2, 2, 3),
    (805, 799, 196, 398, 8, 8, 8),
    (982, 615, 511, 354, 1, 2, 2),
    (864, 416, 172, 197, 10, 8, 10),
    (841, 513, 223, 186, 6, 8, 8),
    (527, 598, 398, 394, 1, 1, 1),
    (858, 441, 413, 153, 4, 5, 5),
    (610, 705, 397, 319, 2, 1, 2),
    (1000, 750, 360, 250, 6, 8, 8),
]


@pytest.mark.parametrize(("skin_w", "skin_h", "sheet_w", "sheet_h", "along", "turned", "best"), ROWS)
def test_sheets_of_a_skin(
    skin_w: int, skin_h: int, sheet_w: int, sheet_h: int, along: int, turned: int, best: int
) -> None:
    fixed = SkinPlan(skin_w, skin_h, grain="fixed")
    assert cutting_of(fixed, sheet_w / 2, sheet_h).count == along
    assert cutting_of(fixed, sheet_h / 2, sheet_w).count == turned
    assert cutting_of(SkinPlan(skin_w, skin_h), sheet_w / 2, sheet_h).count == best


@pytest.mark.parametrize(
    ("skin", "sheet", "along", "free"),
    [
        ((700, 500), (297, 210), 4, 4),  # both proved OPTIMAL by CP-SAT
        ((1000, 750), (360, 250), 6, 8),  # both proved OPTIMAL by CP-SAT
        ((850, 620), (360, 250), 4, 5),  # 5 also by rectpack's best of seven
        ((22, 16), (5, 3), 20, 22),  # CP-SAT lays 23, but not so that a knife can part them
        ((40, 25), (7, 3), 40, 46),
    ],
)
def test_no_free_layout_beats_the_cutting_by_more_than_is_known(
    skin: tuple[int, int], sheet: tuple[int, int], along: int, free: int
) -> None:
    assert cutting_of(SkinPlan(*skin, grain="fixed"), sheet[0] / 2, sheet[1]).count == along
    assert cutting_of(SkinPlan(*skin), sheet[0] / 2, sheet[1]).count == free


@pytest.mark.parametrize(("folds", "leaves"), [(1, 2), (2, 4), (3, 8)])
def test_leaves_of_a_folded_skin(folds: int, leaves: int) -> None:
    # F. Déroche and others, Islamic Codicology (2006), "The quires of a codex": folded once, twice, thrice gives 2, 4,
    # 8 leaves; a young calf gives 2 leaves of a large folio, 4 of a quarto, 8 of an octavo (Vísindavefurinn 85459).
    assert cutting_of(SkinPlan(700, 500, folds=folds), 170, 240).count * 2 == leaves


def test_one_sheet_a_skin() -> None:
    # Codex Amiatinus, 1,030 leaves of one sheet a skin: about 515 skins (Bruce-Mitford, quoted at michaeldrout.com).
    assert skins_to_order(1030 // 2, 1, 0) == 515


def test_days_of_the_old_recipe() -> None:
    # The recipe of the "Schedula" kind as usually given: soak 1, lime 8 (16 in winter), lime again 8, clean water 2,
    # so 19 days to the frame; shaved, 2 days; pumiced and finished, 2 days: 23 in all, 31 in winter.
    to_the_frame = {"soak": 1, "lime": 8, "second lime": 8, "rinse": 2}
    summer = {**to_the_frame, "frame": 2, "finish": 2}
    assert lead_days(to_the_frame) == 19
    assert lead_days(summer) == 23
    assert lead_days({**summer, "lime": 16}) == 31
