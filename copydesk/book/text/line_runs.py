"""The stretches of a text that begin a new line, and what is special about their lines: verse, and lines held whole."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Sequence

    from copydesk.book.flow import Flow
    from copydesk.book.text.amended_text import Amended
    from copydesk.book.text.exemplar import Block


class RunShape(NamedTuple):
    """What is special about the lines of a run; lengths are in the units of ``CopyText.sums``.

    Its first line is indented by ``indent``, the others by ``hang``. ``blank`` lines are left before it, unless it
    begins a column. ``stanza`` numbers the stanza it is a verse of, 0 for what is no verse. ``whole`` tells that it
    takes just one line, as it does in the exemplar, however close that must be written.
    """

    indent: float = 0.0
    hang: float = 0.0
    blank: int = 0
    stanza: int = 0
    whole: bool = False


class LineRun(NamedTuple):
    """A stretch of text that begins a new line: its first piece, where that line must stand, what is special of it."""

    start: int
    starts: str
    division: int
    kind: str
    shape: RunShape | None = None


def runs_of(
    written: Amended,
    flow: Flow,
    new_line_at: Iterable[int],
    whole_lines: Sequence[tuple[int, int]],
    letter: float,
) -> list[LineRun]:
    """The stretches that begin a new line, in written word positions.

    Args:
        written: the text.
        flow: how its parts begin.
        new_line_at: words of the exemplar that begin a line whatever the flow says.
        whole_lines: the exemplar's words that each stand on one line, first and after the last, in order.
        letter: the width of a letter.
    """
    asked = {written.written(word) for word in new_line_at}
    runs = _runs(written, flow, asked, letter)
    kept = [(written.written(start), written.written(end)) for start, end in whole_lines]
    return _held_whole(runs, [line for line in kept if line[0] < line[1]], asked, len(written.words)) if kept else runs


def _runs(written: Amended, flow: Flow, new_line_at: Collection[int], letter: float) -> list[LineRun]:
    runs: list[LineRun] = []
    asked = sorted(new_line_at)
    before: Block | None = None
    stanza = 0
    for block in written.blocks:
        opens = before is None or block.division != before.division
        starts = flow.starts.get(block.division, flow.divisions) if opens else "line"
        shape = None
        if block.kind == "verse":
            follows = before is not None and before.kind == "verse" and not opens
            parted = follows and before is not None and before.paragraph != block.paragraph
            stanza += not follows or parted or block.blank > 0
            shape = _verse_shape(block, flow, letter, stanza, flow.between_stanzas if parted else 0)
        if before is None or block.start in new_line_at or not _joins(block, before, starts, flow):
            begins = "line" if starts == "run on" else starts
            runs.append(LineRun(block.start, begins, block.division, block.kind, shape))
        within = asked[bisect_right(asked, block.start) : bisect_left(asked, block.end)]
        runs += [LineRun(word, "line", block.division, block.kind) for word in within]
        before = block
    return runs


def _verse_shape(block: Block, flow: Flow, letter: float, stanza: int, parted: int) -> RunShape | None:
    """What is special about a verse's lines; None where nothing is."""
    hang = block.hang or flow.hanging
    blank = max(block.blank, parted)
    if not (block.indent or hang or blank or flow.long_verses != "next line"):
        return None
    return RunShape(block.indent * letter, (block.indent + hang if hang else 0.0) * letter, blank, stanza)


def _held_whole(
    runs: Sequence[LineRun], lines: Sequence[tuple[int, int]], asked: Collection[int], words: int
) -> list[LineRun]:
    """The runs with one for each line that the exemplar has; those that begin within one of its lines are dropped."""
    starts = [start for start, _ in lines]
    found = {run.start: run for run in runs}
    for start, end in lines:
        at = bisect_right(runs, start, key=lambda run: run.start) - 1
        if start not in found and at >= 0:
            found[start] = runs[at]._replace(start=start, starts="line", shape=None)
        if end not in found and at >= 0 and end < words:
            last = runs[bisect_right(runs, end, key=lambda run: run.start) - 1]
            found[end] = last._replace(start=end, starts="line", shape=None)
    kept: list[LineRun] = []
    for start, run in sorted(found.items()):
        at = bisect_right(starts, start) - 1
        inside = at >= 0 and start < lines[at][1]
        if inside and start > lines[at][0] and start not in asked:
            continue
        kept.append(run._replace(shape=(run.shape or RunShape())._replace(whole=True)) if inside else run)
    return kept


def _joins(block: Block, before: Block, starts: str, flow: Flow) -> bool:
    """Whether a block goes on in the line that the one before it ends in."""
    if block.kind == "verse" or before.kind == "verse":
        return False
    if block.division != before.division:
        return starts == "run on" or (starts == "line" and block.kind == "rubric" and flow.rubrics == "share")
    if before.kind == "rubric":
        return flow.starts.get(block.division, flow.divisions) == "run on"
    return flow.paragraphs == "run on"
