"""Letters to a line for each hand, as well as is known today."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

    from copydesk.book.book import Book

_USUAL = 36.0
"""Letters to a line where nothing at all is known: the middle of the 25 to 50 of an ordinary book (E. Johnston,
*Writing & Illuminating, & Lettering*, 1906, ch. VI)."""


def measures_of(book: Book, samples: Mapping[str, object]) -> Mapping[str, float]:
    """Letters to a full line of a column, by hand."""
    return {hand.id: hand.letters_per_line or _USUAL for hand in book.hands}
