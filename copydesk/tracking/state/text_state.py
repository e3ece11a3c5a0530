"""The text of a book laid out for casting off: what is known before any leaf or page is looked at."""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from copydesk.book.hands.hand_filter import unseen
from copydesk.book.hands.hand_set import HandSet
from copydesk.book.layout import spaces as spaces_of
from copydesk.book.layout.page_layout import lay_out
from copydesk.book.text.exemplar_lines import page_starts
from copydesk.tracking.ledger.records import Records
from copydesk.tracking.state.opening_progress import OpeningProgress
from copydesk.tracking.state.text_layout import anchor_words, lay_copy, new_lines_at

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from copydesk.book.casting.line_breaking import Lines
    from copydesk.book.hands.hand_sample import SampleLine
    from copydesk.book.layout.page_frame import Shape
    from copydesk.book.plan import Book, Hand, SpacePlan
    from copydesk.book.text.copy_text import CopyText
    from copydesk.book.text.exemplar import Exemplar
    from copydesk.tracking.ledger.ledger import Ledger

    Samples = Mapping[str, Sequence[SampleLine]]


_USUAL = 36.0
"""Letters to a line where nothing at all is known: the middle of the 25 to 50 of an ordinary book (E. Johnston,
*Writing & Illuminating, & Lettering*, 1906, ch. VI)."""


class LooseSpaces(dict[str, int]):
    """Spaces that stand wherever their text stands: the piece of the text each is tied to, by name, in text order."""

    def __init__(self, pieces: Mapping[str, int]) -> None:
        super().__init__(sorted(pieces.items(), key=lambda pair: pair[1]))
        self._names, self._pieces = list(self), list(self.values())

    def between(self, start: int, end: int) -> list[str]:
        """Those tied to the text from the piece ``start`` up to ``end``."""
        return self._names[bisect_left(self._pieces, start) : bisect_left(self._pieces, end)]


class TextState(Records):
    """A book, its exemplar and its ledger, with the text laid out.

    Attributes:
        samples: the lines of each hand's sample, by hand.
        layout: the page, as laid out from the plan.
        known_lines: the lines of the text, by the width of a full line they were broken at.
        progress: reports how far the first plan and the first budget are.
        marks: what is left to later passes, kept for ``later_work`` with the text and the plans it follows from.
    """

    def __init__(self, book: Book, exemplar: Exemplar | None, ledger: Ledger, samples: Samples | None = None) -> None:
        super().__init__(book, ledger)
        self.exemplar = exemplar
        self.samples: Samples = samples or {}
        self.layout = lay_out(book.page, book.columns, book.ruling, book.script)
        self.known_lines: dict[float, Lines] = {}
        self.progress = OpeningProgress()
        self._copy: CopyText | None = None
        self._new_lines: frozenset[int] = frozenset()
        self._loose: LooseSpaces | None = None
        self._first_sets: Mapping[str, HandSet] | None = None
        self.marks: tuple[CopyText, tuple[SpacePlan, ...], Any] | None = None

    def _drop_text(self) -> None:
        """Have the text laid out anew when it is next asked for."""
        self._copy = self._loose = self._first_sets = None
        self.known_lines = {}

    def _new_lines_changed(self) -> bool:
        """Whether the text was laid out already, and other words than then begin a line because of a space."""
        return self._copy is not None and self._new_lines != new_lines_at(self.plans, self.exemplar)

    @property
    def copy(self) -> CopyText:
        """The text laid out for casting off."""
        if self._copy is None:
            self._new_lines = new_lines_at(self.plans, self.exemplar)
            self._copy = lay_copy(self.book, self.exemplar, self.changes, self._new_lines, self.progress.laying)
        return self._copy

    @property
    def page_starts(self) -> Mapping[int, int]:
        """The word each page begins with, by index, where pages are to hold what the exemplar's hold; else nothing."""
        if self.exemplar is None or not self.book.flow.by_page:
            return {}
        return page_starts(self.exemplar)

    @property
    def first_sets(self) -> Mapping[str, HandSet]:
        """How close each hand was thought to write before it had written a page."""
        if self._first_sets is None:
            found = {hand.id: self._first_set(hand) for hand in self.book.hands}
            self._first_sets = {hand: replace(known, ahead=unseen(known)) for hand, known in found.items()}
        return self._first_sets

    def _first_set(self, hand: Hand) -> HandSet:
        """A hand's set at this book's measure and nib, by its sample, by what is said of it, or by a guess."""
        sample, nib, measure = self.samples.get(hand.id, ()), self.book.script.nib or 0.0, self.layout.measure
        if sample:
            from copydesk.book.hands.hand_sample import from_sample
            from copydesk.book.text.letter_widths import WordWidths, width_table

            widths = WordWidths(width_table(self.book.letter_widths))
            return from_sample(sample, measure, widths, mean=self.copy.mean, nib=nib)
        if hand.letters_per_line is not None:
            return HandSet.from_letters(hand.letters_per_line, measure, nib)
        if nib:
            return HandSet.from_script(nib, self.book.script.heights[0], measure)
        return HandSet.from_letters(_USUAL, measure)

    @property
    def loose_spaces(self) -> LooseSpaces:
        """Spaces that stand wherever their text stands, with the piece of the text they are tied to."""
        if self._loose is None:
            loose = [plan for plan in self.plans if spaces_of.goes_with_text(plan)]
            words = anchor_words(loose, self.exemplar, self.copy) if loose else {}
            self._loose = LooseSpaces({space: self.copy.piece(word) for space, word in words.items()})
        return self._loose

    def shape(self, plan: SpacePlan) -> Shape:
        """What a planned space takes from the ruled lines."""
        return spaces_of.shape_of(plan, self.layout)

    def word_of(self, plan: SpacePlan) -> int | None:
        """The word of the exemplar a space stands before; None where it is tied to a page."""
        return anchor_words([plan], self.exemplar, self.copy).get(plan.id)
