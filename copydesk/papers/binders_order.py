"""The binder's order: everything the book is checked and sewn by, and what to decide about its covers."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.phrases import count_of, say_day
from copydesk.book.common.units import show_size
from copydesk.book.materials.cautions import caution_paragraph, cautions_for
from copydesk.papers.paper_forms import BLANK, BOX, TICKED, written
from copydesk.tracking.binding.assembly import Assembly, assembly, gathered
from copydesk.tracking.binding.binding_walk import WalkedGathering, WalkedSheet, binding_walk
from copydesk.tracking.ledger.entry_kinds import SheetPlace

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date

    from copydesk.book.plan import Book
    from copydesk.book.structure.signatures import SigningHabit
    from copydesk.papers.paper_forms import PaperRequest, Writer
    from copydesk.tracking.state.book_state import BookState


COVERS = (
    ("sewing", "supports, how many and of what; stations from the head"),
    ("thread", "of what, and how thick"),
    ("boards", "of what, how thick; where they come from"),
    ("covering", "skin or cloth, its colour; where it comes from"),
    ("squares", "how far the boards project beyond the leaves"),
    ("edges", "left as they are, or trimmed and by how much; coloured or not"),
    ("endbands", "sewn or stuck on, colours"),
    ("fastenings", "clasps, ties, none"),
    ("title", "on the spine or the board, how"),
)
"""What to decide about the covers, and what the binder is asked of each."""

CAUTION = caution_paragraph(cautions_for(papers=["binder"]))
"""Before the binder's knives, needles, glue and press."""


def printed(order: PaperRequest) -> bytes:
    """Make it, as PDF or as text.

    Raises:
        UnknownNameError: where we print on no such paper.
    """
    state, today = order.job.state, order.job.clock().date()
    title = f"{state.book.title}: binder's order"
    return written(order, title, lambda paper: write_order(paper, state, today))


_MARKS: dict[SigningHabit, str] = {"leaves": "signatures", "numbers": "numbers", "none": "gatherings, not signed"}
"""What the marks in the register are, by how the book is signed."""


def write_order(paper: Writer, state: BookState, today: date) -> None:
    """Write the whole order into a paper."""
    found = assembly(state)
    _book(paper, state, found)
    _obstacles(paper, state.book, found)
    habit = state.book.signing.habit
    _register(paper, found, habit)
    paper.heading("The gatherings in order, each from its outermost sheet in")
    marks = [" with its signature"] if habit == "leaves" else []
    marks += [" with its catchword"] if state.book.signing.catchwords else []
    beside = f",{' and'.join(marks)}" if marks else ""
    paper.lead(f"Tick each sheet as it is found in its place, folded{beside}.")
    walk = binding_walk(state, found)
    everything = [row for gathering in walk for row in _sheets(state.book, gathering)]
    for gathering in walk:
        _gathering(paper, state.book, gathering, everything)
    _catchwords(paper, found)
    _flyleaves(paper, state, found)
    _covers(paper)
    paper.paragraph(f"Ordered by {BLANK}   on {say_day(today)}   to be back by {BLANK}")


def _book(paper: Writer, state: BookState, found: Assembly) -> None:
    collation, layout = state.collation, state.layout
    size = show_size(layout.width, layout.height, state.book.unit)
    gatherings = count_of(len(collation.gatherings), "gathering")
    leaves = count_of(collation.leaves, "leaf", "leaves")
    paper.paragraph(
        f"{gatherings}, {count_of(found.sheets, 'sheet')}, {leaves}, flyleaves apart. Page {size}. "
        f"Formula {found.formula}. Extent {found.extent}."
    )
    verdict = "Ready to sew." if found.ready else "Not ready to sew: see the obstacles."
    paper.paragraph(verdict, strong=True)


def _obstacles(paper: Writer, book: Book, found: Assembly) -> None:
    if found.obstacles:
        paper.heading("Obstacles to sewing")
        rows = [(BOX, point.where, point.what) for point in gathered(found.obstacles, book)]
        paper.table(("", "where", "what"), rows, (0.6, 2, 7))
    if found.remarks:
        paper.heading("Points to note")
        paper.table(("where", "what"), [(point.where, point.what) for point in gathered(found.remarks, book)], (2, 7))


def _register(paper: Writer, found: Assembly, habit: SigningHabit) -> None:
    paper.heading("Register")
    rows = [(" ".join(line.signatures), str(len(line.signatures)), line.kind) for line in found.register]
    paper.table((_MARKS[habit], "gatherings", "each"), rows, (6, 1.5, 2))


def _gathering(paper: Writer, book: Book, gathering: WalkedGathering, everything: Sequence[tuple[str, ...]]) -> None:
    """One gathering; ``everything`` are the rows of all, by which the columns are measured."""
    sheets = count_of(len(gathering.sheets), "sheet")
    leaves = book.leaves_named(range(gathering.first, gathering.last + 1))
    paper.subheading(f"Gathering {gathering.number}: {leaves}, {sheets}")
    names = ("", "sheet", "leaves", "outward", "signed", "catchword", "")
    paper.table(names, _sheets(book, gathering), (0.7, 0.9, 1.4, 1.2, 1.3, 2.6, 3.2), everything)


def _sheets(book: Book, gathering: WalkedGathering) -> list[tuple[str, ...]]:
    return [
        (
            TICKED if sheet.record.walked else BOX,
            sheet.name,
            ", ".join(map(book.number_of_leaf, sheet.leaves)),
            sheet.outward.value,
            sheet.signature,
            f'"{sheet.catchword}"' if sheet.catchword else "",
            _beside(sheet),
        )
        for sheet in gathering.sheets
    ]


def _beside(sheet: WalkedSheet) -> str:
    """What makes the sheet differ from others: a stub, or that it is elsewhere."""
    said = [sheet.instead] if sheet.instead else []
    if sheet.record.place not in (SheetPlace.DESK, SheetPlace.PRESS):
        said.append(sheet.record.place.words)
    return "; ".join(said)


def _catchwords(paper: Writer, found: Assembly) -> None:
    if not found.catchwords:
        return
    paper.heading("Catchwords")
    rows = [
        (str(check.gathering), check.catchword, check.next_begins, "yes" if check.agrees else "NO")
        for check in found.catchwords
    ]
    paper.table(("gathering", "catchword", "the next one begins", "agrees"), rows, (1.3, 3, 3, 1))


def _flyleaves(paper: Writer, state: BookState, found: Assembly) -> None:
    """The leaves before and after the text, and where they come from."""
    plan = state.book.flyleaves
    paper.heading("Flyleaves and pastedowns")
    rows = [(TICKED if each.ticked else BOX, str(each.leaf), each.leaf.at, BLANK) for each in found.flyleaves]
    if rows:
        paper.table(("", "leaf", "at the", "its skin or paper, and where it comes from"), rows, (0.6, 2, 1.5, 6))
    else:
        paper.paragraph(f"None are planned. At the front {BLANK}   at the back {BLANK}")
    if not plan.pastedowns:
        paper.paragraph(f"Pastedowns, besides these: of what, and from where {BLANK}")


def _covers(paper: Writer) -> None:
    paper.heading("Sewing, boards and covers")
    paper.table(("", "asked", "decided"), [(name, asks, BLANK) for name, asks in COVERS], (1.4, 4, 4))
    paper.paragraph("Wet paste and skin move: let boards dry under weight.")
    paper.paragraph(CAUTION)
