"""The least-cost reading of a short stretch in which copy and exemplar differ, word by word.

An alignment with costs that prefer what a scribe would have done: one gap rather than several (a leap of the
eye loses words that stand together), a like word for a like word, neighbours changed about, words joined and
divided. The recurrences are those of O. Gotoh, *Journal of Molecular Biology* 162 (1982) 705-708, with the
exchange of neighbours after R. Lowrance and R. Wagner, *Journal of the ACM* 22 (1975) 177-183.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from collections.abc import Sequence

What = Literal["same", "changed", "missing", "added", "turned", "joined", "divided"]


@dataclass(frozen=True, slots=True)
class Step:
    """A run of the alignment: words ``copy_from`` to ``copy_to`` of the copy against the exemplar's, ends exclusive."""

    what: What
    copy_from: int
    copy_to: int
    text_from: int
    text_to: int


OPEN, EACH = 1.0, 0.1
"""A gap costs as one event, and a little for each word: an eye-skip of ten words is no ten omissions."""
EACH_AT_END = 0.8
"""Where the exemplar goes on, a word added costs more: the last words of a page are seldom all additions."""
LIKE, UNLIKE = 0.6, 1.6
"""A word put for another costs from LIKE (a letter wrong) up to UNLIKE (nothing in common)."""
TURNED, DIVISION = 1.5, 1.0
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


def settle(copy: Sequence[str], text: Sequence[str], open_end: bool = False) -> list[Step]:
    """Align two short runs of keys; positions in the steps count from the runs' beginnings.

    Args:
        copy: keys of the copied words.
        text: keys of the exemplar's words.
        open_end: the exemplar goes on past the copy: words left over at its end are no loss.
    """
    if not copy:
        return [] if open_end or not text else [Step("missing", 0, 0, 0, len(text))]
    if not text:
        return [Step("added", 0, len(copy), 0, 0)]
    if len(copy) * len(text) > MOST_CELLS:
        return _by_words(copy, text, open_end)
    return merged(_Grid(copy, text, EACH_AT_END if open_end else EACH).steps(open_end))


def merged(steps: list[Step]) -> list[Step]:
    """Runs of the same, missing or added words made into one step each."""
    out: list[Step] = []
    for step in steps:
        last = out[-1] if out else None
        if last is not None and last.what == step.what and step.what in ("same", "missing", "added"):
            out[-1] = Step(step.what, last.copy_from, step.copy_to, last.text_from, step.text_to)
        else:
            out.append(step)
    return out


class _Grid:
    """Costs of reaching each cell (copied words used, exemplar words used), and the moves that reach it."""

    def __init__(self, copy: Sequence[str], text: Sequence[str], each_added: float) -> None:
        from rapidfuzz.distance import Levenshtein

        self._distance = Levenshtein.normalized_distance
        self._copy, self._text, self._each_added = copy, text, each_added
        rows, width = len(copy) + 1, len(text) + 1
        self._best = [[NEVER] * width for _ in range(rows)]
        self._missing = [[NEVER] * width for _ in range(rows)]
        self._added = [[NEVER] * width for _ in range(rows)]
        self._move = [[(0, 0)] * width for _ in range(rows)]
        self._best[0][0] = 0.0
        for at in range(rows):
            for place in range(width):
                if at or place:
                    self._reach(at, place)

    def _reach(self, at: int, place: int) -> None:
        """Fill one cell from those before it."""
        best = self._best
        cost, move = self._by_match(at, place) if at and place else (NEVER, (0, 0))
        if place:
            left = best[at][place - 1] + OPEN
            self._missing[at][place] = min(left, self._missing[at][place - 1]) + EACH
            if self._missing[at][place] < cost:
                cost, move = self._missing[at][place], (0, 1)
        if at:
            above = best[at - 1][place] + OPEN
            self._added[at][place] = min(above, self._added[at - 1][place]) + self._each_added
            if self._added[at][place] < cost:
                cost, move = self._added[at][place], (1, 0)
        best[at][place], self._move[at][place] = cost, move

    def _by_match(self, at: int, place: int) -> tuple[float, tuple[int, int]]:
        """The cheapest way to use the last words of both sides together."""
        copy, text, best = self._copy, self._text, self._best
        one, other = copy[at - 1], text[place - 1]
        if one == other:
            return best[at - 1][place - 1], (1, 1)
        found = (best[at - 1][place - 1] + LIKE + (UNLIKE - LIKE) * self._distance(one, other), (1, 1))
        if at > 1 and place > 1 and one == text[place - 2] and copy[at - 2] == other:
            found = min(found, (best[at - 2][place - 2] + TURNED, (2, 2)))
        for parts in (2, 3):
            if place >= parts and one == "".join(text[place - parts : place]):
                found = min(found, (best[at - 1][place - parts] + DIVISION, (1, parts)))
            if at >= parts and other == "".join(copy[at - parts : at]):
                found = min(found, (best[at - parts][place - 1] + DIVISION, (parts, 1)))
        return found

    def steps(self, open_end: bool) -> list[Step]:
        """The moves of the cheapest way through, first to last."""
        at, place = len(self._copy), len(self._text)
        if open_end:
            place = min(range(place + 1), key=self._best[at].__getitem__)
        steps: list[Step] = []
        while at or place:
            used, passed = self._move[at][place]
            steps.append(self._step(at - used, at, place - passed, place))
            gap = {(0, 1): self._missing, (1, 0): self._added}.get((used, passed))
            while gap is not None and self._goes_on(gap, at, place, used):
                at, place = at - used, place - passed
                steps.append(self._step(at - used, at, place - passed, place))
            at, place = at - used, place - passed
        return steps[::-1]

    def _goes_on(self, gap: list[list[float]], at: int, place: int, used: int) -> bool:
        """Whether the gap that ends at this cell was already open in the cell before."""
        before_at, before_place = at - used, place - (1 - used)
        return gap[before_at][before_place] < self._best[before_at][before_place] + OPEN

    def _step(self, at: int, to: int, place: int, end: int) -> Step:
        same = to - at == end - place == 1 and self._copy[at] == self._text[place]
        return Step("same" if same else _STEPS[to - at, end - place], at, to, place, end)


def _by_words(copy: Sequence[str], text: Sequence[str], open_end: bool) -> list[Step]:
    """Align long runs by whole words: what is replaced one for one is changed, the rest missing or added."""
    from rapidfuzz.distance import Levenshtein

    steps: list[Step] = []
    for block in Levenshtein.opcodes(copy, text):
        copy_from, copy_to, text_from, text_to = block.src_start, block.src_end, block.dest_start, block.dest_end
        if block.tag == "replace":
            paired = zip(range(copy_from, copy_to), range(text_from, text_to), strict=True)
            steps += [Step("changed", one, one + 1, other, other + 1) for one, other in paired]
        else:
            steps.append(Step(_BLOCKS[block.tag], copy_from, copy_to, text_from, text_to))
    if open_end and steps and steps[-1].what == "missing":
        steps.pop()
    return merged(steps)
