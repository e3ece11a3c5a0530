"""The least-cost reading of a short stretch in which copy and exemplar differ, word by word.

An alignment with costs that prefer what a scribe would have done: one gap rather than several (a leap of the
eye loses words that stand together), a like word for a like word, neighbours changed about, words joined and
divided. The recurrences are those of O. Gotoh, *Journal of Molecular Biology* 162 (1982) 705-708, with the
exchange of neighbours after R. Lowrance and R. Wagner, *Journal of the ACM* 22 (1975) 177-183; both from memory.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from collections.abc import Sequence


What = Literal["same", "changed", "missing", "added", "turned", "joined", "divided"]


@dataclass(frozen=True, slots=True)
class AlignedRun:
    """A run of the alignment: words ``copy_from`` to ``copy_to`` of the copy against the exemplar's, ends exclusive."""

    what: What
    copy_from: int
    copy_to: int
    text_from: int
    text_to: int


OPEN, EACH_MISSING = 1.0, 0.1
"""A gap costs as one event, and a little for each word: an eye-skip of ten words is no ten omissions."""
EACH_ADDED, EACH_AT_END = 0.35, 0.8
"""A word added costs more, and most where the exemplar goes on: a page's last words are seldom all additions."""
LIKE, UNLIKE = 0.4, 1.2
"""A word put for another costs from LIKE (a letter wrong) up to UNLIKE (nothing in common)."""
TURNED, DIVISION = 1.5, 0.5
MISWRITTEN = 0.3
"""Share of letters that may be wrong in words that changed places."""
NEVER = 1e9
MOST_CELLS = 4000
"""A larger stretch is aligned without these costs, by words alone."""

_STEPS: dict[tuple[int, int], What] = {
    (1, 1): "changed",
    (2, 2): "turned",
    (1, 2): "joined",
    (1, 3): "joined",
    (2, 1): "divided",
    (3, 1): "divided",
    (0, 1): "missing",
    (1, 0): "added",
}
_BLOCKS: dict[str, What] = {"equal": "same", "insert": "missing", "delete": "added"}


def align_words(copy: Sequence[str], text: Sequence[str], open_end: bool = False) -> list[AlignedRun]:
    """Align two short runs of keys; positions in the steps count from the runs' beginnings.

    Args:
        copy: keys of the copied words.
        text: keys of the exemplar's words.
        open_end: the exemplar goes on past the copy: words left over at its end are no loss.
    """
    if not copy:
        return [] if open_end or not text else [AlignedRun("missing", 0, 0, 0, len(text))]
    if not text:
        return [AlignedRun("added", 0, len(copy), 0, 0)]
    if len(copy) * len(text) > MOST_CELLS:
        return _by_words(copy, text, open_end)
    steps = _Grid(copy, text, EACH_AT_END if open_end else EACH_ADDED).steps(open_end)
    runs = groupby(steps, lambda step: step.what == "same")
    return [step for _, run in runs for step in _one_for_one(list(run), copy, text)]


def _one_for_one(run: list[AlignedRun], copy: Sequence[str], text: Sequence[str]) -> list[AlignedRun]:
    """A run in which nothing agrees: what is missing and added there was changed one for one.

    Where two words so paired are alike after all, they are the same.
    """
    if not {"missing", "added"} <= {step.what for step in run}:
        return merged(run)
    at, copy_end, place, text_end = run[0].copy_from, run[-1].copy_to, run[0].text_from, run[-1].text_to
    pairs = zip(range(at, copy_end), range(place, text_end), strict=False)
    steps = [
        AlignedRun("same" if copy[one] == text[other] else "changed", one, one + 1, other, other + 1)
        for one, other in pairs
    ]
    at, place = steps[-1].copy_to, steps[-1].text_to
    if at < copy_end:
        steps.append(AlignedRun("added", at, copy_end, place, place))
    if place < text_end:
        steps.append(AlignedRun("missing", at, at, place, text_end))
    return merged(steps)


def merged(steps: list[AlignedRun]) -> list[AlignedRun]:
    """Runs of the same, missing or added words made into one step each."""
    out: list[AlignedRun] = []
    for step in steps:
        last = out[-1] if out else None
        if last is not None and last.what == step.what and step.what in ("same", "missing", "added"):
            out[-1] = AlignedRun(step.what, last.copy_from, step.copy_to, last.text_from, step.text_to)
        else:
            out.append(step)
    return out


class _Grid:
    """Costs of reaching each cell (copied words used, exemplar words used), by how the last words were used.

    A gap opens only where words were last used together, never on the far side of another gap: words put for
    others are changed one for one, and words that agree between two slips are not swept away with them.
    """

    def __init__(self, copy: Sequence[str], text: Sequence[str], each_added: float) -> None:
        from rapidfuzz.distance import Levenshtein

        self._distance = Levenshtein.normalized_distance
        self._copy, self._text, self._each_added = copy, text, each_added
        rows, width = len(copy) + 1, len(text) + 1
        self._together, self._missing, self._added, self._best = (
            [[NEVER] * width for _ in range(rows)] for _ in range(4)
        )
        self._move = [[(0, 0)] * width for _ in range(rows)]
        self._together[0][0] = self._best[0][0] = 0.0
        for at in range(rows):
            for place in range(width):
                if at or place:
                    self._reach(at, place)

    def _reach(self, at: int, place: int) -> None:
        """Fill one cell from those before it."""
        together, missing, added = self._together, self._missing, self._added
        if at and place:
            together[at][place], self._move[at][place] = self._by_match(at, place)
        if place:
            missing[at][place] = min(together[at][place - 1] + OPEN, missing[at][place - 1]) + EACH_MISSING
        if at:
            added[at][place] = min(together[at - 1][place] + OPEN, added[at - 1][place]) + self._each_added
        self._best[at][place] = min(together[at][place], missing[at][place], added[at][place])

    def _by_match(self, at: int, place: int) -> tuple[float, tuple[int, int]]:
        """The cheapest way to use the last words of both sides together."""
        copy, text, best = self._copy, self._text, self._best
        one, other = copy[at - 1], text[place - 1]
        if one == other:
            return best[at - 1][place - 1], (1, 1)
        found = (best[at - 1][place - 1] + LIKE + (UNLIKE - LIKE) * self._distance(one, other), (1, 1))
        if at > 1 and place > 1:
            found = min(found, (best[at - 2][place - 2] + self._exchange(at, place), (2, 2)))
        for parts in (2, 3):
            if place >= parts and one.endswith(other) and one == "".join(text[place - parts : place]):
                found = min(found, (best[at - 1][place - parts] + DIVISION, (1, parts)))
            if at >= parts and other.endswith(one) and other == "".join(copy[at - parts : at]):
                found = min(found, (best[at - parts][place - 1] + DIVISION, (parts, 1)))
        return found

    def _exchange(self, at: int, place: int) -> float:
        """The cost of two neighbours that changed places, each perhaps with a letter wrong."""
        first = self._distance(self._copy[at - 1], self._text[place - 2])
        second = self._distance(self._copy[at - 2], self._text[place - 1]) if first <= MISWRITTEN else 1.0
        return TURNED + first + second if second <= MISWRITTEN else NEVER

    def steps(self, open_end: bool) -> list[AlignedRun]:
        """The moves of the cheapest way through, first to last."""
        at, place = len(self._copy), len(self._text)
        if open_end:
            place = min(range(place + 1), key=self._best[at].__getitem__)
        steps: list[AlignedRun] = []
        while at or place:
            if self._together[at][place] <= self._best[at][place]:
                used, passed = self._move[at][place]
                steps.append(self._step(at - used, at, place - passed, place))
            else:
                used, passed = self._gap(at, place)
                steps.append(AlignedRun(_STEPS[min(used, 1), min(passed, 1)], at - used, at, place - passed, place))
            at, place = at - used, place - passed
        return steps[::-1]

    def _gap(self, at: int, place: int) -> tuple[int, int]:
        """The length of the gap that ends at a cell: words added and words missing, one of them none."""
        gap, used = (self._missing, 0) if self._missing[at][place] <= self._added[at][place] else (self._added, 1)
        length = 1
        while self._goes_on(gap, at - length * used, place - length * (1 - used)):
            length += 1
        return length * used, length * (1 - used)

    def _goes_on(self, gap: list[list[float]], at: int, place: int) -> bool:
        """Whether a gap that reaches past a cell was already open there."""
        return gap[at][place] < self._together[at][place] + OPEN

    def _step(self, at: int, to: int, place: int, end: int) -> AlignedRun:
        same = to - at == end - place == 1 and self._copy[at] == self._text[place]
        return AlignedRun("same" if same else _STEPS[to - at, end - place], at, to, place, end)


def _by_words(copy: Sequence[str], text: Sequence[str], open_end: bool) -> list[AlignedRun]:
    """Align long runs by whole words: what is replaced one for one is changed, the rest missing or added."""
    from rapidfuzz.distance import Levenshtein

    steps: list[AlignedRun] = []
    for block in Levenshtein.opcodes(copy, text):
        copy_from, copy_to, text_from, text_to = block.src_start, block.src_end, block.dest_start, block.dest_end
        if block.tag == "replace":
            paired = zip(range(copy_from, copy_to), range(text_from, text_to), strict=True)
            steps += [AlignedRun("changed", one, one + 1, other, other + 1) for one, other in paired]
        else:
            steps.append(AlignedRun(_BLOCKS[block.tag], copy_from, copy_to, text_from, text_to))
    if open_end and steps and steps[-1].what == "missing":
        steps.pop()
    return merged(steps)
