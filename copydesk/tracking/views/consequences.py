"""What an entry has made of the rest of the book: how the book stood before, held against how it stands now.

Spaces that moved, and text that is skipped or doubled between two pages, too long for its pages or without room.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.columns import Cell, given
from copydesk.book.common.phrases import capital, count_of
from copydesk.book.common.sanitize import sanitize
from copydesk.book.structure.page import Page
from copydesk.tracking.state.plan_conflicts import plan_conflicts
from copydesk.tracking.state.strange_pages import open_strange, strange_sentences
from copydesk.tracking.views.space_homes import Home, space_changes, space_homes

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from copydesk.book.plan import Book
    from copydesk.book.structure.collation import Collation
    from copydesk.tracking.ledger.flaws_found import Flaws
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.state.hand_evidence import Reach


ALSO = given("also", Cell.TEXTS, "what followed elsewhere, as sentences")
"""The key of the JSON that tells them."""


class TextStanding(NamedTuple):
    """Pieces skipped or doubled before a page, lines over up to a page held (by its skin); lines without room."""

    meetings: Mapping[str, int]
    over: Mapping[str, int]
    without_room: int


class Standing(NamedTuple):
    """What of the book is looked at again after an entry or another plan.

    The home of every space that has one, what the plan says otherwise than the skin, the leaves, their flaws, how
    the text stands, and the lines that are strange.
    """

    homes: Mapping[str, Home]
    conflicts: tuple[str, ...]
    collation: Collation
    flaws: Flaws
    text: TextStanding
    strange: tuple[Reach, ...]


def standing(state: BookState) -> Standing:
    """The book as it stands before an entry."""
    strange = tuple(each.reach for each in open_strange(state))
    text = text_standing(state)
    return Standing(space_homes(state), plan_conflicts(state), state.collation, state.flaws, text, strange)


def consequences(before: Standing, state: BookState) -> list[str]:
    """What is otherwise than ``before`` elsewhere than where the entry was made, as sentences."""
    return [
        *strange_sentences(state, before.strange),
        *conflict_sentences(state, before.conflicts),
        *(sanitize(said) for said in space_changes(before.homes, state)),
        *(sanitize(said) for said in text_changes(before.text, state)),
    ]


def conflict_sentences(state: BookState, known: Sequence[str] = ()) -> list[str]:
    """What the plan says otherwise than the skin, as sentences, but for what was ``known``."""
    return [f"Plan and skin differ: {said}." for said in plan_conflicts(state) if said not in known]


def in_short(sentences: Sequence[str], most: int = 2) -> str:
    """The first of these sentences for a narrow line, and how many more there are."""
    more = len(sentences) - most
    return " ".join([*sentences[:most], *([f"And {count_of(more, 'more thing')}; see log."] if more > 0 else [])])


_SHOWN = 4
"""Words shown of what was skipped or written twice, at either end of it."""


def text_standing(state: BookState) -> TextStanding:
    """How the text stands."""
    budget = state.budget
    meetings = ((index, page.gap or -page.overlap) for index, page in enumerate(budget.pages))
    return TextStanding(
        {str(state.skin_at(index)): pieces for index, pieces in meetings if pieces},
        {str(state.skin_at(each.last)): each.over for each in budget.stretches if each.over > 0},
        budget.lines_without_room,
    )


def text_changes(before: TextStanding, state: BookState) -> Iterator[str]:
    """What is worse than ``before``, a sentence each: text skipped or doubled, lines over, lines without room."""
    now = text_standing(state)
    for index in range(len(state.budget.pages)):
        skin = str(state.skin_at(index))
        was, is_ = before.meetings.get(skin, 0), now.meetings.get(skin, 0)
        if is_ and (abs(is_) > abs(was) or is_ * was < 0) and (said := meeting_words(state, index)):
            yield f"{capital(said)}."
    for each in state.budget.stretches:
        skin = str(state.skin_at(each.last))
        if each.over > max(before.over.get(skin, 0), 0):
            yield f"{count_of(each.over, 'line')} over {between(each.first, each.last, state.book)}."
    if now.without_room > before.without_room:
        lines = count_of(now.without_room, "line")
        yield f"{lines} of text {'have' if now.without_room > 1 else 'has'} no room in the book now."


def meeting_words(state: BookState, index: int) -> str:
    """What was skipped before a page, or stands on the page before and on it again; nothing where they meet."""
    budget, page = state.budget.pages[index], state.book.named(Page.at(index))
    before = state.book.named(Page.at(index - 1)) if index else None
    start, word = budget.start, state.copy.word
    if skipped := word(start) - word(start - budget.gap):
        between_them = f"between {before} and {page}" if before is not None else f"before {page}"
        return f"{count_of(skipped, 'word')} skipped {between_them}{_both_ends(state, start - budget.gap, start)}"
    if doubled := word(start + budget.overlap) - word(start):
        words = _both_ends(state, start, start + budget.overlap)
        verb = "stands" if doubled == 1 else "stand"
        return f"{count_of(doubled, 'word')} {verb} on {before} and again on {page}{words}"
    return ""


def between(first: int, last: int, book: Book) -> str:
    """Pages by their indices: ``on 2r``, ``from 2r to 3v``."""
    start, end = book.named(Page.at(first)), book.named(Page.at(last))
    return f"on {start}" if first == last else f"from {start} to {end}"


def _both_ends(state: BookState, start: int, end: int) -> str:
    words = state.copy.text(start, end)
    if not words:
        return ""
    shown = words if len(words) <= 2 * _SHOWN else [*words[:_SHOWN], "...", *words[-_SHOWN:]]
    return f': "{sanitize(" ".join(shown))}"'
