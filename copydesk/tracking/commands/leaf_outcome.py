"""What follows from a change to leaves, in sentences: lines to write again, text without room, openings that break."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.phrases import count_of, listed
from copydesk.book.structure.openings import opening_label, unlike_openings, why_unlike
from copydesk.book.structure.page import Page, Side, SkinPage
from copydesk.tracking.views.consequences import Standing, consequences, standing
from copydesk.tracking.views.skin_batches import sheets_of_its_skin

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from copydesk.book.structure.collation import Collation
    from copydesk.tracking.ledger.flaws_found import Flaws
    from copydesk.tracking.state.book_state import BookState


_MOST_OPENINGS = 3


class Before(NamedTuple):
    """What of the book is looked at again after a change."""

    collation: Collation
    lines_without_room: int
    standing: Standing
    flaws: Flaws


def before_change(state: BookState) -> Before:
    """The book as it stands before a change."""
    return Before(state.collation, state.budget.lines_without_room, standing(state), state.flaws)


def what_followed(before: Before, state: BookState) -> list[str]:
    """What is otherwise than ``before``, as sentences; the weightiest first."""
    return [
        *_to_write_again(before, state),
        *_without_room(before, state),
        *consequences(before.standing, state),
        *_leaves(before, state),
        *_openings(before, state),
        *_flawed_lines(before, state),
        *_same_skin(before, state),
    ]


def _to_write_again(before: Before, state: BookState) -> Iterator[str]:
    """Lines on leaves that went out of the book, or came back into it."""
    gone, pages = _lines_on_others(before.collation, state.collation, state)
    back, _ = _lines_on_others(state.collation, before.collation, state)
    if gone:
        are = "are" if gone > 1 else "is"
        yield f"{count_of(gone, 'written line')} went with it, of {pages}, and {are} to be written again."
    if back:
        yield f"{count_of(back, 'written line')} came back with it."


def _lines_on_others(one: Collation, other: Collation, state: BookState) -> tuple[int, str]:
    """Lines written on the leaves that stand in ``one`` and not in ``other``; their pages, as ``one`` numbers them."""
    leaves = (half.id for gathering in one.gatherings for half in gathering.leaves)
    gone = [leaf for leaf in leaves if other.number_of(leaf) is None]
    written = [
        (Page(number, side), lines)
        for leaf in gone
        if (number := one.number_of(leaf)) is not None
        for side in Side
        if (lines := state.record(SkinPage(leaf, side)).written)
    ]
    return sum(lines for _, lines in written), listed([state.book.named(page) for page, _ in written])


def written_on(state: BookState, leaves: Iterable[int]) -> str:
    """What would go with these leaves: ``96 written lines of 10r and 10v``; empty where nothing is written."""
    pages = [Page(leaf, side) for leaf in sorted(leaves) for side in Side]
    written = [(page, lines) for page in pages if (lines := state.record(state.skin_at(page.index)).written)]
    total = sum(lines for _, lines in written)
    return (
        f"{count_of(total, 'written line')} of {listed([state.book.named(page) for page, _ in written])}"
        if total
        else ""
    )


def _without_room(before: Before, state: BookState) -> Iterator[str]:
    lines = state.budget.lines_without_room
    if lines > before.lines_without_room:
        yield f"{count_of(lines, 'line')} of text {'have' if lines > 1 else 'has'} no room in the book now."


def _leaves(before: Before, state: BookState) -> Iterator[str]:
    old, new = before.collation.leaves, state.collation.leaves
    if new != old:
        yield f"The book has {count_of(new, 'leaf', 'leaves')} now, {count_of(abs(new - old), 'leaf', 'leaves')} " + (
            "more." if new > old else "fewer."
        )


def _openings(before: Before, state: BookState) -> Iterator[str]:
    """Openings where hair faces flesh now and did not before, told apart by the skin that faces."""
    collation, numbering = state.collation, state.book.signing.foliation
    old = {_skins(before.collation, opening.left) for opening in unlike_openings(before.collation)}
    new = [opening for opening in unlike_openings(collation) if _skins(collation, opening.left) not in old]
    for opening in new[:_MOST_OPENINGS]:
        where = opening_label(opening, numbering)
        yield f"Hair faces flesh now at {where}: {why_unlike(collation, opening, numbering)}."
    if len(new) > _MOST_OPENINGS:
        yield f"The same happens at {count_of(len(new) - _MOST_OPENINGS, 'other opening')}."


def _skins(collation: Collation, left: Page) -> tuple[str, str]:
    return collation.half(left.leaf).id, collation.half(left.leaf + 1).id


def _flawed_lines(before: Before, state: BookState) -> Iterator[str]:
    for leaf in _flawed_anew(before, state):
        for side in Side:
            yield _taken(state, Page(leaf, side))


def _same_skin(before: Before, state: BookState) -> Iterator[str]:
    """Sheets of the skin a flaw came to light in, where which they are was noted."""
    for leaf in _flawed_anew(before, state):
        place = state.collation.place(Page(leaf, Side.RECTO))
        others = sheets_of_its_skin(state.ledger, place.sheet_name)
        if others:
            sheets = f"sheet{'s' if len(others) > 1 else ''} {', '.join(others)}"
            yield f"Of the same skin {'are' if len(others) > 1 else 'is'} {sheets}: check them for the same flaw."


def _flawed_anew(before: Before, state: BookState) -> list[int]:
    """The leaves whose flaws are others now, where the leaves are the same."""
    if before.collation != state.collation:
        return []
    return [leaf for leaf, flaws in state.flaws.items() if before.flaws.get(leaf) != flaws]


def _taken(state: BookState, page: Page) -> str:
    frame = state.frames.get(page.index, state.frame)
    whole = sum(share == 0.0 for _, _, share in frame.flaws)
    parts = [count_of(whole, "line")] if whole else []
    if len(frame.flaws) > whole:
        parts.append(f"part of {count_of(len(frame.flaws) - whole, 'line')}")
    return f"The leaf's flaws take {' and '.join(parts) or 'no line'} of {state.book.named(page)}."
