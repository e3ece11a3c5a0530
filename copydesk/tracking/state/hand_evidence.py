"""What passages one hand wrote say of its set, from where their text was recorded to begin and to end.

A page shows how close its hand writes unless something made it write closer or wider. So a page that had to end where
the next one had begun already, or on which another closeness was agreed, shows nothing here; nor do a few lines. Of a
text known by its counts only, other things are known (``counted_evidence``).
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.casting.line_breaking import lines_taken, reached
from copydesk.book.hands.hand_fit import Usage, capacity_from_end, capacity_from_usage

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from copydesk.book.layout.page_frame import Frame
    from copydesk.book.text.copy_text import CopyText
    from copydesk.tracking.ledger.page_record import PageRecord, Stint
    from copydesk.tracking.state.leaf_state import LeafState


NEWEST = 60
"""Pages of a hand looked back on; more would make the range hardly narrower, and every start of the program longer."""

FEWEST_LINES = 4
"""Fewer lines than these of one hand on a page say next to nothing."""


class Passage(NamedTuple):
    """Lines one hand wrote on the page at an index, one after another: from line to line, word to word, and the tick.

    ``planned_at`` are the letters a line by which the plan put its end, where it is recorded to have ended there.
    """

    hand: str
    page: int
    from_line: int
    to_line: int
    from_word: int
    to_word: int
    tick: int
    planned_at: float | None

    @property
    def pages(self) -> tuple[int, ...]:
        """The page it stands on, as every kind of evidence gives its pages."""
        return (self.page,)


def usage_of(copy: CopyText, passage: Passage, frames: tuple[Frame, ...], about: float) -> Usage:
    """What one passage says of its hand, in letters to a full line.

    A page that ended where the plan put it says that the plan was right, so it speaks for the plan's letters; how
    surely, is worked out from its lines and words as for any other.

    Args:
        copy: the text laid out.
        passage: the lines written.
        frames: the lines of its page, alone in a tuple.
        about: letters a line to begin looking from.
    """
    shares = frames[0].text_lines()[passage.from_line - 1 : passage.to_line]
    found = usage_by_end(copy, passage.from_word, passage.to_word, shares, about)
    if passage.planned_at is None or not found.tells:
        return found
    half = (found.high - found.low) / 2
    return Usage(found.lines, passage.planned_at - half, passage.planned_at + half)


def usage_by_end(copy: CopyText, from_word: int, to_word: int, shares: Sequence[float], about: float) -> Usage:
    """What it says of a hand that lines of these shares of the full measure held the text from one word to another.

    Args:
        copy: the text laid out.
        from_word: the first word, counted in the exemplar.
        to_word: the word after the last.
        shares: the part of the full measure each line had, in order.
        about: letters a line to begin looking from.
    """
    start, end = copy.piece(from_word), copy.piece(to_word)
    unit = copy.mean * copy.grain
    if ends_a_run(copy, end):
        return capacity_from_usage(
            lambda letters: lines_taken(copy, start, end, shares, letters * unit), len(shares), about
        )

    def words_held(letters: float) -> int:
        return copy.word(reached(copy, start, shares, letters * unit))

    return capacity_from_end(words_held, to_word, len(shares), about)


def newest_passages(state: LeafState) -> dict[str, list[Passage]]:
    """The newest passages of each hand that say something, the older before the newer."""
    passages = sorted(_all_passages(state), key=lambda each: (each.tick, each.page), reverse=True)
    found: dict[str, list[Passage]] = {}
    for passage in passages:
        kept = found.setdefault(passage.hand, [])
        if len(kept) < NEWEST and not was_forced(state, passage):
            kept.append(passage)
    return {hand: kept[::-1] for hand, kept in found.items() if kept}


def _all_passages(state: LeafState) -> Iterator[Passage]:
    for index, record in state.recorded():
        if record.stints:
            yield from _passages_on(state, index, record)


def _passages_on(state: LeafState, index: int, record: PageRecord) -> Iterator[Passage]:
    """The passages of one page: stints of one hand that follow one another are one."""
    group: list[Stint] = []
    for stint in (*record.stints, None):
        if group and (stint is None or not _goes_on(group[-1], stint)):
            passage = passage_of(state, index, group)
            if passage.to_line - passage.from_line + 1 >= FEWEST_LINES and passage.to_word > passage.from_word:
                yield passage
            group = []
        if stint is not None:
            group.append(stint)


def passage_of(state: LeafState, index: int, stints: Sequence[Stint]) -> Passage:
    """The passage made by ``stints`` of one hand that follow one another on the page at ``index``."""
    first, last = stints[0], stints[-1]
    entry = state.ledger.find(last.entry)
    return Passage(
        last.hand,
        index,
        first.from_line,
        last.ended,
        first.from_word if first.goes_on is None else first.goes_on,
        last.to_word if last.line_from is None else last.line_from,
        entry.tick if entry is not None else 0,
        last.letters if all(each.letters is not None for each in stints) else None,
    )


def _goes_on(before: Stint, stint: Stint) -> bool:
    return (before.hand, before.to_line + 1, before.to_word) == (stint.hand, stint.from_line, stint.from_word)


def was_forced(state: LeafState, passage: Passage) -> bool:
    """Whether a passage was not written at the hand's own closeness: it had to end where the next page begins."""
    if passage.page in state.agreed:
        return True
    after = passage.page + 1
    if after >= state.collation.pages:
        return False
    skin = state.skin_at(after)
    record = state.record(skin)
    if record.start_word != passage.to_word:
        return False
    fixed = (entry.tick for entry in state.ledger.live("page", str(skin)) if entry.number("from_word") is not None)
    return min(fixed, default=passage.tick) < passage.tick


def ends_a_run(copy: CopyText, piece: int) -> bool:
    """Whether a new line would have begun at ``piece`` whatever the hand."""
    from bisect import bisect_left

    at = bisect_left(copy.runs, piece, key=lambda run: run.start)
    return piece >= copy.pieces or (at < len(copy.runs) and copy.runs[at].start == piece)
