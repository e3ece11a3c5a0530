"""Every hand of a book as its ledger has it: its set and how that moved, its pace, its faults."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.columns import Cell, Column, Report, rows_of
from copydesk.book.common.phrases import count_of, decimal
from copydesk.tracking.checking.fault_rates_report import fault_rates
from copydesk.tracking.scribes.pace import pace_of
from copydesk.tracking.scribes.sittings import sittings_of
from copydesk.tracking.state.hand_sets import cast_at, history

if TYPE_CHECKING:
    from copydesk.book.common.distributions import Range
    from copydesk.book.hands.hand_set import HandSet
    from copydesk.tracking.checking.fault_rates import FaultRate
    from copydesk.tracking.scribes.pace import Pace
    from copydesk.tracking.state.book_state import BookState


def hands_now(state: BookState, measure: float = 0.0, nib: float = 0.0) -> list[HandReport]:
    """Every hand, in the order of the book.

    Args:
        state: the book.
        measure: another column measure, in mm, at which to give its letters; 0 for the book's own.
        nib: another nib, in mm; 0 for the book's own.
    """
    sittings, rates, usages = sittings_of(state), fault_rates(state).hands, state.usages
    found = []
    for hand in state.book.hands:
        known, first = state.set_shown(hand.id), state.first_sets[hand.id]
        at_size = known.at(measure, nib)
        factor = at_size.letters_per_line / known.letters_per_line
        pace = pace_of([each for each in sittings if each.hand == hand.id], hand.lines_an_hour)
        moved = tuple(cast_at(letters, first) * factor for letters in history(first, usages.get(hand.id, ())))
        before = first.letters_per_line * factor
        found.append(HandReport(hand.id, hand.name, at_size, pace, rates.get(hand.id), before, moved))
    return found


_LEAST_MOVE = 0.05
"""Lines an hour a sitting; less would be told as 0.0."""


class HandReport(NamedTuple):
    """One hand: its id and name, its set, its pace, and its faults (None where nothing of it was checked).

    ``before`` are its letters a line before its first page, ``moved`` those after each of its last pages, the older
    first.
    """

    hand: str
    name: str
    letters: HandSet
    pace: Pace
    faults: FaultRate | None = None
    before: float = 0.0
    moved: tuple[float, ...] = ()

    def sentences(self) -> list[str]:
        """How close it writes and how that moved, how fast it writes, its faults; what is not known is left out."""
        said = (self.set_sentence(), self.moved_sentence(), self.pace_sentence(), self.faults_sentence())
        return [sentence for sentence in said if sentence]

    def set_sentence(self) -> str:
        """How close it writes, and how sure that is, for a scribe."""
        return f"{set_words(self.hand, self.letters)}."

    def moved_sentence(self) -> str:
        """How its letters a line moved with the pages it wrote; nothing where it wrote none."""
        if not self.moved:
            return ""
        after = ", ".join(decimal(letters, 1) for letters in self.moved)
        when = "the page measured" if len(self.moved) == 1 else f"each of the last {len(self.moved)} pages measured"
        return f"Thought to write {decimal(self.before, 1)} before the first page; after {when}: {after}."

    def pace_sentence(self) -> str:
        """How fast it wrote as measured, how fast it is believed to write, and how sure that is."""
        pace, measured = self.pace.range(), self.pace.measured
        if measured is None:
            said = f"{self.hand} writes {pace.expected:.0f} lines an hour ({pace.low:.0f} to {pace.high:.0f}), "
        else:
            timed = f"{count_of(round(self.pace.lines), 'line')} in {decimal(self.pace.hours, 1)} hours"
            said = f"{self.hand} wrote {decimal(measured, 1)} lines an hour as measured, {timed}; "
            said += f"expected for the next sitting {pace.expected:.0f} ({pace.low:.0f} to {pace.high:.0f}), "
        grounds = {"guess": "a guess until a sitting is timed", "stated": "as the plan says"}
        return said + grounds.get(self.pace.source, f"from {_sittings(self.pace.sittings)}") + self._quickening() + "."

    def _quickening(self) -> str:
        """By how much its pace moves at each sitting, where the sittings show that it does."""
        each = self.pace.per_sitting
        if abs(each) < _LEAST_MOVE:
            return ""
        return f"; sitting by sitting {'faster' if each > 0 else 'slower'} by {decimal(abs(each), 1)}"

    def faults_sentence(self) -> str:
        """How many faults were found in it; nothing where no line of it was checked."""
        rate = self.faults
        if rate is None:
            return ""
        in_100 = f"{decimal(rate.per_100, 1)} in a hundred ({decimal(rate.low, 1)} to {decimal(rate.high, 1)})"
        return f"{count_of(rate.faults, 'fault')} in {count_of(rate.lines, 'line')} checked: {in_100}."


def set_words(hand: str, known: HandSet) -> str:
    """How close a hand writes, how sure that is, and what it rests on."""
    found = known.mean_range()
    expected, low, high = (decimal(each, 1) for each in (found.expected, found.low, found.high))
    said = f"{hand} writes {expected} letters a line ({low} to {high}), "
    said += _GROUNDS[known.source].format(measured=count_of(known.measured, "page"))
    if known.per_page:
        way = "closer" if known.per_page > 0 else "wider"
        said += f"; page by page {way} by {decimal(abs(known.per_page), 1)}"
    return said


_GROUNDS = {
    "guess": "a guess until a page is measured",
    "sample": "from a sample",
    "pages": "measured on {measured}",
}


def _sittings(count: int) -> str:
    return "one sitting" if count == 1 else f"{count} sittings"


def _pace(now: HandReport) -> Range | None:
    """Lines an hour with their range; None where nobody gave or measured any."""
    pace = now.pace
    return pace.range() if pace.source != "guess" else None


def _rounded(value: float | None, places: int = 1) -> float | None:
    return round(value, places) if value is not None else None


HANDS: Report[HandReport] = rows_of(
    "hands",
    "One row a hand. Ranges are 90 % ranges.",
    Column("hand", Cell.TEXT, "the hand", "hand"),
    Column("name", Cell.TEXT, "its name in the plan", "name"),
    Column(
        "letters_per_line",
        Cell.NUMBER,
        "letters and word-spaces on a full line of a column, on its next page",
        lambda n: round(n.letters.mean_range().expected, 1),
    ),
    Column("low", Cell.NUMBER, "the low end of their range", lambda n: round(n.letters.mean_range().low, 1)),
    Column("high", Cell.NUMBER, "the high end", lambda n: round(n.letters.mean_range().high, 1)),
    Column("from", Cell.TEXT, "guess, sample or pages: what they rest on", "letters.source"),
    Column("pages", Cell.NUMBER, "pages they rest on, with those ticked before a page measured", "letters.pages"),
    Column(
        "measured_pages",
        Cell.NUMBER,
        "pages whose real end was given; a page ticked as planned measures nothing",
        "letters.measured",
    ),
    Column(
        "letters_per_line_each_page",
        Cell.NUMBER,
        "how they move with each page",
        lambda n: round(n.letters.per_page, 3),
    ),
    Column(
        "lines_per_hour",
        Cell.NUMBER,
        "lines an hour believed for its next sitting; null where nobody gave or measured them",
        lambda n: _rounded(p.expected if (p := _pace(n)) else None),
    ),
    Column(
        "lines_per_hour_low",
        Cell.NUMBER,
        "the low end of their range",
        lambda n: _rounded(p.low if (p := _pace(n)) else None),
    ),
    Column("lines_per_hour_high", Cell.NUMBER, "the high end", lambda n: _rounded(p.high if (p := _pace(n)) else None)),
    Column(
        "lines_per_hour_measured",
        Cell.NUMBER,
        "lines an hour as measured, all lines timed over all their hours; null where no sitting was timed",
        lambda n: _rounded(n.pace.measured),
    ),
    Column(
        "faults_per_100_lines",
        Cell.NUMBER,
        "faults in a hundred lines; null where none was checked",
        lambda n: _rounded(s.per_100 if (s := n.faults) else None, 2),
    ),
    Column(
        "faults_low",
        Cell.NUMBER,
        "the low end of their range",
        lambda n: _rounded(s.low if (s := n.faults) else None, 2),
    ),
    Column("faults_high", Cell.NUMBER, "the high end", lambda n: _rounded(s.high if (s := n.faults) else None, 2)),
    Column("before", Cell.NUMBER, "letters a line expected before its first page", lambda n: round(n.before, 1)),
    Column(
        "moved",
        Cell.OBJECT,
        "letters a line after each of the last pages measured, a list",
        lambda n: [round(letters, 1) for letters in n.moved],
    ),
)
