"""Text into lines: where each line begins, by filling every line as far as it goes.

``Lines`` holds all beginnings at one measure. ``reached`` and ``lines_taken`` go over lines of different room, as a
page that is written has them; they look at no rules for where divisions begin and at no spaces that wait.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from itertools import groupby, pairwise
from typing import TYPE_CHECKING

from copydesk.book.casting.even_ends import chooses, chooses_in, even_lines
from copydesk.book.casting.long_verses import turns_over
from copydesk.book.common.progress import no_progress
from copydesk.book.layout.page_frame import SplitLine
from copydesk.book.text.copy_text import LETTERS_A_WORD

if TYPE_CHECKING:
    from collections.abc import Sequence

    from copydesk.book.common.progress import OnProgress
    from copydesk.book.text.copy_text import CopyText
    from copydesk.book.text.line_runs import LineRun


SLACK = 1e-6
"""Widths are sums of decimals; a line that is full to the last unit must not fail by their rounding."""

FEWEST_COUNTED = LETTERS_A_WORD
"""A narrow line with room for fewer letters than a word has stays empty, where words are known by their number only."""

_TURN = 100_000
"""Pieces broken into lines between two reports of progress."""

_WINDOW = 48
"""Pieces looked at beyond a line's beginning before looking through the whole text; most lines hold fewer."""


def line_end(
    copy: CopyText, start: int, measure: float, limit: int, full: float | None = None, *, alone: bool = False
) -> int:
    """The piece after the last that fits on a line from ``start``, never past ``limit``.

    A line of the full measure takes one piece at least, since a wider line will not come. One that a space or a hole
    has made narrower takes none where the next word has no room: then this is ``start``.

    Args:
        copy: the text.
        start: the line's first piece.
        measure: the line's room, in the units of ``copy.sums``. The word-space at its end takes no room; a word broken
            there needs room for its mark.
        limit: the piece where the text that may stand here ends.
        full: the full measure, where this line is narrower.
        alone: whether what is over of a long verse cannot go into the line above it or below it.
    """
    if copy.shaped:
        return _shaped_end(copy, start, measure, limit, full, alone=alone)
    return _plain_end(copy, start, measure, limit, full)


def _shaped_end(copy: CopyText, start: int, measure: float, limit: int, full: float | None, *, alone: bool) -> int:
    """The same where some runs have lines of their own shape."""
    at = bisect_right(copy.runs, start, key=_run_start) - 1
    shape = copy.runs[at].shape
    if shape is None:
        return _plain_end(copy, start, measure, limit, full)
    if shape.whole:
        return limit
    first = copy.runs[at].start == start
    taken = shape.indent if first else shape.hang
    end = _plain_end(copy, start, measure - taken, limit, None if full is None else full - taken)
    even = full is None or measure >= full
    if first and even and start < end < limit and not alone and turns_over(copy, at, end, measure):
        return limit
    return end


def _plain_end(copy: CopyText, start: int, measure: float, limit: int, full: float | None) -> int:
    """The same where all lines are alike."""
    # copy.sums holds the width of all text before each piece, so the last piece that fits is found by bisection: no
    # widths are added up again, however often lines are broken. Nearly all lines end within the window.
    sums = copy.sums
    reach = sums[start] + measure + copy.space + SLACK
    near = min(start + _WINDOW, limit) + 1
    end = bisect_right(sums, reach, start, near) - 1
    if end == near - 1 and end < limit:
        end = bisect_right(sums, reach, end, limit + 1) - 1
    narrow = full is not None and measure < full
    if copy.inner:
        end = _step_back(copy, start, end, reach, measure if full is None else full)
    elif narrow and copy.parts is not None and measure < FEWEST_COUNTED * copy.grain:
        return start
    return end if end > start or narrow else min(start + 1, limit)


def line_through(copy: CopyText, start: int, share: float, full: float, limit: int) -> int:
    """The same for a line of this share of the full measure, on both sides of a hole where it is a ``SplitLine``.

    The larger side is taken alone where that holds more than both in turn.
    """
    end = line_end(copy, start, full * share, limit, full)
    if not isinstance(share, SplitLine):
        return end
    piece = start
    for stretch in share.stretches:
        piece = line_end(copy, piece, full * stretch, limit, full)
    return max(end, piece)


def _step_back(copy: CopyText, start: int, end: int, reach: float, full: float) -> int:
    """The last end at or before ``end`` where a line may end, with room for what a broken word leaves there.

    ``reach`` gives the room of a word-space back, which a word broken here does not end in, and keeps none for
    its mark. A word that a full line holds is not broken where the book does not break words.
    """
    sums, inner, forced = copy.sums, copy.inner, copy.forced
    while end > start and end in inner:
        first, after = forced.get(end, (start, end))
        if first >= start and end in forced and copy.width(first, after) <= full + SLACK:
            end = first
        elif sums[end] + copy.space + copy.hyphen > reach:
            end -= 1
        else:
            break
    return end


class Lines:
    """All line beginnings of a text at one measure, run by run; found once, then looked up.

    A line left blank begins where the line after it does. From any place where a line begins the same lines follow,
    whoever got there; so a page that begins at one of
    these needs no breaking, and one that does not soon falls in with them, at the latest where the run ends.
    """

    def __init__(
        self, copy: CopyText, measure: float, starts: Sequence[int] | None = None, on_progress: OnProgress = no_progress
    ) -> None:
        self.copy = copy
        self.measure = measure
        self._chosen = chooses(copy)
        self._forced = list(copy.forced) if self._chosen else []
        self._lines_in_hand: list[int] = []
        self._end_in_hand = -1
        self.starts: Sequence[int] = _break_all(copy, measure, on_progress) if starts is None else starts

    @classmethod
    def as_needed(cls, copy: CopyText, measure: float) -> Lines:
        """The same for a measure that only a page or two will be cast at: lines are broken when asked for."""
        return cls(copy, measure, ())

    def __len__(self) -> int:
        """Lines of the whole text."""
        return len(self.starts)

    def advance(self, piece: int, most: int, limit: int, held: int | None = None) -> tuple[int, int]:
        """Fill up to ``most`` lines from ``piece``, stopping before a line that would begin at or past ``limit``.

        Where the lines of a paragraph are chosen together, that is done up to ``held``, the piece where the text that
        may stand here ends; up to the paragraph's end where None.

        Returns the piece where the next line begins and the number of lines filled.
        """
        starts, copy = self.starts, self.copy
        sure = limit if held is None or not self._chosen else min(self.sure_before(held), limit)
        filled, edge = 0, 0
        while True:
            index = bisect_left(starts, piece)
            if copy.shaped and (blank := copy.blank_before(piece)):
                if not filled:
                    index += blank
                elif index == len(starts) or starts[index] != piece:
                    filled = min(filled + blank, most)
            if index < len(starts) and starts[index] == piece and (piece < sure or sure == limit):
                there = bisect_left(starts, sure, index)
                lines = min(most - filled, there - index)
                index, filled = index + lines, filled + lines
                piece = starts[index] if index < len(starts) else copy.pieces
                if sure == limit:
                    return piece, filled
            if filled == most or piece >= limit or piece >= copy.pieces:
                return piece, filled
            if piece >= edge:
                edge = self.run_end(piece)
            piece = self.line_end(piece, edge, held)
            filled += 1

    def line_end(self, piece: int, edge: int, held: int | None = None) -> int:
        """Where a full line from ``piece`` ends in a run that ends at ``edge``, or in its part up to ``held``."""
        if not self._chosen or not chooses_in(self.copy, self.copy.run_at(piece), self._forced):
            return line_end(self.copy, piece, self.measure, edge)
        end = edge if held is None or not piece < held < edge else held
        at = bisect_left(self._lines_in_hand, piece)
        if self._end_in_hand != end or at == len(self._lines_in_hand) or self._lines_in_hand[at] != piece:
            self._lines_in_hand, self._end_in_hand, at = self._even(piece, end, closes=end == edge), end, 0
        return self._lines_in_hand[at + 1] if at + 1 < len(self._lines_in_hand) else end

    def _even(self, piece: int, end: int, *, closes: bool) -> list[int]:
        filled = [piece]
        while filled[-1] < end:
            filled.append(line_end(self.copy, filled[-1], self.measure, end))
        return even_lines(self.copy, filled, self.measure, SLACK, closes=closes)

    def sure_before(self, limit: int) -> int:
        """The piece up to which a text that ends at ``limit`` has the lines of the whole text."""
        if not self._chosen or limit >= self.copy.pieces:
            return limit
        at = self.copy.run_at(limit)
        return self.copy.runs[at].start if chooses_in(self.copy, at, self._forced) else limit

    def alike_before(self, one: int, other: int) -> int:
        """The piece before which a page must end to be the same for texts that end at ``one`` and at ``other``."""
        nearer = min(one, other)
        sure = self.sure_before(nearer)
        return nearer if sure == nearer else sure + 1

    def run_end(self, piece: int) -> int:
        """Where the run that ``piece`` stands in ends."""
        runs = self.copy.runs
        found = bisect_right(runs, piece, key=_run_start)
        return runs[found].start if found < len(runs) else self.copy.pieces

    def count(self, start: int, end: int) -> int:
        """Lines that the text from ``start`` up to ``end`` takes, from a new line on: looked up where they are known.

        The answer is that of ``lines_taken`` for full lines of this measure.
        """
        return self.advance(start, 1 << 62, end, end)[1] if start < end else 0


def reached(copy: CopyText, start: int, shares: Sequence[float], width: float) -> int:
    """The piece the next line would begin with, after lines of these shares of ``width`` from ``start`` on.

    ``width`` is a full line in the units of ``copy.sums``; a new run begins a new line.
    """
    if chooses(copy):
        return _reached_chosen(copy, start, shares, width)
    runs, piece, last, inner = copy.runs, start, copy.pieces, copy.inner
    ahead = bisect_right(runs, start, key=_run_start)
    edge = runs[ahead].start if ahead < len(runs) else last
    sums, spare = copy.sums, copy.space + SLACK
    simple, blank = not inner and not copy.shaped, 0
    for share in shares:
        if piece == edge:
            if piece >= last:
                break
            ahead += 1
            edge = runs[ahead].start if ahead < len(runs) else last
            blank = 0 if simple else copy.blank_before(piece)
        if blank:
            blank -= 1
            continue
        if not simple or share < 1.0:
            piece = line_through(copy, piece, share, width, edge)
            continue
        reach, far = sums[piece] + width * share + spare, piece + _WINDOW
        end = bisect_right(sums, reach, piece + 1, (far if far < edge else edge) + 1) - 1
        if end == far:
            end = bisect_right(sums, reach, end, edge + 1) - 1
        piece = end if end > piece else piece + 1
    return piece


def _reached_chosen(copy: CopyText, piece: int, shares: Sequence[float], width: float) -> int:
    """The same where a paragraph's lines are chosen together; beside spaces and holes words are taken as they come."""
    lines = Lines.as_needed(copy, width)
    for share, alike in groupby(shares):
        if share == 1.0 and not isinstance(share, SplitLine):
            piece, _ = lines.advance(piece, sum(1 for _ in alike), copy.pieces)
            continue
        for _ in alike:
            piece = line_through(copy, piece, share, width, lines.run_end(piece))
    return piece


def lines_taken(copy: CopyText, start: int, end: int, shares: Sequence[float], width: float) -> int:
    """Lines that the text from piece ``start`` to ``end`` takes, from a new line on.

    Args:
        copy: the text.
        start: its first piece.
        end: the piece after its last.
        shares: the part of the full measure each line has, in order; the last as often as need be.
        width: a full line, in the units of ``copy.sums``.
    """
    if start >= end:
        return 0
    first, last = bisect_right(copy.runs, start, key=_run_start), bisect_left(copy.runs, end, key=_run_start)
    lines, piece, share, most = 0, start, shares[0], len(shares)
    for edge in (*(run.start for run in copy.runs[first:last]), end):
        if copy.shaped and start < piece < edge and (blank := copy.blank_before(piece)):
            lines += blank
            share = shares[min(lines, most - 1)]
        while piece < edge:
            # the last share stands for all lines beyond those known: a word that it has no room for goes on there
            known = lines < most
            piece = (
                line_through(copy, piece, share, width, edge) if known else line_end(copy, piece, width * share, edge)
            )
            lines += 1
            if lines < most:
                share = shares[lines]
    return lines


def _run_start(run: LineRun) -> int:
    return run.start


def _break_all(copy: CopyText, measure: float, on_progress: OnProgress) -> list[int]:
    """Every line's first piece."""
    starts: list[int] = []
    edges = [run.start for run in copy.runs] + [copy.pieces]
    if copy.parts is not None:
        step = max(round(measure), 1)
        for start, end in pairwise(edges):
            starts += range(start, end, step)
        return starts
    chosen = chooses(copy)
    if not (copy.inner or copy.shaped or chosen):
        return _break_words(copy.sums, edges, measure + copy.space + SLACK, on_progress)
    told, reach, forced = 0, measure + copy.space + SLACK, list(copy.forced)
    for at, (run, end) in enumerate(zip(copy.runs, edges[1:], strict=True)):
        piece = run.start
        if piece >= told:
            on_progress(piece / copy.pieces)
            told += _TURN
        found = _break_run(copy, run, end, measure, reach, on_progress)
        if chosen and chooses_in(copy, at, forced):
            found = even_lines(copy, [*found, end], measure, SLACK, closes=True)
        starts += found
    return starts


def _break_run(
    copy: CopyText, run: LineRun, end: int, measure: float, reach: float, on_progress: OnProgress
) -> list[int]:
    """The first piece of every line of one run, and before it as often as lines are blank there."""
    if run.shape is None and not copy.inner:
        return _break_words(copy.sums, (run.start, end), reach, no_progress)
    starts = [run.start] * (run.shape.blank if run.shape is not None else 0)
    piece, told = run.start, run.start + _TURN
    while piece < end:
        if piece >= told:
            on_progress(piece / copy.pieces)
            told += _TURN
        starts.append(piece)
        piece = line_end(copy, piece, measure, end)
    return starts


def _break_words(sums: Sequence[float], edges: Sequence[int], reach: float, on_progress: OnProgress) -> list[int]:
    """The same as ``line_end`` over and over, written out for whole words: a large book spends its time here."""
    starts: list[int] = []
    note = starts.append
    told = 0
    for start, end in pairwise(edges):
        piece = start
        while piece < end:
            if piece >= told:
                on_progress(piece / edges[-1])
                told += _TURN
            note(piece)
            near = piece + _WINDOW
            far = sums[piece] + reach
            after = bisect_right(sums, far, piece, near if near < end else end + 1) - 1
            if after == near - 1 and near < end:
                after = bisect_right(sums, far, after, end + 1) - 1
            piece = after if after > piece else piece + 1
    return starts
