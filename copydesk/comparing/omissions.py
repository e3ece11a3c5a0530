"""Naming words that are missing: a leap of the eye, a line or a leaf skipped, haplography, or plain omission.

Sources: the leap from like to like and the loss as long as the exemplar's line: E. A. Lowe and E. K. Rand,
*A Sixth-Century Fragment of the Letters of Pliny the Younger* (1922), where each loss is counted in letters;
M. L. West, *Textual Criticism and Editorial Technique* (1973) pp. 24-25. Haplography as what stands twice and
is written once: W. M. Lindsay, *Latin Textual Emendation* (1896) III 1. Leaves skipped: Lindsay II 6.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from copydesk.book.common.phrases import count_of
from copydesk.comparing.faults import quoted
from copydesk.comparing.likeness import BEGINNING, ENDING, SAME, like_beginning, like_ending
from copydesk.comparing.page_case import SpanPair

if TYPE_CHECKING:
    from collections.abc import Sequence

    from copydesk.comparing.faults import Difference, Kind
    from copydesk.comparing.page_case import Case


FAR_SAME, FAR_LIKE = 150, 60
"""A leap over more words than this is not put down to the same word, or to a like one."""
COMMON_SHARE = 1 / 60
"""A word that makes up more of the text than this recurs so often that it explains little."""
SAME_SPOT = 2
"""Letters by which two spots in their lines may differ and still stand beneath one another."""
ONE_PAGE = 100
"""A loss of so many words is more than a leap of the eye: a page or a leaf was passed over."""


@dataclass(frozen=True, slots=True)
class Reason:
    """What a loss is called and why; ``rank`` is lower the better it explains."""

    rank: int
    kind: Kind
    cause: str
    sentence: str


def name_omission(case: Case, span: SpanPair, room: tuple[int, int]) -> Difference:
    """Name missing words.

    Args:
        case: the page.
        span: the missing words; empty on the copy's side.
        room: how many words agree before and after them, so far as the gap may be moved along.
    """
    # "the mill [by the mill] stood" may lose either "mill by the" or "by the mill": the same copy comes of both. Every
    # such place is tried, and the loss is named by the one that explains it best.
    spans = slides(case, span, room)
    shared = len(spans) - 1 + (_from_page_before(case, spans[0]) if span.copy_from == 0 else 0)
    reasons = [(_reason(case, moved, shared), moved) for moved in spans]
    reason, best = min(reversed(reasons), key=lambda pair: pair[0].rank)
    return case.fault(reason.kind, best, reason.sentence, reason.cause)


def _from_page_before(case: Case, span: SpanPair) -> int:
    """How many words at the end of the page before recur at the end of a loss at this page's head."""
    text, begin, end = case.text, span.text_from, span.text_to
    shared = 0
    while shared < min(begin, end - begin) and text[begin - shared - 1] == text[end - shared - 1]:
        shared += 1
    return shared


def slides(case: Case, span: SpanPair, room: tuple[int, int]) -> list[SpanPair]:
    """Every place where the same number of missing words may be said to be missing, from left to right."""
    begin, end = span.text_from, span.text_to
    steps = steps_alike(case.text, begin, end, room)
    return [SpanPair(span.copy_from + by, span.copy_to + by, begin + by, end + by) for by in steps]


def steps_alike(words: Sequence[str], begin: int, end: int, room: tuple[int, int]) -> range:
    """By how many words the words from ``begin`` to ``end`` can be taken further left or right, the rest staying alike.

    ``room`` is how far they may go to the left and to the right.
    """
    left = right = 0
    while left < room[0] and words[begin - left - 1] == words[end - left - 1]:
        left += 1
    while right < room[1] and words[begin + right] == words[end + right]:
        right += 1
    return range(-left, right + 1)


def _reason(case: Case, span: SpanPair, shared: int) -> Reason:
    """The best explanation of a loss at one place; ``shared`` words stand both before the loss and at its end."""
    begin, end = span.text_from, span.text_to
    length = end - begin
    if case.whole_leaves(begin, end):
        return _leaf(case, span)
    if shared >= length:
        sentence = f"{_words(case, span)} stands twice running in the exemplar and is written once"
        return Reason(1, "haplography", "words written once", sentence)
    lines = case.whole_lines(begin, end)
    if lines and (not shared or _weak(case, case.text[end - 1], shared)):
        return Reason(2, "line skipped", _trigger(case, span), _lines(case, span, lines))
    if shared and length <= FAR_SAME:
        return _leap_same(case, span, shared, lines)
    lines = case.lines_long(begin, end)
    if lines:
        return Reason(4, "line skipped", AS_LONG, _as_long(case, span, lines))
    cause = _trigger(case, span) if 1 < length <= FAR_LIKE else ""
    if cause:
        return _leap_like(case, span, cause)
    return _plain(case, span)


def _words(case: Case, span: SpanPair) -> str:
    return quoted(case.should(span.text_from, span.text_to))


def _left_out(case: Case, span: SpanPair) -> str:
    return f"{_words(case, span)} left out, {_size(case, span)}"


def _size(case: Case, span: SpanPair) -> str:
    """``5 words, 34 letters``."""
    length, letters = span.text_to - span.text_from, case.letters(span.text_from, span.text_to)
    return f"{count_of(length, 'word')}, {count_of(letters, 'letter')}"


def _leaf(case: Case, span: SpanPair) -> Reason:
    count = case.whole_leaves(span.text_from, span.text_to)
    what = "a whole page or leaf" if count == 1 else f"{count} whole pages or leaves"
    sentence = f"{what} of the exemplar passed over: {_left_out(case, span)}"
    return Reason(0, "leaf skipped", "turned too far", sentence)


def _lines(case: Case, span: SpanPair, lines: int) -> str:
    what = "a whole line of the exemplar is" if lines == 1 else f"{lines} whole lines of the exemplar are"
    return f"{what} left out: {_words(case, span)}, {_size(case, span)}"


AS_LONG = "as long as a line of the exemplar"


def _as_long(case: Case, span: SpanPair, lines: int) -> str:
    what = "a line" if lines == 1 else f"{lines} lines"
    return f"{_left_out(case, span)}, as much as {what} of the exemplar"


def _weak(case: Case, word: str, shared: int) -> bool:
    """Whether a recurring word is too common to explain a leap better than a whole line does."""
    return shared == 1 and case.text.count(word) > COMMON_SHARE * len(case.text)


def _trigger(case: Case, span: SpanPair) -> str:
    """What is alike about the words on the edges of a loss: an ending, a beginning, or nothing."""
    text, begin, end = case.text, span.text_from, span.text_to
    if begin and like_ending(text[begin - 1], text[end - 1]):
        return ENDING
    return BEGINNING if end < len(text) and like_beginning(text[begin], text[end]) else ""


def _leap_same(case: Case, span: SpanPair, shared: int, lines: int) -> Reason:
    words = quoted(case.should(span.text_from - shared, span.text_from))
    along = ", a whole line along" if lines else ""
    sentence = f"the eye leapt from {words} to the next {words}{along}: {_left_out(case, span)}"
    return Reason(3, "eye-skip", SAME, sentence)


def _leap_like(case: Case, span: SpanPair, cause: str) -> Reason:
    begin, end = span.text_from, span.text_to
    edge = (begin - 1, end - 1) if cause == ENDING else (begin, end)
    one, other = (quoted(case.should(word, word + 1)) for word in edge)
    how = "end" if cause == ENDING else "begin"
    sentence = f"the eye leapt from {one} to {other}, which {how} alike: {_left_out(case, span)}"
    return Reason(5, "eye-skip", cause, sentence)


def _plain(case: Case, span: SpanPair) -> Reason:
    """No trigger: the same spot in a later line, a long loss, or just words left out."""
    begin, end = span.text_from, span.text_to
    (line, before), (later, beneath) = case.in_line(begin), case.in_line(end)
    if 0 <= line < later and abs(before - beneath) <= SAME_SPOT:
        lower = count_of(later - line, "line")
        sentence = f"the eye fell to the same spot {lower} lower in the exemplar: {_left_out(case, span)}"
        return Reason(6, "line skipped", "same spot in a later line", sentence)
    after = f" after {quoted(case.should(begin - 1, begin))}" if span.copy_from and begin else " at the page's head"
    sentence = f"{_words(case, span)} left out{after}, {_size(case, span)}"
    cause = "as long as a page: was a leaf turned too far?" if end - begin >= ONE_PAGE else ""
    return Reason(7, "omission", cause, sentence)
