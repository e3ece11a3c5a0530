"""Who wrote what: each hand's continuous shares of the text, in the order of the pages.

A stint is one hand's continuous share of the writing; it ends where another hand writes, or where a page is left
for later.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.columns import Cell, Column, Report, rows_of
from copydesk.book.common.phrases import grouped, say_days
from copydesk.tracking.ledger.timestamps import moment
from copydesk.tracking.scribes.stopping_point import LinePlace, spot

if TYPE_CHECKING:
    from collections.abc import Iterable

    from copydesk.book.plan import Book
    from copydesk.tracking.ledger.stint import Stint
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


class ShareRow(NamedTuple):
    """A share and the name of its hand."""

    share: Share
    name: str


def share_rows(state: BookState) -> list[ShareRow]:
    """Every share with the name of its hand, in the order of the pages."""
    names = {hand.id: hand.name for hand in state.book.hands}
    return [ShareRow(share, names.get(share.hand, "")) for share in shares(state)]


def _place(place: LinePlace, book: Book) -> str:
    return f"{book.named(place.page)} {place.column}.{place.line}"


def _days(row: ShareRow) -> str:
    began, ended = moment(row.share.began), moment(row.share.ended)
    return say_days(began, ended) if began is not None and ended is not None else row.share.began


SHARES: Report[ShareRow] = rows_of(
    "stints",
    "One row for each hand's continuous share of the writing.",
    Column("hand", Cell.TEXT, "the hand", "share.hand", "hand"),
    Column("name", Cell.TEXT, "its name in the plan"),
    Column(
        "from",
        Cell.PAGE,
        "the page it begins on",
        lambda r: str(r.share.first.page),
        "from",
        lambda r, book: _place(r.share.first, book),
    ),
    Column("from_column", Cell.NUMBER, "its first column", "share.first.column"),
    Column("from_line", Cell.NUMBER, "its first line in that column", "share.first.line"),
    Column(
        "to",
        Cell.PAGE,
        "the page it ends on",
        lambda r: str(r.share.last.page),
        "to",
        lambda r, book: _place(r.share.last, book) + (" part" if r.share.within else ""),
    ),
    Column("to_column", Cell.NUMBER, "its last column", "share.last.column"),
    Column("to_line", Cell.NUMBER, "its last line in that column", "share.last.line"),
    Column("in_line", Cell.YES_NO, "whether it stops within that line", "share.within"),
    Column("from_word", Cell.NUMBER, "its first word in the exemplar", "share.from_word"),
    Column("to_word", Cell.NUMBER, "the word after its last", "share.to_word"),
    Column("lines", Cell.NUMBER, "lines written", "share.lines", "lines"),
    Column("words", Cell.NUMBER, "words written", "share.words", "words"),
    Column(
        "minutes",
        Cell.NUMBER,
        "minutes recorded; null where none were",
        lambda r: r.share.minutes or None,
        "minutes",
        lambda r, _: grouped(r.share.minutes) if r.share.minutes else "",
    ),
    Column("began", Cell.MOMENT, "time of its first entry", "share.began", "day", lambda r, _: _days(r)),
    Column("ended", Cell.MOMENT, "time of its last entry", "share.ended"),
)
