"""Who wrote what: each hand's continuous shares of the text, in the order of the pages.

A stint is one hand's continuous share of the writing; it ends where another hand writes, or where a page is left
for later.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.tracking.scribes.stopping_point import LinePlace, spot

if TYPE_CHECKING:
    from collections.abc import Iterable

    from copydesk.tracking.ledger.page_record import Stint
    from copydesk.tracking.state.book_state import BookState


class Share(NamedTuple):
    """One hand's continuous share: from which line to which, from which word up to which, its lines and minutes.

    ``words`` counts those written, which are fewer where some were skipped between two pages. ``within`` tells that
    it stops inside its last line. ``began`` and ``ended`` are times of entries; ``minutes`` are those told, 0 where
    none were.
    """

    hand: str
    first: LinePlace
    last: LinePlace
    within: bool
    from_word: int
    to_word: int
    words: int
    lines: int
    minutes: float
    began: str
    ended: str


def shares(state: BookState) -> list[Share]:
    """Every share of every hand in the order of the pages."""
    found: list[Share] = []
    goes_on = False
    for index in range(state.collation.pages):
        record = state.record(state.skin_at(index))
        for stint in record.stints:
            share = _share(state, index, stint)
            if goes_on and found[-1].hand == share.hand:
                found[-1] = _joined(found[-1], share)
            else:
                found.append(share)
            goes_on = True
        goes_on = goes_on and (record.whole or not _bears_text(state, index))
    return found


def _share(state: BookState, index: int, stint: Stint) -> Share:
    return Share(
        hand=stint.hand,
        first=spot(state, index, stint.from_line),
        last=spot(state, index, stint.to_line),
        within=stint.line_from is not None,
        from_word=stint.from_word,
        to_word=stint.to_word,
        words=stint.to_word - stint.from_word,
        lines=stint.lines,
        minutes=stint.minutes or 0.0,
        began=stint.at,
        ended=stint.at,
    )


def _joined(before: Share, after: Share) -> Share:
    return before._replace(
        last=after.last,
        within=after.within,
        to_word=after.to_word,
        words=before.words + after.words,
        lines=before.lines + after.lines,
        minutes=before.minutes + after.minutes,
        began=min(before.began, after.began),
        ended=max(before.ended, after.ended),
    )


def _bears_text(state: BookState, index: int) -> bool:
    budget = state.budget.pages[index]
    return budget.start < budget.end


class HandTotal(NamedTuple):
    """What a hand wrote in all: its shares, lines, words, minutes told, first and last time."""

    hand: str
    name: str
    shares: int
    lines: int
    words: int
    minutes: float
    began: str
    ended: str


def totals(state: BookState, found: Iterable[Share]) -> list[HandTotal]:
    """The totals of every hand that wrote, in the order in which the book first shows them."""
    by_hand: dict[str, list[Share]] = {}
    for share in found:
        by_hand.setdefault(share.hand, []).append(share)
    return [_total(state, hand, theirs) for hand, theirs in by_hand.items()]


def _total(state: BookState, hand: str, theirs: list[Share]) -> HandTotal:
    known = state.book.hand(hand)
    return HandTotal(
        hand=hand,
        name=known.name if known is not None else "",
        shares=len(theirs),
        lines=sum(share.lines for share in theirs),
        words=sum(share.words for share in theirs),
        minutes=sum(share.minutes for share in theirs),
        began=min(share.began for share in theirs),
        ended=max(share.ended for share in theirs),
    )


def shares_data(state: BookState) -> list[dict[str, object]]:
    """The shares as plain data."""
    return list(map(_data, shares(state)))


def _data(share: Share) -> dict[str, object]:
    return {
        "hand": share.hand,
        "from": str(share.first.page),
        "from_column": share.first.column,
        "from_line": share.first.line,
        "to": str(share.last.page),
        "to_column": share.last.column,
        "to_line": share.last.line,
        "in_line": share.within,
        "from_word": share.from_word,
        "to_word": share.to_word,
        "words": share.words,
        "lines": share.lines,
        "minutes": share.minutes or None,
        "began": share.began,
        "ended": share.ended,
    }
