"""Where a word may be broken at a line's end: by the language's own rules of hyphenation, or anywhere."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.errors import UnknownNameError

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence


def anywhere(word: str) -> Sequence[int]:
    """Every letter position at which ``word`` can be broken at all: a mark is not parted from its letter."""
    if word.isascii():
        return range(1, len(word))
    from unicodedata import category

    return [at for at in range(1, len(word)) if category(word[at]) not in ("Mn", "Me", "Mc", "Cf")]


def divider(language: str) -> Callable[[str], Sequence[int]]:
    """A function that gives the letter positions at which a word of ``language`` may be broken.

    The patterns are those of the pyphen package (from LibreOffice's dictionaries).

    Raises:
        UnknownNameError: where no patterns are known for the language.
    """
    import pyphen

    known = pyphen.language_fallback(language)
    if known is None:
        raise UnknownNameError(
            f"no rules are known for breaking words of language {language!r}; "
            "set line_breaks to words or anywhere, or name another language"
        )
    patterns = pyphen.Pyphen(lang=known)
    cuts: dict[str, Sequence[int]] = {}

    def divide(word: str) -> Sequence[int]:
        if word not in cuts:
            cuts[word] = tuple(sorted(set(patterns.positions(word))))
        return cuts[word]

    return divide
