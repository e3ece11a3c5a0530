"""What the faults found in a book tell: how many in a hundred lines, by hand, kind, hour and length of sitting."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.columns import Cell, Column, Report, one_of
from copydesk.book.common.phrases import count_of, decimal
from copydesk.book.structure.page import SkinPage
from copydesk.tracking.checking.fault_rates import (
    SittingTime,
    by_hand,
    by_hand_and_kind,
    by_kind,
    checked_lines,
    over_the_day,
    over_the_sitting,
    rest_after,
)
from copydesk.tracking.checking.fault_report import text_line

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from copydesk.tracking.checking.fault_rates import Band, CheckedLines, FaultRate, RestAfter
    from copydesk.tracking.state.book_state import BookState


class FaultRates(NamedTuple):
    """Rates by hand, by kind, by both, over the day and over a sitting; and what each hand's record says of rests."""

    lines: int
    hands: dict[str, FaultRate]
    kinds: dict[str, FaultRate]
    hands_and_kinds: dict[str, dict[str, FaultRate]]
    day: list[Band]
    sitting: list[Band]
    rests: dict[str, RestAfter]


def fault_rates(state: BookState) -> FaultRates:
    """What the pages checked by reading so far tell."""
    checked = list(_checked(state))
    hands = by_hand(checked)
    rests = {hand: rest_after([each for each in checked if each.hand == hand]) for hand in hands}
    return FaultRates(
        lines=sum(each.lines for each in checked),
        hands=hands,
        kinds=by_kind(checked),
        hands_and_kinds=by_hand_and_kind(checked),
        day=over_the_day(checked),
        sitting=over_the_sitting(checked),
        rests={hand: rest for hand, rest in rests.items() if rest is not None},
    )


def _checked(state: BookState) -> Iterator[CheckedLines]:
    ledger = state.ledger
    sat = SittingTime(entry for entry in ledger if not ledger.is_void(entry.entry))
    for name in ledger.about("page"):
        skin = SkinPage.parse(name)
        page, record = state.page_of(skin), state.record(skin)
        if record.checked_by:
            yield from checked_lines(record, partial(text_line, state, page), sat.at_middle_of)


def _rate_column(key: str, says: str, heading: str, value: Callable[[FaultRate], float]) -> Column[FaultRate]:
    return Column(
        key, Cell.NUMBER, says, lambda rate: round(value(rate), 2), heading, lambda rate, _: decimal(value(rate), 2)
    )


RATE: tuple[Column[FaultRate], ...] = (
    Column("faults", Cell.NUMBER, "faults found", heading="faults"),
    Column("lines", Cell.NUMBER, "lines checked", heading="lines"),
    _rate_column("per_100_lines", "faults in a hundred lines", "in 100", lambda rate: rate.per_100),
    _rate_column("low", "the low end of the 90 % range", "low", lambda rate: rate.low),
    _rate_column("high", "the high end", "high", lambda rate: rate.high),
)
RATES: Report[FaultRate] = Report("faults --tell, a rate", "One rate of faults.", RATE, rows=False)


def _in_band(band: Band, unit: str) -> dict[str, object]:
    end = None if band.end == float("inf") else band.end
    return {f"from_{unit}": band.start, f"to_{unit}": end, **RATES.data(band.rate)}


RESTS: Report[RestAfter] = one_of(
    "faults --tell, a rest",
    "After how many minutes a hand makes more faults.",
    Column("minutes", Cell.NUMBER, "minutes of writing"),
    Column("before", Cell.OBJECT, "the rate before", of=RATES),
    Column("after", Cell.OBJECT, "the rate after", of=RATES),
    Column("chance", Cell.NUMBER, "the chance, at most, of ever so much", lambda rest: round(rest.chance, 4)),
)
FAULT_RATES: Report[FaultRates] = one_of(
    "faults --tell",
    "How many faults in a hundred lines, by hand and kind, over the day and over a sitting.",
    Column("lines_checked", Cell.NUMBER, "lines checked", "lines"),
    Column("hands", Cell.BY_NAME, "a rate by hand", of=RATES),
    Column("kinds", Cell.BY_NAME, "a rate by kind", of=RATES),
    Column(
        "hands_and_kinds",
        Cell.OBJECT,
        "by hand, then by kind, a rate",
        lambda told: {
            hand: {kind: RATES.data(rate) for kind, rate in kinds.items()}
            for hand, kinds in told.hands_and_kinds.items()
        },
    ),
    Column(
        "day", Cell.ROWS, "from_hour, to_hour and a rate", lambda told: [_in_band(each, "hour") for each in told.day]
    ),
    Column(
        "sitting",
        Cell.ROWS,
        "from_minute, to_minute (null at the last) and a rate",
        lambda told: [_in_band(each, "minute") for each in told.sitting],
    ),
    Column("rest_after", Cell.BY_NAME, "by hand, where its record shows it", "rests", of=RESTS),
)


def fault_rate_rows(told: FaultRates) -> list[tuple[str, str, FaultRate]]:
    """Every rate as a row: what it is by, which one, and the rate; the whole book's hands first."""
    rows = [("hand", hand, rate) for hand, rate in told.hands.items()]
    rows += [("kind", kind, rate) for kind, rate in told.kinds.items()]
    if len(told.hands) > 1:
        rows += [
            ("hand, kind", f"{hand}, {kind}", rate)
            for hand, kinds in told.hands_and_kinds.items()
            for kind, rate in kinds.items()
        ]
    rows += [("time of day", band_words(band, "h"), band.rate) for band in told.day]
    rows += [("sat without a rest", band_words(band, "minutes"), band.rate) for band in told.sitting]
    return rows


def band_words(band: Band, unit: str) -> str:
    """``9 to 12 h``; ``90 minutes and more``."""
    if band.end == float("inf"):
        return f"{decimal(band.start)} {unit} and more"
    return f"{decimal(band.start)} to {decimal(band.end)} {unit}"


def fault_rate_sentences(told: FaultRates) -> list[str]:
    """What can be said in words: how much was checked, how sure it is, and when to rest where the record shows it."""
    if not told.lines:
        return ["No page is checked by reading yet, so there are no fault rates yet."]
    found = sum(rate.faults for rate in told.hands.values())
    said = [
        f"{count_of(found, 'fault')} found in {count_of(told.lines, 'line')} checked. Rates are faults in a hundred "
        "lines, each with its 90 % range."
    ]
    return said + [f"{hand}: {rest.sentence()}" for hand, rest in told.rests.items()]
