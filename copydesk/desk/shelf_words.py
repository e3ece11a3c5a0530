"""What the shelf says. No Textual here."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.days import count_of
from copydesk.book.plain import plain

if TYPE_CHECKING:
    from collections.abc import Sequence

    from copydesk.ledger.gathering_report import GatheringReport

HOW = " enter open it   n new book   d copy of the shipped book   F1 help   q leave"
HOW_EMPTY = HOW.replace(" enter open it  ", "")

EMPTY = """ There is no book in this folder yet.

 n  sets a new book up: a few questions, and what follows from them beside
 d  copies the shipped book here, a year of a river keeper part of the way written, to look round in
"""


def book_row(title: str, folder: str, reports: Sequence[GatheringReport]) -> str:
    """A book in a line: its title, its folder, pages written and settled, what waits."""
    pages = sum(report.pages for report in reports)
    written = sum(report.written for report in reports)
    settled = sum(report.corrected for report in reports)
    faults = sum(report.faults for report in reports)
    spaces = sum(report.spaces for report in reports)
    filled = written * 16 // pages if pages else 0
    said = [f"{written} of {pages} written", f"{settled} settled"]
    if faults:
        said.append(f"{count_of(faults, 'fault')} open")
    if spaces:
        said.append(f"{count_of(spaces, 'space')} to fill")
    return plain(f" {title}  ({folder})  {'█' * filled}{'·' * (16 - filled)}  {', '.join(said)}")
