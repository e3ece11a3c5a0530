"""What the book would come to if figures of the plan were other: leaves, gatherings, skins, blank lines.

A trial casts the text anew through the gatherings still open (see ``trial_ground``). Nothing here changes the book.
"""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.casting.page_filling import fill
from copydesk.book.hands.hand_set import size_factor
from copydesk.book.layout import spaces as spaces_of
from copydesk.book.layout.flaws import shares_left
from copydesk.book.layout.page_frame import Anchored, Cursor, Frame
from copydesk.book.layout.page_layout import lay_out
from copydesk.book.materials.skin_cutting import cutting_of, skins_to_order
from copydesk.book.structure.page import Page, Side
from copydesk.tracking.planning.gathering_choices import Begun, alike, sheets_of, ways_to_gather
from copydesk.tracking.planning.plan_figures import tried
from copydesk.tracking.planning.trial_ground import TrialGround
from copydesk.tracking.views.skin_order import flyleaf_sheets

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping

    from copydesk.book.casting.page_filling import Filled
    from copydesk.book.layout.page_frame import Placement
    from copydesk.book.layout.page_layout import PageLayout
    from copydesk.book.materials.skin_cutting import Cutting
    from copydesk.book.plan import Book, SkinPlan
    from copydesk.tracking.planning.gathering_choices import Sizes, Way
    from copydesk.tracking.planning.plan_figures import Trial
    from copydesk.tracking.state.book_state import BookState


class Outcome(NamedTuple):
    """What a plan comes to.

    ``letters`` are those to a line, by hand; ``pages`` and ``leaves_needed`` those the text takes; ``sizes`` the
    leaves of every gathering. ``skins`` and ``skins_with_flyleaves`` are 0 and ``cutting`` None where the book says
    nothing of skins. ``estimate`` says why the figures are not exact; it is empty where they are.
    """

    book: Book
    layout: PageLayout
    letters: Mapping[str, float]
    pages: int
    leaves_needed: int
    sizes: Sizes
    leaves: int
    sheets: int
    blank_leaves: int
    blank_lines: int
    cutting: Cutting | None
    skins: int
    skins_with_flyleaves: int
    estimate: str


class Planner:
    """Tries figures on one book as it stands."""

    def __init__(self, state: BookState) -> None:
        self.state = state
        self.ground = TrialGround(state)
        self._last: _CastTrial | None = None

    def outcome(self, trial: Trial) -> Outcome:
        """What the book comes to with the figures of ``trial``.

        Raises:
            CopydeskError: where the page, or the cutting of the skins, is impossible: a sentence for each reason.
        """
        return self._cast(trial).outcome()

    def ways(self, trial: Trial) -> tuple[Way, ...]:
        """The ways to gather the rest of the book with the figures of ``trial``, the best first.

        Raises:
            CopydeskError: as for ``outcome``.
        """
        return self._cast(trial).ways()

    def _cast(self, trial: Trial) -> _CastTrial:
        """The trial with its text cast. The last one is kept: callers ask for its outcome and then for its ways."""
        if self._last is None or self._last.trial != trial:
            self._last = _CastTrial(self.ground, trial)
        return self._last


class _CastTrial:
    """One trial: its page, its hands' letters, and the text cast through it."""

    def __init__(self, ground: TrialGround, trial: Trial) -> None:
        self.ground, self.state = ground, ground.state
        self.book = tried(self.state.book, trial.figures)
        book = self.book
        self.layout = self._laid_out()
        self.trial = trial
        now = self.state.layout
        longer = size_factor(
            now.measure, self.layout.measure, self.state.book.script.nib or 0.0, book.script.nib or 0.0
        )
        self.letters = {
            name: letters * longer * trial.closer.get(name, 1.0) for name, letters in self.state.measures.items()
        }
        self.agreed = {index: letters * longer for index, letters in self.state.agreed.items()}
        self.shapes = {plan.id: spaces_of.shape_of(plan, self.layout) for plan in self.state.plans}
        self.usual = Frame(self.layout.columns, self.layout.lines)
        self.frames = dict(self._frames())
        self.budgeter = ground.budgeter(self.letters, self._anchors())
        self._filled: dict[Sizes, Filled] = {}

    def _laid_out(self) -> PageLayout:
        """The page, with the lines agreed in mid-work for pages not yet ruled, unless the trial gives it others."""
        book, today = self.book, self.state
        layout = lay_out(book.page, book.columns, book.ruling, book.script, book.unit)
        if layout.lines != today.layout.lines or layout.lines == today.frame.lines:
            return layout
        return layout.with_lines(today.frame.lines)

    def outcome(self) -> Outcome:
        """What the book comes to."""
        rest = self._rest()
        filled = self.filled(rest)
        used = self.ground.pages + filled.pages if filled.pages else self.ground.used
        sizes = (*self.ground.sizes, *rest)
        needed, leaves = -(-used // 2), sum(sizes)
        cutting = self._cutting()
        sheets = self.ground.sheets + sheets_of(rest)
        return Outcome(
            book=self._with_letters(),
            layout=self.layout,
            letters=self.letters,
            pages=used,
            leaves_needed=needed,
            sizes=sizes,
            leaves=leaves,
            sheets=sheets,
            blank_leaves=leaves - needed,
            blank_lines=self._blank_lines(filled, sum(rest)),
            cutting=cutting,
            skins=_skins(self.book.skins, cutting, sheets),
            skins_with_flyleaves=_skins(self.book.skins, cutting, sheets + flyleaf_sheets(self.book.flyleaves)),
            estimate=self._estimate(),
        )

    def ways(self) -> tuple[Way, ...]:
        """The ways to gather the rest of the book, the best first."""
        cutting = self._cutting()
        begun = Begun(sum(self.ground.sizes), self.ground.sheets)
        own = self.book.gatherings.sheets or self.ground.own_sheets
        return ways_to_gather(
            lambda sizes: self.filled(sizes).pages,
            begun,
            own,
            lambda sheets: _skins(self.book.skins, cutting, sheets + flyleaf_sheets(self.book.flyleaves)),
        )

    def _rest(self) -> Sizes:
        """Leaves of the open gatherings: those of the book today, or all alike; and as many more as the text needs."""
        own = self.book.gatherings.sheets or self.ground.own_sheets
        if self._regular:
            return self._grown((), own)
        open_ones = self.state.collation.gatherings[len(self.ground.sizes) :]
        return self._grown(tuple(len(gathering.leaves) for gathering in open_ones), own)

    @property
    def _regular(self) -> bool:
        """Whether the open gatherings are made anew: something is turned, and the plan leaves their number open."""
        plan = self.book.gatherings
        return not self.trial.empty and plan.count is None and plan.formula is None

    def _grown(self, sizes: Sizes, sheets: int) -> Sizes:
        """These gatherings, and after them as many of ``sheets`` sheets as the text still needs."""
        # More gatherings may change the pages needed (their hands may differ), so the text is cast again until it fits.
        while (needed := -(-self.filled((*sizes, 2 * sheets)).pages // 2)) > sum(sizes):
            more = alike(needed - sum(sizes), sheets)
            if -(-self.filled((*sizes, *more)).pages // 2) <= sum(sizes) + sum(more):
                return (*sizes, *more)
            sizes = (*sizes, *more)
        return sizes

    def filled(self, sizes: Sizes) -> Filled:
        """The rest of the text cast through open gatherings of so many leaves, the last size going on for ever."""
        hands = self._hands(sizes)
        mark = sizes if len({self.letters[hand] for hand in hands.values()}) > 1 else ()
        if mark not in self._filled:
            ground = self.ground
            self._filled[mark] = fill(
                self.budgeter,
                ground.start,
                ground.pages,
                self.frames,
                self.usual,
                _hand_of(hands, ground, sizes),
                self.state.budget.fixed,
                self.agreed,
            )
        return self._filled[mark]

    def _hands(self, sizes: Sizes) -> dict[int, str]:
        """Who writes each open gathering, by its place among them from 0; the last entry is for those beyond."""
        planned = {number: hand.id for hand in self.book.hands for number in hand.gatherings}
        first, kept = self.book.hands[0].id, len(self.ground.sizes)
        most = max((*planned, kept + len(sizes)))
        return {number - kept - 1: planned.get(number, first) for number in range(kept + 1, most + 2)}

    def _anchors(self) -> list[Anchored]:
        """The spaces tied to the text, each of the size it has on this page."""
        known = self.state.budgeter.anchors
        return [Anchored(anchor.piece, self.shapes.get(anchor.shape.id, anchor.shape)) for anchor in known]

    def _frames(self) -> Iterator[tuple[int, Frame]]:
        """Pages still open whose lines are not as usual: spaces the plan ties to them, flaws of their leaf."""
        first, frames = self.ground.pages, self.state.frames
        fixed = {index: self._resized(frame.fixed) for index, frame in frames.items() if index >= first and frame.fixed}
        lost = {
            Page(leaf, side).index: shares_left(
                self.layout, [each.flaw for each in found], side, both_sides=self.book.flow.both_sides
            )
            for leaf, found in self.state.flaws.items()
            for side in Side
            if Page(leaf, side).index >= first
        }
        for index in fixed.keys() | lost.keys():
            yield index, self.usual._replace(fixed=fixed.get(index, ()), flaws=lost.get(index, ()))

    def _resized(self, placements: tuple[Placement, ...]) -> tuple[Placement, ...]:
        """Spaces tied to a page, of the size they have on this layout."""
        return tuple(
            placement._replace(
                column=min(placement.column, self.layout.columns),
                lines=self.shapes[placement.id].lines,
                share=self.shapes[placement.id].share,
            )
            for placement in placements
            if placement.id in self.shapes
        )

    def _blank_lines(self, filled: Filled, leaves: int) -> int:
        """Lines for text that stay blank behind its end, on the open gatherings' leaves and before them."""
        first, end = self.ground.pages + filled.pages, self.ground.pages + 2 * leaves
        odd = [frame for index, frame in self.frames.items() if first <= index < end]
        even = (end - first - len(odd)) * self.layout.lines_a_page
        return (filled.left if filled.pages else self.ground.left) + even + sum(map(self._room, odd))

    def _room(self, frame: Frame) -> int:
        """Lines for text on a page that bears none."""
        total = self.state.copy.pieces
        caster = self.budgeter.caster(self.book.hands[0].id)
        return caster.page(Cursor(total, len(caster.anchors)), frame, recto=True, limit=total).room

    def _cutting(self) -> Cutting | None:
        skins = self.book.skins
        return None if skins is None else cutting_of(skins, self.layout.width, self.layout.height, self.book.unit)

    def _estimate(self) -> str:
        """Why the figures are not exact."""
        if self.state.copy.parts is not None:
            return "the text is known by its counts only"
        least = min(self.letters.values())
        if least < self._broken_at() and self.ground.widest > least:
            return f"some words are wider than a line of {least:.0f} letters and would have to be broken"
        if self._regular and self.book.gatherings.exceptions:
            return "leaves planned apart from their gathering are not counted"
        return ""

    def _broken_at(self) -> float:
        """The measure in letters down to which the text's words were broken when it was laid out."""
        return min(self.state.measures.values())

    def _with_letters(self) -> Book:
        """The book as it would have to be written: hands whose letters are stated, or were turned, at this measure."""
        book, before = self.book, self.state
        moved = abs(self.layout.measure - before.layout.measure) > 1e-6 or book.script.nib != before.book.script.nib
        hands = []
        for hand in book.hands:
            closer = hand.id in self.trial.closer
            if closer or (moved and hand.letters_per_line is not None):
                sample = None if closer else hand.sample
                hand = hand._replace(letters_per_line=round(self.letters[hand.id], 1), sample=sample)  # noqa: PLW2901
            hands.append(hand)
        return replace(book, hands=tuple(hands))


def _hand_of(hands: Mapping[int, str], ground: TrialGround, sizes: Sizes) -> Callable[[int], str]:
    """Who writes the page at an index of the book."""
    if len(set(hands.values())) == 1:
        return lambda _: hands[0]
    ends: list[int] = []
    for leaves in sizes:
        ends.append((ends[-1] if ends else ground.pages) + 2 * leaves)
    last, size = (ends[-1], 2 * sizes[-1]) if sizes else (ground.pages, 1)

    def hand_of(index: int) -> str:
        at = bisect_right(ends, index) if index < last else len(sizes) + (index - last) // size
        return hands.get(at, hands[max(hands)])

    return hand_of


def _skins(plan: SkinPlan | None, cutting: Cutting | None, sheets: int) -> int:
    """Skins to order for so many sheets; 0 where a skin gives none or nothing is known of skins."""
    if plan is None or cutting is None or cutting.count == 0:
        return 0
    return skins_to_order(sheets, cutting.count, plan.spoilage)
