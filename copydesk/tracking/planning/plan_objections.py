"""What stands against a changed plan: pages ruled or written, spaces fixed on them, hands that wrote."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.phrases import count_of
from copydesk.book.structure.page import Page

if TYPE_CHECKING:
    from collections.abc import Iterator

    from copydesk.tracking.ledger.page_record import PageRecord
    from copydesk.tracking.state.book_state import BookState


def objections(before: BookState, after: BookState) -> Iterator[str]:
    """Why a book that stands as ``before`` cannot take the plan of ``after``; nothing where it can.

    A page that is ruled keeps its size, margins, columns, ruling and leaf; what is fixed on it stays in the plan.
    """
    begun = list(_begun(before))
    if not begun:
        return
    old, new = before.book, after.book
    said = count_of(len(begun), "page")
    for what, was, would_be in (
        ("the page and its margins", old.page, new.page),
        ("the columns", old.columns, new.columns),
        ("the ruling", old.ruling, new.ruling),
    ):
        if was != would_be:
            yield f"{what} cannot change any more: {said} ruled or written so, the first {old.named(begun[0][0])}"
    written = any(record.stints for _, record in begun)
    if written and (old.exemplar.text, old.divisions) != (new.exemplar.text, new.divisions):
        yield "the text cannot be another one: pages written are kept as words of it"
    yield from _about_pages(before, after, begun)


def _begun(state: BookState) -> Iterator[tuple[Page, PageRecord]]:
    for index, record in sorted(state.recorded(), key=lambda each: each[0]):
        if record.ruled or record.stints:
            yield Page.at(index), record


def _about_pages(before: BookState, after: BookState, begun: list[tuple[Page, PageRecord]]) -> Iterator[str]:
    moved = next((page for page, _ in begun if after.page_of(before.skin_at(page.index)) != page), None)
    if moved is not None:
        yield f"{before.book.named(moved)} is ruled or written, and its leaf would be another; leave those gatherings"
    wrote = dict.fromkeys(stint.hand for _, record in begun for stint in record.stints)
    yield from (f"hand {hand} wrote; keep it among the hands" for hand in wrote if after.book.hand(hand) is None)
    for page, record in begun:
        for fixed in record.placements or ():
            was, would_be = before.plan_of(fixed.id), after.plan_of(fixed.id)
            if was is not None and (would_be is None or before.shape(was) != after.shape(would_be)):
                yield f"the space {fixed.id} is fixed on {before.book.named(page)}; leave it and its size as they are"
