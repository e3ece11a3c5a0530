"""The book as it stands: the plan and everything recorded so far, worked into pages, hands and line budget.

One ``BookState`` belongs to one reading of ``book.yaml``. Entries are taken in one at a time; each makes stale only
what it carries on, and what is stale is worked out again when it is next asked for.
"""

from __future__ import annotations

from copy import copy as shallow_copy
from dataclasses import replace
from typing import TYPE_CHECKING

from copydesk.book.casting.line_budget import Budget, Budgeter, PagesToFill, Pin
from copydesk.book.structure.page import SkinPage
from copydesk.tracking.ledger.agreements import AGREED, RULING
from copydesk.tracking.ledger.entry import Entry
from copydesk.tracking.state.fixed_starts import pin_of, pins_now
from copydesk.tracking.state.hand_sets import HandSets
from copydesk.tracking.state.leaf_state import LeafState
from copydesk.tracking.state.text_layout import anchors_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from copydesk.book.hands.hand_fit import Usage
    from copydesk.book.hands.hand_set import HandSet
    from copydesk.book.plan import Book
    from copydesk.book.text.exemplar import Exemplar
    from copydesk.tracking.ledger.entry import Act
    from copydesk.tracking.ledger.ledger import Ledger, Subject
    from copydesk.tracking.ledger.page_record import PageRecord
    from copydesk.tracking.state.hand_sets import StrangeReach
    from copydesk.tracking.state.text_state import Samples


class BookState(LeafState):
    """A book, its exemplar and its ledger, and all that follows from them."""

    def __init__(self, book: Book, exemplar: Exemplar | None, ledger: Ledger, samples: Samples | None = None) -> None:
        super().__init__(book, exemplar, ledger, samples)
        self._hands = HandSets()
        self._budgeter: Budgeter | None = None
        self._pins: dict[int, Pin] | None = None
        self._budget: Budget | None = None
        self._stale_budget: Budget | None = None
        self._hands_of: list[str] | None = None
        self._taken_over = False

    def touch(self, subject: Subject) -> None:
        """Drop what an entry about ``subject`` makes stale."""
        kind, name = subject
        if kind == "page":
            self._touch_page(name)
        elif kind == "space":
            self._touch_space(name)
        elif kind == "sheet":
            self._sheets.pop(name, None)
        elif kind == "leaf":
            self._drop_leaves()
            self._pins = self._hands_of = None
            self._hands.evidence_changed()
            self._drop_budget(keep=False)
        elif kind == "text":
            self._drop_text()
        elif kind == "book":
            self._touch_agreement(name)

    def supposing(self, acts: Iterable[Act]) -> BookState:
        """The book as it would stand after these acts, worked out from how it stands; this one does not change."""
        self.budget  # noqa: B018 - worked out here, once, it serves this state and the one supposed
        other = shallow_copy(self)
        # The copy shares every cache with this state. Those that ``touch`` changes in place are copied; the others it
        # only replaces, which leaves this state's own as they are.
        other._pages, other._spaces, other._sheets = {**self._pages}, {**self._spaces}, {**self._sheets}
        other._pins, other._frames, other._hands = {**self.pins}, {**self.frames}, shallow_copy(self._hands)
        tick = self.ledger.last_tick
        entries = [
            Entry(f"supposed {tick + at}", tick + at, "", "", "", act.what, act.about, act.page, act.facts)
            for at, act in enumerate(acts, start=1)
        ]
        other.ledger = self.ledger.supposing(entries)
        for entry in entries:
            other.touch(entry.subject)
        return other

    def _touch_page(self, name: str) -> None:
        before = self._pages.pop(name, None)
        after = self.record(SkinPage.parse(name))
        if before is not None and before.budget_key == after.budget_key:
            # Words left out or doubled were not, or were, written there; an end may be given now, or only ticked.
            if (before.faults, before.stints) != (after.faults, after.stints):
                self._hands.evidence_changed()
            return
        if after.taken_by or self._taken_over:
            self._hands_of = None
        self._hands.evidence_changed()
        page = self.collation.page_of(SkinPage.parse(name))
        if page is not None:
            self._renew_pin(page.index, after)
            self._renew_frame(page.index, after)
        self._drop_budget(keep=True)

    def _touch_space(self, name: str) -> None:
        before = self._spaces.pop(name, None)
        after = self.space_record(name)
        if before is None or before.plan_key != after.plan_key:
            self._plans = self._budgeter = self._frames = self._loose = None
            self._drop_budget(keep=True)
            if self._new_lines_changed():
                self._drop_text()

    def _touch_agreement(self, name: str) -> None:
        if name == AGREED:
            self._agreed = None
            self._hands.evidence_changed()
        elif name == RULING:
            self._frame = self._frames = None
        else:
            return
        self._drop_budget(keep=True)

    def _drop_text(self) -> None:
        super()._drop_text()
        self._budgeter = self._pins = self._frames = None
        self._hands.evidence_changed()
        self._drop_budget(keep=False)

    def _drop_budget(self, *, keep: bool) -> None:
        """Have the budget worked out anew; with ``keep`` from the old one, of which most pages stay as they are.

        The old one is of no use (and would be wrong) once leaves moved or the text was laid out anew: its pages are
        numbered, and its text is counted, otherwise.
        """
        self._stale_budget = (self._budget or self._stale_budget) if keep else None
        self._budget = None

    @property
    def sets(self) -> Mapping[str, HandSet]:
        """How close each hand writes, as well as is known since the last ``refit``."""
        return self._hands.sets(self)

    def set_shown(self, hand: str) -> HandSet:
        """How close a hand writes, at the very letters to a line at which its text is cast off."""
        return replace(self.sets[hand], letters_per_line=self.measures[hand])

    @property
    def measures(self) -> Mapping[str, float]:
        """Letters to a full line of a column at which the text is cast off, by hand."""
        return self._hands.measures(self)

    @property
    def usages(self) -> Mapping[str, Sequence[Usage]]:
        """What each hand's newest pages say of its set."""
        return self._hands.usages(self)

    @property
    def strange_reaches(self) -> tuple[StrangeReach, ...]:
        """Lines that hold far more or less of the text than so many of their hand do, as of the last ``refit``."""
        return self._hands.strange(self)

    def fit_when_asked(self) -> None:
        """Fit the hands' sets once somebody asks for one; what needs none is then not kept waiting."""
        self._hands.fit_when_asked()

    def refit(self) -> bool:
        """Fit the hands' sets to what was written since they were last fitted; True where any has changed.

        A page ticked as planned teaches nothing; this is called once a page's real end was recorded or taken back, and
        in a quiet moment for what other desks recorded.
        """
        before = self.measures
        changed = self._hands.refit(self)
        if changed and self.measures != before:
            if self._budgeter is not None:
                self._budgeter.remeasure(self.measures)
            self._pins = None
            self._drop_budget(keep=True)
        return changed

    def letters_of(self, hand: str) -> float:
        """Letters to a full line of a hand; of the book's first where it has no such hand."""
        return self.measures.get(hand) or next(iter(self.measures.values()))

    @property
    def budgeter(self) -> Budgeter:
        """What casts the text off."""
        if self._budgeter is None:
            anchors = anchors_of(self.plans, self.exemplar, self.copy, self.layout)
            self._budgeter = Budgeter(self.copy, self.measures, anchors, self.known_lines, self.progress.fitting)
        return self._budgeter

    @property
    def pins(self) -> dict[int, Pin]:
        """What is fixed on each page whose beginning is fixed, by index."""
        if self._pins is None:
            self._pins = pins_now(self, self.letters_of)
        return self._pins

    def _renew_pin(self, index: int, record: PageRecord) -> None:
        if self._pins is not None:
            self._pins.pop(index, None)
            if (pin := pin_of(self.copy, record, self.letters_of)) is not None:
                self._pins[index] = pin
            elif (word := self.page_starts.get(index)) is not None:
                self._pins[index] = Pin(self.copy.piece(word))

    def hand_of(self, index: int) -> str:
        """The hand expected to write a page: one that took the desk over, the one planned, else the book's first."""
        if self._hands_of is None:
            self._hands_of = self._expected_hands()
        return self._hands_of[index] if index < len(self._hands_of) else self.book.hands[0].id

    def _expected_hands(self) -> list[str]:
        """The hand expected on every page.

        A hand that took the desk over goes on to the end of the gathering, or until another is found writing there.
        ``_taken_over`` then says that any did: what is written next may change who is expected on the pages after it.
        """
        planned = {number: hand.id for hand in self.book.hands for number in hand.gatherings}
        hands: list[str] = []
        for gathering in self.collation.gatherings:
            hands += [planned.get(gathering.number, self.book.hands[0].id)] * (2 * len(gathering.leaves))
        pages = map(SkinPage.parse, self.ledger.about("page"))
        found = ((self.collation.page_of(skin), skin) for skin in pages)
        records = {page.index: self.record(skin) for page, skin in found if page is not None}
        self._taken_over = any(each.taken_by for each in records.values())
        if self._taken_over:
            for gathering in self.collation.gatherings:
                leaves = self.collation.leaf_numbers(gathering.number)
                _take_over(hands, range(2 * leaves.start - 2, 2 * leaves.stop - 2), records)
        return hands

    def hand_on(self, index: int) -> str:
        """The hand that goes on with a page: whoever has the pen there, else the hand expected to write it.

        Asked for page after page of a trial cast, so it is looked up among the pins, which know the pen of every page
        begun; a hand that took over a page without writing on it is the one expected there.
        """
        pin = self.pins.get(index)
        return pin.hand if pin is not None and pin.hand else self.hand_of(index)

    def letters_on(self, index: int, hand: str = "") -> float:
        """Letters a line at which a page is cast off: those agreed on for it, else those of ``hand``.

        Where no hand is named, it is the one that goes on with the page.
        """
        return self.agreed.get(index) or self.letters_of(hand or self.hand_on(index))

    @property
    def budget(self) -> Budget:
        """The line budget of the whole book as it stands."""
        if self._budget is None:
            fixed = frozenset(placement.id for frame in self.frames.values() for placement in frame.fixed)
            task = PagesToFill(
                self.collation.pages, self.frame, self.frames, self.pins, self.hand_of, fixed, self.agreed
            )
            budget, self._stale_budget = self.budgeter.work(task, self._stale_budget, self.progress.filling), None
            lost = (plan.id for plan in self.plans if plan.at.page is not None and plan.id not in fixed)
            self._budget = budget._replace(homeless=(*budget.homeless, *lost))
        return self._budget


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
