"""``copydesk sheets BOOK``: which pages stand on which sheet, side and half."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.openings import sheets_as_data, unlike_openings, why_unlike
from copydesk.book.sheets import open_sheets
from copydesk.cli.book_argument import add_book, open_book
from copydesk.cli.exits import ExitCode
from copydesk.cli.output import give_json, say, table

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace

    from copydesk.book.sheets import OpenSide

SAYS = "Each sheet as it lies open: the pages on its outer and inner side, left and right, and the surface."
EXAMPLES = ("copydesk sheets my-book", "copydesk sheets my-book --json")


def add_arguments(parser: ArgumentParser) -> None:
    """The book and ``--json``."""
    add_book(parser)


def run(arguments: Namespace) -> ExitCode:
    """Give the sheets."""
    collation = open_book(arguments).standing.collation
    if arguments.json:
        give_json(sheets_as_data(collation))
        return ExitCode.DONE
    rows = [
        (f"{gathering.number}.{sheet.sheet}", *_side(sheet.outer), *_side(sheet.inner))
        for gathering in collation.gatherings
        for sheet in open_sheets(collation, gathering.number)
    ]
    table(("sheet", "outer left", "right", "surface", "inner left", "right", "surface"), rows)
    for opening in unlike_openings(collation):
        say(f"At {opening} hair faces flesh: {why_unlike(collation, opening)}.")
    return ExitCode.DONE


def _side(side: OpenSide) -> tuple[object, object, str]:
    return (side.left or "stub", side.right or "stub", side.surface.value)
