"""The text as it is to be written, with its way back to the exemplar; for comparing and the eye-skip watch.

Written words are counted through the text with what was changed on purpose; the exemplar's words as it has them.
"""

from __future__ import annotations

from bisect import bisect_right
from typing import TYPE_CHECKING

from copydesk.book.text.exemplar_lines import leaf_starts, line_starts
from copydesk.comparing.normalization import Allowances
from copydesk.tracking.state.page_content import placements_on

if TYPE_CHECKING:
    from collections.abc import Iterable

    from copydesk.book.plan import Book
    from copydesk.book.text.copy_text import CopyText
    from copydesk.tracking.state.book_state import BookState


def allowances(book: Book) -> Allowances:
    """What this workshop allows."""
    return Allowances.from_mapping(allowed_here(book))


def allowed_here(book: Book) -> dict[object, object]:
    """The rules of ``allow:``; where words are broken anywhere, a division without a hyphen is no fault."""
    given: dict[object, object] = {"bare_divisions": book.line_breaks == "anywhere"}
    given.update(book.allow)
    return given


def word_of(copy: CopyText, piece: int) -> int:
    """Which of the written words a piece is of."""
    return piece if copy.first_piece is None else bisect_right(copy.first_piece, piece) - 1


def own_lines(state: BookState, start: int, end: int) -> list[int]:
    """Written words, from about ``start`` to ``end``, at which lines of the exemplar known as such begin."""
    exemplar, written = state.exemplar, state.copy.written
    if exemplar is None or written is None:
        return []
    lines_a_page = state.book.exemplar.lines_per_page
    found = line_starts(exemplar, written.exemplar(start), written.exemplar(end), lines_a_page)
    return [written.written(word) for word in found]


def own_leaves(state: BookState, start: int, end: int) -> list[int]:
    """Written words, from about ``start`` to ``end``, at which a side of a leaf of the exemplar begins."""
    exemplar, written = state.exemplar, state.copy.written
    if exemplar is None or written is None:
        return []
    return [written.written(word) for word in leaf_starts(exemplar, written.exemplar(start), written.exemplar(end))]


def own_glosses(state: BookState, start: int, end: int) -> list[str]:
    """The notes that stand in the exemplar's margins beside written words from ``start`` to ``end``."""
    exemplar, written = state.exemplar, state.copy.written
    if exemplar is None or written is None:
        return []
    first, last = written.exemplar(start), written.exemplar(end)
    return [gloss.text for gloss in exemplar.glosses if first <= gloss.word <= last]


def painted_initials(state: BookState, index: int) -> dict[int, int]:
    """Written words of a page whose first letters are left to the artist, with how many letters that is."""
    written, found = state.copy.written, {}
    for placement in placements_on(state, index):
        plan = state.plan_of(placement.id)
        word = state.word_of(plan) if plan is not None and plan.kind.endswith("initial") else None
        if plan is not None and word is not None and written is not None:
            found[written.written(word)] = len(plan.guide_letter) or 1
    return found


_ANSWERS = {"yes": True, "true": True, "no": False, "false": False}


def allowed_too(book: Book, rules: Iterable[str]) -> Allowances:
    """The workshop's allowances with more: a key of ``allow:``, a key ``=no``, or two spellings ``one=other``.

    Raises:
        InvalidValueError: for rules that cannot be used.
    """
    given = allowed_here(book)
    spellings = _groups(given.pop("spellings", ()))
    for rule in rules:
        name, equals, value = rule.partition("=")
        if equals and value.casefold() not in _ANSWERS:
            spellings.append((name, value))
        else:
            given[name] = _ANSWERS.get(value.casefold(), True)
    return Allowances.from_mapping({**given, "spellings": spellings}, "--allow")


def _groups(given: object) -> list[object]:
    """Groups of spellings, however book.yaml has them."""
    if isinstance(given, dict):
        return list(given.items())
    return list(given) if isinstance(given, list | tuple) else []
