"""The lines of the pages that are not as usual: as they were ruled, with the spaces fixed on them and their flaws."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.layout import spaces as spaces_of
from copydesk.book.layout.page_frame import Frame, Placement
from copydesk.tracking.ledger.flaws_found import WrittenOnPage, lines_lost

if TYPE_CHECKING:
    from copydesk.tracking.ledger.page_record import PageRecord
    from copydesk.tracking.state.book_state import BookState


def ruled_frame(state: BookState, record: PageRecord) -> Frame:
    """The lines of a page as it was ruled."""
    layout = state.layout
    return Frame(layout.columns, record.lines or layout.lines, record.placements or ())


def frames_now(state: BookState) -> dict[int, Frame]:
    """The lines of every page that are not those of ``standing.frame``, by index."""
    frames: dict[int, Frame] = {}
    ruled: set[str] = set()
    for index, record in state.recorded():
        if record.placements is not None:
            frame = ruled_frame(state, record)
            if frame != state.frame:
                frames[index] = frame
            ruled.update(placement.id for placement in record.placements)
    for index, placements in _tied_to_pages(state).items():
        settled = state.record(state.skin_at(index)).placements
        open_ones = tuple(each for each in placements if each.id not in ruled and (settled is None or not each.lines))
        if open_ones:
            frame = frames.get(index, state.frame)
            frames[index] = frame._replace(fixed=(*(settled or ()), *open_ones))
    if state.flaws:
        most = max((frame.lines for frame in frames.values()), default=state.frame.lines)
        layout = state.layout._replace(lines=max(most, state.frame.lines))
        for index, lost in lines_lost(layout, state.flaws, lambda at: _written_on(state, at)).items():
            frames[index] = frames.get(index, state.frame)._replace(flaws=lost)
    return frames


def _tied_to_pages(state: BookState) -> dict[int, tuple[Placement, ...]]:
    """Spaces the plan ties to a page, by the index of that page today."""
    found: dict[int, tuple[Placement, ...]] = {}
    for plan in state.plans:
        page = state.page_of_anchor(plan)
        if page is not None:
            beside = found.get(page.index, ())
            found[page.index] = (*beside, spaces_of.placed_on_page(plan, state.shape(plan), beside))
    return found


def _written_on(state: BookState, index: int) -> WrittenOnPage:
    record = state.record(state.skin_at(index))

    def before(tick: int) -> int:
        found = ((state.ledger.find(stint.entry), stint.to_line) for stint in record.stints)
        return max((line for entry, line in found if entry is not None and entry.tick < tick), default=0)

    return WrittenOnPage(record.placements or (), before)
