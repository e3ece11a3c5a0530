"""The page as planned has room for its margins, columns and lines, and each reserved space has room on it."""

from __future__ import annotations

from itertools import count
from typing import TYPE_CHECKING

from copydesk.book.common.errors import CopydeskError, Problem
from copydesk.book.common.units import show_length
from copydesk.book.layout.canons import canon_named
from copydesk.book.layout.page_layout import lay_out
from copydesk.book.layout.spaces import is_initial, placed_on_page, shape_of, takes_lines
from copydesk.book.plan import Columns, Margins, PageSize, Ruling, Script, SpacePlan
from copydesk.store.plan_file.reference_rules import only

if TYPE_CHECKING:
    from copydesk.book.common.units import Unit
    from copydesk.book.layout.page_frame import Placement
    from copydesk.book.layout.page_layout import PageLayout
    from copydesk.store.plan_file.reading import Path, Reading


_MARGINS = ("page", "margins")
_ONE_LINE = Ruling(lines=1)
_LARGE = 10_000.0
_SIDES = ("inner", "head", "outer", "foot")
_HAIR = 0.005
"""Less than a pen's line, in mm."""
_BESIDE = {"paragraph": "division", "column": "page", "line": "page"}


def check(reading: Reading) -> None:
    """Note what is wrong with the page and the spaces; their room is looked at where the page has a layout."""
    layout = _page_layout(reading)
    _ids(reading)
    for at, space in reading.items(SpacePlan, "spaces"):
        if reading.sound("spaces", at, "at"):
            _anchor(reading, at, space, layout)
        if reading.sound("spaces", at, "kind") and takes_lines(space.kind):
            _lines(reading, at, space, layout)
            _width(reading, at, space, layout)
    if layout is not None:
        _lines_taken_twice(reading, layout)


def _page_layout(reading: Reading) -> PageLayout | None:
    """Note what is wrong with the page; gives its layout where it has one."""
    margins = reading.value(Margins, *_MARGINS)
    if margins is None or not reading.sound(*_MARGINS):
        return None
    _four_or_canon(reading, margins)
    page = reading.value(PageSize, "page")
    if page is None or not reading.sound("page"):
        _room_one_way(reading, margins)
        return None
    columns, ruling = reading.value(Columns, "columns") or Columns(), reading.value(Ruling, "ruling") or Ruling()
    script = reading.value(Script, "script") or Script()
    layout = _try(reading, _MARGINS, page, Columns(), _ONE_LINE, script)
    if layout is not None and reading.sound("columns"):
        layout = _try(reading, ("columns",), page, columns, _ONE_LINE, script)
    if layout is None or not (reading.sound("columns") and reading.sound("ruling") and reading.sound("script")):
        return None
    from_script = ruling.lines is None and ruling.unit is None and script.nib is not None
    return _try(reading, ("script" if from_script else "ruling",), page, columns, ruling, script)


def _room_one_way(reading: Reading, margins: Margins) -> None:
    """Where the page's width or height is wrong, look whether the margins have room the other way."""
    width, height = reading.value(float, "page", "width"), reading.value(float, "page", "height")
    if (width or height) and margins.canon is None and reading.sound(*_MARGINS):
        page = PageSize(width or _LARGE, height or _LARGE, margins)
        _try(reading, _MARGINS, page, Columns(), _ONE_LINE, Script())


def _four_or_canon(reading: Reading, margins: Margins) -> None:
    given = [side for side in _SIDES if (*_MARGINS, side) in reading.values]
    missing = [side for side in _SIDES if side not in given]
    if margins.canon is not None:
        if given:
            reading.reject(_MARGINS, f"are given by a canon and by {given[0]} too; take one of them out")
        try:
            canon_named(margins.canon)
        except CopydeskError as error:
            reading.reject_with((*_MARGINS, "canon"), str(error))
    elif missing:
        reading.reject(_MARGINS, f"have no {' and no '.join(missing)}; give inner, head, outer and foot, or a canon")


def unit_of(reading: Reading) -> Unit:
    """The unit lengths are shown in."""
    unit = reading.value(str, "unit")
    return "cm" if unit == "cm" else "in" if unit == "in" else "mm"


def _try(
    reading: Reading, path: Path, page: PageSize, columns: Columns, ruling: Ruling, script: Script
) -> PageLayout | None:
    try:
        return lay_out(page, columns, ruling, script, unit_of(reading))
    except CopydeskError as error:
        for problem in error.problems:
            reading.reject_with(path, problem.what)
        return None


def _ids(reading: Reading) -> None:
    """No two alike; those of spaces that are wrong elsewhere are looked at too."""
    first: dict[str, int] = {}
    for at in count():
        path = ("spaces", at)
        if path not in reading.places:
            return
        name = reading.value(str, *path, "id")
        if name is not None and first.setdefault(name, at) != at:
            line, _ = reading.places[("spaces", first[name])]
            reading.reject((*path, "id"), f"is {name}, as that of the space on line {line}; choose another")


def _anchor(reading: Reading, at: int, space: SpacePlan, layout: PageLayout | None) -> None:
    path, anchor = ("spaces", at, "at"), space.at
    ties = [tie for tie in ("division", "word", "exemplar", "page") if getattr(anchor, tie) is not None]
    if len(ties) != 1:
        fault = f"ties it to a {ties[0]} and a {ties[1]}" if ties else "ties it to nothing"
        reading.reject(path, f"{fault}; give one of division, word, exemplar or page")
        return
    for key, tie in _BESIDE.items():
        if getattr(anchor, key) is not None and tie not in ties:
            reading.reject((*path, key), f"means something only beside {tie}: and is beside {ties[0]}:; take it out")
    columns = reading.value(Columns, "columns") or Columns()
    if anchor.column is not None and reading.sound("columns") and anchor.column > columns.count:
        reading.reject((*path, "column"), only(columns.count, "column"))
    if anchor.line is not None and layout is not None and anchor.line > layout.lines:
        reading.reject((*path, "line"), only(layout.lines, "line", " to a column"))


def _lines(reading: Reading, at: int, space: SpacePlan, layout: PageLayout | None) -> None:
    path = ("spaces", at, "lines")
    if not reading.sound(*path):
        return
    if not space.lines:
        reading.reject(path[:2], f"is {_with_article(space.kind)} and says not how many lines it takes; write lines:")
    if layout is None or not reading.sound("spaces", at, "at"):
        return
    start = space.at.line or 1
    if start - 1 + space.lines > layout.lines:
        what = f"reaches line {start - 1 + space.lines} of a column that has {layout.lines}; make it smaller"
        reading.reject(path, what)


def _lines_taken_twice(reading: Reading, layout: PageLayout) -> None:
    """No two spaces tied to one page take the same lines, and one set below others ends within its column."""
    pages: dict[str, list[tuple[int, Placement]]] = {}
    for at, space in reading.items(SpacePlan, "spaces"):
        if space.at.page is None or not space.lines or not takes_lines(space.kind) or not reading.sound("spaces", at):
            continue
        beside = pages.setdefault(space.at.page, [])
        placed = placed_on_page(space, shape_of(space, layout), (each for _, each in beside))
        last, path = placed.from_line + placed.lines - 1, ("spaces", at, "at")
        other = next((each for each in beside if placed.meets(each[1])), None)
        if other is not None:
            kept = other[1]
            where = Problem(reading.file, *reading.places[("spaces", other[0])], f"space {kept.id}")
            taken = f"lines {kept.from_line} to {kept.from_line + kept.lines - 1} of {space.at.page}"
            reading.reject(
                path,
                f"gives it lines {placed.from_line} to {last}, and {taken} are kept at {where}; choose other lines",
            )
        elif last > layout.lines:
            reading.reject(
                path,
                f"sets it below the spaces before it on {space.at.page}, to line {last} of a column that has "
                f"{layout.lines}; choose another page or column",
            )
        beside.append((at, placed))


def _width(reading: Reading, at: int, space: SpacePlan, layout: PageLayout | None) -> None:
    path = ("spaces", at, "width")
    if space.width is None or layout is None or not reading.sound(*path):
        return
    in_column = is_initial(space.kind) or space.across == "column"
    room = layout.measure if in_column else layout.written_width
    if space.width > room + _HAIR:
        unit = unit_of(reading)
        wide, there = show_length(space.width, unit), show_length(room, unit)
        reading.reject(path, f"is {wide} where there are {there}; make it narrower")


def _with_article(kind: str) -> str:
    return f"{'an' if kind[0] in 'aeiou' else 'a'} {kind}"
