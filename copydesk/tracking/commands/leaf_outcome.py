"""What follows from a change to leaves, in sentences: lines to write again, text without room, openings that break."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.phrases import count_of
from copydesk.book.structure.openings import opening_label, unlike_openings, why_unlike
from copydesk.book.structure.page import Page, Side, SkinPage
from copydesk.tracking.views.skin_batches import sheets_of_its_skin

if TYPE_CHECKING:
    from collections.abc import Iterator

    from copydesk.book.structure.collation import Collation
    from copydesk.tracking.ledger.flaws_found import Flaws
    from copydesk.tracking.state.book_state import Standing


_MOST_OPENINGS = 3


class Before(NamedTuple):
    """What of the book is looked at again after a change."""

    collation: Collation
    lines_without_room: int
    without_place: frozenset[str]
    flaws: Flaws


def before_change(standing: Standing) -> Before:
    """The book as it stands before a change."""
    budget = standing.budget
    return Before(standing.collation, budget.lines_without_room, frozenset(budget.homeless), standing.flaws)


def what_followed(before: Before, standing: Standing) -> list[str]:
    """What is otherwise than ``before``, as sentences; the weightiest first."""
    return [
        *_to_write_again(before, standing),
        *_without_room(before, standing),
        *_spaces(before, standing),
        *_leaves(before, standing),
        *_openings(before, standing),
        *_flawed_lines(before, standing),
        *_same_skin(before, standing),
    ]


def _to_write_again(before: Before, standing: Standing) -> Iterator[str]:
    """Lines on leaves that went out of the book, or came back into it."""
    gone = _lines_on_others(before.collation, standing.collation, standing)
    back = _lines_on_others(standing.collation, before.collation, standing)
    if gone:
        yield f"{count_of(gone, 'written line')} went with it and {'are' if gone > 1 else 'is'} to be written again."
    if back:
        yield f"{count_of(back, 'written line')} came back with it."


def _lines_on_others(one: Collation, other: Collation, standing: Standing) -> int:
    """Lines written on the leaves that stand in ``one`` and not in ``other``."""
    leaves = (half.id for gathering in one.gatherings for half in gathering.leaves)
    gone = (leaf for leaf in leaves if other.number_of(leaf) is None)
    return sum(standing.record(SkinPage(leaf, side)).written for leaf in gone for side in Side)


def _without_room(before: Before, standing: Standing) -> Iterator[str]:
    lines = standing.budget.lines_without_room
    if lines > before.lines_without_room:
        yield f"{count_of(lines, 'line')} of text {'have' if lines > 1 else 'has'} no room in the book now."


def _spaces(before: Before, standing: Standing) -> Iterator[str]:
    lost = sorted(frozenset(standing.budget.homeless) - before.without_place)
    if lost:
        yield f"No page has room now for the space {', '.join(lost)}."


def _leaves(before: Before, standing: Standing) -> Iterator[str]:
    old, new = before.collation.leaves, standing.collation.leaves
    if new != old:
        yield f"The book has {count_of(new, 'leaf', 'leaves')} now, {count_of(abs(new - old), 'leaf', 'leaves')} " + (
            "more." if new > old else "fewer."
        )


def _openings(before: Before, standing: Standing) -> Iterator[str]:
    """Openings where hair faces flesh now and did not before, told apart by the skin that faces."""
    collation, numbering = standing.collation, standing.book.signing.foliation
    old = {_skins(before.collation, opening.left) for opening in unlike_openings(before.collation)}
    new = [opening for opening in unlike_openings(collation) if _skins(collation, opening.left) not in old]
    for opening in new[:_MOST_OPENINGS]:
        where = opening_label(opening, numbering)
        yield f"Hair faces flesh now at {where}: {why_unlike(collation, opening, numbering)}."
    if len(new) > _MOST_OPENINGS:
        yield f"So it does at {count_of(len(new) - _MOST_OPENINGS, 'other opening')}."


def _skins(collation: Collation, left: Page) -> tuple[str, str]:
    return collation.half(left.leaf).id, collation.half(left.leaf + 1).id


def _flawed_lines(before: Before, standing: Standing) -> Iterator[str]:
    for leaf in _flawed_anew(before, standing):
        for side in Side:
            yield _taken(standing, Page(leaf, side))


def _same_skin(before: Before, standing: Standing) -> Iterator[str]:
    """Sheets of the skin a flaw came to light in, where which they are was noted."""
    for leaf in _flawed_anew(before, standing):
        place = standing.collation.place(Page(leaf, Side.RECTO))
        others = sheets_of_its_skin(standing.ledger, f"{place.gathering}.{place.sheet}")
        if others:
            sheets = f"sheet{'s' if len(others) > 1 else ''} {', '.join(others)}"
            yield f"Of the same skin {'are' if len(others) > 1 else 'is'} {sheets}: look there for the like."


def _flawed_anew(before: Before, standing: Standing) -> list[int]:
    """The leaves whose flaws are others now, where the leaves are the same."""
    if before.collation != standing.collation:
        return []
    return [leaf for leaf, flaws in standing.flaws.items() if before.flaws.get(leaf) != flaws]


def _taken(standing: Standing, page: Page) -> str:
    frame = standing.frames.get(page.index, standing.frame)
    whole = sum(share == 0.0 for _, _, share in frame.flaws)
    parts = [count_of(whole, "line")] if whole else []
    if len(frame.flaws) > whole:
        parts.append(f"part of {count_of(len(frame.flaws) - whole, 'line')}")
    return f"The leaf's flaws take {' and '.join(parts) or 'no line'} of {standing.book.named(page)}."
