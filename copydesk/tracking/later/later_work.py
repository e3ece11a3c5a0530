"""What of the text is left to later passes: every heading, first letter and paragraph mark, and the page it fell on.

Headings are written in colour; so is the first letter of each paragraph and stanza, a small initial where it begins a
line and a paragraph mark where it runs on; every paragraph mark that stands in the text itself, one before a paragraph
in place of its small initial; and the first letter of every other line of verse. Where a space is kept for an initial,
or for the heading, that is the artist's and is not counted here. Each small initial can be flourished.
"""

from __future__ import annotations

import unicodedata
from bisect import bisect_left, bisect_right
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.numerals import roman
from copydesk.book.layout.passes import Sort, pass_of
from copydesk.book.layout.spaces import is_initial
from copydesk.tracking.state.page_content import page_of_word, placements_on
from copydesk.tracking.state.text_layout import anchor_words

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from copydesk.book.plan import PassPlan, SpacePlan
    from copydesk.book.structure.page import Page
    from copydesk.book.text.copy_text import CopyText
    from copydesk.book.text.exemplar import Block
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.state.text_state import TextState


PILCROWS = frozenset("¶⁋⸿")
"""Paragraph marks as they are typed: the pilcrow, also turned, and the older capitulum."""


NO_WORD = -1
"""Stands for the word of what is no part of the text."""


class Mark(NamedTuple):
    """One thing left to a later pass: the text's pieces from ``piece`` to ``end``, its sort, what is to be written.

    ``word`` is the exemplar's position of its first word, ``NO_WORD`` of a running title. ``of`` is the word that a
    letter or a mark stands with, empty for all else.
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


def later_marks(state: TextState) -> LaterMarks:
    """The same, worked out once for a text and its plans."""
    kept = state.marks
    if kept is None or kept[0] is not state.copy or kept[1] is not state.plans:
        state.marks = kept = (state.copy, state.plans, marks_of(state))
    found: LaterMarks = kept[2]
    return found


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


def _titles(state: BookState, index: int) -> Iterator[Mark]:
    """The words above the text of a page: those of the division that its first words, or its opening's, are of."""
    pages = state.budget.pages
    if not _bears_text(state, index):
        return
    other = index - 1 if index % 2 == 0 else index + 1
    paired = state.book.titles.across == "opening" and _bears_text(state, other)
    first = min(index, other) if paired else index
    words = title_of(state, bisect_right(state.copy.divisions, state.copy.word(pages[first].start)))
    said = halves(words)[index - first] if paired else words
    if said:
        start = pages[index].start
        yield Mark(start, start + 1, Sort.RUNNING_TITLES, NO_WORD, said)


def _bears_text(state: BookState, index: int) -> bool:
    pages = state.budget.pages
    return 0 <= index < len(pages) and pages[index].start < pages[index].end


def title_of(state: BookState, number: int) -> str:
    """The words above the text of a division, counted from 1: those of the plan, else its own title."""
    own = state.exemplar.divisions if state.exemplar is not None else state.book.divisions
    title = own[number - 1].title if 1 <= number <= len(own) else ""
    return state.book.titles.words.get(number, without_marks(title.split()))


def halves(words: str) -> tuple[str, str]:
    """A title parted between its words, the two parts as even as may be; one word stands on the left alone."""
    each = words.split()
    parts = [(" ".join(each[:at]), " ".join(each[at:])) for at in range(1, len(each))]
    return min(parts, key=lambda pair: abs(len(pair[0]) - len(pair[1])), default=(words, ""))


def _chapter_numbers(state: BookState, index: int) -> Iterator[Mark]:
    """The numbers of the divisions that begin on a page."""
    how, page, copy = state.book.titles.numbers, state.budget.pages[index], state.copy
    first, last = (bisect_left(copy.divisions, copy.word(piece)) for piece in (page.start, page.end))
    for number in range(max(first, 1), min(last + 1, len(copy.divisions)) + 1) if how != "none" else ():
        piece = copy.piece(copy.divisions[number - 1])
        if page.start <= piece < page.end:
            said = roman(number) if how == "roman" else str(number)
            yield Mark(piece, piece + 1, Sort.CHAPTER_NUMBERS, copy.divisions[number - 1], said)


def _contents(state: BookState, index: int) -> list[Mark]:
    """The lines of the list of contents, if its room is on this page: each title with the leaf that it fell on."""
    kept = {plan.id for plan in state.plans if plan.kind == "contents"}
    if not any(each.id in kept for each in placements_on(state, index)):
        return []
    named, found = state.book.contents.divisions or range(1, len(state.copy.divisions) + 1), []
    for number in named:
        word = state.copy.divisions[number - 1]
        page = page_of_word(state, word)
        leaf = _leaf_called(state, page) if page is not None else "?"
        said = " ".join(filter(None, (title_of(state, number), leaf)))
        found.append(Mark(state.copy.piece(word), state.copy.piece(word) + 1, Sort.CONTENTS_LINES, word, said))
    return found


def _leaf_called(state: BookState, page: Page) -> str:
    """A leaf as the list of contents names it: its number, or that of the page where the book counts pages."""
    if state.book.signing.foliation == "pages":
        return str(page.index + 1)
    return state.book.number_of_leaf(page.leaf)


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
    beside = (*_titles(state, index), *_chapter_numbers(state, index)) if "titles" in names else ()
    contents = _contents(state, index) if "contents" in names else ()
    for mark in (*later_marks(state).between(page.start, page.end), *beside, *contents):
        found.setdefault(pass_of(mark.sort, names), []).append(mark)
        if mark.sort is Sort.SMALL_INITIALS and "penwork" in names:
            found.setdefault("penwork", []).append(mark._replace(sort=Sort.FLOURISHES))
    return [PassWork(each, tuple(found[each.name])) for each in passes if each.name in found]


def open_passes(state: BookState, index: int) -> list[PassPlan]:
    """The later passes still to be done on a page, those with something left open included."""
    done = state.record(state.skin_at(index)).passes
    found = (work.plan for work in passes_on(state, index))
    return [plan for plan in found if plan.name not in done or done[plan.name].left]
