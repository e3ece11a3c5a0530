"""The page laid out."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.common.errors import CopydeskError
from copydesk.book.layout.page_layout import PageLayout, Rectangle, lay_out, place_of, script_unit
from copydesk.book.plan import Columns, Margins, PageSize, Ruling, Script
from copydesk.book.structure.page import Side

PAGE = PageSize(170, 240, Margins(inner=18, head=24, outer=36, foot=48))
TWO = Columns(2, 10)
LINES = Ruling(32)
NO_SCRIPT = Script()
SMALL_HAND = Script("small", nib=0.5, x_height=4.5, ascender=3, descender=3)


def laid(
    page: PageSize = PAGE, columns: Columns = TWO, ruling: Ruling = LINES, script: Script = NO_SCRIPT
) -> PageLayout:
    return lay_out(page, columns, ruling, script)


def test_margins_leave_the_written_space() -> None:
    layout = laid()
    assert (layout.written_width, layout.written_height) == (116, 168)
    assert layout.measure == 53
    assert layout.line_height == 5.25
    assert layout.lines_a_page == 64


def test_columns_lie_mirrored_on_recto_and_verso() -> None:
    layout = laid()
    assert layout.column_lefts(Side.RECTO) == (18, 81)
    assert layout.column_lefts(Side.VERSO) == (36, 99)
    assert layout.bounding == (18, 71, 81, 134)


def test_below_the_top_line_one_more_line_is_ruled_than_written() -> None:
    layout = laid()
    assert len(layout.baselines) == 32
    assert len(layout.ruled) == 33
    assert layout.ruled[0] == 24
    assert layout.baselines[0] == 29.25
    assert layout.ruled[-1] == layout.baselines[-1] == 192


def test_above_the_top_line_as_many_lines_are_ruled_as_written() -> None:
    layout = laid(ruling=Ruling(32, first_line="above"))
    assert layout.ruled == layout.baselines == laid().baselines


def test_prickings_are_places_from_the_head_and_from_the_fold() -> None:
    pricked = laid().prickings
    assert pricked["vertical"] == [18, 71, 81, 134]
    assert pricked["horizontal"][:3] == [24, 29.25, 34.5]
    assert len(pricked["horizontal"]) == 33


def test_columns_that_touch_share_a_bounding_line() -> None:
    assert laid(columns=Columns(2, 0)).prickings["vertical"] == [18, 76, 134]


def test_a_ruling_unit_gives_as_many_lines_as_fit() -> None:
    layout = laid(ruling=Ruling(unit=5.5))
    assert (layout.lines, layout.line_height) == (30, 5.5)
    assert laid(ruling=Ruling(unit=5.6)).lines == 30  # 168 / 5.6 falls a hair short of 30 in floating point
    assert laid(ruling=Ruling(unit=168)).lines == 1


def test_lines_and_unit_together_must_fit() -> None:
    layout = laid(ruling=Ruling(lines=20, unit=5))
    assert (layout.lines, layout.line_height, layout.baselines[-1]) == (20, 5, 124)
    with pytest.raises(CopydeskError, match="40 lines of 5 mm need 200 mm, but the written height is 168 mm"):
        laid(ruling=Ruling(lines=40, unit=5))


def test_with_neither_the_script_gives_the_unit() -> None:
    assert script_unit(SMALL_HAND) == 5.25
    assert laid(ruling=Ruling(), script=SMALL_HAND).lines == 32
    assert laid(ruling=Ruling(), script=SMALL_HAND._replace(interline=1)).lines == 29


def test_a_line_has_its_room_above_its_baseline() -> None:
    layout = laid()
    assert layout.line_band(1) == (24, 29.25)
    assert layout.line_band(32)[1] == layout.baselines[-1]


def test_a_space_stands_at_the_head_of_its_first_line() -> None:
    layout = laid()
    size = (layout.measure, 12 * layout.line_height)
    assert place_of(layout, Side.RECTO, 2, 5, size) == Rectangle(81, 45, 53, 63)
    assert place_of(layout, Side.VERSO, 1, 1, (20, 21)) == Rectangle(36, 24, 20, 21)
    assert place_of(layout, Side.VERSO, 1, 1, (20, 21)).bottom == 45


def test_the_canon_gives_margins_and_where_it_has_one_the_gap() -> None:
    ninths = laid(page=PageSize(180, 270, Margins(canon="ninths")))
    assert (ninths.margins.inner, ninths.margins.foot, ninths.margins.canon) == (20, 60, "ninths")
    recipe = PageSize(240, 300, Margins(canon="saint-remi"))
    assert laid(page=recipe, columns=Columns(2)).gap == pytest.approx(11.43, abs=0.01)
    assert laid(page=recipe, columns=Columns(2, 9)).gap == 9
    assert laid(page=recipe, columns=Columns(1)).gap == 0


@pytest.mark.parametrize(
    ("changed", "why"),
    [
        ({"page": PageSize(0, 240, PAGE.margins)}, "width and a height above 0"),
        ({"page": PageSize(170, 240, Margins(90, 24, 90, 48))}, "inner and outer margins together take 180 mm"),
        ({"page": PageSize(170, 240, Margins(18, 120, 36, 120))}, "head and foot margins together take 240 mm"),
        ({"page": PageSize(170, 240, Margins(-1, 24, 36, 48))}, "margin cannot be less than 0"),
        ({"page": PageSize(170, 240, Margins(canon="golden"))}, "no canon is called 'golden'"),
        ({"columns": Columns(0)}, "at least one column"),
        ({"columns": Columns(2, -1)}, "gap of columns cannot be less"),
        ({"columns": Columns(2, 116)}, "2 columns with 116 mm between them do not go into"),
        ({"columns": Columns(30)}, "30 columns"),
        ({"ruling": Ruling(0)}, "at least one ruled line"),
        ({"ruling": Ruling(unit=0)}, "ruling unit must be above 0"),
        ({"ruling": Ruling(unit=169)}, "no line of 169 mm goes into a written height of 168 mm"),
        ({"ruling": Ruling(5000)}, "5000 lines would stand 0.03 mm apart"),
        ({"ruling": Ruling()}, "nothing says how the page is ruled"),
        ({"ruling": Ruling(), "script": Script(nib=0)}, "nothing says how the page is ruled"),
    ],
)
def test_a_page_that_cannot_be_is_refused(changed: dict[str, object], why: str) -> None:
    with pytest.raises(CopydeskError, match=why):
        laid(**changed)  # type: ignore[arg-type]


def test_all_that_is_wrong_with_the_margins_is_said_at_once() -> None:
    with pytest.raises(CopydeskError) as refused:
        laid(page=PageSize(50, 50, Margins(30, 30, 30, 30)))
    assert len(refused.value.problems) == 2


@given(
    st.floats(60, 400),
    st.floats(60, 500),
    st.tuples(*[st.floats(0.02, 0.24)] * 4),
    st.integers(1, 4),
    st.floats(0, 0.05),
    st.integers(1, 60),
    st.sampled_from(["below", "above"]),
)
@settings(max_examples=100)
def test_columns_gaps_and_margins_make_up_the_page(width, height, shares, count, gap, lines, first) -> None:  # type: ignore[no-untyped-def]
    inner, head, outer, foot = shares
    page = PageSize(width, height, Margins(inner * width, head * height, outer * width, foot * height))
    layout = laid(page, Columns(count, gap * width), Ruling(lines, first_line=first))
    across = layout.margins.inner + count * layout.measure + (count - 1) * layout.gap + layout.margins.outer
    assert across == pytest.approx(width)
    assert layout.ruled[-1] + layout.margins.foot == pytest.approx(height)
    assert len(layout.ruled) == lines + (first == "below")
    for recto, verso in zip(layout.column_lefts(Side.RECTO), reversed(layout.column_lefts(Side.VERSO)), strict=True):
        assert recto + layout.measure + verso == pytest.approx(width)
