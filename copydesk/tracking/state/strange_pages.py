"""Pages that hold far more of the text, or far less, than so many lines of their hand do, until they are checked."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.phrases import count_of
from copydesk.book.structure.page import Page

if TYPE_CHECKING:
    from collections.abc import Container, Iterator

    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.state.hand_evidence import Reach
    from copydesk.tracking.state.hand_sets import StrangeReach


def open_strange(state: BookState) -> list[StrangeReach]:
    """The strange lines of the book whose pages are not checked yet."""
    found = state.strange_reaches
    return [each for each in found if not all(state.record(state.skin_at(at)).checked_by for at in each.reach.pages)]


def strange_on(state: BookState, index: int) -> StrangeReach | None:
    """The strange lines among them that stand on the page at ``index``; None where there are none."""
    return next((each for each in open_strange(state) if index in each.reach.pages), None)


def strange_words(state: BookState, found: StrangeReach) -> str:
    """``12v holds 24 words more than 24 lines of yours do; read it against the exemplar``."""
    pages = found.reach.pages
    first, last = (state.book.named(Page.at(page)) for page in (pages[0], pages[-1]))
    lines = sum(each.to_line - each.from_line + 1 for each in found.reach.lines)
    whose = "yours" if len(state.book.hands) == 1 else f"{found.reach.last.hand}'s"
    holds, it = (f"{last} holds", "it") if first == last else (f"{first} to {last} hold", "them")
    more = f"{count_of(abs(found.words), 'word')} {'more' if found.words > 0 else 'fewer'}"
    return f"{holds} {more} than {count_of(lines, 'line')} of {whose} do; read {it} against the exemplar"


def strange_sentences(state: BookState, known: Container[Reach]) -> Iterator[str]:
    """What is strange and was not among what was ``known`` before, as sentences."""
    return (f"{strange_words(state, found)}." for found in open_strange(state) if found.reach not in known)
