"""The rubricator's list: what each loose sheet needs in its later passes, with boxes to tick, and the tally."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.sanitize import sanitize
from copydesk.book.materials.cautions import caution_words, cautions_for
from copydesk.book.structure.sheets import open_sheets
from copydesk.papers.paper_forms import BOX, written
from copydesk.tracking.decoration.rubrication_tally import tally, tally_words
from copydesk.tracking.passes.pass_items import pass_items
from copydesk.tracking.passes.pass_report import state_words, where_words
from copydesk.tracking.passes.pass_status import PassState, statuses_on
from copydesk.tracking.views.sheet_pile import whereabouts

if TYPE_CHECKING:
    from collections.abc import Iterator
    from datetime import datetime

    from copydesk.book.plan import Book
    from copydesk.book.structure.sheets import OpenSheet
    from copydesk.papers.paper_forms import PaperRequest, Writer
    from copydesk.tracking.decoration.rubrication_tally import Tally
    from copydesk.tracking.passes.pass_items import PassItem
    from copydesk.tracking.passes.pass_status import PassStatus
    from copydesk.tracking.state.book_state import BookState


_HEADS = ("", "where", "write exactly", "of the word", "wide", "room")
_SHARES = (0.7, 3.8, 5.2, 2.4, 1.6, 2.6)
_NO_PASSES = "This book has no later passes: all is written with the text."
_NONE = "Nothing is left to later passes, or all of it is done."
_HOW = (
    "Tick each thing as it is written. Under each pass stands which pages may begin, and what others wait for. Lines "
    "count from the head of the column; sizes are in millimetres, with (!) where the words are wider than their room."
)


def printed(order: PaperRequest) -> bytes:
    """Make the list, as PDF or as text.

    Raises:
        UnknownNameError: where we print on no such paper.
    """
    state, now = order.job.state, order.job.clock()
    return written(order, f"{state.book.title}: later passes", lambda paper: _write(paper, state, now))


def _write(paper: Writer, state: BookState, now: datetime) -> None:
    if not state.book.later_passes:
        paper.paragraph(_NO_PASSES)
        return
    tallies = {each.gathering: each for each in tally(state)}
    found = {
        gathering.number: [
            (sheet, statuses)
            for sheet in open_sheets(state.collation, gathering.number)
            if (statuses := list(_open(state, sheet, now)))
        ]
        for gathering in state.collation.gatherings
    }
    paper.paragraph(_HOW if any(found.values()) else _NONE)
    for number, sheets in found.items():
        for sheet, statuses in sheets:
            _sheet(paper, state, sheet, statuses)
        if sheets:
            _tally(paper, state.book, tallies[number])
    cautions = cautions_for(plan.ink for plan in state.book.passes if plan.ink)
    if cautions:
        paper.heading("Cautions")
    for words in caution_words(cautions):
        paper.paragraph(words)


def _open(state: BookState, sheet: OpenSheet, now: datetime) -> Iterator[PassStatus]:
    """What is still to be done on a sheet, page by page in the order of the passes."""
    found = (each for page in sorted(sheet.pages()) for each in statuses_on(state, page.index, now)[1:])
    order = [plan.name for plan in state.book.passes]
    return iter(sorted((each for each in found if each.open), key=lambda each: order.index(each.work.plan.name)))


def _sheet(paper: Writer, state: BookState, sheet: OpenSheet, statuses: list[PassStatus]) -> None:
    """One sheet: where it is, then each pass with what it needs, the pages in their order."""
    book = state.book
    paper.heading(f"Sheet {sheet.name}: {book.listed(sheet.pages())}")
    paper.lead(sanitize(whereabouts(state.sheet_record(sheet.name))))
    for name in dict.fromkeys(each.name for each in statuses):
        here = [each for each in statuses if each.name == name]
        plan = here[0].work.plan
        told = ", ".join(part for part in (name, plan.ink, plan.hand and f"by {plan.hand}") if part)
        paper.subheading(sanitize(told))
        turns = [f"{book.named(each.page)} {state_words(each, book)}" for each in here]
        paper.lead(sanitize("; ".join(turns)))
        rows = [
            _row(each, item, book)
            for each in here
            for item in pass_items(state, each.page.index, each.work)
            if item.left or each.state is not PassState.LEFT
        ]
        paper.table(_HEADS, rows, _SHARES)


def _row(status: PassStatus, item: PassItem, book: Book) -> tuple[str, ...]:
    wide = " (!)" if item.too_wide else ""
    return (
        BOX,
        f"{book.named(status.page)} {where_words(item, book)}",
        sanitize(item.words),
        sanitize(item.of),
        f"{item.width:.1f}{wide}",
        f"{item.room:.1f} × {item.height:.1f}",
    )


def _tally(paper: Writer, book: Book, counted: Tally) -> None:
    """What the rubricator notes at the foot of the gathering's last verso."""
    foot = f"at the foot of {book.named(counted.foot)}" if counted.foot is not None else "nowhere"
    said = f"Tally of gathering {counted.gathering}, {foot}: {tally_words(counted.counts)}."
    paper.table(("", ""), [(BOX, said)], (0.7, 15.6))
