"""What the faults found in a book tell: how many in a hundred lines, by hand, kind, hour and length of sitting."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.phrases import count_of
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
    from collections.abc import Iterator

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
    """What the pages checked so far tell."""
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


def fault_rates_as_data(told: FaultRates) -> dict[str, object]:
    """As plain data, rates in faults per hundred lines with their 90 % range."""
    return {
        "lines_checked": told.lines,
        "hands": {hand: _rate(rate) for hand, rate in told.hands.items()},
        "kinds": {kind: _rate(rate) for kind, rate in told.kinds.items()},
        "hands_and_kinds": {
            hand: {kind: _rate(rate) for kind, rate in kinds.items()} for hand, kinds in told.hands_and_kinds.items()
        },
        "day": [{"from_hour": band.start, "to_hour": band.end, **_rate(band.rate)} for band in told.day],
        "sitting": [
            {"from_minute": band.start, "to_minute": None if band.end == float("inf") else band.end, **_rate(band.rate)}
            for band in told.sitting
        ],
        "rest_after": {
            hand: {
                "minutes": rest.minutes,
                "before": _rate(rest.before),
                "after": _rate(rest.after),
                "chance": round(rest.chance, 4),
            }
            for hand, rest in told.rests.items()
        },
    }


def _rate(rate: FaultRate) -> dict[str, object]:
    return {
        "faults": rate.faults,
        "lines": rate.lines,
        "per_100_lines": round(rate.per_100, 2),
        "low": round(rate.low, 2),
        "high": round(rate.high, 2),
    }


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
        return f"{band.start:g} {unit} and more"
    return f"{band.start:g} to {band.end:g} {unit}"


def fault_rate_sentences(told: FaultRates) -> list[str]:
    """What can be said in words: how much was checked, how sure it is, and when to rest where the record shows it."""
    if not told.lines:
        return ["No page is checked yet, so there are no fault rates yet."]
    found = sum(rate.faults for rate in told.hands.values())
    said = [
        f"{count_of(found, 'fault')} found in {count_of(told.lines, 'line')} checked. Rates are faults in a hundred "
        "lines, each with its range: nine such ranges in ten hold the true rate."
    ]
    return said + [f"{hand}: {rest.sentence()}" for hand, rest in told.rests.items()]
