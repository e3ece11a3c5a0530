"""Every hand of a book as its ledger has it: its set and how that moved, its pace, its faults."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.ledger.hand_sets import history
from copydesk.ledger.hands_report import HandReport
from copydesk.ledger.pace import pace_of
from copydesk.ledger.sittings import writing_sittings
from copydesk.ledger.slips_report import slips_told

if TYPE_CHECKING:
    from collections.abc import Iterator

    from copydesk.ledger.pace import Sitting
    from copydesk.ledger.standing import Standing


class HandNow(NamedTuple):
    """A hand: its report, its letters a line before its first page, and after each of its last, the older first."""

    report: HandReport
    before: float
    moved: tuple[float, ...]

    def as_json(self) -> dict[str, object]:
        """As documented for ``hands --json``."""
        moved = [round(letters, 1) for letters in self.moved]
        return {**self.report.as_json(), "before": round(self.before, 1), "moved": moved}

    def moved_sentence(self) -> str:
        """How its letters a line moved with the pages it wrote; nothing where it wrote none."""
        if not self.moved:
            return ""
        after = ", ".join(f"{letters:.1f}" for letters in self.moved)
        when = "its page" if len(self.moved) == 1 else f"each of its last {len(self.moved)} pages"
        return f"Thought to write {self.before:.1f} before it began; after {when}: {after}."


def sittings_of(standing: Standing) -> list[Sitting]:
    """Every sitting of writing that the ledger tells of."""
    ledger = standing.ledger
    kinds = ("written", "stint-started", "stint-paused", "stint-stopped")
    return writing_sittings(entry for entry in ledger if entry.what in kinds and not ledger.is_void(entry.entry))


def hands_now(standing: Standing, measure: float = 0.0, nib: float = 0.0) -> list[HandNow]:
    """Every hand, in the order of the book.

    Args:
        standing: the book.
        measure: another column measure, in mm, at which to give its letters; 0 for the book's own.
        nib: another nib, in mm; 0 for the book's own.
    """
    return list(_hands(standing, measure, nib))


def _hands(standing: Standing, measure: float, nib: float) -> Iterator[HandNow]:
    sittings, slips, usages = sittings_of(standing), slips_told(standing).hands, standing.usages
    for hand in standing.book.hands:
        known, first = standing.sets[hand.id], standing.first_sets[hand.id]
        at_size = known.at(measure, nib)
        factor = at_size.letters_per_line / known.letters_per_line
        pace = pace_of([each for each in sittings if each.hand == hand.id], hand.lines_an_hour)
        report = HandReport(hand.id, hand.name, at_size, pace, slips.get(hand.id))
        moved = history(first, usages.get(hand.id, ()))
        yield HandNow(report, first.letters_per_line * factor, tuple(letters * factor for letters in moved))
