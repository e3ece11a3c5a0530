"""Finding words of the exemplar near the place where they are expected, as a scribe gives the end of a page."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.errors import AmbiguousError, InvalidValueError, WordsNotFoundError

if TYPE_CHECKING:
    from collections.abc import Sequence


_NEAR = 12
"""Words: two places whose distances differ by less fit equally well (about two lines of a column)."""

_ANYWHERE = range(0)
"""No place is likelier than another."""

_EDGES = ".,;:!?'\"()[]{}‘’“”«»‹›—–-…·¶"


def bare(word: str) -> str:
    """A word as it is looked for: case and the punctuation around it left out."""
    return word.strip(_EDGES).casefold() or word.casefold()


def find_words(
    words: Sequence[str], phrase: str, near: int, *, reach: int = 4000, least: int = 0, likely: range = _ANYWHERE
) -> int:
    """The word position where ``phrase`` begins, nearest to ``near``.

    Looks among the places ``likely``, then up to ``reach`` words to both sides, then through the whole text; places
    before ``least`` count only where there is no other.

    Raises:
        CopydeskError: where the words are not to be found, or stand in several places about equally near.
    """
    wanted = [bare(word) for word in phrase.split()]
    if not wanted:
        raise InvalidValueError("no words were given to look for; give the words as they stand in the exemplar")
    found = word_places(words, wanted, max(likely.start, least), likely.stop + len(wanted) - 1)
    found = found or word_places(words, wanted, max(near - reach, least, 0), near + reach)
    found = found or word_places(words, wanted, least, len(words)) or word_places(words, wanted, 0, len(words))
    if not found:
        raise WordsNotFoundError(f'"{phrase}" does not stand in the exemplar; check the spelling, or give other words')
    found.sort(key=lambda place: abs(place - near))
    best = abs(found[0] - near)
    rivals = [place for place in found[1:] if abs(place - near) - best < _NEAR]
    if best and rivals:
        shown = ", ".join(f"word {place} ({_around(words, place, len(wanted))})" for place in (found[0], *rivals)[:3])
        raise AmbiguousError(f'"{phrase}" fits equally well in {len(rivals) + 1} places: {shown}; give more words')
    return found[0]


def find_begun(words: Sequence[str], typed: str) -> int:
    """The word position where words begin of which the last may not be typed to its end yet.

    Raises:
        CopydeskError: where they stand nowhere, or in several places.
    """
    *whole, begun = [bare(word) for word in typed.split()] or [""]
    found = [
        place
        for place in range(len(words) - len(whole) if begun else 0)
        if bare(words[place + len(whole)]).startswith(begun)
        and all(bare(words[place + offset]) == word for offset, word in enumerate(whole))
    ]
    if not found:
        raise WordsNotFoundError(f'"{typed}" does not stand in the exemplar; check the spelling, or give other words')
    if len(found) > 1:
        shown = ", ".join(f"word {place} ({_around(words, place, len(whole) + 1)})" for place in found[:3])
        raise AmbiguousError(
            f'"{typed}" stands in {len(found)} places: {shown}; give more letters, or the word\'s number'
        )
    return found[0]


def word_places(words: Sequence[str], wanted: Sequence[str], start: int, end: int) -> list[int]:
    """Every position from ``start`` to ``end`` at which the words ``wanted``, as ``bare`` gives them, stand whole."""
    first, length = wanted[0], len(wanted)
    return [
        place
        for place in range(start, min(end, len(words)) - length + 1)
        if bare(words[place]) == first
        and all(bare(words[place + offset]) == wanted[offset] for offset in range(1, length))
    ]


def _around(words: Sequence[str], place: int, length: int) -> str:
    return '"' + " ".join(words[max(place - 2, 0) : place + length + 2]) + '"'
