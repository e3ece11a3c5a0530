"""The lines of the pages that are not as usual: as they were ruled, with the spaces fixed on them and their flaws."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.layout import spaces as spaces_of
from copydesk.book.layout.page_frame import Frame, Placement
from copydesk.tracking.ledger.flaws_found import Written, lines_lost

if TYPE_CHECKING:
    from copydesk.tracking.ledger.page_record import PageRecord
    from copydesk.tracking.state.book_state import Standing


def ruled_frame(standing: Standing, record: PageRecord) -> Frame:
    """The lines of a page as it was ruled."""
    layout = standing.layout
    return Frame(layout.columns, record.lines or layout.lines, record.placements or ())


def frames_now(standing: Standing) -> dict[int, Frame]:
    """The lines of every page that are not those of ``standing.frame``, by index."""
    frames: dict[int, Frame] = {}
    ruled: set[str] = set()
    for index, record in standing.recorded():
        if record.placements is not None:
            frame = ruled_frame(standing, record)
            if frame != standing.frame:
                frames[index] = frame
            ruled.update(placement.id for placement in record.placements)
    for index, placements in _tied_to_pages(standing).items():
        settled = standing.record(standing.skin_at(index)).placements
        open_ones = tuple(each for each in placements if each.id not in ruled and (settled is None or not each.lines))
        if open_ones:
            frame = frames.get(index, standing.frame)
            frames[index] = frame._replace(fixed=(*(settled or ()), *open_ones))
    if standing.flaws:
        most = max((frame.lines for frame in frames.values()), default=standing.frame.lines)
        layout = standing.layout._replace(lines=max(most, standing.frame.lines))
        for index, lost in lines_lost(layout, standing.flaws, lambda at: _written_on(standing, at)).items():
            frames[index] = frames.get(index, standing.frame)._replace(flaws=lost)
    return frames


def _tied_to_pages(standing: Standing) -> dict[int, tuple[Placement, ...]]:
    """Spaces the plan ties to a page, by the index of that page today."""
    found: dict[int, tuple[Placement, ...]] = {}
    for plan in standing.plans:
        page = standing.page_of_anchor(plan)
        if page is not None:
            beside = found.get(page.index, ())
            found[page.index] = (*beside, spaces_of.placed_on_page(plan, standing.shape(plan), beside))
    return found


def _written_on(standing: Standing, index: int) -> Written:
    record = standing.record(standing.skin_at(index))

    def before(tick: int) -> int:
        found = ((standing.ledger.find(stint.entry), stint.to_line) for stint in record.stints)
        return max((line for entry, line in found if entry is not None and entry.tick < tick), default=0)

    return Written(record.placements or (), before)
