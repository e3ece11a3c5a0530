"""Whether a reading of a page is one that the book wants, before it is recorded."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.checks import ALOUD, ANY, WAYS, Way, counted_readings, refusal, ways_in_words
from copydesk.book.common.errors import InvalidValueError, NotAllowedError
from copydesk.tracking.state.known_hands import known_hand

if TYPE_CHECKING:
    from copydesk.book.checks import PageReading
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.page_view import PageAccount


def ways_open(account: PageAccount) -> tuple[Way, ...]:
    """The ways in which a page may be read next: those still wanted; every way where any will do or none is wanted."""
    wanted = account.record.wanted
    return WAYS if ANY in wanted or not wanted else tuple(way for way in WAYS if way in wanted)


def reading_facts(state: BookState, account: PageAccount, reading: PageReading) -> dict[str, object]:
    """The facts that tell how a page was read, and with whom.

    Where the book names its readings, one that would not count is refused, so that nobody reads a page in vain.

    Raises:
        CopydeskError: for an unknown way or person, or a reading that the book does not want.
    """
    if reading.how and reading.how not in WAYS:
        raise InvalidValueError(f"{reading.how!r} is no way of reading; write one of {', '.join(WAYS)}")
    if reading.beside and reading.how != ALOUD:
        raise InvalidValueError(f"another person reads only with a page read {ALOUD}; say so, or leave the name out")
    if reading.beside:
        known_hand(state, reading.beside)
    if reading.how == ALOUD and reading.beside in ("", reading.by):
        raise NotAllowedError(f"{account.label} {refusal(state.book.readings, reading, (), ())}")
    _expect_wanted(state, account, reading)
    return {name: value for name, value in (("how", reading.how), ("beside", reading.beside)) if value}


def _expect_wanted(state: BookState, account: PageAccount, reading: PageReading) -> None:
    rules, record = state.book.readings, account.record
    if not rules.ways:
        return
    counted, left = counted_readings(rules, record.readings, record.hands)
    if why := refusal(rules, reading, counted, record.hands):
        raise NotAllowedError(f"{account.label} {why}; nothing was recorded")
    if not left or ANY in left or reading.how in left:
        return
    wanted = ways_in_words(left)
    if not reading.how:
        raise NotAllowedError(f"{account.label} is still to be read {wanted}; say how it was read")
    raise NotAllowedError(f"{account.label} was read {reading.how}, and is still to be read {wanted}; read it so")
