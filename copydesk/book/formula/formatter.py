"""Writes a collation formula the way this house writes one: ``1–6⁸ 7⁶ (wants 6)``, or plain ``1-6^8 7^6 (wants 6)``."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from copydesk.book.common.numerals import is_roman, roman
from copydesk.book.formula.builder import ParsedFormula, describe
from copydesk.book.formula.gathering_names import expand, named
from copydesk.book.structure.foliation import extent
from copydesk.book.structure.signatures import AFTER_Z

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from copydesk.book.formula.parts import Added, FormulaGathering, Name
    from copydesk.book.structure.collation import Collation


_RAISED = str.maketrans("0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹")


def show(formula: ParsedFormula, *, plain: bool = False) -> str:
    """The formula as text; ``plain`` keeps to the signs of a typewriter."""
    words = [f"{formula.format}:"] if formula.format else []
    front, behind = formula.flyleaves
    words += [roman(front), "+"] if front else []
    words += _gatherings_and_breaks(formula)
    words += ["+", roman(behind)] if behind else []
    if formula.stated is not None:
        front, leaves, back = formula.stated
        words.append(f"{extent(front, leaves, back)} {'leaf' if leaves == 1 else 'leaves'}")
    if formula.signing:
        words.append(f"[{formula.signing}]")
    text = " ".join(words)
    return on_a_typewriter(text) if plain else text


def formula_of(collation: Collation, *, plain: bool = False) -> str:
    """The formula of a book as it stands today."""
    return show(ParsedFormula(describe(collation)), plain=plain)


def _gatherings_and_breaks(formula: ParsedFormula) -> Iterator[str]:
    stops = sorted({0, *(stop.after for stop in formula.breaks), len(formula.gatherings)})
    before = 0
    long = any(gathering.name.text in AFTER_Z for gathering in formula.gatherings)
    yield from _stops(formula, 0)
    for start, end in pairwise(stops):
        for run in _runs(formula.gatherings[start:end], long=long):
            yield _shown(run, before)
            before += sum(gathering.leaves for gathering in run)
        yield from _stops(formula, end)


def _stops(formula: ParsedFormula, after: int) -> Iterator[str]:
    for stop in formula.breaks:
        if stop.after == after:
            yield "|" if stop.boundary else f"[{stop.running}]"


def _runs(gatherings: Sequence[FormulaGathering], *, long: bool) -> Iterator[Sequence[FormulaGathering]]:
    """The gatherings in runs that may be written as one, first to last."""
    start = 0
    for end in range(1, len(gatherings) + 1):
        if end == len(gatherings) or not _go_on(gatherings[end - 1], gatherings[end]):
            yield from _legible(gatherings[start:end], long=long)
            start = end


def _go_on(one: FormulaGathering, other: FormulaGathering) -> bool:
    alike = (one.planned, one.doubtful) == (other.planned, other.doubtful) and one.plain and other.plain
    follows = one.name.series == other.name.series != "sign" and other.name.number == one.name.number + 1
    return alike and follows and _round(one.name) == _round(other.name)


def _round(name: Name) -> int:
    """How often letters are doubled: Z and AA are not written as one run."""
    return len(name.text) if name.series.lower() == "letters" and name.text not in AFTER_Z else 1


def _legible(run: Sequence[FormulaGathering], *, long: bool) -> Iterator[Sequence[FormulaGathering]]:
    """A run whole where its ends alone are read back as all its names; I to V, meant as letters, are not.

    ``long``: & and con follow z in this formula. They are always written, since they say so.
    """
    while run:
        names = [gathering.name for gathering in run]
        first, last = named([names[0].text, names[-1].text], long=long)
        hidden = next((at for at, name in enumerate(names) if name.text in AFTER_Z), 0)
        if len(run) == 1 or (expand(first, last, long=long) == names and (not hidden or last.text in AFTER_Z)):
            size = len(run)
        else:
            size = hidden or 1
        yield run[:size]
        run = run[size:]


def _shown(run: Sequence[FormulaGathering], before: int) -> str:
    first = run[0]
    names = _names(run)
    remarks = _remarks(first)
    behind = f" ({'; '.join(remarks)})" if remarks else ""
    if first.pairs is not None:
        return f"{names} ({_sheets(first, before)}){behind}"
    return f"{names}{str(first.planned).translate(_RAISED)}{'?' if first.doubtful else ''}{behind}"


def _names(run: Sequence[FormulaGathering]) -> str:
    """The first and the last name; doubled letters that would be read as numerals by number, ``2C`` for ``CC``."""
    ends = [run[0].name] if len(run) == 1 else [run[0].name, run[-1].name]
    doubled = all(len(set(name.text)) == 1 < len(name.text) <= 9 and name.series.lower() == "letters" for name in ends)
    if doubled and any(is_roman(name.text) for name in ends):
        return "–".join(f"{len(name.text)}{name.text[0]}" for name in ends)
    return "–".join(name.text for name in ends)


def _sheets(gathering: FormulaGathering, before: int) -> str:
    """Every leaf by its number in the book, those that are one sheet joined where the first of them stands."""
    mates = dict(gathering.pairs or ())
    backs = set(mates.values())
    fronts = (place for place in range(1, gathering.planned + 1) if place not in backs)
    leaves = ([place, mates[place]] if place in mates else [place] for place in fronts)
    joined = ", ".join("+".join(str(before + place) for place in sheet) for sheet in leaves)
    return joined if "," in joined or "+" in joined else f"{joined},"


def _remarks(gathering: FormulaGathering) -> list[str]:
    said = [f"wants {_places(gathering.wanting)}"] if gathering.wanting else []
    for places, word in (
        (gathering.cancelled, "cancelled"),
        (gathering.replaced, "replaced"),
        (gathering.single, "single"),
    ):
        if places:
            said.append(f"{_places(places)} {word}")
    added = (_addition(addition, gathering.planned) for addition in gathering.added)
    return [*said, *added, *gathering.notes]


def _addition(added: Added, planned: int) -> str:
    what = "leaf" if added.back is None else "sheet"
    if added.times > 1:
        what = "leaves" if added.back is None else "sheets"
    put_in = f"+{added.times} {what}{' inserted' if added.inserted else ''}"
    if added.back is None and added.after == 0:
        return f"{put_in} before 1"
    innermost = added.back == added.after and 2 * added.after == planned
    return f"{put_in} after {added.after}{'' if added.back is None or innermost else f' and {added.back}'}"


def _places(places: Sequence[int]) -> str:
    """Places as a list, three or more in a row as a range: ``2, 4–6``."""
    runs: list[list[int]] = []
    for place in places:
        if runs and place == runs[-1][-1] + 1:
            runs[-1].append(place)
        else:
            runs.append([place])
    return ", ".join(f"{run[0]}–{run[-1]}" if len(run) > 2 else ", ".join(map(str, run)) for run in runs)


def on_a_typewriter(text: str) -> str:
    """Raised figures as ``^8`` and dashes as hyphens."""
    written = ""
    for at, char in enumerate(text):
        lowered = _LOWERED.get(char)
        if lowered is None:
            written += "-" if char == "–" else char
        else:
            written += lowered if at and text[at - 1] in _LOWERED else f"^{lowered}"
    return written


_LOWERED = dict(zip("⁰¹²³⁴⁵⁶⁷⁸⁹", "0123456789", strict=True))
