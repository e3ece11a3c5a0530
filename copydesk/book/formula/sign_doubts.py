"""Numbers of a formula that some catalogues write for another thing than we read them as: said in words.

``(-3)`` is the third leaf to most cataloguers and three leaves to some, as in the record of LJS 24 in the University of
Pennsylvania's OPenn; ``IV (8). V (18)`` is two gatherings of four and five sheets with their last leaves, as the Herzog
August Bibliothek has it, or two gatherings of 8 and 18 leaves.
"""

from __future__ import annotations

from itertools import accumulate, pairwise
from typing import TYPE_CHECKING

from copydesk.book.common.numerals import is_roman, read_roman
from copydesk.book.formula.parts import Misread

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from copydesk.book.formula.reader import FormulaItem


def sign_doubts(pieces: Sequence[FormulaItem], sizes: Sequence[int], leaves: int, stated: int | None) -> Iterator[str]:
    """Say how doubtful numbers were read, and what the other reading gives.

    ``sizes``: the gatherings of each piece; ``leaves``: those of the formula as read; ``stated``: those it states.

    Raises:
        Misread: where numbers in brackets come out exactly as last leaves of gatherings counted in sheets.
    """
    yield from _last_leaves(pieces)
    if leaves == stated or any(map(_holds_a_place, pieces)):
        return
    said: list[str] = []
    other = leaves
    for piece, gatherings in zip(pieces, sizes, strict=True):
        for signed in piece.remarks.signed if _is_alone(piece) else ():
            said.append(signed)
            other += (int(signed) - (1 if signed[0] == "+" else -1)) * (1 if piece.closes else gatherings)
    if other == leaves or (stated is not None and other != stated):
        return
    numbers = ", ".join(f"({signed})" for signed in dict.fromkeys(said))
    write = "wants 2 or two leaves gone" if "-" in numbers else "+1 leaf after 1 or +2 leaves"
    yield (
        f"{numbers}: read as the place of one leaf; read as so many leaves, the formula comes to"
        f" {other} leaves, not {leaves}; write what is meant, as in {write}"
    )


def _is_alone(piece: FormulaItem) -> bool:
    """Whether one number with a sign is all that is said of a gathering, so that it may be a count."""
    remarks = piece.remarks
    other = (remarks.wanting, remarks.cancelled, remarks.replaced, remarks.single, remarks.after, remarks.notes)
    told = any(other) or piece.plus or piece.minus or remarks.plus or remarks.minus
    return len(remarks.taken_out) + len(remarks.put_in) == 1 and not told


def _holds_a_place(piece: FormulaItem) -> bool:
    """Whether the numbers with signs on a gathering can only be places: several, or too high for a count."""
    signed = piece.remarks.signed
    return len(signed) > 1 or any(abs(int(number)) >= piece.planned for number in signed)


def _last_leaves(pieces: Sequence[FormulaItem]) -> Iterator[str]:
    """Numbers in brackets that rise from gathering to gathering may each be the last leaf so far."""
    numbers = [piece.planned for piece in pieces]
    if len(pieces) < 2 or any(piece.last or not piece.bracketed for piece in pieces):
        return
    if any(later <= earlier for earlier, later in pairwise(numbers)):
        return
    sheets = [read_roman(piece.first) if is_roman(piece.first) else 0 for piece in pieces]
    if list(accumulate(2 * number for number in sheets)) == numbers:
        what = "the numbers in brackets are the last leaves of gatherings counted in sheets, or the leaves of each"
        raise Misread(pieces[0].at, f"{what}; write the leaves of each behind ^, as in 1^8 2^10 for IV (8). V (18)")
    if all((later - earlier) % 2 == 0 for earlier, later in pairwise(numbers)):
        yield (
            "the numbers in brackets rise: read as the leaves of each gathering; if each is the last leaf so far, the"
            f" formula comes to {numbers[-1]} leaves, not {sum(numbers)}; write the leaves of each behind ^, as in 1^8"
        )
