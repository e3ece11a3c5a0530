"""Several pages, sheets or spaces named at once: ``17v-24v``, ``9r,10v``, ``sheet:3.2``, ``gathering:3``."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.errors import InvalidValueError, UnknownNameError
from copydesk.book.layout.passes import TAKES
from copydesk.book.structure.page import Page
from copydesk.book.structure.sheets import find_sheet, pile
from copydesk.tracking.ledger.entry_kinds import SHEET_PLACES
from copydesk.tracking.views.page_lookup import expect_page

if TYPE_CHECKING:
    from copydesk.tracking.state.book_state import BookState


PAGE_ACTS = ("ruled", "written", "checked", *TAKES)
"""What can be recorded of several pages at once; anything else is said of one page."""


def pages_of_sheet(state: BookState, name: str) -> list[Page]:
    """The pages of a sheet (``3.2``) in reading order."""
    return sorted(find_sheet(state.collation, name).pages())


def pages_of_gathering(state: BookState, number: int) -> list[Page]:
    """The pages of a gathering in reading order.

    Raises:
        UnknownNameError: where there is no such gathering.
    """
    if not 1 <= number <= len(state.collation.gatherings):
        raise UnknownNameError(f"there is no gathering {number}; the book has {len(state.collation.gatherings)}")
    leaves = state.collation.leaf_numbers(number)
    return [Page.at(index) for index in range(2 * leaves.start - 2, 2 * leaves.stop - 2)]


def each_place(state: BookState, where: str, what: str) -> list[str]:
    """The single places that ``where`` names for the act ``what``, each as the act takes it, none twice.

    Pages come in reading order, the sheets of a gathering from the outside in.

    Raises:
        CopydeskError: where a place does not exist, or the act is said of one place only.
    """
    found = [place for part in where.split(",") for place in _places(state, part.strip(), what)]
    places = list(dict.fromkeys(found))
    kinds = {place.partition(":")[0] if ":" in place else "page" for place in places}
    if len(places) > 1 and kinds == {"page"} and what not in PAGE_ACTS:
        raise InvalidValueError(f"{what} is recorded of one page at a time; {', '.join(PAGE_ACTS)} take several")
    if len(places) > 1 and not kinds <= {"page", "sheet", "space"}:
        raise InvalidValueError(f"{what} is recorded of one thing at a time; name one of {where}")
    return places


def _places(state: BookState, part: str, what: str) -> list[str]:
    kind, colon, name = part.partition(":")
    if colon and kind == "sheet" and what in PAGE_ACTS:
        return list(map(state.book.named, pages_of_sheet(state, name)))
    if colon and kind == "gathering" and name.isdecimal() and what in PAGE_ACTS:
        return list(map(state.book.named, pages_of_gathering(state, int(name))))
    if colon and kind == "gathering" and name.isdecimal() and what in SHEET_PLACES:
        pages_of_gathering(state, int(name))
        return [f"sheet:{sheet.name}" for sheet in reversed(pile(state.collation, int(name)))]
    first, dash, last = part.replace("–", "-").partition("-")
    if colon or not dash or what not in PAGE_ACTS:
        return [part]
    one, other = state.book.page_called(first.strip()), state.book.page_called(last.strip())
    expect_page(state, other)
    if other < one:
        raise InvalidValueError(f"{part} runs backwards; write {last.strip()}-{first.strip()}")
    return [state.book.named(Page.at(index)) for index in range(one.index, other.index + 1)]
