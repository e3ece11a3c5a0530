"""The eye-skip watch of a page: places where the scribe may skip words, the likeliest first."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.comparing.eye_skip import Recurrence, watch
from copydesk.tracking.checking.eye_habits import eye_habits
from copydesk.tracking.checking.text_to_write import allowances, own_lines, word_of
from copydesk.tracking.state.page_content import lines_of_page

if TYPE_CHECKING:
    from copydesk.tracking.state.book_state import BookState


MOST = 8
"""Places shown to whoever checks a page; nobody can watch more of them at once."""


def watch_for(state: BookState, index: int, most: int = 5) -> tuple[Recurrence, ...]:
    """The places to watch on the page at ``index`` in what is not written of it yet; none where all is written.

    They have the page's columns and lines and the exemplar's words.

    Args:
        state: the book.
        index: the page's place in reading order.
        most: how many at most.
    """
    record = state.record(state.skin_at(index))
    return () if record.whole else _found(state, index, record.written, most)


def watch_written(state: BookState, index: int) -> tuple[Recurrence, ...]:
    """The same for all that is written on a page: where its checker should look twice."""
    return _found(state, index, 0, MOST)


def _found(state: BookState, index: int, written: int, most: int) -> tuple[Recurrence, ...]:
    copy, budget = state.copy, state.budget.pages[index]
    if state.exemplar is None or budget.start >= budget.end:
        return ()
    lines = lines_of_page(state, index)[max(written - 1, 0) :]
    if not lines:
        return ()
    start, end = word_of(copy, lines[0].start), word_of(copy, lines[-1].end)
    found = watch(
        [copy.text(line.start, line.end) for line in lines],
        start,
        exemplar_lines=own_lines(state, start, end),
        places=[(line.column, line.line) for line in lines],
        allow=allowances(state.book),
        most=most,
        habits=eye_habits(state),
    )
    # a word that stands twice in one of the lines makes two pairs of places of which the same is said
    told = {each.sentence: each for each in (_told(state, each) for each in found)}
    return tuple(told.values())


def _told(state: BookState, found: Recurrence) -> Recurrence:
    """With the exemplar's words, and its place where one is noted."""
    exemplar, written = state.exemplar, state.copy.written
    if exemplar is None or written is None:
        return found
    (column, line, word), (other_column, other_line, other) = found.places
    own, other_own = written.exemplar(word), written.exemplar(other)
    place = exemplar.place_of(own)
    sentence = f"{found.sentence}; exemplar {place}" if place else found.sentence
    return found._replace(sentence=sentence, places=((column, line, own), (other_column, other_line, other_own)))
