"""A stretch and its remedies in short, for tables and lists."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.days import count_of
from copydesk.book.page import Page

if TYPE_CHECKING:
    from copydesk.book.book import Book
    from copydesk.ledger.remedies import Remedy
    from copydesk.ledger.stretches import Need


def need_in_short(need: Need, book: Book) -> str:
    """How the text of a stretch stands to its room: ``2r to 3v: 4 lines over; 36.2 letters a line needed (hard)``."""
    last = "the end of the book" if not need.held else book.named(Page.at(need.last))
    pages = f"{book.named(Page.at(need.first))} to {last}" if need.first != need.last or not need.held else last
    if need.over == 0:
        return f"{pages}: the text just fills its room"
    said = f"{pages}: {over_words(need.over)}; "
    if need.needed is None:
        return said + "no closeness of writing mends that"
    if f"{need.needed:.1f}" == f"{need.letters:.1f}":
        way = "a hair closer than" if need.over > 0 else "as"
        return f"{said}write {way} {need.hand} does, {need.letters:.1f} letters a line ({need.verdict})"
    return f"{said}{need.needed:.1f} letters a line needed, {need.hand} writes {need.letters:.1f} ({need.verdict})"


def over_words(over: int) -> str:
    """``3 lines over``, ``2 lines left``, ``it fits``."""
    if over == 0:
        return "it fits"
    lines = count_of(abs(over), "line")
    return f"{lines} over" if over > 0 else f"{lines} left"


def fit_words(remedy: Remedy) -> str:
    """What a remedy comes to: ``it fits (hard)``, ``2 lines over``."""
    said = over_words(remedy.over)
    if remedy.over > 0:
        return f"{said} still" if remedy.verdict != "impossible" else f"{said} still (impossible)"
    return f"{said} ({remedy.verdict})" if remedy.over == 0 or remedy.name in ("closer", "abbreviate") else said
