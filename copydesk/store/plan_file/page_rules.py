"""The page as planned can be: margins, columns and lines have room on it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.errors import Refused
from copydesk.book.layout.canons import canon_named
from copydesk.book.layout.page_layout import lay_out
from copydesk.book.plan import Columns, Margins, PageSize, Ruling, Script

if TYPE_CHECKING:
    from copydesk.book.common.units import Unit
    from copydesk.book.layout.page_layout import PageLayout
    from copydesk.store.plan_file.reading import Path, Reading


_MARGINS = ("page", "margins")
_ONE_LINE = Ruling(lines=1)
_LARGE = 10_000.0
_SIDES = ("inner", "head", "outer", "foot")


def check(reading: Reading) -> PageLayout | None:
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
            reading.say(_MARGINS, f"are given by a canon and by {given[0]} too; take one of them out")
        try:
            canon_named(margins.canon)
        except Refused as error:
            reading.tell((*_MARGINS, "canon"), str(error))
    elif missing:
        reading.say(_MARGINS, f"have no {' and no '.join(missing)}; give inner, head, outer and foot, or a canon")


def unit_of(reading: Reading) -> Unit:
    """The unit lengths are shown in."""
    unit = reading.value(str, "unit")
    return "cm" if unit == "cm" else "in" if unit == "in" else "mm"


def _try(
    reading: Reading, path: Path, page: PageSize, columns: Columns, ruling: Ruling, script: Script
) -> PageLayout | None:
    try:
        return lay_out(page, columns, ruling, script, unit_of(reading))
    except Refused as error:
        for problem in error.problems:
            reading.tell(path, problem.what)
        return None
