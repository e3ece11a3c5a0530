"""Sizes of paper against ISO 216 and the PDF library's own list."""

from __future__ import annotations

import pytest
from reportlab.lib import pagesizes

from copydesk.papers.drawing.paper_sheets import PAPERS


def test_a4_by_the_rule_of_iso_216() -> None:
    # ISO 216: A0 is 841 × 1189 mm; halve the longer side and round down, four times.
    short, long = 841, 1189
    for _ in range(4):
        short, long = long // 2, short
    assert (PAPERS["a4"].width, PAPERS["a4"].height) == (short, long)


@pytest.mark.parametrize(("name", "size"), [("a4", pagesizes.A4), ("letter", pagesizes.LETTER)])
def test_sizes_agree_with_reportlab(name: str, size: tuple[float, float]) -> None:
    paper = PAPERS[name]
    assert (paper.width * 72 / 25.4, paper.height * 72 / 25.4) == pytest.approx(size, abs=0.01)
