"""What leads the eye of a book's scribes, as its recorded slips tell, and how likely a leap must be for a warning.

About one page in four has no warning, so that a warning is worth reading. How likely its likeliest leap is, is looked
up on some pages throughout the text.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple
from weakref import WeakKeyDictionary

from copydesk.comparing.eye_skip import Habits, habits_of, leap_pull, watch
from copydesk.tracking.checking.text_to_write import allowances, own_lines, word_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from copydesk.book.text.copy_text import CopyText
    from copydesk.comparing.eye_skip import Pull
    from copydesk.tracking.ledger.page_record import Fault
    from copydesk.tracking.state.book_state import BookState


WITHOUT_WARNING = 0.25
"""The share of pages that have no warning. Our own judgement."""

_SAMPLE, _FEWEST = 12, 4
_AROUND = 40
_LINE_WORDS = 7


class _Known(NamedTuple):
    """The habits of a book, and the text and slips they were found from."""

    copy: CopyText
    slips: int
    habits: Habits


_KNOWN: WeakKeyDictionary[BookState, _Known] = WeakKeyDictionary()


def eye_habits(state: BookState) -> Habits:
    """What leads the eye in this book; found anew only after another slip or another text."""
    slips = _slips(state)
    known = _KNOWN.get(state)
    if known is None or known.copy is not state.copy or known.slips != len(slips):
        found = habits_of([pull for slip in slips if (pull := _pull(state, slip)) is not None])
        known = _KNOWN[state] = _Known(state.copy, len(slips), found._replace(least=_least(state, found)))
    return known.habits


def _slips(state: BookState) -> list[Fault]:
    """Leaps of the eye recorded as faults, whose words are known."""
    records = (state.record(state.skin_at(index)) for index in range(state.collation.pages))
    faults = (fault for record in records for fault in record.faults)
    return [fault for fault in faults if fault.kind == "eye-skip" and fault.word is not None and fault.should]


def _pull(state: BookState, slip: Fault) -> Pull | None:
    """The pull of a leap: from the word before those left out to the last of them, or from the first to the next."""
    written = state.copy.written
    if written is None or slip.word is None:
        return None
    first, missed = written.written(slip.word), len(slip.should.split())
    start = max(first - _AROUND, 0)
    words = written.words[start : first + missed + _AROUND]
    one, other = (first - 1, first + missed - 1) if first > start else (first, first + missed)
    if other - start >= len(words):
        return None
    return leap_pull(words, start, one, other, own_lines(state, start, start + len(words)))


def _least(state: BookState, habits: Habits) -> float:
    """The score that the likeliest place of a quarter of the pages does not reach; 0 for a book of few pages."""
    pages = [page for page in state.budget.pages if page.planned]
    if len(pages) < _FEWEST or state.copy.written is None:
        return 0.0
    bests = []
    for page in pages[:: max(len(pages) // _SAMPLE, 1)]:
        start, end = word_of(state.copy, page.start), word_of(state.copy, page.end)
        words: Sequence[str] = state.copy.written.words[start:end]
        lines = [words[at : at + _LINE_WORDS] for at in range(0, len(words), _LINE_WORDS)]
        known = own_lines(state, start, end)
        found = watch(lines, start, exemplar_lines=known, allow=allowances(state.book), most=1, habits=habits)
        bests.append(found[0].score if found else 0.0)
    return sorted(bests)[int(WITHOUT_WARNING * len(bests))]
