"""The marks by which a binder knows the order of the leaves, and the list of them.

Two habits: each leaf of the first half of a gathering bears the gathering's letter and its own number, a j,
a ij, a iij, a iiij (R. Hanna, Catalogue of the Western Medieval Manuscripts of St John's College, Oxford,
2002, passim); or the gathering bears its number on its last verso (M. P. Brown, Understanding Illuminated
Manuscripts, 1994, s.v. Quire).
"""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING, Literal, NamedTuple

from copydesk.book.common.numerals import roman
from copydesk.book.common.phrases import count_of
from copydesk.book.structure.gathering import KINDS
from copydesk.book.structure.page import Page, Side

if TYPE_CHECKING:
    from collections.abc import Callable

    from copydesk.book.structure.collation import Collation
    from copydesk.book.structure.gathering import Gathering


ALPHABET = "abcdefghiklmnopqrstvxyz"
"""The letters gatherings are signed with: 23, without j, u and w."""
AFTER_Z = ("&", "con")
"""What follows z before the letters are doubled (St John's College MSS 18 and 171)."""
_SINGLE = len(ALPHABET) + len(AFTER_Z)


def letter(number: int) -> str:
    """The letter of gathering ``number`` (from 1): a to z, then &, con, aa to zz, aaa and so on."""
    if number <= len(ALPHABET):
        return ALPHABET[number - 1]
    if number <= _SINGLE:
        return AFTER_Z[number - len(ALPHABET) - 1]
    round_, at = divmod(number - _SINGLE - 1, len(ALPHABET))
    return ALPHABET[at] * (round_ + 2)


def letter_number(text: str) -> int | None:
    """The number of the gathering signed ``text`` (in either case), or None where none is."""
    lower = text.lower()
    if lower in AFTER_Z:
        return len(ALPHABET) + 1 + AFTER_Z.index(lower)
    if not lower or lower.strip(lower[0]) or lower[0] not in ALPHABET:
        return None
    at = ALPHABET.index(lower[0]) + 1
    return at if len(lower) == 1 else _SINGLE + (len(lower) - 2) * len(ALPHABET) + at


def signed_as(gathering: Gathering) -> str:
    """What a gathering is signed with: its own name where it has one that is no number, else its letter."""
    named = gathering.name and not gathering.name.isdecimal()
    return gathering.name if named else letter(gathering.number)


def leaf_signatures(collation: Collation, numerals: Literal["roman", "arabic"] = "roman") -> dict[Page, str]:
    """The signature at the foot of each recto that bears one: the leaves that stand before the fold.

    A gathering whose first half is gone signs the first leaf it has.
    """
    signatures: dict[Page, str] = {}
    for gathering in collation.gatherings:
        numbers = collation.leaf_numbers(gathering.number)
        signed = sum(half.stands for half in gathering.halves[: gathering.fold]) or 1
        name = signed_as(gathering)
        for at, leaf in enumerate(numbers[:signed], 1):
            mark = f"{name} {roman(at, scribal=True)}" if numerals == "roman" else f"{name}{at}"
            signatures[Page(leaf, Side.RECTO)] = mark
    return signatures


def gathering_numbers(collation: Collation, numerals: Literal["roman", "arabic"] = "roman") -> dict[Page, str]:
    """The number at the foot of the last verso of each gathering of which a leaf stands."""
    return {
        Page(leaves[-1], Side.VERSO): roman(gathering.number).upper() if numerals == "roman" else str(gathering.number)
        for gathering in collation.gatherings
        if (leaves := collation.leaf_numbers(gathering.number))
    }


SigningHabit = Literal["leaves", "numbers", "none"]
"""How gatherings are marked for the binder: signatures on leaves, a number on the last verso, or not at all."""


class RegisterLine(NamedTuple):
    """Gatherings in a row that are alike, as the binder's list has them: their signatures and what they are."""

    signatures: tuple[str, ...]
    leaves: int
    kind: str

    def __str__(self) -> str:
        """``a b c quaternions``; ``d 7 leaves``."""
        kind = self.kind
        if len(self.signatures) > 1 and not kind[0].isdigit():
            kind = f"{kind.removesuffix('um')}a" if kind.endswith("um") else f"{kind}s"
        return f"{' '.join(self.signatures)} {kind}"


def register(collation: Collation, habit: SigningHabit = "leaves") -> tuple[RegisterLine, ...]:
    """The register: every gathering in order by the mark it bears, with how it is made, for the binder to check by.

    Where leaves are signed that is the gathering's letter, where gatherings are numbered its number as it is written;
    where they bear no mark it is the number copydesk gives them, and no letter is made up.
    """
    marked: dict[SigningHabit, Callable[[Gathering], str]] = {
        "leaves": signed_as,
        "numbers": lambda gathering: roman(gathering.number).upper(),
        "none": lambda gathering: str(gathering.number),
    }
    made = [(marked[habit](gathering), _made(gathering)) for gathering in collation.gatherings]
    return tuple(
        RegisterLine(tuple(name for name, _ in run), leaves, kind)
        for (leaves, kind), run in ((key, list(run)) for key, run in groupby(made, key=lambda entry: entry[1]))
    )


def _made(gathering: Gathering) -> tuple[int, str]:
    leaves = gathering.leaves
    whole = len(leaves) == len(gathering.halves) and len(leaves) // 2 in KINDS
    count = count_of(len(leaves), "leaf", "leaves")
    return len(leaves), KINDS[len(leaves) // 2] if whole else count
