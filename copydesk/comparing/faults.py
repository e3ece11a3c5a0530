"""What comparing gives back: faults with their kind and place, a wrong place, the whole comparison.

Source of the kinds: the four classes of Quintilian (*Inst.* I 5, 6: addition, omission, transposition,
substitution) parted further in the words of the handbooks: W. M. Lindsay, *An Introduction to Latin Textual
Emendation* (1896), and P. Roelli and C. Macé, *Parvum lexicon stemmatologicum* (2015), "Error, types of".
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal, get_args

if TYPE_CHECKING:
    from collections.abc import Sequence


Kind = Literal[
    "omission",
    "eye-skip",
    "repetition",
    "haplography",
    "substitution",
    "transposition",
    "addition",
    "word divided",
    "words joined",
    "line skipped",
    "line displaced",
    "leaf skipped",
]
"""The name of a fault."""

KINDS: tuple[Kind, ...] = get_args(Kind)
"""Every kind, in the order in which a list of kinds is shown."""


@dataclass(frozen=True, slots=True)
class Difference:
    """One difference between the copied page and the exemplar.

    Attributes:
        kind: its name, one of ``KINDS``.
        column: the column it stands in, from 1; 0 where the caller gave no places.
        line: the line of that column, from 1; 0 where the caller gave no places.
        word: position in the exemplar of the first word concerned; where words were added, of the word they
            stand before; where words stand out of their place, of the place they belong to.
        stands: the words that stand in the copy at this place; empty where words are missing.
        should: the words that should stand there; empty where nothing should.
        sentence: what happened, in a sentence.
        cause: the sort of it or its likely cause in a few words, such as ``like ending`` or ``anticipation``;
            empty where there is nothing to add.
        at: index in the copied words where ``stands`` begins, or where the missing words should come.
        run: how many copied words ``stands`` spans.
    """

    kind: Kind
    column: int
    line: int
    word: int
    stands: str
    should: str
    sentence: str
    cause: str
    at: int
    run: int


@dataclass(frozen=True, slots=True)
class WrongPlace:
    """The page was copied from, or compared with, another place than the one planned.

    ``word`` is the position in the exemplar from which the copied words seem to come.
    """

    word: int
    sentence: str


@dataclass(frozen=True, slots=True)
class Comparison:
    """A copied page beside its exemplar.

    Attributes:
        words: how many words were copied.
        faults: every difference that is not allowed, in the order of the page; none listed where the page
            belongs elsewhere or is not in the exemplar at all.
        wrong_place: where the words seem to come from, if that is not the place given; else ``None``.
        sentence: the outcome in a sentence.
        began: position in the exemplar of the first copied word.
        reached: position in the exemplar after the last copied word.
        changed: words that stand for another, one for one.
        missing: words of the exemplar that are not in the copy.
        added: words in the copy that are not in the exemplar; a moved word is one missing and one added.
        known: whether the words are found in the exemplar at all.
    """

    words: int
    faults: tuple[Difference, ...]
    wrong_place: WrongPlace | None
    sentence: str
    began: int
    reached: int
    changed: int = 0
    missing: int = 0
    added: int = 0
    known: bool = True

    @property
    def clean(self) -> bool:
        """Whether nothing is wrong: no fault, and the words are those of the place given."""
        return not self.faults and self.wrong_place is None and self.known


def quoted(words: Sequence[str], most: int = 8) -> str:
    """Words between quotation marks; a long run by its beginning and end."""
    if len(words) > most:
        return f'"{" ".join(words[:4])} ... {" ".join(words[-3:])}"'
    return f'"{" ".join(words)}"'


KIND_WORDS: dict[Kind, str] = {
    "omission": "words left out",
    "eye-skip": "words left out, the eye having leapt from a word to the same or a like one",
    "repetition": "letters, words or lines written twice",
    "haplography": "what stands twice is written once",
    "substitution": "a word put for another",
    "transposition": "letters or words turned about",
    "addition": "words that are not in the exemplar; a note from its margin taken in",
    "word divided": "one word written as two",
    "words joined": "two words written as one",
    "line skipped": "a whole line of the exemplar left out",
    "line displaced": "a line out of its place",
    "leaf skipped": "a page or a leaf of the exemplar passed over",
}
"""Every kind, in the order in which they are offered."""
