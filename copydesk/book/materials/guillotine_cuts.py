"""The best way to cut like rectangles out of a larger one with cuts from edge to edge, as a knife and rule make them.

Lengths here are whole numbers of any small unit. The search is exhaustive: a cut needs to be tried only where widths
and heights of the wanted pieces add up (N. Christofides and C. Whitlock, "An algorithm for two-dimensional cutting
problems", Operations Research 25, 1977, p. 30: normal cuts; from memory), and whatever area alone rules out is left
out.
"""

from __future__ import annotations

from bisect import bisect_right
from typing import NamedTuple

MOST_SEARCHED = 100
"""Beyond so many pieces only two blocks side by side are tried: a search takes long and gains next to nothing."""


class CutPiece(NamedTuple):
    """A rectangle: its left and upper edge, its width and height."""

    left: int
    top: int
    width: int
    height: int


class Cut(NamedTuple):
    """One straight cut from edge to edge of what it parts: from its left or upper end to its right or lower one."""

    left: int
    top: int
    right: int
    bottom: int


class Cuts(NamedTuple):
    """A way of cutting: the wanted pieces, and the cuts that part them in the order to make them."""

    pieces: tuple[CutPiece, ...]
    cuts: tuple[Cut, ...]


def cut_one_way(width: int, height: int, piece: tuple[int, int]) -> Cuts:
    """Rows and columns of pieces that all lie the same way."""
    return _Cutter(piece, turning=False).cut(width, height)


def cut_best(width: int, height: int, piece: tuple[int, int]) -> Cuts:
    """The most pieces that cuts from edge to edge can give, each lying either way."""
    return _Cutter(piece, turning=True).cut(width, height)


class _Plan(NamedTuple):
    """How to cut one rectangle: a block of like pieces (``way``), or one cut at ``at`` along ``axis`` (0 across)."""

    pieces: int
    way: tuple[int, int] | None = None
    axis: int = 0
    at: int = 0


class _Cutter:
    """Cuts one size of piece; what a rectangle can give is worked out once."""

    def __init__(self, piece: tuple[int, int], *, turning: bool) -> None:
        turned = (piece[1], piece[0])
        self.ways = (piece, turned) if turning and turned != piece else (piece,)
        self.area = piece[0] * piece[1]
        self.plans: dict[tuple[int, int], _Plan] = {}
        self.sums: list[int] = []

    def cut(self, width: int, height: int) -> Cuts:
        pieces: list[CutPiece] = []
        cuts: list[Cut] = []
        if len(self.ways) > 1:
            self._choose(width, height)
        self._carry_out(CutPiece(0, 0, width, height), pieces, cuts)
        return Cuts(tuple(pieces), tuple(cuts))

    def _choose(self, width: int, height: int) -> None:
        """Search, unless there are too many pieces; but keep to two blocks where the search finds no more."""
        simple = self._two_blocks(width, height)
        if width * height // self.area <= MOST_SEARCHED:
            self.sums = _sums(self.ways[0], max(width, height))
            if self._plan(width, height).pieces > simple.pieces:
                return
        self.plans[self._trimmed(width), self._trimmed(height)] = simple

    def _plan(self, width: int, height: int) -> _Plan:
        width, height = self._trimmed(width), self._trimmed(height)
        known = self.plans.get((width, height))
        if known is None:
            known = self.plans[width, height] = self._search(width, height)
        return known

    def _search(self, width: int, height: int) -> _Plan:
        best = self._best_block(width, height)
        bound = self._bound(width, height)
        for axis, length in enumerate((width, height)):
            for at in self.sums[1 : bisect_right(self.sums, length // 2)]:
                if best.pieces == bound:
                    return best
                first, rest = (
                    ((at, height), (length - at, height)) if axis == 0 else ((width, at), (width, length - at))
                )
                if self._bound(*first) + self._bound(*rest) > best.pieces:
                    count = self._plan(*first).pieces + self._plan(*rest).pieces
                    best = max(best, _Plan(count, None, axis, at), key=lambda plan: plan.pieces)
        return best

    def _two_blocks(self, width: int, height: int) -> _Plan:
        """The best of one block, and of two separated by one cut; each part is left a block of its own."""
        best = self._best_block(width, height)
        for axis, length in enumerate((width, height)):
            for at in sorted({at for side in self.ways[0] for at in range(side, length, side)}):
                first, rest = _sizes(width, height, axis, at)
                count = self._best_block(*first).pieces + self._best_block(*rest).pieces
                best = max(best, _Plan(count, None, axis, at), key=lambda plan: plan.pieces)
        return best

    def _best_block(self, width: int, height: int) -> _Plan:
        return max((_block(width, height, way) for way in self.ways), key=lambda plan: plan.pieces)

    def _bound(self, width: int, height: int) -> int:
        return self._trimmed(width) * self._trimmed(height) // self.area

    def _trimmed(self, length: int) -> int:
        """The longest sum of sides within a length: what lies beyond it can only be waste."""
        return self.sums[bisect_right(self.sums, length) - 1] if self.sums else length

    def _carry_out(self, whole: CutPiece, pieces: list[CutPiece], cuts: list[Cut]) -> None:
        plan = self._plan(whole.width, whole.height)
        if plan.pieces == 0:
            return
        if plan.way is not None:
            _cut_block(whole, plan.way, pieces, cuts)
            return
        for part in _parted(whole, plan.axis, plan.at, cuts):
            self._carry_out(part, pieces, cuts)


def _sums(sides: tuple[int, int], longest: int) -> list[int]:
    """Every a·side + b·other side up to ``longest``, from 0."""
    side, other = sides
    return sorted({total for start in range(0, longest + 1, side) for total in range(start, longest + 1, other)})


def _block(width: int, height: int, way: tuple[int, int]) -> _Plan:
    return _Plan((width // way[0]) * (height // way[1]), way)


def _sizes(width: int, height: int, axis: int, at: int) -> tuple[tuple[int, int], tuple[int, int]]:
    """The two parts that one cut leaves."""
    return ((at, height), (width - at, height)) if axis == 0 else ((width, at), (width, height - at))


def _parted(whole: CutPiece, axis: int, at: int, cuts: list[Cut]) -> tuple[CutPiece, CutPiece]:
    """Cut ``whole`` at ``at`` from its left (axis 0) or upper edge (axis 1); a cut along its very edge is none."""
    left, top, width, height = whole
    if axis == 0:
        if at < width:
            cuts.append(Cut(left + at, top, left + at, top + height))
        return CutPiece(left, top, at, height), CutPiece(left + at, top, width - at, height)
    if at < height:
        cuts.append(Cut(left, top + at, left + width, top + at))
    return CutPiece(left, top, width, at), CutPiece(left, top + at, width, height - at)


def _cut_block(whole: CutPiece, way: tuple[int, int], pieces: list[CutPiece], cuts: list[Cut]) -> None:
    """What is left over falls off first, at the right and the foot; then rows, then the pieces of each row."""
    across, down = whole.width // way[0], whole.height // way[1]
    rest, _ = _parted(whole, 0, across * way[0], cuts)
    rest, _ = _parted(rest, 1, down * way[1], cuts)
    for _ in range(down):
        row, rest = _parted(rest, 1, way[1], cuts)
        for _ in range(across):
            piece, row = _parted(row, 0, way[0], cuts)
            pieces.append(piece)
