"""Loose sheets as they lie open: which page fills which half of which side, and the pile they make."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.errors import InvalidValueError, UnknownNameError
from copydesk.book.structure.gathering import SheetSide
from copydesk.book.structure.page import Page, Side, Surface

if TYPE_CHECKING:
    from collections.abc import Iterator

    from copydesk.book.structure.collation import Collation
    from copydesk.book.structure.gathering import Gathering, Half


class OpenSide(NamedTuple):
    """One side of an open sheet: the pages on it, None where no leaf stands, and the surface it shows."""

    left: Page | None
    right: Page | None
    surface: Surface

    @property
    def halves(self) -> tuple[Page | None, Page | None]:
        """What stands on its left half and on its right one."""
        return self.left, self.right


class OpenSheet(NamedTuple):
    """A loose sheet: its gathering, its number there, its two sides, and how deep it lies (0 outermost)."""

    gathering: int
    sheet: int
    outer: OpenSide
    inner: OpenSide
    depth: float

    @property
    def name(self) -> str:
        """``3.2``: sheet 2 of gathering 3."""
        return f"{self.gathering}.{self.sheet}"

    def side(self, side: SheetSide) -> OpenSide:
        """The side that is asked for."""
        return self.outer if side is SheetSide.OUTER else self.inner

    def pages(self) -> tuple[Page, ...]:
        """Its pages in reading order: four, or two of a single leaf."""
        pages = (self.outer.right, self.inner.left, self.inner.right, self.outer.left)
        return tuple(page for page in pages if page is not None)


def open_sheets(collation: Collation, gathering: int) -> tuple[OpenSheet, ...]:
    """The sheets of a gathering of which a leaf stands, by number; a leaf tipped in is a sheet with one half.

    Raises:
        CopydeskError: where the book has no such gathering.
    """
    return tuple(sorted(_sheets(collation, collation.gathering(gathering)), key=lambda sheet: sheet.sheet))


def pile(collation: Collation, gathering: int) -> tuple[OpenSheet, ...]:
    """The sheets as they lie in an open pile with the inner sides up: the innermost on top comes first.

    Raises:
        CopydeskError: where the book has no such gathering.
    """
    return tuple(sorted(open_sheets(collation, gathering), key=lambda sheet: -sheet.depth))


def find_sheet(collation: Collation, name: str) -> OpenSheet:
    """The sheet called ``name``, as in ``3.2``.

    Raises:
        CopydeskError: where the name has another form or the book has no such sheet.
    """
    gathering, dot, number = name.strip().partition(".")
    if not (dot and gathering.isdecimal() and number.isdecimal() and len(name) < 20):
        raise InvalidValueError(f"{name!r} does not name a sheet; write its gathering and its number in it, as in 3.2")
    sheets = open_sheets(collation, int(gathering))
    for sheet in sheets:
        if sheet.sheet == int(number):
            return sheet
    numbers = ", ".join(str(sheet.sheet) for sheet in sheets)
    raise UnknownNameError(f"there is no sheet {number} in gathering {gathering}; it has {numbers or 'none'}")


def _sheets(collation: Collation, gathering: Gathering) -> Iterator[OpenSheet]:
    fold = gathering.fold
    depths = gathering.depths()
    halves: dict[int, list[int]] = {}
    for at, half in enumerate(gathering.halves):
        if half.stands:
            halves.setdefault(half.sheet, []).append(at)
    for number, places in halves.items():
        front = next((gathering.halves[at] for at in places if at < fold), None)
        back = next((gathering.halves[at] for at in places if at >= fold), None)
        outside = front.recto if front else gathering.halves[places[0]].recto.other
        yield OpenSheet(
            gathering.number,
            number,
            OpenSide(_page(collation, back, Side.VERSO), _page(collation, front, Side.RECTO), outside),
            OpenSide(_page(collation, front, Side.VERSO), _page(collation, back, Side.RECTO), outside.other),
            depths[places[0]],
        )


def _page(collation: Collation, half: Half | None, side: Side) -> Page | None:
    number = collation.number_of(half.id) if half else None
    return None if number is None else Page(number, side)
