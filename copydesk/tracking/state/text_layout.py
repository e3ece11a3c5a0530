"""The text laid out for casting off as a book asks for it, with the spaces that are tied to it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.progress import no_progress
from copydesk.book.layout import spaces as spaces_of
from copydesk.book.text.copy_text import lay_text
from copydesk.book.text.counted_text import lay_counts
from copydesk.book.text.exemplar_lines import whole_lines

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

    from copydesk.book.common.progress import OnProgress
    from copydesk.book.layout.page_frame import Anchored
    from copydesk.book.layout.page_layout import PageLayout
    from copydesk.book.plan import Book, Change, SpacePlan
    from copydesk.book.text.copy_text import CopyText
    from copydesk.book.text.exemplar import Exemplar


FEWEST_LETTERS = 25.0
"""Letters to a line of an ordinary book, the fewest (E. Johnston, *Writing & Illuminating, & Lettering*, 1906, ch. VI).

A word wider than such a line must be broken.
"""

_BROKEN_FROM = 0.75
"""Words wider than this share of the narrowest line expected can be broken where a line cannot hold them.

A hand may come out wider than expected; a word that its lines hold is not broken.
"""


def lay_copy(
    book: Book,
    exemplar: Exemplar | None,
    changes: Sequence[Change],
    new_lines: frozenset[int],
    on_progress: OnProgress = no_progress,
) -> CopyText:
    """The text of a book laid out for casting off.

    Args:
        book: the plan.
        exemplar: the text; None where only counts of it are known.
        changes: departures made on purpose, to be taken in.
        new_lines: words of the exemplar that begin a line.
        on_progress: given the share laid.
    """
    if exemplar is None:
        return lay_counts(book.divisions, book.flow, book.exemplar.letters_per_line)
    from copydesk.book.text.letter_widths import WordWidths, width_table

    widths = WordWidths(width_table(book.letter_widths))
    return lay_text(
        exemplar,
        widths,
        book.flow,
        changes=changes,
        new_line_at=new_lines | {place.word for place in exemplar.places} if book.flow.by_line else new_lines,
        whole_lines=whole_lines(exemplar, book.exemplar.lines_per_page) if book.flow.by_line else (),
        divide=_divider(book),
        hyphen=widths["-"] if book.line_breaks == "syllables" else 0.0,
        widest=_BROKEN_FROM * min(hand.letters_per_line or FEWEST_LETTERS for hand in book.hands),
        on_progress=on_progress,
    )


def new_lines_at(plans: Iterable[SpacePlan], exemplar: Exemplar | None) -> frozenset[int]:
    """The words that begin a line because a space stands before them.

    An initial is the first letter of its word, so that word begins a line wherever it stands; a picture set within
    a paragraph waits for the line to end.
    """
    if exemplar is None:
        return frozenset()
    taking = [plan for plan in plans if spaces_of.takes_lines(plan.kind)]
    initials = {plan.id for plan in taking if spaces_of.is_initial(plan.kind)}
    words = spaces_of.anchor_words(taking, exemplar, {})
    return frozenset(word for space, word in words.items() if space in initials or exemplar.begins_block(word))


def anchor_words(plans: Iterable[SpacePlan], exemplar: Exemplar | None, copy: CopyText) -> dict[str, int]:
    """The word of the exemplar each space tied to the text stands before."""
    return spaces_of.anchor_words(plans, exemplar, dict(enumerate(copy.divisions, 1)))


def anchors_of(
    plans: Sequence[SpacePlan], exemplar: Exemplar | None, copy: CopyText, layout: PageLayout
) -> list[Anchored]:
    """The spaces tied to the text and what each takes from the lines, those already fixed on a page included.

    Args:
        plans: the planned spaces; those that go with their text and those tied to pages are left out.
        exemplar: the text, where it is known.
        copy: the text laid out.
        layout: the page, for the sizes of spaces.
    """
    shapes = {plan.id: spaces_of.shape_of(plan, layout) for plan in plans if not spaces_of.goes_with_text(plan)}
    return spaces_of.anchors(anchor_words(plans, exemplar, copy), shapes, copy.piece)


def _divider(book: Book) -> Callable[[str], Sequence[int]] | None:
    """How words may be broken at a line's end, or None."""
    if book.line_breaks == "anywhere":
        from copydesk.book.text.hyphenation import anywhere

        return anywhere
    if book.line_breaks == "syllables":
        from copydesk.book.text.hyphenation import divider

        return divider(book.language)
    return None
