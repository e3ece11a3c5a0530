"""The ruling template of a book: its two sides blank, or one page with the spaces reserved on it and its flaws."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.units import show_length, show_size
from copydesk.book.layout.page_layout import place_of
from copydesk.book.structure.page import Side
from copydesk.papers.ruling import Reserved, RulingTemplate, ruling_pdf, ruling_svg
from copydesk.tracking.views.page_view import page_account

if TYPE_CHECKING:
    from collections.abc import Iterator

    from copydesk.book.structure.page import Page
    from copydesk.papers.catalogue import PaperRequest
    from copydesk.tracking.state.book_state import BookState


def printed(order: PaperRequest) -> bytes:
    """Make it; as SVG without a page it shows the recto, since an SVG file holds one drawing.

    Raises:
        UnknownNameError: where we print on no such paper.
    """
    state = order.job.state
    found = templates(state, order.page)
    if order.form == "pdf":
        return ruling_pdf(found, order.paper)
    if order.form == "svg":
        return ruling_svg(found[0]).encode()
    return "\n".join(_text(found[0])).encode()


def templates(state: BookState, page: Page | None) -> list[RulingTemplate]:
    """The templates of one page, or of a blank recto and verso."""
    title, unit = state.book.title, state.book.unit
    if page is None:
        layout = state.layout.with_lines(state.frame.lines)
        return [RulingTemplate(layout, side, title, unit=unit) for side in Side]
    layout = state.layout.with_lines(state.frame_of(page.index).lines)
    account = page_account(state, page.index)
    named = f"{title}, {account.label}" if title else account.label
    return [RulingTemplate(layout, page.side, named, tuple(_reserved(state, page)), account.flaws, unit)]


def _reserved(state: BookState, page: Page) -> Iterator[Reserved]:
    for space in page_account(state, page.index).spaces:
        placement = space.placement
        if placement is not None and placement.lines:
            size = (space.width, space.height)
            place = place_of(state.layout, page.side, max(placement.column, 1), placement.from_line, size)
            yield Reserved(place, f"{space.plan.id}, {space.plan.kind}")


def _text(template: RulingTemplate) -> Iterator[str]:
    """The same in figures: where to prick, and what is reserved."""
    layout, unit = template.layout, template.unit
    yield f"{template.title}: page {show_size(layout.width, layout.height, unit)}"
    yield f"Written space {show_size(layout.written_width, layout.written_height, unit)}, {layout.lines} lines"
    yield ""
    yield "Ruled lines, from the head edge:"
    yield from (f"  {number:>3}  {show_length(place, unit)}" for number, place in enumerate(layout.ruled, 1))
    yield "Bounding lines, from the fold:"
    yield from (f"  {number:>3}  {show_length(place, unit)}" for number, place in enumerate(layout.bounding, 1))
    for space in template.spaces:
        place = space.place
        yield (
            f"Reserved for {space.label}: {show_size(place.width, place.height, unit)}, "
            f"{show_length(place.top, unit)} from the head edge, {show_length(place.left, unit)} from the left edge"
        )
    for flaw in template.flaws:
        size = show_size(flaw.width, flaw.height, unit)
        head, fold = show_length(flaw.from_head, unit), show_length(flaw.from_fold, unit)
        yield f"Flaw: {size}, {head} from the head edge, {fold} from the fold"
    yield ""
