"""What is written in a page's margins for the reader and the binder: its number, signature and catchword."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.sanitize import sanitize
from copydesk.book.structure.collation import Collation
from copydesk.book.structure.foliation import page_label
from copydesk.book.structure.page import Page, Side
from copydesk.book.structure.signatures import gathering_numbers, leaf_signatures

if TYPE_CHECKING:
    from copydesk.tracking.state.book_state import BookState


class PageMarks(NamedTuple):
    """A page's label as the book counts, its signature (or its gathering's number) and catchword, or empty texts."""

    label: str
    signature: str
    catchword: str


def page_marks(state: BookState, page: Page) -> PageMarks:
    """The marks of one page, by the book's habits of signing."""
    place = state.collation.place(page)
    last = page.leaf == state.collation.leaf_numbers(place.gathering)[-1]
    catchword = catchword_of(state, place.gathering) if last else None
    return PageMarks(
        page_label(page, state.book.signing.foliation),
        _signature(state, place.gathering, Page(place.leaf, page.side)),
        catchword.words if catchword is not None and catchword.page == page else "",
    )


def _signature(state: BookState, gathering: int, within: Page) -> str:
    """The signature of a page of one gathering, ``within`` counting its leaves from 1."""
    habit = state.book.signing.habit
    if habit == "none":
        return ""
    alone = Collation((state.collation.gathering(gathering),))
    marks = leaf_signatures(alone) if habit == "leaves" else gathering_numbers(alone)
    return marks.get(within, "")


class Catchword(NamedTuple):
    """A gathering's catchword: the page it stands on, its words, and the page that begins with them."""

    gathering: int
    page: Page
    words: str
    begins: Page


def catchwords(state: BookState) -> dict[int, Catchword]:
    """The catchword of each gathering that has one, by the gathering's number."""
    found = (catchword_of(state, gathering.number) for gathering in state.collation.gatherings)
    return {each.gathering: each for each in found if each is not None}


def catchword_of(state: BookState, gathering: int) -> Catchword | None:
    """A gathering's catchword; None for the last one, where the next has no text, or its words are not known."""
    leaves = state.collation.leaf_numbers(gathering)
    begins = _first_with_text(state, gathering + 1)
    if not leaves or begins is None:
        return None
    words = first_words(state, begins, state.book.signing.catchwords)
    return Catchword(gathering, Page(leaves[-1], Side.VERSO), words, begins) if words else None


def first_words(state: BookState, page: Page, count: int) -> str:
    """The first ``count`` words of a page as written or planned; the rest of a word broken before it counts as one."""
    budget = state.budget.pages[page.index]
    return sanitize(" ".join(state.copy.line_text(budget.start, budget.end).split()[:count]))


def _first_with_text(state: BookState, gathering: int) -> Page | None:
    numbers = state.collation.leaf_numbers(gathering)
    pages = (Page(leaf, side) for leaf in numbers for side in Side)
    return next((page for page in pages if _has_text(state, page)), None)


def _has_text(state: BookState, page: Page) -> bool:
    budget = state.budget.pages[page.index]
    return budget.start < budget.end


_PIECES_A_WORD = 60
"""No word has more pieces, were it broken letter by letter; looking on so far finds the words asked for."""


class CatchwordCheck(NamedTuple):
    """A gathering, its catchword, what the next one begins with."""

    gathering: int
    catchword: str
    next_begins: str

    @property
    def agrees(self) -> bool:
        """Whether the two are the same."""
        return self.catchword == self.next_begins


def catchword_checks(state: BookState) -> list[CatchwordCheck]:
    """Every gathering that has a catchword, in order; none where the book has none, or its words are not known."""
    return [_check(state, each) for each in catchwords(state).values()]


def _check(state: BookState, found: Catchword) -> CatchwordCheck:
    return CatchwordCheck(found.gathering, _words_after(state, found), found.words)


def _words_after(state: BookState, found: Catchword) -> str:
    """The words of the text that follow the last words of a gathering; where it has no text, the catchword itself."""
    copy, count = state.copy, state.book.signing.catchwords
    numbers = state.collation.leaf_numbers(found.gathering)
    pages = state.budget.pages[2 * numbers.start - 2 : 2 * numbers.stop - 2]
    end = next((page.end for page in reversed(pages) if page.start < page.end), None)
    if end is None:
        return found.words
    beyond = min(end + _PIECES_A_WORD * count, copy.pieces)
    return sanitize(" ".join(copy.line_text(end, beyond).split()[:count]))
