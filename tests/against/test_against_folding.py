"""One skin folded twice or thrice, against cell tables of an imposition tool: like faces like of itself."""

from __future__ import annotations

import pytest

from copydesk.book.structure.collation import Collation
from copydesk.book.structure.page import Page

# pdfimpose 2.10.0 hardcover -s 2x2 and -s 4x2, the pages of each side of the one sheet, rows from the top.
QUARTO = {"front": [5, 4, 8, 1], "back": [3, 6, 2, 7]}
OCTAVO = {"front": [5, 12, 9, 8, 4, 13, 16, 1], "back": [7, 10, 11, 6, 2, 15, 14, 3]}


@pytest.mark.parametrize("folded", [QUARTO, OCTAVO])
def test_a_folded_skin_is_a_regular_gathering(folded: dict[str, list[int]]) -> None:
    # All pages of one surface of the skin show one surface of an alternating gathering: the fold keeps the rule.
    collation = Collation.of_sizes([len(folded["front"])])
    shown = [{collation.place(Page.at(page - 1)).surface for page in folded[side]} for side in ("front", "back")]
    assert [len(surfaces) for surfaces in shown] == [1, 1]
    assert shown[0] != shown[1]
