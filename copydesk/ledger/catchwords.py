"""Catchwords: at the foot of a gathering's last verso, the words the next one begins with as the text really fell."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.page import Page, Side
from copydesk.book.plain import plain

if TYPE_CHECKING:
    from copydesk.ledger.standing import Standing


class Catchword(NamedTuple):
    """A gathering's catchword: the page it stands on, its words, and the page that begins with them."""

    gathering: int
    page: Page
    words: str
    begins: Page


def catchwords(standing: Standing) -> dict[int, Catchword]:
    """The catchword of each gathering that has one, by the gathering's number."""
    found = (catchword_of(standing, gathering.number) for gathering in standing.collation.gatherings)
    return {each.gathering: each for each in found if each is not None}


def catchword_of(standing: Standing, gathering: int) -> Catchword | None:
    """A gathering's catchword; None for the last one, where the next bears no text, or its words are not known."""
    leaves = standing.collation.leaf_numbers(gathering)
    begins = _first_with_text(standing, gathering + 1)
    if not leaves or begins is None:
        return None
    words = first_words(standing, begins, standing.book.signing.catchwords)
    return Catchword(gathering, Page(leaves[-1], Side.VERSO), words, begins) if words else None


def first_words(standing: Standing, page: Page, count: int) -> str:
    """The first ``count`` words of a page as written or planned; the rest of a word broken before it counts as one."""
    budget = standing.budget.pages[page.index]
    return plain(" ".join(standing.copy.line_text(budget.start, budget.end).split()[:count]))


def _first_with_text(standing: Standing, gathering: int) -> Page | None:
    numbers = standing.collation.leaf_numbers(gathering)
    pages = (Page(leaf, side) for leaf in numbers for side in Side)
    return next((page for page in pages if _bears_text(standing, page)), None)


def _bears_text(standing: Standing, page: Page) -> bool:
    budget = standing.budget.pages[page.index]
    return budget.start < budget.end
