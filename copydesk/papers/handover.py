"""The handover on paper: laid on the desk by the hand that leaves, for the hand that goes on."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.phrases import capital, say_day
from copydesk.book.common.units import AS_MEASURED, show_size
from copydesk.papers.paper_forms import BLANK, BOX, written
from copydesk.tracking.scribes.handover import handover
from copydesk.tracking.scribes.handover_text import (
    handover_lines,
    in_exemplar,
    next_shown,
    space_line,
    where_to_go_on,
)
from copydesk.tracking.state.writing_tools import Tools

if TYPE_CHECKING:
    from datetime import date

    from copydesk.book.plan import Book
    from copydesk.book.structure.page import Page
    from copydesk.papers.paper_forms import PaperRequest, Writer
    from copydesk.tracking.checking.fault_report import FaultAccount
    from copydesk.tracking.scribes.handover import Handover
    from copydesk.tracking.state.book_state import BookState


def printed(order: PaperRequest) -> bytes:
    """Make it, as PDF or as text, of the page asked for or of where the pen stopped last.

    Raises:
        UnknownNameError: where we print on no such paper.
    """
    state, today = order.job.state, order.job.clock().date()
    title = f"{state.book.title}: handover"
    return written(order, title, lambda paper: write_handover(paper, state, order.page, today))


def write_handover(paper: Writer, state: BookState, page: Page | None, today: date) -> None:
    """Write the whole handover into a paper."""
    given = handover(state, page)
    told: dict[str, list[str]] = {}
    head = ""
    for each in handover_lines(state, given):
        head = each.head or head
        told.setdefault(head, []).append(each.says)
    _stop(paper, state.book, given, told)
    _lines(paper, state.book, given)
    _under(paper, "Room, and how close to write", told, "Room", "Narrow", "Hands")
    _under(paper, "Watch for", told, "Watch")
    _faults(paper, given.faults)
    _spaces(paper, given, state.book)
    _under(paper, "Sheets", told, "Sheets", "Begun")
    _under(paper, "Pen, ink, ruling", told, "Pen", "Tools", "Ruling", "Notes")
    left = next((each.tools for each in given.tools if each.hand == given.hand), Tools())
    unsaid = [f"{name}: {BLANK}" for name, said in (("Ink", left.ink), ("Pounce", left.pounce)) if not said]
    paper.paragraph("  ".join([*unsaid, f"How the pen was cut: {BLANK}"]))
    paper.heading("Note for the next hand")
    if given.note:
        paper.paragraph(given.note, strong=True)
    paper.table(("",), [("",)] * 4, (1,))
    paper.paragraph(f"Left by {BLANK}   taken by {BLANK}   on {say_day(today)}, at ______")


def _stop(paper: Writer, book: Book, given: Handover, told: dict[str, list[str]]) -> None:
    paper.heading("Where the pen stopped")
    paper.paragraph(f"{told['Stopped'][0]}.")
    paper.heading("Go on")
    if not given.next_words or given.point.goes_on is None:
        paper.paragraph(f"{told['Go on'][0]}.")
        return
    paper.paragraph(f"{where_to_go_on(book, given)}:")
    paper.paragraph(next_shown(given), strong=True)
    if exemplar := in_exemplar(given):
        paper.paragraph(f"In the exemplar {exemplar}.")


def _lines(paper: Writer, book: Book, given: Handover) -> None:
    if not given.before and not given.after:
        return
    paper.heading("How the last lines ran, and how the next are to run")
    rows = [(f"{book.named(line.page)}, {line.column}.{line.line}", str(line), "written") for line in given.before]
    rows += [
        (f"{book.named(line.page)}, {line.column}.{line.line}", str(line), "in part" if line.written else "")
        for line in given.after
    ]
    paper.table(("page, column.line", "words (the breaks are the likeliest)", ""), rows, (2, 6, 1.2))


def _under(paper: Writer, heading: str, told: dict[str, list[str]], *heads: str) -> None:
    """Write what was told under some heads, below one heading."""
    paper.heading(heading)
    for head in heads:
        for says in told.get(head, ()):
            begun = says if head == "Sheets" else capital(says)  # sheets begin with a page's name, as in "ii v"
            paper.paragraph(f"{begun}.")


def _faults(paper: Writer, faults: tuple[FaultAccount, ...]) -> None:
    paper.heading("Still wrong")
    if not faults:
        paper.paragraph("No fault is open.")
        return
    rows = [
        (
            BOX,
            str(account.fault.number),
            account.named,
            ", ".join(
                f"{name} {at}" for name, at in (("col.", account.fault.column), ("line", account.fault.line)) if at
            ),
            account.fault.kind,
            account.fault.stands,
            account.fault.should,
        )
        for account in faults
    ]
    paper.table(
        ("", "fault", "page", "where", "kind", "stands", "should stand"), rows, (0.5, 0.8, 0.8, 1.9, 2.1, 2.8, 3.0)
    )


def _spaces(paper: Writer, given: Handover, book: Book) -> None:
    paper.heading("Spaces to leave room for")
    if not given.spaces:
        paper.paragraph("None on this page or the next two.")
    for space in given.spaces:
        size = show_size(space.width, space.height, book.unit, AS_MEASURED[book.unit])
        paper.paragraph(f"{space_line(space, book)}; {size}.")
