"""Changing the text on purpose: words of the exemplar left out, put differently, or words added, with the reason."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.errors import AlreadyDoneError, AmbiguousError, InvalidValueError, NotAllowedError
from copydesk.book.text.word_search import bare, find_words
from copydesk.tracking.ledger.entry import Act

if TYPE_CHECKING:
    from collections.abc import Sequence

    from copydesk.tracking.state.book_state import BookState


def change_text(
    state: BookState,
    *,
    first: str = "",
    last: str = "",
    after: str = "",
    write: str = "",
    why: str = "",
    who: str = "",
    near: int | None = None,
) -> Act:
    """Depart from the exemplar on purpose, before or after the passage is written.

    Args:
        state: the book.
        first: the first words of the passage; the whole of it where ``last`` is empty.
        last: its last words.
        after: words after which new ones are added, where nothing of the exemplar is touched.
        write: what is written instead; nothing where the passage is left out.
        why: the reason.
        who: who decided it; the hand that records it where empty.
        near: the exemplar's position near which to look; without it the words may stand in one place only.

    Raises:
        CopydeskError: where the words are not found, fit several places, are changed already, or the reason is missing.
    """
    if state.exemplar is None:
        raise NotAllowedError("the exemplar of this book is not typed, so a change is noted in book.yaml under changes")
    words = state.exemplar.words
    start, end = _added_at(words, after, near) if after else _passage(words, first, last, near)
    written = " ".join(write.split())
    _check(state, start, end, written, why)
    facts: dict[str, object] = {"from_word": start, "to_word": end, "write": written, "why": why.strip()}
    if who.strip():
        facts["who"] = who.strip()
    return Act("changed", "text", "", facts)


def _added_at(words: Sequence[str], after: str, near: int | None) -> tuple[int, int]:
    at = _find(words, after, near) + len(after.split())
    return at, at


def _passage(words: Sequence[str], first: str, last: str, near: int | None) -> tuple[int, int]:
    start = _find(words, first, near)
    if not last:
        return start, start + len(first.split())
    end = find_words(words, last, start, least=start) + len(last.split())
    if end <= start:
        raise InvalidValueError(f'"{last}" stands before "{first}" in the exemplar; give the first words first')
    return start, end


def _find(words: Sequence[str], phrase: str, near: int | None) -> int:
    """Where a phrase stands: nearest to ``near``, or where it stands once."""
    if near is not None:
        return find_words(words, phrase, near)
    place = find_words(words, phrase, 0, reach=len(words))
    wanted = [bare(word) for word in phrase.split()]
    again = range(place + 1, len(words) - len(wanted) + 1)
    if any([bare(word) for word in words[at : at + len(wanted)]] == wanted for at in again):
        raise AmbiguousError(f'"{phrase}" stands more than once in the exemplar; give more words, or a page near them')
    return place


def _check(state: BookState, start: int, end: int, write: str, why: str) -> None:
    words = state.exemplar.words if state.exemplar else []
    if not why.strip():
        raise InvalidValueError("a change made on purpose needs its reason; say why")
    if start == end and not write:
        raise InvalidValueError("nothing is added; give the words to write")
    if write and words[start:end] == write.split():
        raise InvalidValueError(
            "those are the words of the exemplar, so nothing is changed; give the words to write instead"
        )
    for other in state.changes:
        if max(start, other.from_word) < min(end, other.to_word) or (start, end) == (other.from_word, other.to_word):
            raise AlreadyDoneError(
                f'"{" ".join(words[other.from_word : other.to_word][:6])}" is changed on purpose already, words '
                f"{other.from_word} to {other.to_word}; take that back first, or change it in book.yaml"
            )
