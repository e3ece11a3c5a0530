"""Each hand's set as its pages have it by now, and the letters a line the text is cast off at."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.hands.hand_fit import fit, moved
from copydesk.tracking.state.hand_evidence import newest_reaches, usage_of_reach

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from copydesk.book.hands.hand_fit import Usage
    from copydesk.book.hands.hand_set import HandSet
    from copydesk.book.layout.page_frame import Frame
    from copydesk.book.text.copy_text import CopyText
    from copydesk.tracking.state.hand_evidence import Reach
    from copydesk.tracking.state.leaf_state import LeafState


_STEP, _SMALL_STEP, _SMALL = 0.1, 0.05, 20.0
"""Letters a line are taken to the nearest tenth, under twenty to the nearest twentieth."""


class StrangeReach(NamedTuple):
    """Lines of a hand that hold far more of the text, or far less, than so many of its lines do: ``words`` more."""

    reach: Reach
    words: int


class HandSets:
    """The hands of one book: as they were thought to write, and as they were last fitted."""

    def __init__(self) -> None:
        self._fitted: Mapping[str, HandSet] | None = None
        self._measures: Mapping[str, float] | None = None
        self._strange: tuple[StrangeReach, ...] = ()
        self._usage = HandUsage()
        self._due, self._when_asked = True, False

    def evidence_changed(self) -> None:
        """What was written has changed, or the text itself: the hands are to be fitted again."""
        self._due = True
        if self._fitted is None:
            self._measures = None

    def fit_when_asked(self) -> None:
        """Fit once somebody asks for a set; what needs none is then not kept waiting."""
        self._when_asked = True

    def sets(self, state: LeafState) -> Mapping[str, HandSet]:
        """How close each hand writes, as last fitted."""
        if self._when_asked:
            self._when_asked = False
            self.refit(state)
        return self._fitted if self._fitted is not None else state.first_sets

    def measures(self, state: LeafState) -> Mapping[str, float]:
        """Letters to a full line of a column at which the text is cast off."""
        if self._measures is None:
            sets = self.sets(state).items()
            self._measures = {name: cast_at(known.letters_per_line, state.first_sets[name]) for name, known in sets}
        return self._measures

    def usages(self, state: LeafState) -> Mapping[str, Sequence[Usage]]:
        """What each hand's newest pages say of its set."""
        return self._usage.of(state)

    def refit(self, state: LeafState) -> bool:
        """Fit the sets to what was written since they were last fitted; True where any is another now."""
        if not self._due:
            return False
        self._due, before = False, self.sets(state)
        usages = self.usages(state)
        fits = {hand: fit(known, usages.get(hand, ())) for hand, known in state.first_sets.items()}
        self._fitted = {hand: found.hand for hand, found in fits.items()}
        self._measures = None
        self._strange = tuple(
            StrangeReach(reach, _words_more(reach, usages[hand][at].middle, expected))
            for hand, found in fits.items()
            for at, expected in found.strange
            for reach in (self._usage.reaches[hand][at],)
        )
        return self._fitted != before

    def strange(self, state: LeafState) -> tuple[StrangeReach, ...]:
        """The lines that stand out among those of their hand, as last fitted."""
        self.sets(state)
        return self._strange


def _words_more(reach: Reach, letters: float, expected: float) -> int:
    """How many words of a reach, at so many letters a line, stand there beyond those of a hand as expected."""
    return round((reach.last.to_word - reach.lines[0].from_word) * (1 - expected / letters))


def cast_at(letters: float, first: HandSet) -> float:
    """The letters a line at which the text of a hand is cast off.

    What the pages say is rounded to a step far finer than they are sure of, so that a page which hardly changes the
    figure does not break the whole text anew; and by the step alone, so that every desk casts off alike. What a person
    stated or a sample gave (``first``) stays as it is while the pages are within a step of it.

    Args:
        letters: those of its set as last fitted.
        first: the set before any page was written.
    """
    step = _SMALL_STEP if letters < _SMALL else _STEP
    if abs(letters - first.letters_per_line) < step:
        return first.letters_per_line
    return round(round(letters / step) * step, 2)


def history(known: HandSet, usages: Sequence[Usage], last: int = 12) -> tuple[float, ...]:
    """The letters a line after each of the hand's last pages, the older first.

    Args:
        known: the set before any page was written.
        usages: what the hand's pages say, in the order they were written.
        last: how many pages at most.
    """
    return tuple(each.letters_per_line for each in moved(known, usages, last))


class HandUsage:
    """Keeps what each passage says, so that only those that changed are looked at again."""

    def __init__(self) -> None:
        self._known: dict[tuple[Reach, tuple[Frame, ...]], Usage] = {}
        self._copy: CopyText | None = None
        self.reaches: Mapping[str, Sequence[Reach]] = {}

    def of(self, state: LeafState) -> dict[str, list[Usage]]:
        """The usages of each hand's newest pages in the order they were written."""
        first = state.first_sets
        if state.copy is not self._copy:
            self._known, self._copy = {}, state.copy
        known: dict[tuple[Reach, tuple[Frame, ...]], Usage] = {}
        found: dict[str, list[Usage]] = {}
        told_by = _reading(state)
        self.reaches = newest_reaches(state)
        for hand, pieces in self.reaches.items():
            if hand not in first:
                continue
            keys = [(piece, tuple(map(state.frame_of, piece.pages))) for piece in pieces]
            for key in keys:
                known[key] = self._known.get(key) or told_by(state.copy, *key, first[hand].letters_per_line)
            found[hand] = [known[key] for key in keys]
        self._known = known
        return found


def _reading(state: LeafState) -> Callable[[CopyText, Reach, tuple[Frame, ...], float], Usage]:
    """The function that reads what a reach says of its hand."""
    if state.exemplar is not None:
        return usage_of_reach
    from functools import partial

    from copydesk.tracking.state.counted_evidence import counted_usage

    return partial(counted_usage, state.book.divisions)
