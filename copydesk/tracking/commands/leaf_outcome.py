"""What follows from a change to leaves, in sentences: lines to write again, what moved, openings that break."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.phrases import count_of, listed
from copydesk.book.common.sanitize import sanitize
from copydesk.book.structure.openings import opening_label, unlike_openings, why_unlike
from copydesk.book.structure.page import Page, Side, SkinPage
from copydesk.tracking.views.consequences import consequences
from copydesk.tracking.views.skin_batches import sheets_of_its_skin

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from copydesk.book.structure.collation import Collation
    from copydesk.tracking.ledger.page_record import PageRecord
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.consequences import Standing


_MOST_OPENINGS = 3


def what_followed(before: Standing, state: BookState) -> list[str]:
    """What is otherwise than ``before``, as sentences; the weightiest first.

    Of lines to write again, openings and flaws it tells where the leaves, or their flaws, are others than before.
    """
    of_leaves = before.collation != state.collation or before.flaws != state.flaws
    return [
        *(_to_write_again(before, state) if of_leaves else ()),
        *(_to_rule_again(before, state) if of_leaves else ()),
        *consequences(before, state),
        *(_leaves(before, state) if of_leaves else ()),
        *(_openings(before, state) if of_leaves else ()),
        *(_flawed_lines(before, state) if of_leaves else ()),
        *(_same_skin(before, state) if of_leaves else ()),
    ]


class _Lost(NamedTuple):
    """A page that went out of the book with what was written on it: its name, its lines, its pieces of the text."""

    named: str
    lines: int
    start: int
    end: int


def _to_write_again(before: Standing, state: BookState) -> Iterator[str]:
    """Lines on leaves that went out of the book, or came back into it."""
    gone = _lines_on_others(before.collation, state.collation, state)
    back = _lines_on_others(state.collation, before.collation, state)
    if gone:
        lines = sum(each.lines for each in gone)
        are = "are" if lines > 1 else "is"
        yield (
            f"{count_of(lines, 'written line')} went with it, of {listed([each.named for each in gone])}, and {are} "
            f"to be written again: {listed([_words_of(state, run) for run in _runs(gone)])}{_where_again(state, gone)}."
        )
    if back:
        yield f"{count_of(sum(each.lines for each in back), 'written line')} came back with it."


def _to_rule_again(before: Standing, state: BookState) -> Iterator[str]:
    """Pages that were ruled, with nothing written on them, on leaves that went out of the book or came back."""
    for one, other, went in (
        (before.collation, state.collation, "went"),
        (state.collation, before.collation, "came back"),
    ):
        ruled = [
            state.book.named(page)
            for page, record in _pages_on_others(one, other, state)
            if record.placements is not None and not record.written
        ]
        if ruled:
            yield f"The ruling of {listed(ruled)} {went} with it."


def _pages_on_others(one: Collation, other: Collation, state: BookState) -> Iterator[tuple[Page, PageRecord]]:
    """The pages of the leaves that stand in ``one`` and not in ``other``, as ``one`` numbers them."""
    for leaf in (half.id for gathering in one.gatherings for half in gathering.leaves):
        number = one.number_of(leaf)
        if number is not None and other.number_of(leaf) is None:
            yield from ((Page(number, side), state.record(SkinPage(leaf, side))) for side in Side)


def _lines_on_others(one: Collation, other: Collation, state: BookState) -> list[_Lost]:
    """What is written on the leaves that stand in ``one`` and not in ``other``."""
    found, piece = [], state.copy.piece
    for page, record in _pages_on_others(one, other, state):
        if record.written:
            start = record.begins or 0
            end = piece(max(record.ends or 0, start))
            found.append(_Lost(state.book.named(page), record.written, piece(start), end))
    return found


def _runs(gone: list[_Lost]) -> list[tuple[int, int]]:
    """The pieces of the text on these pages, those that follow one another together."""
    runs: list[tuple[int, int]] = []
    for each in gone:
        if runs and runs[-1][1] == each.start:
            runs[-1] = runs[-1][0], each.end
        else:
            runs.append((each.start, each.end))
    return runs


_SHOWN_WORDS = 4


def _words_of(state: BookState, run: tuple[int, int]) -> str:
    """The text from one piece up to another by its first and last words; by its places where it is not typed."""
    words = state.copy.text(*run)
    if not words:
        return f"words {state.copy.word(run[0])} to {state.copy.word(run[1])}"
    first, last = (" ".join(part) for part in (words[:_SHOWN_WORDS], words[-_SHOWN_WORDS:]))
    return sanitize(f'"{first}" to "{last}"')


def _where_again(state: BookState, gone: list[_Lost]) -> str:
    """Where the text that was lost is planned now, and that some of it is planned nowhere."""
    again, left = [], sum(end - start for start, end in _runs(gone))
    for index, page in enumerate(state.budget.pages):
        shared = sum(max(min(page.end, end) - max(page.start, start), 0) for start, end in _runs(gone))
        if shared:
            again.append(state.book.named(Page.at(index)))
            left -= shared
    where = f", on {listed(again)}" if again else ""
    return f"{where}; {'no page' if not again else 'of the rest no page'} has it now" if left > 0 else where


def written_on(state: BookState, leaves: Iterable[int]) -> str:
    """What would go with these leaves: ``96 written lines of 10r and 10v``; empty where nothing is written."""
    pages = [Page(leaf, side) for leaf in sorted(leaves) for side in Side]
    written = [(page, lines) for page in pages if (lines := state.record(state.skin_at(page.index)).written)]
    total = sum(lines for _, lines in written)
    return (
        f"{count_of(total, 'written line')} of {listed([state.book.named(page) for page, _ in written])}"
        if total
        else ""
    )


def _leaves(before: Standing, state: BookState) -> Iterator[str]:
    old, new = before.collation.leaves, state.collation.leaves
    if new != old:
        yield f"The book has {count_of(new, 'leaf', 'leaves')} now, {count_of(abs(new - old), 'leaf', 'leaves')} " + (
            "more." if new > old else "fewer."
        )


def _openings(before: Standing, state: BookState) -> Iterator[str]:
    """Openings where hair faces flesh now and did not before, told apart by the skin that faces."""
    collation, numbering = state.collation, state.book.signing.foliation
    old = {_skins(before.collation, opening.left) for opening in unlike_openings(before.collation)}
    new = [opening for opening in unlike_openings(collation) if _skins(collation, opening.left) not in old]
    for opening in new[:_MOST_OPENINGS]:
        where = opening_label(opening, numbering)
        yield f"Hair faces flesh now at {where}: {why_unlike(collation, opening, numbering)}."
    if len(new) > _MOST_OPENINGS:
        yield f"The same happens at {count_of(len(new) - _MOST_OPENINGS, 'other opening')}."


def _skins(collation: Collation, left: Page) -> tuple[str, str]:
    return collation.half(left.leaf).id, collation.half(left.leaf + 1).id


def _flawed_lines(before: Standing, state: BookState) -> Iterator[str]:
    for leaf in _flawed_anew(before, state):
        for side in Side:
            yield _taken(state, Page(leaf, side))


def _same_skin(before: Standing, state: BookState) -> Iterator[str]:
    """Sheets of the skin a flaw came to light in, where which they are was noted."""
    for leaf in _flawed_anew(before, state):
        place = state.collation.place(Page(leaf, Side.RECTO))
        others = sheets_of_its_skin(state.ledger, place.sheet_name)
        if others:
            sheets = f"sheet{'s' if len(others) > 1 else ''} {', '.join(others)}"
            yield f"Of the same skin {'are' if len(others) > 1 else 'is'} {sheets}: check them for the same flaw."


def _flawed_anew(before: Standing, state: BookState) -> list[int]:
    """The leaves whose flaws are others now, where the leaves are the same."""
    if before.collation != state.collation:
        return []
    return [leaf for leaf, flaws in state.flaws.items() if before.flaws.get(leaf) != flaws]


def _taken(state: BookState, page: Page) -> str:
    frame = state.frame_of(page.index)
    parts = [count_of(len(frame.lost), "line")] if frame.lost else []
    if frame.shortened:
        parts.append(f"part of {count_of(len(frame.shortened), 'line')}")
    return f"The leaf's flaws take {' and '.join(parts) or 'no line'} of {state.book.named(page)}."
