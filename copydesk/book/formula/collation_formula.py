"""Collation formulas: how a book's gatherings are made, in the notation of catalogues.

``1-6^8 7^6 (wants 6)`` is six gatherings of eight leaves and one of six of which the sixth is gone: 53 leaves.
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from copydesk.book.common.errors import CopydeskError, InvalidValueError, Problem
from copydesk.book.formula.builder import ParsedFormula, build
from copydesk.book.formula.checks import doubts
from copydesk.book.formula.formatter import show
from copydesk.book.formula.gathering_names import expand, named, uses_long_alphabet
from copydesk.book.formula.parts import Break, FormulaGathering, Misread, Name
from copydesk.book.formula.placement import Counted, place_remarks
from copydesk.book.formula.remarks import Remarks
from copydesk.book.formula.sign_doubts import sign_doubts
from copydesk.book.structure.page import Surface

if TYPE_CHECKING:
    from collections.abc import Sequence

    from copydesk.book.formula.reader import FormulaItem, Pieces


LONGEST = 200_000
"""Letters in the longest formula that is read."""
MOST_GATHERINGS = 2_000


def parse(text: str) -> ParsedFormula:
    """Read a formula in any of the usual ways of writing one.

    Raises:
        CopydeskError: where it cannot be read, with the line and column.
    """
    from copydesk.book.formula.reader import read

    if len(text) > LONGEST:
        raise InvalidValueError(
            Problem("formula", 1, LONGEST + 1, f"the formula is longer than {LONGEST} letters; shorten it")
        )
    try:
        return _parsed(read(text))
    except Misread as wrong:
        line = text.count("\n", 0, wrong.at) + 1
        column = wrong.at - text.rfind("\n", 0, wrong.at)
        raise InvalidValueError(Problem("formula", line, column, wrong.what)) from None


def facts(text: str) -> dict[str, object]:
    """What a formula comes to, as plain data.

    Raises:
        CopydeskError: where it cannot be read.
    """
    formula = parse(text)
    return {
        "gatherings": len(formula.gatherings),
        "leaves": formula.leaves,
        "formula": show(formula),
        "flyleaves": {"front": formula.flyleaves[0], "behind": formula.flyleaves[1]},
        "warnings": list(formula.warnings),
        "remarks": list(formula.remarks),
    }


def _parsed(pieces: Pieces) -> ParsedFormula:
    gatherings: list[FormulaGathering] = []
    said: list[str] = []
    ends = [0]
    leaves = 0
    _share_both(pieces.pieces)
    for piece, called in zip(pieces.pieces, _names(pieces), strict=True):
        shared = sum(other.remarks is piece.remarks for other in pieces.pieces) > 1
        said += _doubts_of(piece, called, leaves, shared=shared)
        plus, minus = piece.plus + piece.remarks.plus, piece.minus + piece.remarks.minus
        counted = Counted(piece.planned, plus, minus, piece.pairs, piece.doubtful, piece.remarks)
        whole = Counted(piece.planned, 0, 0, None, piece.doubtful, Remarks()) if piece.closes else counted
        for name in called:
            gathering, more = place_remarks(name, counted if name == called[-1] else whole)
            _must_fold(gathering, piece)
            gatherings.append(gathering)
            leaves += gathering.leaves
            said += more
        ends.append(len(gatherings))
        if len(gatherings) > MOST_GATHERINGS:
            raise Misread(piece.at, f"the formula comes to more than {MOST_GATHERINGS} gatherings; look at the numbers")
    if not gatherings:
        raise Misread(0, "there is no gathering in the formula; write one as in 1-6^8")
    breaks = tuple(dict.fromkeys(Break(ends[stop.pieces], stop.running, stop.boundary) for stop in pieces.stops))
    said += doubts(gatherings, breaks, pieces.stated)
    sizes = [later - earlier for earlier, later in pairwise(ends)]
    said += sign_doubts(pieces.pieces, sizes, leaves, pieces.stated[1] if pieces.stated else None)
    said += (f"{words!r} is not understood; no leaf is added or taken away for it" for words in pieces.doubtful)
    return ParsedFormula(
        tuple(gatherings),
        breaks,
        pieces.stated,
        pieces.format,
        pieces.signing,
        pieces.flyleaves,
        tuple(said),
        _words(pieces),
    )


def _share_both(pieces: Sequence[FormulaItem]) -> None:
    """``1^8 2^8 (both want 8)``: what is said of both holds for the gathering before too, where that has no remark."""
    for before, piece in pairwise(pieces):
        if piece.remarks.each == "both" and piece.last is None is before.last and before.remarks == Remarks():
            before.remarks = piece.remarks


def _words(pieces: Pieces) -> tuple[str, ...]:
    """What the formula says that changes no leaf: on its gatherings, then between them."""
    return (
        *(f"gathering {_called(piece)}: {note}" for piece in pieces.pieces for note in _notes(piece)),
        *pieces.prose,
    )


def _called(piece: FormulaItem) -> str:
    return piece.first if piece.last is None else f"{piece.first}–{piece.last}"


def _notes(piece: FormulaItem) -> tuple[str, ...]:
    return (*piece.remarks.notes, *piece.remarks.asides)


def _must_fold(gathering: FormulaGathering, piece: FormulaItem) -> None:
    """A sheet added where none can be is found out while its column is known."""
    if any(addition.back is not None for addition in gathering.added):
        try:
            build((gathering,), Surface.HAIR, "alternate")
        except CopydeskError as refused:
            at = next(at for addition, at in piece.remarks.after if addition.back is not None)
            raise Misread(at, refused.problems[0].what) from None


def _names(pieces: Pieces) -> list[list[Name]]:
    """The names of the gatherings of each piece, all read together; "3 quaternions" are numbered on."""
    counting = any(piece.kind == "many" and _counts(piece) and piece.first != "1" for piece in pieces.pieces)
    tokens = [
        token
        for piece in pieces.pieces
        if not (counting and _counts(piece))
        for token in (piece.first, piece.last or piece.first)
    ]
    long = uses_long_alphabet(tokens)
    found = iter(named(tokens))
    names: list[list[Name]] = []
    last = 0
    for piece in pieces.pieces:
        if counting and _counts(piece):
            numbers = range(last + 1, last + 1 + min(int(piece.first), MOST_GATHERINGS + 1))
            names.append([Name(str(number), "number", number) for number in numbers])
        else:
            names.append(_named_piece(piece, next(found), next(found), long=long))
        last = names[-1][-1].number if names[-1] else last
    return names


def _counts(piece: FormulaItem) -> bool:
    return bool(piece.kind) and piece.last is None and piece.first.isdecimal()


def _named_piece(piece: FormulaItem, first: Name, last: Name, *, long: bool) -> list[Name]:
    if piece.last is None:
        return [first]
    if last.number - first.number > MOST_GATHERINGS:
        raise Misread(piece.at, f"{piece.first}–{piece.last} are more than {MOST_GATHERINGS} gatherings; look at them")
    names = expand(first, last, long=long)
    if names is None:
        what = "goes back" if first.series == last.series != "sign" else "is no series of gatherings"
        raise Misread(piece.at, f"{piece.first}–{piece.last} {what}; write the first and the last of them, as in 1-6")
    return names


def _doubts_of(piece: FormulaItem, names: list[Name], before: int, *, shared: bool) -> list[str]:
    said = []
    each = piece.remarks.each
    if len(names) > 1 and not each and not piece.closes and (piece.plus or piece.minus or piece.remarks.on_leaves):
        said.append(f"what is remarked on gatherings {names[0].text} to {names[-1].text} is taken of each of them")
    if each and len(names) == 1 and not shared:
        said.append(f"what is said of {each} at gathering {names[0].text} is taken of that gathering alone")
    if piece.starts is not None and piece.starts != before + 1:
        said.append(f"gathering {names[0].text} begins with leaf {piece.starts}, but {before} leaves go before it")
    said += (
        f"{note!r} on gathering {_called(piece)} is not understood; no leaf is added or taken away for it"
        for note in piece.remarks.doubtful
    )
    return said
