"""The leaves of a book as they stand today, with their flaws, what was agreed on, and the record of every page."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.errors import DoesNotFitError
from copydesk.book.layout import spaces as spaces_of
from copydesk.book.layout.page_frame import Frame, Placement
from copydesk.book.structure.page import Page, SkinPage
from copydesk.tracking.ledger.agreements import agreed_lines, letters_agreed
from copydesk.tracking.ledger.flaws_found import WrittenOnPage, flaws_found, lines_lost
from copydesk.tracking.ledger.leaf_history import collation_now, page_in_its_place, planned_collation
from copydesk.tracking.state.first_plan import pages_needed
from copydesk.tracking.state.text_state import TextState

if TYPE_CHECKING:
    from collections.abc import Mapping

    from copydesk.book.layout.page_layout import PageLayout
    from copydesk.book.plan import Book, SpacePlan
    from copydesk.book.structure.collation import Collation
    from copydesk.book.text.exemplar import Exemplar
    from copydesk.tracking.ledger.flaws_found import Flaws
    from copydesk.tracking.ledger.ledger import Ledger
    from copydesk.tracking.ledger.page_record import PageRecord
    from copydesk.tracking.state.text_state import Samples


class LeafState(TextState):
    """The text of a book on the leaves it has today."""

    def __init__(self, book: Book, exemplar: Exemplar | None, ledger: Ledger, samples: Samples | None = None) -> None:
        super().__init__(book, exemplar, ledger, samples)
        self._planned: Collation | None = None
        self._collation: Collation | None = None
        self._flaws: Flaws | None = None
        self._agreed: Mapping[int, float] | None = None
        self._frame: Frame | None = None
        self._frames: dict[int, Frame] | None = None

    def _drop_leaves(self) -> None:
        """Have all that rests on the order of the leaves worked out anew when it is next asked for."""
        self._collation = self._flaws = self._agreed = self._frames = None

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

    def skin_at(self, index: int) -> SkinPage:
        """The surface of skin that has the page at ``index`` today."""
        return self.collation.skin_page(Page.at(index))

    def page_of(self, skin: SkinPage) -> Page | None:
        """The page on a surface of skin today; None where its leaf is gone."""
        return self.collation.page_of(skin)

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
    def flaws(self) -> Flaws:
        """The flaws of each leaf that has any, by its number today."""
        if self._flaws is None:
            self._flaws = flaws_found(self.book, self.planned, self.collation, self.ledger.live_of("leaf"))
        return self._flaws

    @property
    def agreed(self) -> Mapping[int, float]:
        """Letters a line agreed on, by page index, where a page must hold more or less than its hand would write."""
        if self._agreed is None:
            self._agreed = letters_agreed(self.ledger, self.collation)
        return self._agreed

    @property
    def frame(self) -> Frame:
        """The lines of a page nothing is known of: as the book has them, or as agreed on for pages not yet ruled."""
        if self._frame is None:
            self._frame = Frame(self.layout.columns, agreed_lines(self.ledger) or self.layout.lines)
        return self._frame

    @property
    def layout_to_rule(self) -> PageLayout:
        """The page as pages not yet ruled are to be ruled: as the book has it, or with the lines agreed on since."""
        return self._with_lines(self.frame.lines)

    def layout_on(self, index: int) -> PageLayout:
        """The page at ``index`` as it was ruled, or is to be."""
        return self._with_lines(self.frame_of(index).lines)

    def _with_lines(self, lines: int) -> PageLayout:
        try:
            return self.layout.with_lines(lines)
        except DoesNotFitError:  # ruled by an older plan whose lines stood closer; the skin has them all the same
            return self.layout._replace(lines=lines, margins=self.layout.margins._replace(foot=0.0))

    def recorded(self) -> list[tuple[int, PageRecord]]:
        """Every page of the book today that anything was recorded on, with its index."""
        found = []
        for name in self.progress.folding(self.ledger.about("page")):
            skin = SkinPage.parse(name)
            page = self.collation.page_of(skin)
            if page is not None:
                found.append((page.index, self.record(skin)))
        return found

    @property
    def frames(self) -> dict[int, Frame]:
        """Pages whose lines are not as usual, by index: as they were ruled, with spaces fixed there and flaws."""
        if self._frames is None:
            self._frames = _frames(self)
        return self._frames

    def frame_of(self, index: int) -> Frame:
        """The lines of the page at ``index``."""
        return self.frames.get(index, self.frame)

    def _renew_frame(self, index: int, record: PageRecord) -> None:
        """Take over what is now fixed on a page.

        This page alone is renewed where that is enough; where the plan ties spaces to pages, what is fixed on one page
        decides which spaces are still open on the others, so all are looked at again.
        """
        if self._frames is None:
            return
        tied = any(plan.at.page is not None for plan in self.plans)
        if record.placements is None or tied or Page.at(index).leaf in self.flaws:
            self._frames = None
        elif (frame := _ruled_frame(self.layout, record)) != self.frame_of(index):
            self._frames[index] = frame


def _ruled_frame(layout: PageLayout, record: PageRecord) -> Frame:
    """The lines of a page as it was ruled."""
    return Frame(layout.columns, record.lines or layout.lines, record.placements or (), ruled=True)


def _frames(state: LeafState) -> dict[int, Frame]:
    """The lines of every page that are not those of ``state.frame``, by index."""
    frames: dict[int, Frame] = {}
    ruled: set[str] = set()
    for index, record in state.recorded():
        if record.placements is not None:
            frames[index] = _ruled_frame(state.layout, record)
            ruled.update(placement.id for placement in record.placements)
    for index, placements in _tied_to_pages(state).items():
        fixed = state.record(state.skin_at(index)).placements
        open_ones = tuple(each for each in placements if each.id not in ruled and (fixed is None or not each.lines))
        if open_ones:
            frame = frames.get(index, state.frame)
            frames[index] = frame._replace(fixed=(*(fixed or ()), *open_ones))
    if state.flaws:
        most = max((frame.lines for frame in frames.values()), default=state.frame.lines)
        layout = state.layout._replace(lines=max(most, state.frame.lines))
        for index, lost in lines_lost(
            layout, state.flaws, lambda at: _written_on(state, at), both_sides=state.book.flow.both_sides
        ).items():
            frames[index] = frames.get(index, state.frame)._replace(flaws=lost)
    return frames


def _tied_to_pages(state: LeafState) -> dict[int, tuple[Placement, ...]]:
    """Spaces the plan ties to a page, by the index of that page today."""
    found: dict[int, tuple[Placement, ...]] = {}
    for plan in state.plans:
        page = state.page_of_anchor(plan)
        if page is not None:
            beside = found.get(page.index, ())
            found[page.index] = (*beside, spaces_of.placed_on_page(plan, state.shape(plan), beside))
    return found


def _written_on(state: LeafState, index: int) -> WrittenOnPage:
    record = state.record(state.skin_at(index))

    def before(tick: int) -> int:
        found = ((state.ledger.find(stint.entry), stint.to_line) for stint in record.stints)
        return max((line for entry, line in found if entry is not None and entry.tick < tick), default=0)

    return WrittenOnPage(record.placements or (), before)
