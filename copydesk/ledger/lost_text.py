"""Text that stands on no page, skipped by a hand or gone with a cancelled leaf: it has still to be written."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.ledger.casting_closer import hand_on

if TYPE_CHECKING:
    from copydesk.ledger.standing import Standing


class LostText(NamedTuple):
    """Words wanting before the page at ``before``, the lines they take, and the hand expected to write them."""

    before: int
    words: int
    lines: int
    hand: str


def lost_text(standing: Standing) -> list[LostText]:
    """Every such gap, in reading order; what was left out on purpose is a departure and none of them."""
    return [_before(standing, index) for index, page in enumerate(standing.budget.pages) if page.gap]


def _before(standing: Standing, index: int) -> LostText:
    copy, page, hand = standing.copy, standing.budget.pages[index], hand_on(standing, index)
    start = page.start - page.gap
    lines = standing.budgeter.caster(hand).lines.count(start, page.start)
    return LostText(index, copy.word(page.start) - copy.word(start), lines, hand)
