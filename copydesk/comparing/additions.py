"""Naming words that stand in the copy and not in the exemplar: repetition, a gloss taken in, anticipation.

Sources: dittography (here repetition) as what stands once and is written twice, and the intrusion of glosses:
W. M. Lindsay, *Latin Textual Emendation* (1896) IV 1; anticipation left standing: Lindsay II 1 (``ut solet in
istis fieri`` written ``ut solet fieri in istis fieri``); perseveration: *Parvum lexicon stemmatologicum*
(2015), "Error, types of".
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.phrases import count_of
from copydesk.comparing.alignment import locate
from copydesk.comparing.faults import quoted
from copydesk.comparing.page_case import SpanPair

if TYPE_CHECKING:
    from collections.abc import Sequence

    from copydesk.comparing.faults import Difference
    from copydesk.comparing.page_case import Case


NEARBY = 15
"""Words before and after among which one is looked for that was written too early or once more."""
NEARLY = 0.75
"""Share of words in common from which a longer passage counts as the other one written again."""
ELSEWHERE = 8
"""A passage of so many words is looked for further off."""

ANTICIPATION, CARRIED_OVER, GLOSS = "anticipation", "carried over", "gloss taken in"


def name_addition(case: Case, span: SpanPair, room: tuple[int, int]) -> Difference:
    """Name added words; ``span`` is empty on the exemplar's side, ``room`` as for a loss."""
    moved = _to_the_right(case, span, room)
    if _written_twice(case, moved):
        return _repetition(case, moved)
    added = case.copy[span.copy_from : span.copy_to]
    if is_gloss(case, added, span.text_from):
        sentence = f"{_words(case, span)} is a note beside the exemplar's text, taken into it"
        return case.fault("addition", span, sentence, GLOSS)
    cause, note = _origin(case, span)
    if cause == CARRIED_OVER and len(added) > 1:
        return _repetition(case, span)
    return case.fault("addition", span, f"{_words(case, span)} is not in the text here{note}", cause)


def _words(case: Case, span: SpanPair) -> str:
    return quoted(case.stands(span.copy_from, span.copy_to))


def _to_the_right(case: Case, span: SpanPair, room: tuple[int, int]) -> SpanPair:
    """The same addition as far right as it may be said to stand: of two writings the second is one too many."""
    copy, begin, end = case.copy, span.copy_from, span.copy_to
    by = 0
    while by < room[1] and copy[begin + by] == copy[end + by]:
        by += 1
    return SpanPair(begin + by, end + by, span.text_from + by, span.text_to + by)


def _written_twice(case: Case, span: SpanPair) -> bool:
    """Whether the added words are those just written, or those the exemplar has just before or next."""
    length = span.copy_to - span.copy_from
    added = list(case.copy[span.copy_from : span.copy_to])
    before = list(case.text[max(0, span.text_from - length) : span.text_from])
    after = list(case.text[span.text_from : span.text_from + length])
    if added in (before, after, list(case.copy[max(0, span.copy_from - length) : span.copy_from])):
        return True
    return length >= 4 and max(_likeness(added, before), _likeness(added, after)) >= NEARLY


def _likeness(one: list[str], other: list[str]) -> float:
    """Share of words two passages have in common, in order."""
    from rapidfuzz.distance import LCSseq

    return LCSseq.normalized_similarity(one, other)


def _repetition(case: Case, span: SpanPair) -> Difference:
    length = span.copy_to - span.copy_from
    source = (max(0, span.text_from - length), span.text_from)
    lines, leaves = case.whole_lines(*source), case.whole_leaves(*source)
    cause = "leaf taken twice" if leaves else "line taken twice" if lines else "written twice"
    what = f", {cause}" if lines or leaves else ""
    sentence = f"{_words(case, span)} is written twice{what}, {count_of(length, 'word')} too many"
    return case.fault("repetition", span, sentence, cause)


def is_gloss(case: Case, words: Sequence[str], near: int) -> bool:
    """Whether added keys are a known note, or most of one, besides words that stand nearby anyway."""
    beside = set(case.text[max(0, near - len(words) - 2) : near + len(words) + 2])
    for gloss in case.glosses:
        from_gloss = [word for word in words if word in gloss]
        rest = [word for word in words if word not in gloss]
        if from_gloss and 2 * len(set(from_gloss)) >= len(set(gloss)) and beside.issuperset(rest):
            return True
    return False


def origin(case: Case, words: list[str], near: int) -> tuple[str, int]:
    """Whether words were taken from just further on or just before, and the position in reach they stand at."""
    length = len(words)
    for cause, places in (
        (ANTICIPATION, range(near + 1, near + NEARBY)),
        (CARRIED_OVER, range(near - length - 1, near - length - NEARBY, -1)),
    ):
        for place in places:
            if place >= 0 and list(case.text[place : place + length]) == words:
                return cause, place
    return "", -1


def _origin(case: Case, span: SpanPair) -> tuple[str, str]:
    """The cause of an addition, and what to say of it."""
    words = list(case.copy[span.copy_from : span.copy_to])
    if len(words) >= ELSEWHERE:
        place = locate(words, case.text)
        if place is None:
            return "", ""
        return "from another place", f"; it stands in the exemplar at word {case.position(place)}"
    cause, _ = origin(case, words, span.text_from)
    notes = {ANTICIPATION: "; it was written too early", CARRIED_OVER: "; it was carried over from before"}
    return cause, notes.get(cause, "")
