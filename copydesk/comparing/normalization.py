"""The differences a workshop allows between exemplar and copy, and words folded so that those fall away."""

from __future__ import annotations

import unicodedata
from collections import Counter
from dataclasses import dataclass, fields
from functools import lru_cache
from itertools import islice, product
from typing import TYPE_CHECKING

from copydesk.book.common.errors import InvalidValueError, Problem
from copydesk.comparing.abbreviations import AND_SIGNS, AND_WORDS, FINAL, READINGS, STROKES, shortened

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from copydesk.comparing.abbreviations import Shortened


MOST_READINGS = 16
"""A word thick with signs is read in no more ways than this."""


@dataclass(frozen=True, slots=True)
class Allowances:
    """What is no fault in a copy. Everything the workshop does not set is as here.

    Attributes:
        u_v: u and v count as one letter.
        i_j: i and j count as one letter.
        ampersand: ``&`` and the Tironian sign count as the word for *and*.
        signs: common abbreviations count as what they stand for: signs, strokes for m or n and for letters left out,
            raised letters, short forms of sacred names.
        case: capitals and small letters count alike.
        punctuation: points, hyphens and other marks do not count.
        accents: marks over and under letters do not count.
        bare_divisions: a word divided at a line's end without a hyphen is no fault. With a hyphen it never is.
        letters: pairs of letters or groups of letters that count alike, such as ``("þ", "th")``.
        spellings: groups of words that count alike, such as ``("colour", "color")``.
        abbreviations: the workshop's own, each a short form and the words it may stand for, ``("pb", "presbyter")``.
    """

    u_v: bool = True
    i_j: bool = True
    ampersand: bool = True
    signs: bool = True
    case: bool = True
    punctuation: bool = True
    accents: bool = False
    bare_divisions: bool = False
    letters: tuple[tuple[str, str], ...] = ()
    spellings: tuple[tuple[str, ...], ...] = ()
    abbreviations: tuple[tuple[str, ...], ...] = ()

    @classmethod
    def from_mapping(cls, given: Mapping[object, object] | None, file: str = "book.yaml") -> Allowances:
        """Read the value of ``allow:`` in book.yaml; ``u/v`` may be written for ``u_v``.

        Raises:
            CopydeskError: with one sentence for every key or value that cannot be used.
        """
        problems: list[Problem] = []
        taken: dict[str, object] = {}
        for key, value in (given or {}).items():
            name = str(key).strip().replace("/", "_").replace(" ", "_").replace("-", "_")
            try:
                taken[name] = _value(name, value)
            except ValueError as error:
                problems.append(Problem(file, 0, 0, str(error)))
        if problems:
            raise InvalidValueError(*problems)
        return cls(**taken)  # type: ignore[arg-type]

    def key(self, word: str) -> str:
        """The word as it is compared: two words with one key do not differ. Empty for a lone mark."""
        return _folding(self).readings(word)[0]

    def readings(self, word: str) -> tuple[str, ...]:
        """Every way the word may be read where it holds signs of abbreviation; else its one key."""
        return _folding(self).readings(word)

    def keys(self, words: Iterable[str]) -> list[str]:
        """The key of each word."""
        read = _folding(self).readings
        return [read(word)[0] for word in words]

    def same(self, one: str, other: str) -> bool:
        """Whether two words as they stand are alike under these allowances, abbreviations included."""
        first, second = self.readings(one), self.readings(other)
        if not set(first).isdisjoint(second):
            return True
        short = _folding(self).short
        return any(
            form is not None and any(map(form.stands_for, words))
            for form, words in ((short(one), second), (short(other), first))
        )


def keys_beside(copied: Sequence[str], exemplar: Sequence[str], allow: Allowances) -> tuple[list[str], list[str]]:
    """The keys of both, each abbreviated word read in a way the other side knows, if there is one."""
    folding = _folding(allow)
    copy_readings, exemplar_readings = ([folding.readings(word) for word in side] for side in (copied, exemplar))
    exemplar_keys = _chosen(exemplar, exemplar_readings, copy_readings, folding)
    return _chosen(copied, copy_readings, [(key,) for key in exemplar_keys], folding), exemplar_keys


def _chosen(
    words: Sequence[str], mine: list[tuple[str, ...]], others: list[tuple[str, ...]], folding: _Folding
) -> list[str]:
    """One reading a word: the one the other side has oftenest, or the first where it has none.

    A word drawn together may stand for any word there that has its letters; the commonest is taken.
    """
    if all(len(readings) == 1 for readings in mine):
        return [readings[0] for readings in mine]
    known = Counter(reading for readings in others for reading in readings)
    by_letter: dict[str, list[str]] = {}
    for reading in known:
        by_letter.setdefault(reading[:1], []).append(reading)
    found: dict[str, str] = {}

    def choose(word: str, readings: tuple[str, ...]) -> str:
        best = max(readings, key=known.__getitem__)
        form = None if known[best] else folding.short(word)
        if form is None:
            return best
        heads = dict.fromkeys(reading[:1] for reading in form.readings[0])
        fitting = filter(form.stands_for, (each for head in heads for each in by_letter.get(head, ())))
        return max(fitting, key=known.__getitem__, default=best)

    for word, readings in zip(words, mine, strict=True):
        if word not in found:
            found[word] = readings[0] if len(readings) == 1 else choose(word, readings)
    return [found[word] for word in words]


def _value(name: str, value: object) -> object:
    """A setting's value in the form the class holds it; ``ValueError`` with a sentence where it cannot be."""
    if name in ("spellings", "abbreviations"):
        return tuple(_group(name, group) for group in _pairs(name, value))
    if name == "letters":
        return tuple(_two(_group(name, group)) for group in _pairs(name, value))
    if name not in {field.name for field in fields(Allowances)}:
        known = ", ".join(field.name.replace("u_v", "u/v").replace("i_j", "i/j") for field in fields(Allowances))
        raise ValueError(f"allow: {name!r} is not a difference that can be allowed; the keys are {known}")
    if not isinstance(value, bool):
        raise ValueError(f"allow: {name} is {value!r}; write true or false")
    return value


def _pairs(name: str, value: object) -> list[object]:
    """A mapping ``{colour: color}`` or a list of groups, as a list of groups."""
    if isinstance(value, dict):
        return [[one, *other] if isinstance(other, list | tuple) else [one, other] for one, other in value.items()]
    if isinstance(value, (list, tuple)):
        return list(value)
    raise ValueError(f"allow: {name} is {value!r}; write pairs, as in {{colour: color}}")


def _group(name: str, group: object) -> tuple[str, ...]:
    """One group of spellings that count alike."""
    parts = tuple(str(part).strip() for part in group) if isinstance(group, (list, tuple)) else ()
    if len(parts) < 2 or any(len(part.split()) != 1 for part in parts):
        raise ValueError(f"allow: {name} holds {group!r}; each entry pairs single words, as in {{colour: color}}")
    return parts


def _two(parts: tuple[str, ...]) -> tuple[str, str]:
    """A group that must be a pair."""
    if len(parts) != 2:
        raise ValueError(f"allow: letters holds {list(parts)!r}; each entry pairs two, as in {{þ: th}}")
    return parts[0], parts[1]


@lru_cache(maxsize=16)
def _folding(allow: Allowances) -> _Folding:
    """The folding for these allowances, kept with the words it has folded."""
    return _Folding(allow)


class _Folding:
    """Folds words for one set of allowances, and remembers the words it has folded."""

    def __init__(self, allow: Allowances) -> None:
        self._allow = allow
        self._read: dict[str, tuple[str, ...]] = {}
        self._short: dict[str, Shortened | None] = {}
        turned = ("v", "j") if allow.u_v and allow.i_j else ("v",) if allow.u_v else ("j",) if allow.i_j else ()
        alike = {"v": "u", "j": "i", "V": "U", "J": "I"}
        self._alike = str.maketrans({letter: alike[letter] for low in turned for letter in (low, low.upper())})
        self._spelt: dict[str, str] = {}
        self._letters = tuple((self._fold(one), self._fold(other)) for one, other in allow.letters)
        for group in allow.spellings:
            keys = [self._plain(self._fold(word)) for word in group]
            known = {self._spelt.get(key, key) for key in keys}
            one = self._spelt.get(keys[0], keys[0])
            self._spelt.update({word: one for word, other in self._spelt.items() if other in known})
            self._spelt.update(dict.fromkeys(keys, one))
        self._own = {
            self._plain(self._fold(short)): [self._fold(word) for word in words]
            for short, *words in allow.abbreviations
        }

    def readings(self, word: str) -> tuple[str, ...]:
        """Every key the word may have; never empty."""
        found = self._read.get(word)
        if found is None:
            found = self._read[word] = self._readings(word)
        return found

    def _readings(self, word: str) -> tuple[str, ...]:
        folded = self._fold(word)
        spread = [folded, *self._own.get(self._plain(folded), ())]
        if not folded.isascii() or "&" in folded:
            spread += self._expanded(folded)
        if self._allow.signs and folded[-2:] in FINAL:
            spread.append(folded[:-2] + FINAL[folded[-2:]])
        form = self.short(word)
        if form is not None:
            spread += form.words
        keys = (self._plain(reading) for reading in spread)
        return tuple(dict.fromkeys(self._spelt.get(key, key) for key in keys))

    def short(self, word: str) -> Shortened | None:
        """The word as one written short; None where it is not, or abbreviations are not allowed."""
        if word.isascii() or not self._allow.signs:
            return None
        if word not in self._short:
            self._short[word] = shortened(word, lambda letter: self._plain(self._fold(letter)))
        return self._short[word]

    def _fold(self, word: str) -> str:
        """Case and the forms of a letter (long s, ligatures) set aside; invisible marks dropped."""
        if word.isascii():
            return word.casefold() if self._allow.case else word
        seen = "".join(letter for letter in word if unicodedata.category(letter) != "Cf")
        normal = unicodedata.normalize("NFKC", seen)
        if not self._allow.case:
            return normal
        # A small letter may be made of capitals' parts: fold again until nothing changes, which two rounds do.
        folded = unicodedata.normalize("NFKC", normal.casefold())
        return unicodedata.normalize("NFKC", folded.casefold())

    def _expanded(self, folded: str) -> list[str]:
        """The word with its signs of abbreviation read out, in each way they can be."""
        letters = unicodedata.normalize("NFD", folded)
        choices = [self._letter_readings(letters, at) for at in range(len(letters))]
        if all(choice == (letter,) for choice, letter in zip(choices, letters, strict=True)):
            return []
        return ["".join(parts) for parts in islice(product(*choices), MOST_READINGS)]

    def _letter_readings(self, letters: str, at: int) -> tuple[str, ...]:
        """What one character of a decomposed word may stand for."""
        letter = letters[at]
        if letter in AND_SIGNS:
            return AND_WORDS if self._allow.ampersand else (letter,)
        if not self._allow.signs:
            return (letter,)
        if letter in STROKES and at:
            before = letters[at - 1]
            return ("m", "n") if before in "aeiouyAEIOUY" else (before,)
        return READINGS.get(letter, (letter,))

    def _plain(self, folded: str) -> str:
        """The last steps: own pairs of letters, punctuation, accents, u and v, i and j."""
        key = folded
        for one, other in self._letters:
            key = key.replace(one, other)
        if self._allow.accents:
            parted = unicodedata.normalize("NFD", key)
            key = "".join(letter for letter in parted if not unicodedata.combining(letter))
        if self._allow.punctuation and not key.isalnum():
            key = "".join(letter for letter in key if _counts(letter))
        return unicodedata.normalize("NFC", key.translate(self._alike))


def _counts(letter: str) -> bool:
    """Whether a character is part of a word's spelling and not a mark beside it."""
    return letter.isalnum() or letter in AND_SIGNS or unicodedata.category(letter).startswith("M")
