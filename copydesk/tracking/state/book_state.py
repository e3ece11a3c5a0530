"""The book as it stands: the plan and everything recorded so far, worked into pages, records and budget.

One value of ``Standing`` belongs to one reading of ``book.yaml``. Entries are taken in one at a time; each
makes stale only what it touches, and what is stale is worked out again when next asked for.
"""

from __future__ import annotations

from copy import copy as alike
from typing import TYPE_CHECKING

from copydesk.book.casting.line_budget import Budget, Budgeter, PagesToFill
from copydesk.book.layout import spaces as spaces_of
from copydesk.book.layout.page_frame import Frame
from copydesk.book.layout.page_layout import lay_out
from copydesk.book.structure.page import Page, SkinPage
from copydesk.tracking.ledger.agreements import AGREED, RULING, letters_agreed, lines_settled
from copydesk.tracking.ledger.entry import Entry
from copydesk.tracking.ledger.expected_hands import expected_hands
from copydesk.tracking.ledger.flaws_found import Flaws, flaws_found
from copydesk.tracking.ledger.leaf_history import collation_now, page_in_its_place, planned_collation
from copydesk.tracking.ledger.records import Records
from copydesk.tracking.state.first_plan import pages_needed
from copydesk.tracking.state.fixed_starts import pin_of, pins_now
from copydesk.tracking.state.hand_sets import HandSets
from copydesk.tracking.state.opening_progress import FirstWork
from copydesk.tracking.state.page_frames import frames_now, ruled_frame
from copydesk.tracking.state.text_layout import anchor_words, anchors_of, lay_copy, new_lines_at
from copydesk.tracking.state.text_state import LooseSpaces

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from copydesk.book.casting.line_breaking import Lines
    from copydesk.book.casting.line_budget import Pin
    from copydesk.book.hands.hand_fit import Usage
    from copydesk.book.hands.hand_sample import SampleLine
    from copydesk.book.hands.hand_set import HandSet
    from copydesk.book.layout.page_frame import Shape
    from copydesk.book.plan import Book, SpacePlan
    from copydesk.book.structure.collation import Collation
    from copydesk.book.text.copy_text import CopyText
    from copydesk.book.text.exemplar import Exemplar
    from copydesk.tracking.ledger.entry import Act
    from copydesk.tracking.ledger.ledger import Ledger, Subject
    from copydesk.tracking.ledger.page_record import PageRecord

    Samples = Mapping[str, Sequence[SampleLine]]


class BookState(Records):
    """A book, its exemplar and its ledger, and all that follows from them.

    ``known_lines`` holds the lines of the text at each measure it was broken at.
    """

    def __init__(self, book: Book, exemplar: Exemplar | None, ledger: Ledger, samples: Samples | None = None) -> None:
        super().__init__(book, ledger)
        self.exemplar = exemplar
        self.samples: Samples = samples or {}
        self._hands = HandSets()
        self.layout = lay_out(book.page, book.columns, book.ruling, book.script)
        self._copy: CopyText | None = None
        self._new_lines: frozenset[int] = frozenset()
        self._loose: LooseSpaces | None = None
        self._planned: Collation | None = None
        self._collation: Collation | None = None
        self._budgeter: Budgeter | None = None
        self.known_lines: dict[float, Lines] = {}
        self.first_work = FirstWork()
        self._pins: dict[int, Pin] | None = None
        self._frame: Frame | None = None
        self._frames: dict[int, Frame] | None = None
        self._agreed: Mapping[int, float] | None = None
        self._budget: Budget | None = None
        self._stale_budget: Budget | None = None
        self._hands_of: list[str] | None = None
        self._taken_over = False
        self._flaws: Flaws | None = None

    def touch(self, subject: Subject) -> None:
        """Let go of what an entry about ``subject`` makes stale."""
        kind, name = subject
        if kind == "page":
            self._touch_page(name)
        elif kind == "space":
            self._touch_space(name)
        elif kind == "sheet":
            self._sheets.pop(name, None)
        elif kind == "leaf":
            self._collation = self._pins = self._frames = self._hands_of = self._flaws = self._agreed = None
            self._hands.let_go()
            self._drop_budget(keep=False)
        elif kind == "text":
            self._let_go_of_text()
        elif kind == "book":
            self._touch_agreement(name)

    def supposing(self, acts: Iterable[Act]) -> BookState:
        """The book as it would stand after these acts, worked out from how it stands; this one does not change."""
        self.budget  # noqa: B018 - what is worked out once serves both
        other = alike(self)
        other._pages, other._spaces, other._sheets = {**self._pages}, {**self._spaces}, {**self._sheets}
        other._pins, other._frames, other._hands = {**self.pins}, {**self.frames}, alike(self._hands)
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
        if before is not None and before.settles == after.settles:
            return
        if after.taken_by or self._taken_over:
            self._hands_of = None
        self._hands.let_go()
        page = self.collation.page_of(SkinPage.parse(name))
        if page is not None:
            self._renew_pin(page.index, after)
            self._renew_frame(page.index, after)
        self._drop_budget(keep=True)

    def _touch_space(self, name: str) -> None:
        before = self._spaces.pop(name, None)
        after = self.space_record(name)
        if before is None or before.settles != after.settles:
            self._plans = self._budgeter = self._frames = self._loose = None
            self._drop_budget(keep=True)
            if self._copy is not None and self._new_lines != new_lines_at(self.plans, self.exemplar):
                self._let_go_of_text()

    def _touch_agreement(self, name: str) -> None:
        if name == AGREED:
            self._agreed = None
            self._hands.let_go()
        elif name == RULING:
            self._frame = self._frames = None
        else:
            return
        self._drop_budget(keep=True)

    def _let_go_of_text(self) -> None:
        self._copy = self._budgeter = self._pins = self._frames = self._loose = None
        self._hands.let_go(text=True)
        self.known_lines = {}
        self._drop_budget(keep=False)

    def _drop_budget(self, *, keep: bool) -> None:
        self._stale_budget = (self._budget or self._stale_budget) if keep else None
        self._budget = None

    @property
    def copy(self) -> CopyText:
        """The text laid out for casting off."""
        if self._copy is None:
            self._new_lines = new_lines_at(self.plans, self.exemplar)
            self._copy = lay_copy(self.book, self.exemplar, self.changes, self._new_lines, self.first_work.laying)
        return self._copy

    @property
    def first_sets(self) -> Mapping[str, HandSet]:
        """How close each hand was thought to write before it had written a page."""
        return self._hands.first(self)

    @property
    def sets(self) -> Mapping[str, HandSet]:
        """How close each hand writes, as well as is known since the last ``refit``."""
        return self._hands.sets(self)

    @property
    def measures(self) -> Mapping[str, float]:
        """Letters to a full line of a column at which the text is cast off, by hand."""
        return self._hands.measures(self)

    @property
    def usages(self) -> Mapping[str, Sequence[Usage]]:
        """What each hand's newest pages tell of its set."""
        return self._hands.usages(self)

    def fit_when_asked(self) -> None:
        """Fit the hands' sets once somebody asks for one; what needs none is then not kept waiting."""
        self._hands.fit_when_asked()

    def refit(self) -> bool:
        """Fit the hands' sets to what was written since they were last fitted; True where any is another now.

        Recording a page does not fit them: it is cast off at the letters known, and this is called in a quiet moment.
        """
        before = self.measures
        changed = self._hands.refit(self)
        if changed and self.measures != before:
            if self._budgeter is not None:
                self._budgeter.remeasure(self.measures)
            self._pins = None
            self._drop_budget(keep=True)
        return changed

    @property
    def frame(self) -> Frame:
        """The lines of a page nothing is known of: as the book has them, or as was settled for pages not yet ruled."""
        if self._frame is None:
            self._frame = Frame(self.layout.columns, lines_settled(self.ledger) or self.layout.lines)
        return self._frame

    def frame_of(self, index: int) -> Frame:
        """The lines of the page at ``index``."""
        return self.frames.get(index, self.frame)

    @property
    def agreed(self) -> Mapping[int, float]:
        """Letters a line agreed on for pages that must hold more, or less, than their hand would put there."""
        if self._agreed is None:
            self._agreed = letters_agreed(self.ledger, self.collation)
        return self._agreed

    @property
    def budgeter(self) -> Budgeter:
        """What casts the text off."""
        if self._budgeter is None:
            anchors = anchors_of(self.plans, self.exemplar, self.copy, self.layout)
            self._budgeter = Budgeter(self.copy, self.measures, anchors, self.known_lines, self.first_work.fitting)
        return self._budgeter

    @property
    def loose_spaces(self) -> LooseSpaces:
        """Spaces that stand wherever their text stands, with the piece of the text they are tied to."""
        if self._loose is None:
            loose = [plan for plan in self.plans if spaces_of.goes_with_text(plan)]
            words = anchor_words(loose, self.exemplar, self.copy) if loose else {}
            self._loose = LooseSpaces({space: self.copy.piece(word) for space, word in words.items()})
        return self._loose

    def shape(self, plan: SpacePlan) -> Shape:
        """What a planned space takes from the ruled lines."""
        return spaces_of.shape_of(plan, self.layout)

    def word_of(self, plan: SpacePlan) -> int | None:
        """The word of the exemplar a space stands before; None where it is tied to a page."""
        return anchor_words([plan], self.exemplar, self.copy).get(plan.id)

    @property
    def planned(self) -> Collation:
        """The gatherings as first planned."""
        if self._planned is None:
            self._planned = planned_collation(self.book, lambda: pages_needed(self))
        return self._planned

    @property
    def collation(self) -> Collation:
        """The gatherings as they stand today, leaves cancelled, replaced and added included."""
        if self._collation is None:
            self._collation = collation_now(self.planned, self.ledger.live_of("leaf"))
        return self._collation

    def page_today(self, planned: Page) -> Page | None:
        """The page that ``planned`` (as the book file names it) is today, or the one that replaced it, or None."""
        if not self.planned.has(planned):
            return None
        return page_in_its_place(self.collation, self.planned.skin_page(planned))

    def page_of_anchor(self, plan: SpacePlan) -> Page | None:
        """The page today that a space is tied to; None where it is tied to the text, or its leaf is gone."""
        if plan.at.page is None:
            return None
        if ":" in plan.at.page:
            return page_in_its_place(self.collation, SkinPage.parse(plan.at.page))
        return self.page_today(Page.parse(plan.at.page))

    @property
    def frames(self) -> dict[int, Frame]:
        """Pages whose lines are not as usual, by index: spaces fixed there, and flaws."""
        if self._frames is None:
            self._frames = frames_now(self)
        return self._frames

    @property
    def flaws(self) -> Flaws:
        """The flaws of each leaf that has any, by its number today."""
        if self._flaws is None:
            self._flaws = flaws_found(self.book, self.planned, self.collation, self.ledger.live_of("leaf"))
        return self._flaws

    def _renew_frame(self, index: int, record: PageRecord) -> None:
        """Take over what is now fixed on a page; where the plan ties spaces to pages, all are looked at again."""
        if self._frames is None:
            return
        tied = any(plan.at.page is not None for plan in self.plans)
        if record.placements is None or tied or Page.at(index).leaf in self.flaws:
            self._frames = None
        elif (frame := ruled_frame(self, record)) != self.frame_of(index):
            self._frames[index] = frame

    def recorded(self) -> list[tuple[int, PageRecord]]:
        """Every page that bears a record and still stands, with its index."""
        found = []
        for name in self.first_work.folding(self.ledger.about("page")):
            skin = SkinPage.parse(name)
            page = self.collation.page_of(skin)
            if page is not None:
                found.append((page.index, self.record(skin)))
        return found

    @property
    def pins(self) -> dict[int, Pin]:
        """What is settled on each page that holds its beginning."""
        if self._pins is None:
            self._pins = pins_now(self)
        return self._pins

    def _renew_pin(self, index: int, record: PageRecord) -> None:
        if self._pins is not None:
            self._pins.pop(index, None)
            if (pin := pin_of(self, record)) is not None:
                self._pins[index] = pin

    def letters_of(self, hand: str) -> float:
        """Letters to a full line of a hand; of the book's first where it has no such hand."""
        return self.measures.get(hand) or next(iter(self.measures.values()))

    def hand_of(self, index: int) -> str:
        """The hand expected to write a page: one that took the desk over, the one planned, else the book's first."""
        if self._hands_of is None:
            skins = map(SkinPage.parse, self.ledger.about("page"))
            self._hands_of, self._taken_over = expected_hands(self.book, self.collation, skins, self.record)
        return self._hands_of[index] if index < len(self._hands_of) else self.book.hands[0].id

    @property
    def budget(self) -> Budget:
        """The line budget of the whole book as it stands."""
        if self._budget is None:
            fixed = frozenset(placement.id for frame in self.frames.values() for placement in frame.fixed)
            task = PagesToFill(
                self.collation.pages, self.frame, self.frames, self.pins, self.hand_of, fixed, self.agreed
            )
            budget, self._stale_budget = self.budgeter.work(task, self._stale_budget, self.first_work.filling), None
            lost = (plan.id for plan in self.plans if plan.at.page is not None and plan.id not in fixed)
            self._budget = budget._replace(homeless=(*budget.homeless, *lost))
        return self._budget

    def skin_at(self, index: int) -> SkinPage:
        """The surface of skin that bears the page at ``index`` today."""
        return self.collation.skin_page(Page.at(index))

    def page_of(self, skin: SkinPage) -> Page | None:
        """The page a surface of skin bears today."""
        return self.collation.page_of(skin)
