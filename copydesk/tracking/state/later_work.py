"""What of the text is left to later passes: every heading, first letter and paragraph mark, and the page it fell on.

Headings are written in colour; so is the first letter of each paragraph and stanza, a small initial where it begins a
line and a paragraph mark where it runs on; every paragraph mark that stands in the text itself, one before a paragraph
in place of its small initial; and the first letter of every other line of verse. Where a space is kept for an initial,
or for the heading, that is the artist's and is not counted here. Each small initial can be flourished.
"""

from __future__ import annotations

import unicodedata
from bisect import bisect_left
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.layout.passes import Sort, pass_of
from copydesk.book.layout.spaces import is_initial
from copydesk.tracking.state.text_layout import anchor_words

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from copydesk.book.plan import PassPlan, SpacePlan
    from copydesk.book.text.copy_text import CopyText
    from copydesk.book.text.exemplar import Block
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.state.text_state import TextState


PILCROWS = frozenset("¶⁋⸿")
"""Paragraph marks as they are typed: the pilcrow, also turned, and the older capitulum."""


class Mark(NamedTuple):
    """One thing left to a later pass: the text's pieces from ``piece`` to ``end``, its sort, what is to be written.

    ``word`` is the exemplar's position of its first word. ``of`` is the word that a letter or a mark stands with, empty
    for a heading.
    """

    piece: int
    end: int
    sort: Sort
    word: int
    written: str
    of: str = ""


class LaterMarks:
    """All that the text leaves to later passes, in its order."""

    def __init__(self, marks: Iterable[Mark]) -> None:
        self.all: Sequence[Mark] = sorted(marks, key=lambda mark: mark.piece)
        self._starts = [mark.piece for mark in self.all]
        self._headings = [mark for mark in self.all if mark.sort is Sort.HEADINGS]

    def between(self, start: int, end: int) -> Sequence[Mark]:
        """Those of the pieces ``start`` up to ``end``, a heading that began before them included."""
        if start >= end:
            return ()
        last = bisect_left(self._headings, start, key=lambda mark: mark.piece) - 1
        begun = [self._headings[last]] if last >= 0 and self._headings[last].end > start else []
        return [*begun, *self.all[bisect_left(self._starts, start) : bisect_left(self._starts, end)]]


def marks_of(state: TextState) -> LaterMarks:
    """Everything in the text as it is to be written; of counted text only the headings of its divisions are known."""
    copy = state.copy
    headings, letters = _kept(state)
    if copy.written is None:
        titles = (division.title for division in state.book.divisions)
        found = ((copy.piece(word), word, title) for word, title in zip(copy.divisions, titles, strict=False))
        return LaterMarks(Mark(at, at + 1, Sort.HEADINGS, word, said) for at, word, said in found if at not in headings)
    return LaterMarks((*_typed_marks(copy), *_first_letters(copy, headings, letters)))


def _first_letters(copy: CopyText, headings: frozenset[int], letters: frozenset[int]) -> Iterator[Mark]:
    """Headings, and the letters that paragraphs and lines of verse begin with."""
    written = copy.written
    assert written is not None  # noqa: S101 - said to the type checker: a typed text
    begins_line = {run.start for run in copy.runs}
    before = (0, -1)
    for block in written.blocks:
        piece = _piece(copy, block.start)
        if block.kind == "rubric":
            if piece not in headings:
                words = without_marks(written.words[block.start : block.end])
                yield Mark(piece, _piece(copy, block.end), Sort.HEADINGS, copy.word(piece), words)
            continue
        opens = (block.division, block.paragraph) != before
        before = (block.division, block.paragraph)
        first = written.words[block.start]
        if piece in letters or not PILCROWS.isdisjoint(first):
            continue
        sort = _sort_of(block, opens=opens, begins_line=piece in begins_line)
        if sort is not None:
            said = "¶" if sort is Sort.PARAGRAPH_MARKS else first_letter(first)
            yield Mark(piece, piece + 1, sort, copy.word(piece), said, first)


def _sort_of(block: Block, *, opens: bool, begins_line: bool) -> Sort | None:
    if opens:
        return Sort.SMALL_INITIALS if begins_line else Sort.PARAGRAPH_MARKS
    return Sort.VERSE_LETTERS if block.kind == "verse" else None


def _typed_marks(copy: CopyText) -> Iterator[Mark]:
    """The paragraph marks that stand in the text itself."""
    written = copy.written
    assert written is not None  # noqa: S101 - said to the type checker: a typed text
    for at, text in enumerate(written.words):
        if not PILCROWS.isdisjoint(text):
            said, piece = "".join(sign for sign in text if sign in PILCROWS), _piece(copy, at)
            yield Mark(piece, piece + 1, Sort.PARAGRAPH_MARKS, copy.word(piece), said, text)


def without_marks(words: Iterable[str]) -> str:
    """The words of a heading without the paragraph marks among them, which are written for themselves."""
    bare = ("".join(sign for sign in word if sign not in PILCROWS) for word in words)
    return " ".join(filter(None, bare))


def first_letter(word: str) -> str:
    """The letter a word begins with, with the marks over it; its first sign where it has no letter."""
    start = next((at for at, sign in enumerate(word) if sign.isalpha()), 0)
    end = start + 1
    while end < len(word) and unicodedata.combining(word[end]):
        end += 1
    return word[start:end]


def _piece(copy: CopyText, index: int) -> int:
    """The first piece of a written word."""
    return index if copy.first_piece is None else copy.first_piece[index]


def _kept(state: TextState) -> tuple[frozenset[int], frozenset[int]]:
    """The pieces where a space is planned for a heading, and for an initial."""

    def pieces(plans: list[SpacePlan]) -> frozenset[int]:
        return frozenset(map(state.copy.piece, anchor_words(plans, state.exemplar, state.copy).values()))

    return (
        pieces([plan for plan in state.plans if plan.kind == "rubric"]),
        pieces([plan for plan in state.plans if is_initial(plan.kind)]),
    )


class PassWork(NamedTuple):
    """What a page needs in one of its later passes."""

    plan: PassPlan
    marks: tuple[Mark, ...]


def passes_on(state: BookState, index: int) -> list[PassWork]:
    """The later passes that a page needs, in their order, each with what it has to do there."""
    passes = state.book.later_passes
    if not passes:
        return []
    page, names = state.budget.pages[index], [each.name for each in passes]
    found: dict[str, list[Mark]] = {}
    for mark in state.later_marks.between(page.start, page.end):
        found.setdefault(pass_of(mark.sort, names), []).append(mark)
        if mark.sort is Sort.SMALL_INITIALS and "penwork" in names:
            found.setdefault("penwork", []).append(mark._replace(sort=Sort.FLOURISHES))
    return [PassWork(each, tuple(found[each.name])) for each in passes if each.name in found]


def open_passes(state: BookState, index: int) -> list[PassPlan]:
    """The later passes still to be done on a page, those with something left open included."""
    done = state.record(state.skin_at(index)).passes
    found = (work.plan for work in passes_on(state, index))
    return [plan for plan in found if plan.name not in done or done[plan.name].left]
