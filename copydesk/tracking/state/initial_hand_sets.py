"""Each hand's set before it has written a page of the book: what is said of it, its sample, or a guess."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.hands.hand_set import HandSet

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from copydesk.book.hands.hand_sample import SampleLine
    from copydesk.book.layout.page_layout import PageLayout
    from copydesk.book.plan import Book, Hand


_USUAL = 36.0
"""Letters to a line where nothing at all is known: the middle of the 25 to 50 of an ordinary book (E. Johnston,
*Writing & Illuminating, & Lettering*, 1906, ch. VI)."""


FEWEST_LETTERS = 25.0
"""Letters to a line of an ordinary book, the fewest (the same place); a word wider than a line must be broken."""


def first_sets(
    book: Book, samples: Mapping[str, Sequence[SampleLine]], layout: PageLayout, mean: float
) -> dict[str, HandSet]:
    """The set of each hand at this book's column measure and nib, before any page is written.

    Args:
        book: the plan.
        samples: the lines of each hand's sample, by hand.
        layout: the page, for its column measure.
        mean: the mean letter of the text in the table's unit.
    """
    return {hand.id: _first_set(book, hand, samples.get(hand.id, ()), layout, mean) for hand in book.hands}


def _first_set(book: Book, hand: Hand, sample: Sequence[SampleLine], layout: PageLayout, mean: float) -> HandSet:
    nib = book.script.nib or 0.0
    if sample:
        from copydesk.book.hands.hand_sample import from_sample
        from copydesk.book.text.letter_widths import WordWidths, width_table

        widths = WordWidths(width_table(book.letter_widths))
        return from_sample(sample, layout.measure, widths, mean=mean, nib=nib)
    if hand.letters_per_line is not None:
        return HandSet.from_letters(hand.letters_per_line, layout.measure, nib)
    if nib:
        return HandSet.from_script(nib, book.script.heights[0], layout.measure)
    return HandSet.from_letters(_USUAL, layout.measure)
