"""Page making against the handbooks: canons, lines cast off by hand, ruled and written lines, nib and script.

Johnston = E. Johnston, *Writing & Illuminating, & Lettering* (London, Hogg, 1906).
"""

from __future__ import annotations

import pytest

from copydesk.book.common.typed_values import read_length
from copydesk.book.layout.canons import canon
from copydesk.book.layout.page_layout import lay_out, script_unit
from copydesk.book.plan import Columns, Margins, PageSize, Ruling, Script


def inches(text: str) -> float:
    return read_length(f"{text} in")


def test_johnston_problem_one_thirteen_lines() -> None:
    # Johnston p. 94: 13 lines of 7/8 in. take 11 3/8; of a sheet 17 in. high 5 5/8 are left for head and foot.
    assert 13 * inches("7/8") == pytest.approx(inches("11 3/8"))
    head = inches("5 5/8") / 3
    page = PageSize(inches("13 1/2"), inches("17"), Margins(inches("2½"), head, inches("2½"), 2 * head))
    layout = lay_out(page, Columns(1), Ruling(unit=inches("7/8")), Script())
    assert layout.lines == 13
    assert layout.measure == pytest.approx(inches("8 1/2"))  # "13½ - 5 = 8½"


def test_johnston_problem_two_fourteen_lines() -> None:
    # Johnston p. 97: 3 verses of 4 lines and 2 blank ones at ¾ in. take 10½; 6½ of 17 in. are left.
    page = PageSize(inches("13½"), inches("17"), Margins(60, inches("2 1/6"), 60, inches("4 1/3")))
    layout = lay_out(page, Columns(1), Ruling(unit=inches("¾")), Script())
    assert layout.lines == 14
    assert layout.written_height == pytest.approx(inches("10½"))


def test_ninths_of_six_by_nine_inches() -> None:
    # Rosarivo 1947 and van de Graaf 1946 as given by lachuladesign.com: 2/3, 1, 1 1/3, 2 in.; the block 4 by 6.
    page = PageSize(inches("6"), inches("9"), Margins(canon="ninths"))
    layout = lay_out(page, Columns(1), Ruling(30), Script())
    assert layout.margins.inner == pytest.approx(inches("2/3"))
    assert layout.margins.head == pytest.approx(inches("1"))
    assert layout.margins.outer == pytest.approx(inches("1 1/3"))
    assert layout.margins.foot == pytest.approx(inches("2"))
    assert (layout.written_width, layout.written_height) == pytest.approx((inches("4"), inches("6")))


def test_ninths_on_a_page_of_two_to_three() -> None:
    # Tschichold 1953: margins 2:3:4:6 (inner, head, outer, foot) and the block as high as the page is wide.
    margins = canon("ninths", 200, 300).margins
    part = margins.inner / 2
    assert (margins.head, margins.outer, margins.foot) == pytest.approx((3 * part, 4 * part, 6 * part))
    assert 300 - margins.head - margins.foot == pytest.approx(200)


@pytest.mark.parametrize(("width", "height"), [(170, 240), (114.3, 177.8), (250, 250)])
def test_johnstons_margins(width: float, height: float) -> None:
    # Johnston p. 256 and fig. 70: about 1½ : 2 : 3 : 4, the margins "frequently half, or more" of the page.
    margins = canon("johnston", width, height).margins
    part = margins.head / 2
    assert (margins.inner, margins.outer, margins.foot) == pytest.approx((1.5 * part, 3 * part, 4 * part))
    written = (width - margins.inner - margins.outer) * (height - margins.head - margins.foot)
    assert written == pytest.approx(width * height / 2)


def test_the_recipe_of_saint_remi() -> None:
    # Paris, BnF lat. 11884, as given in the CEU Medieval Manuscript Manual, "Ruling" (after de Hamel 1992): page 5
    # high and 4 wide, written height 4; inner and lower margin each three times the outer margin and the gutter, and
    # a third wider than the upper. The fractions are what these words come to.
    given = canon("saint-remi", 4, 5)
    margins, gap = given.margins, given.gap
    assert gap == pytest.approx(4 / 21)
    assert (margins.inner, margins.foot, margins.head, margins.outer) == pytest.approx((4 / 7, 4 / 7, 3 / 7, 4 / 21))
    assert margins.inner == pytest.approx(3 * margins.outer)
    assert margins.foot == pytest.approx(margins.head * 4 / 3)
    assert 5 - margins.head - margins.foot == pytest.approx(4)


def test_the_recipe_on_a_page_of_300_by_240() -> None:
    # The same, worked for a page 300 high and 240 wide: 34.3, 34.3, 25.7, 11.4, 11.4, columns 91.4, height 240.
    layout = lay_out(PageSize(240, 300, Margins(canon="saint-remi")), Columns(2), Ruling(40), Script())
    margins = layout.margins
    assert (margins.inner, margins.foot, margins.head, margins.outer, layout.gap, layout.measure) == pytest.approx(
        (34.3, 34.3, 25.7, 11.4, 11.4, 91.4), abs=0.05
    )
    assert layout.written_height == pytest.approx(240)


def test_written_above_the_top_line() -> None:
    # Bodleian Libraries, MS. St. Amand 32 (medieval manuscripts catalogue): 37 lines written, 36 ruled, above the top
    # line: 36 spaces between 37 lines.
    page = PageSize(170, 240, Margins(18, 24, 36, 48))
    layout = lay_out(page, Columns(1), Ruling(37, first_line="above"), Script())
    assert len(layout.baselines) == 37
    assert len(layout.ruled) - 1 == 36
    assert layout.baselines[0] == layout.ruled[0]


def test_written_below_the_top_line() -> None:
    # Manuscript fragment mmfc-13267 (mmfc.be): 68 lines written, 69 ruled, below the top line.
    page = PageSize(245, 350, Margins(18, 24, 36, 48))
    layout = lay_out(page, Columns(4, 11), Ruling(68), Script())
    assert (len(layout.baselines), len(layout.ruled)) == (68, 69)
    assert layout.baselines[0] == layout.ruled[1]


@pytest.mark.parametrize(
    ("nib", "widths", "height"),
    [
        (1.2, 5, 6.0),  # Scribblers Ltd: William Mitchell no. 3 at five widths is 6 mm
        (2, 5, 10),  # 1-2-3 Calligraphy, ch. 6: italic with a 2 mm nib
        (3.5, 5, 17.5),  # the same with a 3.5 mm nib
    ],
)
def test_letter_heights_in_nib_widths(nib: float, widths: float, height: float) -> None:
    assert script_unit(Script(nib=nib, x_height=widths, ascender=0, descender=0)) == pytest.approx(height)


def test_the_ladder_of_italic() -> None:
    # A lesson in italic (vaxxine.com): 5 + 3 + 3 = 11 nib widths, a gap of 2.
    assert script_unit(Script(nib=1, x_height=5, ascender=3, descender=3, interline=2)) == 13
