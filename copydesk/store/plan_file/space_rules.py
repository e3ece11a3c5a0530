"""The reserved spaces can be: their ids differ, each is tied to one place, each has room in its column."""

from __future__ import annotations

from itertools import count
from typing import TYPE_CHECKING

from copydesk.book.common.units import show_length
from copydesk.book.layout.spaces import is_initial, takes_lines
from copydesk.book.plan import Columns, SpacePlan
from copydesk.store.plan_file.page_rules import unit_of
from copydesk.store.plan_file.text_rules import only

if TYPE_CHECKING:
    from copydesk.book.layout.page_layout import PageLayout
    from copydesk.store.plan_file.reading import Reading


_HAIR = 0.005
"""Less than a pen's line, in mm."""
_BESIDE = {"paragraph": "division", "column": "page", "line": "page"}


def check(reading: Reading, layout: PageLayout | None) -> None:
    """Note what is wrong with the spaces; their room is looked at where the page's ``layout`` is known."""
    _ids(reading)
    for at, space in reading.items(SpacePlan, "spaces"):
        if reading.sound("spaces", at, "at"):
            _anchor(reading, at, space)
        if reading.sound("spaces", at, "kind") and takes_lines(space.kind):
            _lines(reading, at, space, layout)
            _width(reading, at, space, layout)


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
            reading.say((*path, "id"), f"is {name}, as that of the space on line {line}; choose another")


def _anchor(reading: Reading, at: int, space: SpacePlan) -> None:
    path, anchor = ("spaces", at, "at"), space.at
    ties = [tie for tie in ("division", "word", "exemplar", "page") if getattr(anchor, tie) is not None]
    if len(ties) != 1:
        told = f"ties it to a {ties[0]} and a {ties[1]}" if ties else "ties it to nothing"
        reading.say(path, f"{told}; give one of division, word, exemplar or page")
        return
    for key, tie in _BESIDE.items():
        if getattr(anchor, key) is not None and tie not in ties:
            reading.say((*path, key), f"means something only beside {tie}: and stands beside {ties[0]}:; take it out")
    columns = reading.value(Columns, "columns") or Columns()
    if anchor.column is not None and reading.sound("columns") and anchor.column > columns.count:
        reading.say((*path, "column"), only(columns.count, "column"))


def _lines(reading: Reading, at: int, space: SpacePlan, layout: PageLayout | None) -> None:
    path = ("spaces", at, "lines")
    if not reading.sound(*path):
        return
    if not space.lines:
        reading.say(path[:2], f"is {_with_article(space.kind)} and says not how many lines it takes; write lines:")
    if layout is None or not reading.sound("spaces", at, "at"):
        return
    start = space.at.line or 1
    if start > layout.lines:
        reading.say(("spaces", at, "at", "line"), only(layout.lines, "line", " to a column"))
    elif start - 1 + space.lines > layout.lines:
        what = f"reaches line {start - 1 + space.lines} of a column that has {layout.lines}; make it smaller"
        reading.say(path, what)


def _width(reading: Reading, at: int, space: SpacePlan, layout: PageLayout | None) -> None:
    path = ("spaces", at, "width")
    if space.width is None or layout is None or not reading.sound(*path):
        return
    in_column = is_initial(space.kind) or space.across == "column"
    room = layout.measure if in_column else layout.written_width
    if space.width > room + _HAIR:
        unit = unit_of(reading)
        wide, there = show_length(space.width, unit), show_length(room, unit)
        reading.say(path, f"is {wide} where there are {there}; make it narrower")


def _with_article(kind: str) -> str:
    return f"{'an' if kind[0] in 'aeiou' else 'a'} {kind}"
