"""Which hand is expected to write each page: as planned, until a hand takes the desk over in a gathering."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from copydesk.book.plan import Book
    from copydesk.book.structure.collation import Collation
    from copydesk.book.structure.page import SkinPage
    from copydesk.tracking.ledger.page_record import PageRecord


class ExpectedHands(NamedTuple):
    """The hand of each page in reading order; whether any hand took over, so that what is written bears on it."""

    hands: list[str]
    taken_over: bool


def expected_hands(
    book: Book, collation: Collation, skins: Iterable[SkinPage], record: Callable[[SkinPage], PageRecord]
) -> ExpectedHands:
    """The hand expected on every page.

    A hand that took the desk over goes on to the end of the gathering, or until another is found writing there.

    Args:
        book: the plan, with the gatherings each hand is to write; its first hand writes the others.
        collation: the gatherings as they stand.
        skins: the pages of skin that something was recorded of.
        record: what was.
    """
    planned = {number: hand.id for hand in book.hands for number in hand.gatherings}
    hands: list[str] = []
    for gathering in collation.gatherings:
        hands += [planned.get(gathering.number, book.hands[0].id)] * (2 * len(gathering.leaves))
    found = ((collation.page_of(skin), record(skin)) for skin in skins)
    records = {page.index: each for page, each in found if page is not None}
    taken_over = any(each.taken_by for each in records.values())
    if taken_over:
        for gathering in collation.gatherings:
            leaves = collation.leaf_numbers(gathering.number)
            _take_over(hands, range(2 * leaves.start - 2, 2 * leaves.stop - 2), records)
    return ExpectedHands(hands, taken_over)


def _take_over(hands: list[str], pages: range, records: dict[int, PageRecord]) -> None:
    """Put down who took over among the pages of one gathering."""
    goes_on = ""
    for index in pages:
        record = records.get(index)
        if record is not None and record.taken_by:
            goes_on = record.taken_by
        elif record is not None and record.stints and record.pen != goes_on:
            goes_on = ""
        if goes_on:
            hands[index] = goes_on
