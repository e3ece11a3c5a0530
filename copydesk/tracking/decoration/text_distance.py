"""How far a space stands from the text it belongs to."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.phrases import count_of
from copydesk.book.structure.page import Page
from copydesk.tracking.state.page_content import lines_of_page
from copydesk.tracking.views.space_homes import initial_off, lines_above, text_page

if TYPE_CHECKING:
    from copydesk.book.plan import Book
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.space_view import SpaceAccount


class TextDistance(NamedTuple):
    """The page with the text of a space, and the text lines from there to the space.

    There are none where it stands where its text is reached; they are negative where it stands before its text.
    """

    page: Page
    lines: int


def text_distance(state: BookState, account: SpaceAccount) -> TextDistance | None:
    """How far a space stands from its text; None where it takes no lines, is tied to a page, or either has no page."""
    placement, word = account.placement, state.word_of(account.plan)
    if account.page is None or placement is None or not placement.lines or word is None:
        return None
    there, piece = text_page(state, account.plan), state.copy.piece(word)
    if there is None:
        return None
    at = account.page.index
    if placement.share > 0.0 and at == there:
        return TextDistance(account.page, initial_off(state, at, placement, piece))
    text = lines_of_page(state, there)
    met = max(sum(line.start <= piece for line in text) - 1, 0)
    within = bool(text) and text[met].start < piece
    here = text if at == there else lines_of_page(state, at)
    pages = state.budget.pages
    low, high = sorted((there, at))
    between = sum(page.planned for page in pages[low:high]) * (1 if at >= there else -1)
    return TextDistance(Page.at(there), between + lines_above(here, placement) - met - within)


def distance_words(distance: TextDistance | None, account: SpaceAccount, book: Book) -> str:
    """Where its text is: ``on 1r, 7 lines before it``; nothing where it stands with its text."""
    if distance is None or (distance.page == account.page and not distance.lines):
        return ""
    where = f"on {book.named(distance.page)}, " if distance.page != account.page else ""
    overleaf = account.page is not None and distance.page.index > account.page.index
    after = distance.lines < 0 or (overleaf and not distance.lines)
    apart = count_of(abs(distance.lines), "line") if distance.lines else "just"
    return f"{where}{apart} {'after' if after else 'before'} it"
