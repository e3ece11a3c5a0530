"""Slips of each kind, made at random from a seed in an open text, with what is true of each.

The generator knows nothing of how slips are found: it takes a page of a text and spoils it in one way. It draws
again only where the outcome reads the same as the page.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

LETTERS = "abcdefghijklmnopqrstuwxyz"
PAGE = 300
LINE_LETTERS = 42
LEAF_LINES = 28
COPY_LINE = 8


@dataclass(frozen=True, slots=True)
class Text:
    """An exemplar with lines and leaves of its own, laid out by letters."""

    words: tuple[str, ...]
    lines: tuple[int, ...]
    leaves: tuple[int, ...]

    @classmethod
    def of(cls, words: Sequence[str]) -> Text:
        lines, letters = [0], 0
        for at, word in enumerate(words):
            if letters + len(word) > LINE_LETTERS and at > lines[-1]:
                lines.append(at)
                letters = 0
            letters += len(word) + 1
        return cls(tuple(words), tuple(lines), tuple(lines[::LEAF_LINES]))


def help_topics() -> Text:
    """The prose of Python's own help topics, less what is code."""
    from pydoc_data.topics import topics

    words = (word for name in sorted(topics) for word in topics[name].split())
    return Text.of([word for word in words if word.strip('.,;:()"').isalpha()])


def disguised(words: Sequence[str], seed: int) -> list[str]:
    """The same words written as a scribe may write them under the usual allowances."""
    draw = random.Random(seed)
    out: list[str] = []
    for word in words:
        out += draw.choice(DISGUISES)(word)
    return out


def _divided_at_line_end(word: str) -> list[str]:
    return [f"{word[:3]}-", word[3:]] if word.isalpha() and len(word) > 5 else [word]


def _stroked(word: str) -> list[str]:
    """An m or n after a vowel, within the word, put as a stroke over the vowel."""
    for at in range(1, len(word) - 1):
        if word[at - 1] in "aeiou" and word[at] in "mn" and word[at + 1].isalpha():
            return [word[:at] + "\u0304" + word[at + 1 :]]
    return [word]


DISGUISES: tuple[Callable[[str], list[str]], ...] = (
    lambda word: [word],
    lambda word: [word.replace("v", "u").replace("j", "i")],
    lambda word: [word.replace("u", "v").replace("i", "j")],
    lambda word: [word.upper()],
    lambda word: [word.strip('.,;:()"')],
    lambda word: [word, "·"],
    lambda word: ["&" if word == "and" else word.replace("s", "ſ", 1)],
    _stroked,
    _divided_at_line_end,
)


@dataclass(frozen=True, slots=True)
class Slip:
    """A spoilt page: the exemplar it was copied from, where it starts, what was written, and what is true of it."""

    kind: str
    sort: str
    exemplar: tuple[str, ...]
    start: int
    copied: tuple[str, ...]
    word: int
    at: int
    glosses: tuple[str, ...] = ()


@dataclass(slots=True)
class Spoiler:
    """Draws slips from a text; every draw comes from the one seed."""

    text: Text
    seed: int
    draw: random.Random = field(init=False)

    def __post_init__(self) -> None:
        self.draw = random.Random(self.seed)

    def slip(self, kind: str) -> Slip:
        """One slip of a kind, somewhere in the text."""
        makers = MAKERS[kind]
        while True:
            start = self.draw.randrange(len(self.text.words) - 4 * PAGE)
            page = list(self.text.words[start : start + PAGE])
            made = self.draw.choice(makers)(self, start, page)
            if made is not None and plain_words(made.copied) != plain_words(
                made.exemplar[start : start + len(made.copied)]
            ):
                return made

    def at(self, margin: int = 2) -> int:
        """A place on the page, not on its very edge."""
        return self.draw.randrange(margin, PAGE - margin - 20)

    def without(self, sort: str, kind: str, start: int, begin: int, end: int) -> Slip:
        """The page with the words from ``begin`` to ``end`` (on the page) left out; it goes on as far as before."""
        words = self.text.words
        copied = words[start : start + begin] + words[start + end : start + max(PAGE, end + 20)]
        return Slip(kind, sort, words, start, copied, start + begin, begin)

    def put(self, kind: str, sort: str, start: int, copied: list[str], at: int, word: int | None = None) -> Slip:
        """The page as spoilt at one place."""
        place = start + at if word is None else word
        return Slip(kind, sort, self.text.words, start, tuple(copied), place, at)


def plain_words(words: Sequence[str]) -> list[str]:
    """Words without marks and capitals, u for v and i for j, as a reader would hear them."""
    bare = ("".join(filter(str.isalnum, word)).casefold().replace("v", "u").replace("j", "i") for word in words)
    return [word for word in bare if word]


def plain(word: str) -> str:
    """One word so heard."""
    return "".join(plain_words([word]))


def omission(spoiler: Spoiler, start: int, page: list[str]) -> Slip:
    at = spoiler.at()
    return spoiler.without("words", "omission", start, at, at + spoiler.draw.randint(1, 4))


def eye_skip_same(spoiler: Spoiler, start: int, page: list[str]) -> Slip | None:
    """From a word to the same word two to thirty words on."""
    at = spoiler.at()
    again = [to for to in range(at + 2, min(at + 31, PAGE - 5)) if plain(page[to]) == plain(page[at]) != ""]
    return spoiler.without("same word", "eye-skip", start, at + 1, spoiler.draw.choice(again) + 1) if again else None


def _leap(sort: str, like: Callable[[str, str], bool], after: int) -> Callable[[Spoiler, int, list[str]], Slip | None]:
    def make(spoiler: Spoiler, start: int, page: list[str]) -> Slip | None:
        at = spoiler.at()
        one = plain(page[at])
        words = [(to, plain(page[to])) for to in range(at + 2, min(at + 25, PAGE - 5))]
        again = [to for to, other in words if one != other and min(len(one), len(other)) >= 4 and like(one, other)]
        if not again:
            return None
        return spoiler.without(sort, "eye-skip", start, at + after, spoiler.draw.choice(again) + after)

    return make


eye_skip_ending = _leap("like ending", lambda one, other: one[-3:] == other[-3:], 1)
eye_skip_beginning = _leap("like beginning", lambda one, other: one[:4] == other[:4], 0)


def repetition(spoiler: Spoiler, start: int, page: list[str]) -> Slip:
    at, length = spoiler.at(), spoiler.draw.randint(1, 12)
    return spoiler.put("repetition", "words", start, page[: at + length] + page[at:], at + length, start + at + length)


def haplography_words(spoiler: Spoiler, start: int, page: list[str]) -> Slip:
    """The exemplar is given a word or two twice running; the copy has them once."""
    at, length = spoiler.at(), spoiler.draw.randint(1, 2)
    words, place = spoiler.text.words, start + at
    exemplar = words[: place + length] + words[place:]
    return Slip("haplography", "words", exemplar, start, tuple(page), place + length, at + length)


def haplography_letters(spoiler: Spoiler, start: int, page: list[str]) -> Slip | None:
    at = spoiler.at()
    word = page[at]
    double = [to for to in range(1, len(word)) if word[to] == word[to - 1] and word[to].isalpha()]
    if not double:
        return None
    to = spoiler.draw.choice(double)
    return spoiler.put("haplography", "letters", start, [*page[:at], word[:to] + word[to + 1 :], *page[at + 1 :]], at)


def substitution_word(spoiler: Spoiler, start: int, page: list[str]) -> Slip | None:
    at = spoiler.at()
    other = spoiler.draw.choice(spoiler.text.words)
    if not plain(other) or not plain(page[at]):
        return None
    return spoiler.put("substitution", "word", start, [*page[:at], other, *page[at + 1 :]], at)


def substitution_letter(spoiler: Spoiler, start: int, page: list[str]) -> Slip | None:
    at = spoiler.at()
    word = page[at]
    letters = [to for to, letter in enumerate(word) if letter.isalpha()]
    if len(letters) < 3:
        return None
    to = spoiler.draw.choice(letters)
    wrong = word[:to] + spoiler.draw.choice(LETTERS) + word[to + 1 :]
    return spoiler.put("substitution", "letter", start, [*page[:at], wrong, *page[at + 1 :]], at)


def transposition_words(spoiler: Spoiler, start: int, page: list[str]) -> Slip:
    at = spoiler.at()
    return spoiler.put("transposition", "words", start, [*page[:at], page[at + 1], page[at], *page[at + 2 :]], at)


def transposition_far(spoiler: Spoiler, start: int, page: list[str]) -> Slip:
    """A word comes two to four words too late."""
    at, late = spoiler.at(), spoiler.draw.randint(2, 4)
    copied = [*page[:at], *page[at + 1 : at + 1 + late], page[at], *page[at + 1 + late :]]
    return spoiler.put("transposition", "far", start, copied, at)


def transposition_letters(spoiler: Spoiler, start: int, page: list[str]) -> Slip | None:
    at = spoiler.at()
    word = page[at]
    pairs = [to for to in range(len(word) - 1) if word[to].isalpha() and word[to + 1].isalpha()]
    if len(pairs) < 3:
        return None
    to = spoiler.draw.choice(pairs)
    turned = word[:to] + word[to + 1] + word[to] + word[to + 2 :]
    return spoiler.put("transposition", "letters", start, [*page[:at], turned, *page[at + 1 :]], at)


def addition_word(spoiler: Spoiler, start: int, page: list[str]) -> Slip | None:
    at = spoiler.at()
    word = spoiler.draw.choice(spoiler.text.words)
    if plain(word) in ("", plain(page[at]), plain(page[at - 1])):
        return None
    return spoiler.put("addition", "word", start, [*page[:at], word, *page[at:]], at)


def addition_early(spoiler: Spoiler, start: int, page: list[str]) -> Slip | None:
    """A word two to six words further on is written early and once more in its place."""
    at, ahead = spoiler.at(), spoiler.draw.randint(2, 6)
    if plain(page[at + ahead]) in ("", plain(page[at]), plain(page[at - 1])):
        return None
    return spoiler.put("addition", "anticipation", start, [*page[:at], page[at + ahead], *page[at:]], at)


def addition_gloss(spoiler: Spoiler, start: int, page: list[str]) -> Slip:
    """A note of two or three words from anywhere in the text is taken in."""
    at, length = spoiler.at(), spoiler.draw.randint(2, 3)
    place = spoiler.draw.randrange(len(spoiler.text.words) - length)
    note = spoiler.text.words[place : place + length]
    copied = (*page[:at], *note, *page[at:])
    return Slip("addition", "gloss", spoiler.text.words, start, copied, start + at, at, (" ".join(note),))


def divided(spoiler: Spoiler, start: int, page: list[str]) -> Slip | None:
    at = spoiler.at()
    word = page[at]
    if len(plain(word)) < 5 or not word.isalpha():
        return None
    to = spoiler.draw.randrange(2, len(word) - 1)
    return spoiler.put("word divided", "word", start, [*page[:at], word[:to], word[to:], *page[at + 1 :]], at)


def joined(spoiler: Spoiler, start: int, page: list[str]) -> Slip | None:
    at = spoiler.at()
    if not page[at].isalpha() or not plain(page[at + 1]):
        return None
    return spoiler.put("words joined", "words", start, [*page[:at], page[at] + page[at + 1], *page[at + 2 :]], at)


def _units(starts: Sequence[int], start: int, count: int, reach: int) -> list[tuple[int, int]]:
    """Runs of so many whole lines or leaves that begin within the page, by their bounds on it."""
    spans = zip(starts, starts[count:], strict=False)
    return [(begin - start, end - start) for begin, end in spans if start + 2 <= begin < start + reach]


def line_skipped(spoiler: Spoiler, start: int, page: list[str]) -> Slip:
    lines = _units(spoiler.text.lines, start, spoiler.draw.choice((1, 1, 1, 2)), PAGE - 40)
    begin, end = spoiler.draw.choice(lines)
    return spoiler.without("line", "line skipped", start, begin, end)


def line_displaced(spoiler: Spoiler, start: int, page: list[str]) -> Slip | None:
    """A line comes one to six lines too late."""
    lines = _units(spoiler.text.lines, start, 1, PAGE - 90)
    begin, end = spoiler.draw.choice(lines)
    later = [to for to, _ in lines if to > end]
    if len(later) < 6:
        return None
    to = spoiler.draw.choice(later[:6])
    copied = page[:begin] + page[end:to] + page[begin:end] + page[to:]
    return spoiler.put("line displaced", "line", start, copied, begin + to - end, start + begin)


def leaf_skipped(spoiler: Spoiler, start: int, page: list[str]) -> Slip | None:
    leaves = _units(spoiler.text.leaves, start, 1, PAGE - 40)
    if not leaves:
        return None
    begin, end = spoiler.draw.choice(leaves)
    words = spoiler.text.words
    if start + end + PAGE > len(words):
        return None
    copied = words[start : start + begin] + words[start + end : start + end + PAGE - begin]
    return Slip("leaf skipped", "leaf", words, start, copied, start + begin, begin)


Maker = Callable[[Spoiler, int, list[str]], Slip | None]
MAKERS: dict[str, tuple[Maker, ...]] = {
    "omission": (omission,),
    "eye-skip": (eye_skip_same, eye_skip_same, eye_skip_ending, eye_skip_beginning),
    "repetition": (repetition,),
    "haplography": (haplography_words, haplography_letters),
    "substitution": (substitution_word, substitution_letter),
    "transposition": (transposition_words, transposition_far, transposition_letters),
    "addition": (addition_word, addition_early, addition_gloss),
    "word divided": (divided,),
    "words joined": (joined,),
    "line skipped": (line_skipped,),
    "line displaced": (line_displaced,),
    "leaf skipped": (leaf_skipped,),
}


def place(at: int) -> tuple[int, int]:
    """Column and line of a copied word: one column of lines of eight words."""
    return 1, at // COPY_LINE + 1
