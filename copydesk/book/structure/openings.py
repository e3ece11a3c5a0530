"""The openings of a book, verso beside recto, and whether hair faces hair and flesh flesh at each.

The rule is C. R. Gregory's ("Les cahiers des manuscrits grecs", CRAI 1885, p. 261). Books break it for good
reasons, so an opening that breaks it is named, never forbidden.
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.structure.foliation import Numbering, facing_label, leaf_label
from copydesk.book.structure.page import Page, Side, Surface

if TYPE_CHECKING:
    from copydesk.book.structure.collation import Collation
    from copydesk.book.structure.gathering import Gathering, Half


class Opening(NamedTuple):
    """Two pages that face each other, the surfaces they show, and the gathering of each."""

    left: Page
    right: Page
    left_surface: Surface
    right_surface: Surface
    gatherings: tuple[int, int]

    @property
    def like(self) -> bool:
        """Whether hair faces hair or flesh flesh."""
        return self.left_surface is self.right_surface

    @property
    def across(self) -> bool:
        """Whether one gathering ends and the next begins here."""
        return self.gatherings[0] != self.gatherings[1]

    def __str__(self) -> str:
        """``8v|9r``."""
        return facing_label(self.left, self.right)


def opening_label(opening: Opening, numbering: Numbering = "arabic") -> str:
    """What an opening is called, as the book counts."""
    return facing_label(opening.left, opening.right, numbering)


def openings(collation: Collation) -> tuple[Opening, ...]:
    """Every opening between two leaves of the book, in reading order."""
    leaves = [(gathering.number, half) for gathering in collation.gatherings for half in gathering.leaves]
    return tuple(_opening(number, *pair) for number, pair in enumerate(pairwise(leaves), 1))


def opening_at(collation: Collation, page: Page) -> Opening | None:
    """The opening that ``page`` is half of; None for the first recto and the last verso of the book."""
    left = page.leaf if page.side is Side.VERSO else page.leaf - 1
    if not 1 <= left < collation.leaves:
        return None
    before, after = (
        (collation.place(Page(leaf, Side.RECTO)).gathering, collation.half(leaf)) for leaf in (left, left + 1)
    )
    return _opening(left, before, after)


def _opening(number: int, before: tuple[int, Half], after: tuple[int, Half]) -> Opening:
    """The opening after leaf ``number``: its two leaves, each with its gathering."""
    return Opening(
        Page(number, Side.VERSO),
        Page(number + 1, Side.RECTO),
        before[1].recto.other,
        after[1].recto,
        (before[0], after[0]),
    )


def unlike_openings(collation: Collation) -> tuple[Opening, ...]:
    """The openings at which hair faces flesh."""
    return tuple(opening for opening in openings(collation) if not opening.like)


def why_unlike(collation: Collation, opening: Opening, numbering: Numbering = "arabic") -> str:
    """In words, why hair faces flesh at ``opening``: a leaf that is gone, a single one, or how the sheets lie."""
    if opening.across:
        return (
            f"gathering {opening.gatherings[1]} begins with {opening.right_surface}"
            f" where gathering {opening.gatherings[0]} ends with {opening.left_surface}"
        )
    gathering = collation.gathering(opening.gatherings[0])
    before, after = collation.half(opening.left.leaf), collation.half(opening.right.leaf)
    if gone := _gone_between(gathering, before, after):
        return f"a leaf is {gone} here"
    for leaf, half in ((opening.left.leaf, before), (opening.right.leaf, after)):
        mate = gathering.mate(half)
        if mate is None or not mate.stands:
            return f"{leaf_label(leaf, numbering)} is single"
    return f"sheets {before.sheet} and {after.sheet} lie with the same surface outward"


def _gone_between(gathering: Gathering, before: Half, after: Half) -> str:
    first, last = gathering.halves.index(before), gathering.halves.index(after)
    between = gathering.halves[first + 1 : last]
    return next((half.state.value for half in between if half.state in ("cancelled", "wanting")), "")


def pattern(gathering: Gathering) -> str:
    """What the first two leaves show, recto and verso, as four letters: ``HFFH`` is hair outside, like to like.

    Source: the code of the Bodleian Libraries' catalogue of western medieval manuscripts; the reading is ours.
    """
    shown = "".join(half.recto[0] + half.recto.other[0] for half in gathering.leaves[:2])
    return shown.upper()
