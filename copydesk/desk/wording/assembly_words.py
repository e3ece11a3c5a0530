"""The binder's walk in rows and sentences. No Textual here."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.phrases import count_of
from copydesk.book.common.sanitize import sanitize
from copydesk.desk.wording.lines import ListRow, PanelLine, under_one_head
from copydesk.tracking.binding.assembly import gathered
from copydesk.tracking.binding.binding_walk import WalkedSheet, binding_walk
from copydesk.tracking.binding.flyleaf_walk import WalkedFlyleaf, ticked_words
from copydesk.tracking.ledger.entry_kinds import SheetPlace
from copydesk.tracking.views.sheet_pile import whereabouts

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from copydesk.book.plan import Book
    from copydesk.book.structure.page import Page
    from copydesk.tracking.binding.assembly import Assembly, Point
    from copydesk.tracking.binding.binding_walk import WalkedGathering
    from copydesk.tracking.state.book_state import BookState


Walked = WalkedSheet | WalkedFlyleaf
"""What can be ticked in the walk."""


def title_words(found: Assembly) -> str:
    """Whether it is ready, and how far the walk came."""
    walked = f"{found.walked} of {found.sheets} sheets walked{ticked_words(found.flyleaves)}"
    if found.ready:
        return f"Ready to sew. {walked}" if found.walked < found.sheets else "Ready to sew, every sheet walked"
    return f"Not ready to sew: {count_of(len(found.obstacles), 'obstacle')}. {walked}"


def walk_rows(state: BookState, found: Assembly) -> list[ListRow[Walked]]:
    """The whole walk in the order of the book: the leaves before the text, the gatherings, the leaves after it."""
    rows: list[ListRow[Walked]] = _end_rows([each for each in found.flyleaves if each.leaf.at == "front"])
    for gathering in binding_walk(state, found):
        rows.append(ListRow(gathering_row(gathering, state.book), None))
        rows += [ListRow(sheet_row(sheet, state.book), sheet) for sheet in gathering.sheets]
    return rows + _end_rows([each for each in found.flyleaves if each.leaf.at == "back"])


def _end_rows(leaves: Sequence[WalkedFlyleaf]) -> list[ListRow[Walked]]:
    if not leaves:
        return []
    rows: list[ListRow[Walked]] = [ListRow(end_row(leaves), None)]
    rows += [ListRow(flyleaf_row(each), each) for each in leaves]
    return rows


def end_row(leaves: Sequence[WalkedFlyleaf]) -> str:
    """The heading of the leaves at one end of the book."""
    at = {"front": "Before the text", "back": "After the text"}[leaves[0].leaf.at]
    return f" {at}   {count_of(len(leaves), 'flyleaf', 'flyleaves')}"


def flyleaf_row(each: WalkedFlyleaf) -> str:
    """A leaf before or after the text in the list."""
    return f"   {'✓' if each.ticked else '·'} {each.leaf}"


def flyleaf_lines(each: WalkedFlyleaf) -> Iterator[PanelLine]:
    """What there is to say of the leaf before or after the text in hand."""
    end = "before the text" if each.leaf.at == "front" else "after the text"
    pasted = "; to be pasted to the board" if each.leaf.pastedown else ""
    yield PanelLine(each.short, f"{each.leaf}, {end}{pasted}")
    if each.entry is not None:
        yield PanelLine("Found", sanitize(f"in its place by {each.entry.hand}"))
    else:
        yield PanelLine("Obstacle", "not yet found in place", wrong=True)


def gathering_row(gathering: WalkedGathering, book: Book) -> str:
    """The heading of a gathering in the list."""
    count = f"{count_of(len(gathering.sheets), 'sheet')}, the outermost first"
    own = f"   {'; '.join(point.what for point in gathering.obstacles)}" if gathering.obstacles else ""
    leaves = book.leaves_named(range(gathering.first, gathering.last + 1))
    return sanitize(f" Gathering {gathering.number}   {leaves}   {count}{own}")


_LEAVES = {"arabic": 8, "roman": 14, "pages": 13}
"""Cells for the two leaves of a sheet, as the book counts them."""


def sheet_row(sheet: WalkedSheet, book: Book) -> str:
    """A sheet in the list: its tick, leaves, surface, marks and obstacles."""
    tick = "✓" if sheet.record.walked else "·"
    leaves = ", ".join(map(book.number_of_leaf, sheet.leaves)).ljust(_LEAVES[book.signing.foliation])
    marks = f"{sheet.signature:<7} {_quoted(sheet.catchword):<15}"
    return sanitize(f"   {tick} {sheet.name:<5} {leaves} {sheet.outward.value:<6} {marks} {_in_short(sheet)}")


def _quoted(words: str) -> str:
    return f'"{words}"' if words else ""


def _in_short(sheet: WalkedSheet) -> str:
    said = [sheet.instead] if sheet.instead else []
    if sheet.record.place not in (SheetPlace.DESK, SheetPlace.PRESS):
        said.append(sheet.record.place)
    others = len([point for point in sheet.obstacles if point.page is not None])
    if others:
        said.append(count_of(others, "obstacle"))
    return "; ".join(said)


def walked_lines(walked: Walked, book: Book) -> Iterator[PanelLine]:
    """What there is to say of the sheet or leaf in hand."""
    return sheet_lines(walked, book) if isinstance(walked, WalkedSheet) else flyleaf_lines(walked)


def has_obstacle(walked: Walked) -> bool:
    """Whether something must be done about it before sewing."""
    return bool(walked.obstacles) if isinstance(walked, WalkedSheet) else not walked.ticked


def sheet_lines(sheet: WalkedSheet, book: Book) -> Iterator[PanelLine]:
    """What there is to say of the sheet in hand."""
    outer, inner = sheet.sheet.outer, sheet.sheet.inner
    sides = f"outer side {_side(book, outer.left, outer.right)}, inner side {_side(book, inner.left, inner.right)}"
    yield PanelLine(f"{sheet.name}", f"{sides}; {sheet.outward} outward; {whereabouts(sheet.record)}")
    marks = [f"signed {sheet.signature}"] if sheet.signature else []
    if sheet.catchword and outer.left is not None:
        marks.append(f'catchword "{sheet.catchword}" at the foot of {book.named(outer.left)}')
    yield PanelLine("Find", sanitize("; ".join(marks)) or "no mark of its own; recognize it by its text")
    yield from points_lines("Obstacle", sheet.obstacles, book, wrong=True)


def _side(book: Book, left: Page | None, right: Page | None) -> str:
    return " and ".join(book.named(page) if page is not None else "a stub" for page in (left, right))


def points_lines(head: str, points: Sequence[Point], book: Book, *, wrong: bool = False) -> Iterator[PanelLine]:
    """Points under one heading, those of pages that follow one another together."""
    said = (sanitize(f"{point.where}: {point.what}") for point in gathered(points, book))
    return under_one_head(head, said, wrong=wrong)


def book_lines(found: Assembly, book: Book) -> Iterator[PanelLine]:
    """What concerns the whole book: obstacles of no one sheet, the register, points to note."""
    loose = [point for point in found.obstacles if not point.sheet]
    yield from points_lines("Book", loose, book, wrong=True)
    yield PanelLine("Made of", f"{found.formula}; {found.extent}; register {'; '.join(map(str, found.register))}")
    yield from points_lines("Note", found.remarks, book)
