"""Where a word may be broken at a line's end, by the language's own rules of hyphenation."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.refusal import Refused

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence


def divider(language: str) -> Callable[[str], Sequence[int]]:
    """A function that gives the letter positions at which a word of ``language`` may be broken.

    The patterns are those of the pyphen package (from LibreOffice's dictionaries).

    Raises:
        Refused: where no patterns are known for the language.
    """
    import pyphen

    known = pyphen.language_fallback(language)
    if known is None:
        raise Refused(
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
