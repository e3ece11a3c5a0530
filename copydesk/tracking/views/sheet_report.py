"""Every sheet of the book as it lies open, for other programs."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.columns import Cell, Column, Report, one_of, page_or_none, rows_of
from copydesk.book.structure.openings import unlike_openings
from copydesk.book.structure.sheets import open_sheets

if TYPE_CHECKING:
    from copydesk.book.structure.collation import Collation
    from copydesk.book.structure.gathering import Gathering
    from copydesk.book.structure.sheets import OpenSheet, OpenSide

SIDE: Report[OpenSide] = one_of(
    "sheets, a side",
    "One side of a sheet lying open.",
    Column("left", Cell.PAGE, "the page at the left; null where no leaf is", lambda side: page_or_none(side.left)),
    Column("right", Cell.PAGE, "the page at the right", lambda side: page_or_none(side.right)),
    Column("surface", Cell.TEXT, "hair or flesh", "surface.value"),
)
OPEN_SHEET: Report[OpenSheet] = rows_of(
    "sheets, a sheet",
    "One sheet of a gathering.",
    Column("sheet", Cell.NUMBER, "its number, 1 the outermost"),
    Column("outer", Cell.OBJECT, "its outer side", of=SIDE),
    Column("inner", Cell.OBJECT, "its inner side", of=SIDE),
)


GATHERING: Report[tuple[Collation, Gathering]] = rows_of(
    "sheets, a gathering",
    "One gathering.",
    Column("gathering", Cell.NUMBER, "its number", lambda pair: pair[1].number),
    Column("sheets", Cell.ROWS, "its sheets", lambda pair: open_sheets(pair[0], pair[1].number), of=OPEN_SHEET),
)
SHEETS: Report[Collation] = one_of(
    "sheets",
    "Which pages stand on which sheet, side and half.",
    Column("gatherings", Cell.ROWS, "the gatherings", lambda of: [(of, each) for each in of.gatherings], of=GATHERING),
    Column(
        "unlike_openings",
        Cell.TEXTS,
        "openings whose two pages show unlike surfaces, as 8v|9r",
        lambda of: [str(opening) for opening in unlike_openings(of)],
    ),
)
