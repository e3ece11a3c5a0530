"""What passages one hand wrote say of its set, from where their text was recorded to begin and to end.

A page that was only ticked as planned measures nothing: nobody looked where it ended. Where a scribe gives the real
last words, all lines of that hand since the last place known show together how close it writes. A page that had to end
where the next one had begun already, or on which another closeness was agreed, shows nothing; nor do a few lines. Of a
text known by its counts only, other things are in doubt besides (``counted_evidence``).
"""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import replace
from statistics import fmean
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.casting.line_breaking import lines_taken, reached
from copydesk.book.hands.hand_fit import Usage, capacity_from_end, capacity_from_usage
from copydesk.book.structure.page import SkinPage
from copydesk.book.text.letter_widths import letter_count

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from copydesk.book.layout.page_frame import Frame
    from copydesk.book.text.copy_text import CopyText
    from copydesk.book.text.line_runs import LineRun
    from copydesk.tracking.ledger.entry import Entry
    from copydesk.tracking.ledger.page_record import Fault, PageRecord
    from copydesk.tracking.ledger.stint import Stint
    from copydesk.tracking.state.leaf_state import LeafState


NEWEST = 60
"""Pages of a hand looked back on; more would make the range hardly narrower, and every start of the program longer."""

FEWEST_LINES = 4
"""Fewer lines than these of one hand on a page say next to nothing."""

LEAST_WRITTEN, MOST_WRITTEN = 0.5, 2.0
"""A passage of which faults say that less than half, or more than twice, of its text was written says nothing."""


class Passage(NamedTuple):
    """Lines one hand wrote on the page at an index, one after another: from line to line, word to word, and the tick.

    ``end_given`` says that somebody gave its real last words; else it was only ticked, and ends where the plan had it.
    What faults found there say: ``left_out`` are words of the exemplar, each run from its first to the one after its
    last, that were not written in these lines; ``more_letters`` stand there beyond those of the text otherwise (fewer
    where negative), as where words were doubled. ``asked`` are the letters a line that advice asked for there, where
    the hand was thought to write ``usual``; both 0 where it might write as usual.
    """

    hand: str
    page: int
    from_line: int
    to_line: int
    from_word: int
    to_word: int
    tick: int
    end_given: bool
    more_letters: int = 0
    left_out: tuple[tuple[int, int], ...] = ()
    asked: float = 0.0
    usual: float = 0.0


_TELLS_NOTHING = frozenset(("ruled", "begun", "checked", "read-to", "settled"))
"""What is recorded of a page that tells nothing of how close its hand writes."""


def may_tell_of_hands(entry: Entry, state: LeafState) -> bool:
    """Whether an entry, or what it takes back, may change what pages say of a hand.

    A page written on from where its text ended, and only ticked as planned, tells nothing as long as nothing was
    written after it: so the hands need not be fitted while a scribe ticks page after page.
    """
    taken_back = entry.what == "voided"
    while entry.what == "voided":
        target = state.ledger.find(entry.about)
        if target is None or target.tick >= entry.tick:
            return False
        entry = target
    kind, name = entry.subject
    if kind != "page" or entry.what != "written":
        return kind in ("page", "leaf", "text", "book") and entry.what not in _TELLS_NOTHING
    if taken_back or entry.amount("letters") is None:
        return True
    record, page = state.record(SkinPage.parse(name)), state.page_of(SkinPage.parse(name))
    if page is None or not record.stints or record.stints[-1].entry != entry.entry or _took_a_place(entry, state):
        return True
    after = page.index + 1
    return after < state.collation.pages and state.record(state.skin_at(after)).start_word is not None


def _took_a_place(entry: Entry, state: LeafState) -> bool:
    """Whether lines written took the place of lines that were recorded of their page before."""
    stints = {stint.entry for stint in state.record(SkinPage.parse(entry.about)).stints}
    return any(each.what == "written" and each.entry not in stints for each in state.ledger.live(*entry.subject))


class Reach(NamedTuple):
    """Lines one hand wrote through pages in order, from a place of the text to another.

    ``known`` says that the first place is one somebody gave, ``free`` that nothing made the hand write closer or wider.
    """

    lines: tuple[Passage, ...]
    known: bool
    free: bool

    @property
    def pages(self) -> tuple[int, ...]:
        """The page of each of its passages, as indices in reading order."""
        return tuple(each.page for each in self.lines)

    @property
    def last(self) -> Passage:
        """The passage it ends with."""
        return self.lines[-1]


def usage_of_reach(copy: CopyText, reach: Reach, frames: tuple[Frame, ...], about: float) -> Usage:
    """What one reach says of its hand, in letters to a full line.

    Args:
        copy: the text laid out.
        reach: the lines written.
        frames: those of its pages, in the same order.
        about: letters a line to begin looking from.
    """
    shares: list[float] = []
    pages = 0.0
    for passage, frame in zip(reach.lines, frames, strict=True):
        whole = frame.text_lines()
        shares += whole[passage.from_line - 1 : passage.to_line]
        pages += (passage.to_line - passage.from_line + 1) / max(len(whole), 1)
    from_word, to_word = reach.lines[0].from_word, reach.last.to_word
    as_written = _without(copy, [left for each in reach.lines for left in each.left_out])
    found = usage_by_end(as_written, from_word, to_word, shares, about)
    own, stands = (
        (text.sums[copy.piece(to_word)] - text.sums[copy.piece(from_word)]) / (copy.mean * copy.grain)
        for text in (copy, as_written)
    )
    # The lines held what was doubled besides: each full line as much more, the room left at its end being the same.
    more = sum(each.more_letters for each in reach.lines)
    if own and not LEAST_WRITTEN < (stands + more) / own < MOST_WRITTEN:
        return Usage(0, 0.0, 0.0)
    a_line = more / sum(shares)
    found = replace(found, low=found.low + a_line, high=found.high + a_line, pages=max(pages, 1.0))
    return _as_usual(found, [each for each in reach.lines if each.asked > 0.0 and each.usual > 0.0])


def _as_usual(found: Usage, asked: Sequence[Passage]) -> Usage:
    """What lines say of the hand's usual writing, of which some were asked to be closer or wider.

    Nobody said whether that was done. Where they came nearer to what was asked than to the usual, it is taken to be so,
    and they were as much closer than usual; else they were written as usual.
    """
    if not asked:
        return found
    wanted, usual = fmean(each.asked for each in asked), fmean(each.usual for each in asked)
    if abs(found.middle - wanted) >= abs(found.middle - usual):
        return found
    return replace(found, low=found.low * usual / wanted, high=found.high * usual / wanted)


def _without(copy: CopyText, left_out: Sequence[tuple[int, int]]) -> CopyText:
    """The text with these words of the exemplar taking no room."""
    for first, after in left_out:
        sums, start, end = copy.sums, copy.piece(first), copy.piece(after)
        width = sums[end] - sums[start]
        kept = [*sums[:start], *([sums[start]] * (end - start)), *(each - width for each in sums[end:])]
        copy = copy._replace(sums=kept)
    return copy


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


def newest_reaches(state: LeafState) -> dict[str, list[Reach]]:
    """The newest reaches of each hand that say something, the older before the newer."""
    found: dict[str, list[Reach]] = {}
    reaches = [each for each in _reaches(state) if each.known and each.free]
    for reach in sorted(reaches, key=lambda each: (each.last.tick, each.last.page)):
        if sum(each.to_line - each.from_line + 1 for each in reach.lines) >= FEWEST_LINES:
            found.setdefault(reach.last.hand, []).append(reach)
    return {hand: kept[-NEWEST:] for hand, kept in found.items()}


def _reaches(state: LeafState) -> Iterator[Reach]:
    """Every reach that ends at a place given, or with its division, in the order of their pages."""
    before: Reach | None = None
    for passage in _passages(state):
        follows = before is not None and _follows(before.last, passage)
        if before is not None and follows and not _ends_known(state, before.last):
            same = before.last.hand == passage.hand
            lines = (*before.lines, passage) if same else (passage,)
            before = Reach(lines, known=before.known and same, free=before.free)
        else:
            before = Reach((passage,), known=True, free=True)
        if passage.page in state.agreed:
            before = before._replace(free=False)
        if passage.end_given and passage.to_word > before.lines[0].from_word and not was_forced(state, passage):
            yield before


def ticked_before(state: LeafState, index: int, word: int) -> list[Passage]:
    """The passages that end one after another at ``word``, which begins lines on the page at ``index``, only ticked.

    Nobody looked where they ended, so the text of all of them may have come farther, or less far, than the plan has it.
    """
    found: list[Passage] = []
    for at in range(index, max(index - NEWEST, -1), -1):
        passages = list(_passages_on(state, at, state.record(state.skin_at(at))))
        if at < index and not passages:
            break
        for passage in reversed(passages):
            if at == index and passage.to_word > word:
                continue
            if passage.to_word != word or _ends_known(state, passage):
                return found
            found.insert(0, passage)
            word = passage.from_word
    return found


def _follows(before: Passage, passage: Passage) -> bool:
    return before.to_word == passage.from_word and 0 <= passage.page - before.page <= 1


def _ends_known(state: LeafState, passage: Passage) -> bool:
    """Whether a passage ended at a place that was given, or that shows by itself.

    It shows where the next page had begun already, and where a part of the text ends that no other follows on its page;
    of a text known by its counts, where any division ends.
    """
    if passage.end_given or was_forced(state, passage):
        return True
    piece = state.copy.piece(passage.to_word)
    run = run_at(state.copy, piece)
    if run is None:
        return piece >= state.copy.pieces
    return state.exemplar is None or run.starts != "line"


def _passages(state: LeafState) -> Iterator[Passage]:
    for index, record in sorted(state.recorded(), key=lambda each: each[0]):
        yield from _passages_on(state, index, record)


def _passages_on(state: LeafState, index: int, record: PageRecord) -> Iterator[Passage]:
    """The passages of one page: stints of one hand that follow one another are one, up to the last end given."""
    group: list[Stint] = []
    for stint in (*record.stints, None):
        if group and (stint is None or not _goes_on(group[-1], stint)):
            given = 1 + max((at for at, each in enumerate(group) if each.letters is None), default=len(group) - 1)
            for part in (group[:given], group[given:]):
                if part and (passage := passage_of(state, index, part)).to_line >= passage.from_line:
                    yield _as_faults_say(state, record, passage)
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
        last.letters is None,
        asked=last.asked or 0.0,
        usual=last.usual or 0.0,
    )


def _as_faults_say(state: LeafState, record: PageRecord, passage: Passage) -> Passage:
    """A passage with what was left out there and what stands there besides, by the faults found in its lines.

    A fault without a line counts where the passage is all that is written on the page.
    """
    if not record.faults:
        return passage
    frame = state.frame_of(passage.page)
    alone = (passage.from_line, passage.to_line) == (record.stints[0].from_line, record.stints[-1].to_line)
    more = 0
    left_out: list[tuple[int, int]] = []
    for fault in record.faults:
        if passage.from_line <= _text_line(frame, fault) <= passage.to_line if fault.line is not None else alone:
            place = _place_left_out(state, passage, fault)
            if place is not None and not any(place[0] < after and first < place[1] for first, after in left_out):
                left_out.append(place)
            else:
                more += _letters(fault.stands) - _letters(fault.should)
    return passage._replace(more_letters=more, left_out=tuple(left_out))


def _place_left_out(state: LeafState, passage: Passage, fault: Fault) -> tuple[int, int] | None:
    """The words of the exemplar that a fault says were left out; None where none were, or no one place has them."""
    should = fault.should.split()
    if fault.stands.strip() or not should or state.exemplar is None:
        return None
    words = state.exemplar.words
    found = [
        (at, at + len(should))
        for at in range(passage.from_word, passage.to_word - len(should) + 1)
        if words[at] == should[0] and list(words[at : at + len(should)]) == should
    ]
    return found[0] if len(found) == 1 else None


def _letters(text: str) -> int:
    words = text.split()
    return letter_count(words) + 1 if words else 0


def _text_line(frame: Frame, fault: Fault) -> int:
    """The line of text, from 1 through all columns, that a fault stands on."""
    grid = frame.shares()
    before = (share for column in grid[: (fault.column or 1) - 1] for share in column)
    own = grid[min((fault.column or 1) - 1, len(grid) - 1)][: fault.line]
    return sum(share > 0.0 for share in (*before, *own))


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
    return piece >= copy.pieces or run_at(copy, piece) is not None


def run_at(copy: CopyText, piece: int) -> LineRun | None:
    """What begins a new line at ``piece`` whatever the hand; None where nothing does."""
    at = bisect_left(copy.runs, piece, key=lambda run: run.start)
    return copy.runs[at] if at < len(copy.runs) and copy.runs[at].start == piece else None
