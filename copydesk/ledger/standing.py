"""The book as it stands: the plan and everything recorded so far, worked into pages, records and budget.

One value of ``Standing`` belongs to one reading of ``book.yaml``. Entries are taken in one at a time; each
makes stale only what it touches, and what is stale is worked out again when next asked for.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book import spaces as spaces_of
from copydesk.book.book import Change
from copydesk.book.budget import Budget, Budgeter, Pin, Task
from copydesk.book.casting import Frame, Placement
from copydesk.book.copytext import lay_counts, lay_text
from copydesk.book.layout import lay_out
from copydesk.book.page import Page, SkinPage
from copydesk.book.syllables import anywhere
from copydesk.ledger.agreements import AGREED, RULING, letters_agreed, lines_settled
from copydesk.ledger.expected_hands import expected_hands
from copydesk.ledger.flaws_found import Flaws, Written, flaws_found, lines_lost
from copydesk.ledger.hand_sets import cast_at, fitted
from copydesk.ledger.hand_usage import HandUsage
from copydesk.ledger.half_line import resume
from copydesk.ledger.leaves import collation_now, page_in_its_place, planned_collation
from copydesk.ledger.measures import FEWEST_LETTERS, first_sets
from copydesk.ledger.page_record import BLANK, PageRecord, fold_page
from copydesk.ledger.space_plans import plans_now
from copydesk.ledger.space_record import SheetRecord, SpaceRecord, fold_sheet, fold_space

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from copydesk.book.book import Book, SpacePlan
    from copydesk.book.breaking import Lines
    from copydesk.book.casting import Anchored, Shape
    from copydesk.book.collation import Collation
    from copydesk.book.copytext import CopyText
    from copydesk.book.exemplar import Exemplar
    from copydesk.book.fitting import Usage
    from copydesk.book.hand import HandSet
    from copydesk.book.sample import SampleLine
    from copydesk.ledger.ledger import Ledger, Subject

    Samples = Mapping[str, Sequence[SampleLine]]


class Standing:
    """A book, its exemplar and its ledger, and all that follows from them."""

    def __init__(self, book: Book, exemplar: Exemplar | None, ledger: Ledger, samples: Samples | None = None) -> None:
        self.book = book
        self.exemplar = exemplar
        self.ledger = ledger
        self.samples: Samples = samples or {}
        self._first: dict[str, HandSet] | None = None
        self._fitted: dict[str, HandSet] | None = None
        self._measures: dict[str, float] | None = None
        self._usage = HandUsage()
        self._fit_due, self._fit_when_asked = True, False
        self.layout = lay_out(book.page, book.columns, book.ruling, book.script)
        self._pages: dict[str, PageRecord] = {}
        self._spaces: dict[str, SpaceRecord] = {}
        self._sheets: dict[str, SheetRecord] = {}
        self._copy: CopyText | None = None
        self._new_lines: frozenset[int] = frozenset()
        self._loose: dict[str, int] | None = None
        self._planned: Collation | None = None
        self._collation: Collation | None = None
        self._plans: tuple[SpacePlan, ...] | None = None
        self._budgeter: Budgeter | None = None
        self._lines: dict[float, Lines] = {}
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
            self._fit_due = True
            self._drop_budget(keep=False)
        elif kind == "text":
            self._let_go_of_text()
        elif kind == "book":
            self._touch_agreement(name)

    def _touch_page(self, name: str) -> None:
        before = self._pages.pop(name, None)
        after = self.record(SkinPage.parse(name))
        if before is not None and _settles(before) == _settles(after):
            return
        if after.taken_by or self._taken_over:
            self._hands_of = None
        self._fit_due = True
        page = self.collation.page_of(SkinPage.parse(name))
        if page is not None:
            self._renew_pin(page.index, after)
            self._renew_frame(page.index, after)
        self._drop_budget(keep=True)

    def _touch_space(self, name: str) -> None:
        before = self._spaces.pop(name, None)
        after = self.space_record(name)
        if before is None or (before.lines, before.at, before.plan, before.ended) != (
            after.lines,
            after.at,
            after.plan,
            after.ended,
        ):
            self._plans = self._budgeter = self._frames = self._loose = None
            self._drop_budget(keep=True)
            if self._copy is not None and self._new_lines != self._new_lines_at(self.plans):
                self._let_go_of_text()

    def _touch_agreement(self, name: str) -> None:
        if name == AGREED:
            self._agreed, self._fit_due = None, True
        elif name == RULING:
            self._frame = self._frames = None
        else:
            return
        self._drop_budget(keep=True)

    def _let_go_of_text(self) -> None:
        self._copy = self._budgeter = self._pins = self._frames = self._first = self._loose = None
        self._lines, self._fit_due = {}, True
        self._drop_budget(keep=False)

    def _drop_budget(self, *, keep: bool) -> None:
        if keep and self._budget is not None:
            self._stale_budget = self._budget
        elif not keep:
            self._stale_budget = None
        self._budget = None

    def record(self, skin: SkinPage) -> PageRecord:
        """What has happened on a page of skin."""
        name = str(skin)
        if name not in self._pages:
            entries = self.ledger.live("page", name)
            self._pages[name] = fold_page(entries) if entries else BLANK
        return self._pages[name]

    def space_record(self, space: str) -> SpaceRecord:
        """What was done in a reserved space."""
        if space not in self._spaces:
            self._spaces[space] = fold_space(self.ledger.live("space", space))
        return self._spaces[space]

    def sheet_record(self, sheet: str) -> SheetRecord:
        """Where a sheet (``3.2``: gathering 3, sheet 2) is."""
        if sheet not in self._sheets:
            self._sheets[sheet] = fold_sheet(self.ledger.live("sheet", sheet))
        return self._sheets[sheet]

    @property
    def changes(self) -> tuple[Change, ...]:
        """Departures from the exemplar made on purpose: those planned and those recorded."""
        recorded = (
            Change(
                entry.number("from_word") or 0,
                entry.number("to_word") or 0,
                entry.text("write"),
                entry.text("why"),
                entry.text("who") or entry.hand,
            )
            for entry in self.ledger.live_of("text")
        )
        return (*self.book.changes, *recorded)

    @property
    def plans(self) -> tuple[SpacePlan, ...]:
        """The reserved spaces as planned today: those of the book and those added, less those given up."""
        if self._plans is None:
            self._plans = plans_now(self.book.spaces, self.ledger.about("space"), self.space_record)
        return self._plans

    def plan_of(self, space: str) -> SpacePlan | None:
        """The plan of the space called ``space``; None where there is none today."""
        return next((plan for plan in self.plans if plan.id == space), None)

    @property
    def copy(self) -> CopyText:
        """The text laid out for casting off."""
        if self._copy is None:
            self._new_lines = self._new_lines_at(self.plans)
            self._copy = self._lay_copy(self.changes, self._new_lines)
        return self._copy

    def _new_lines_at(self, plans: Sequence[SpacePlan]) -> frozenset[int]:
        """The words that begin a line because a space stands before them."""
        if self.exemplar is None:
            return frozenset()
        taking = (plan for plan in plans if spaces_of.takes_lines(plan.kind))
        return frozenset(spaces_of.anchor_words(taking, self.exemplar, {}).values())

    def _lay_copy(self, changes: Sequence[Change], new_lines: frozenset[int]) -> CopyText:
        book = self.book
        if self.exemplar is None:
            return lay_counts(book.divisions, book.flow, book.exemplar.letters_per_line)
        from copydesk.book.letters import WordWidths, width_table

        widths = WordWidths(width_table(book.letter_widths))
        return lay_text(
            self.exemplar,
            widths,
            book.flow,
            changes=changes,
            new_line_at=new_lines,
            divide=_divider(book),
            hyphen=widths["-"] if book.line_breaks == "syllables" else 0.0,
            widest=0.9 * min(hand.letters_per_line or FEWEST_LETTERS for hand in book.hands),
        )

    @property
    def first_sets(self) -> Mapping[str, HandSet]:
        """How close each hand was thought to write before it had written a page."""
        if self._first is None:
            self._first = first_sets(self.book, self.samples, self.layout, self.copy.mean)
        return self._first

    @property
    def sets(self) -> Mapping[str, HandSet]:
        """How close each hand writes, as well as is known since the last ``refit``."""
        if self._fit_when_asked:
            self._fit_when_asked = False
            self.refit()
        return self._fitted if self._fitted is not None else self.first_sets

    @property
    def measures(self) -> Mapping[str, float]:
        """Letters to a full line of a column at which the text is cast off, by hand."""
        if self._measures is None:
            self._measures = {name: cast_at(known, self.first_sets[name]) for name, known in self.sets.items()}
        return self._measures

    @property
    def usages(self) -> Mapping[str, Sequence[Usage]]:
        """What each hand's newest pages tell of its set."""
        return self._usage.of(self, self.first_sets)

    def fit_when_asked(self) -> None:
        """Fit the hands' sets once somebody asks for one; what needs none is then not kept waiting."""
        self._fit_when_asked = True

    def refit(self) -> bool:
        """Fit the hands' sets to what was written since they were last fitted; True where any is another now.

        Recording a page does not fit them: it is cast off at the letters known, and this is called in a quiet moment.
        """
        if not self._fit_due:
            return False
        self._fit_due, before, measures = False, self.sets, self.measures
        self._fitted, self._measures = fitted(self.first_sets, self.usages), None
        if self.measures != measures:
            if self._budgeter is not None:
                self._budgeter.remeasure(self.measures)
            self._drop_budget(keep=True)
        return self._fitted != before

    @property
    def frame(self) -> Frame:
        """The lines of a page nothing is known of: as the book has them, or as was settled for pages not yet ruled."""
        if self._frame is None:
            self._frame = Frame(self.layout.columns, lines_settled(self.ledger) or self.layout.lines)
        return self._frame

    def frame_of(self, index: int) -> Frame:
        """The lines of the page at ``index``."""
        return self.frames.get(index, self.frame)

    def _ruled_frame(self, record: PageRecord) -> Frame:
        """The lines of a page as it was ruled."""
        return Frame(self.layout.columns, record.lines or self.layout.lines, record.placements or ())

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
            self._budgeter = Budgeter(self.copy, self.measures, self._anchors(self.plans, self.copy), self._lines)
        return self._budgeter

    @property
    def loose_spaces(self) -> Mapping[str, int]:
        """Spaces that stand wherever their text stands, with the piece of the text they are tied to."""
        if self._loose is None:
            loose = [plan for plan in self.plans if spaces_of.goes_with_text(plan)]
            words = self._anchor_words(loose, self.copy) if loose else {}
            self._loose = {space: self.copy.piece(word) for space, word in words.items()}
        return self._loose

    def shape(self, plan: SpacePlan) -> Shape:
        """What a planned space takes from the ruled lines."""
        return spaces_of.shape_of(plan, self.layout)

    def _anchors(self, plans: Sequence[SpacePlan], copy: CopyText) -> list[Anchored]:
        """The spaces tied to the text, those already fixed on a skin among them."""
        shapes = {plan.id: self.shape(plan) for plan in plans if not spaces_of.goes_with_text(plan)}
        return spaces_of.anchors(self._anchor_words(plans, copy), shapes, copy.piece)

    def _anchor_words(self, plans: Sequence[SpacePlan], copy: CopyText) -> dict[str, int]:
        return spaces_of.anchor_words(plans, self.exemplar, dict(enumerate(copy.divisions, 1)))

    def word_of(self, plan: SpacePlan) -> int | None:
        """The word of the exemplar a space stands before; None where it is tied to a page."""
        return self._anchor_words([plan], self.copy).get(plan.id)

    @property
    def planned(self) -> Collation:
        """The gatherings as first planned."""
        if self._planned is None:
            self._planned = planned_collation(self.book, self._pages_needed)
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

    def _pages_needed(self) -> int:
        """Pages the whole text takes as the book plans it, whatever was recorded since."""
        plans, changes = self.book.spaces, self.book.changes
        same = self.plans == plans and self.changes == changes
        copy = self.copy if same else self._lay_copy(changes, self._new_lines_at(plans))
        usual, frames = Frame(self.layout.columns, self.layout.lines), dict[int, Frame]()
        for plan in plans:
            if plan.at.page is not None:
                index = Page.parse(plan.at.page).index
                fixed = frames.get(index, usual).fixed
                placement = spaces_of.placed_on_page(plan, self.shape(plan))
                frames[index] = usual._replace(fixed=(*fixed, placement))
        first = {name: known.letters_per_line for name, known in self.first_sets.items()}
        budgeter = Budgeter(copy, first, self._anchors(plans, copy), self._lines if same else None)
        return budgeter.pages_needed(usual, frames, next(iter(first)))

    @property
    def frames(self) -> dict[int, Frame]:
        """Pages whose lines are not as usual, by index: spaces fixed there, and flaws."""
        if self._frames is None:
            self._frames = self._work_frames()
        return self._frames

    def _work_frames(self) -> dict[int, Frame]:
        frames: dict[int, Frame] = {}
        ruled: set[str] = set()
        for index, record in self.recorded():
            if record.placements is not None:
                frame = self._ruled_frame(record)
                if frame != self.frame:
                    frames[index] = frame
                ruled.update(placement.id for placement in record.placements)
        for index, placements in self._tied_to_pages().items():
            settled = self.record(self.skin_at(index)).placements
            open_ones = tuple(
                each for each in placements if each.id not in ruled and (settled is None or not each.lines)
            )
            if open_ones:
                frames[index] = frames.get(index, self.frame)._replace(fixed=(*(settled or ()), *open_ones))
        flaws = lines_lost(self.layout, self.flaws, self._written_on) if self.flaws else {}
        for index, lost in flaws.items():
            frames[index] = frames.get(index, self.frame)._replace(flaws=lost)
        return frames

    @property
    def flaws(self) -> Flaws:
        """The flaws of each leaf that has any, by its number today."""
        if self._flaws is None:
            self._flaws = flaws_found(self.book, self.planned, self.collation, self.ledger.live_of("leaf"))
        return self._flaws

    def _written_on(self, index: int) -> Written:
        record = self.record(self.skin_at(index))

        def before(tick: int) -> int:
            found = ((self.ledger.find(stint.entry), stint.to_line) for stint in record.stints)
            return max((line for entry, line in found if entry is not None and entry.tick < tick), default=0)

        return Written(record.placements or (), before)

    def _tied_to_pages(self) -> dict[int, tuple[Placement, ...]]:
        """Spaces the plan ties to a page, by the index of that page today."""
        found: dict[int, tuple[Placement, ...]] = {}
        for plan in self.plans:
            page = self.page_of_anchor(plan)
            if page is not None:
                placement = spaces_of.placed_on_page(plan, self.shape(plan))
                found[page.index] = (*found.get(page.index, ()), placement)
        return found

    def _renew_frame(self, index: int, record: PageRecord) -> None:
        """Take over what is now fixed on a page; where the plan ties spaces to pages, all are looked at again."""
        if self._frames is None:
            return
        tied = any(plan.at.page is not None for plan in self.plans)
        if record.placements is None or tied or Page.at(index).leaf in self.flaws:
            self._frames = None
        elif (frame := self._ruled_frame(record)) != self.frame_of(index):
            self._frames[index] = frame

    def recorded(self) -> list[tuple[int, PageRecord]]:
        """Every page that bears a record and still stands, with its index."""
        found = []
        for name in self.ledger.about("page"):
            skin = SkinPage.parse(name)
            page = self.collation.page_of(skin)
            if page is not None:
                found.append((page.index, self.record(skin)))
        return found

    @property
    def pins(self) -> dict[int, Pin]:
        """What is settled on each page that holds its beginning."""
        if self._pins is None:
            pairs = ((index, self._pin(record)) for index, record in self.recorded())
            self._pins = {index: pin for index, pin in pairs if pin is not None}
        return self._pins

    def _renew_pin(self, index: int, record: PageRecord) -> None:
        pin = self._pin(record)
        if self._pins is not None:
            if pin is None:
                self._pins.pop(index, None)
            else:
                self._pins[index] = pin

    def _pin(self, record: PageRecord) -> Pin | None:
        begins = record.begins if record.begins is not None else record.held
        if begins is None:
            return None
        if record.ends is None or not record.stints:
            return Pin(self.copy.piece(begins), ruled=record.placements is not None)
        piece, lines = resume(self.copy, record, self.letters_of(record.pen))
        return Pin(self.copy.piece(begins), piece, lines, record.whole, record.pen)

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
            task = Task(self.collation.pages, self.frame, self.frames, self.pins, self.hand_of, fixed, self.agreed)
            self._budget = self.budgeter.work(task, self._stale_budget)
            self._stale_budget = None
        return self._budget

    def skin_at(self, index: int) -> SkinPage:
        """The surface of skin that bears the page at ``index`` today."""
        return self.collation.skin_page(Page.at(index))

    def page_of(self, skin: SkinPage) -> Page | None:
        """The page a surface of skin bears today."""
        return self.collation.page_of(skin)


def _settles(record: PageRecord) -> tuple[object, ...]:
    """What of a page's record the budget rests on."""
    return (
        record.placements,
        record.held,
        record.begins,
        record.ends,
        record.written,
        record.whole,
        record.within,
        record.pen,
        record.taken_by,
    )


def _divider(book: Book) -> Callable[[str], Sequence[int]] | None:
    """How words may be broken at a line's end, or None."""
    if book.line_breaks == "anywhere":
        return anywhere
    if book.line_breaks == "syllables":
        from copydesk.book.syllables import divider

        return divider(book.language)
    return None
