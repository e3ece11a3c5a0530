"""Words missing in one place and standing in another: words transposed, a line out of its place.

Source: transposition as "perhaps the commonest error", and the line omitted, noted in the margin and copied in
at another place (*Men.* 465 after 474): W. M. Lindsay, *Latin Textual Emendation* (1896) II 1 and II 6.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.comparing.faults import quoted
from copydesk.comparing.omissions import slides, steps_alike
from copydesk.comparing.page_case import SpanPair
from copydesk.comparing.substitutions import name_change, name_turned

if TYPE_CHECKING:
    from collections.abc import Sequence

    from copydesk.comparing.faults import Difference
    from copydesk.comparing.page_case import Case
    from copydesk.comparing.word_alignment import AlignedRun


FEW = 3
"""Up to so many words, moved or moved over, are transposed; more are a line out of its place."""
REACH = {1: 8, 2: 20, 3: 60}
"""How far one, two or three words may have moved; more may have moved any way."""
ALIKE = 0.7
"""Share of letters in common from which words that moved may also have been miswritten."""
NEAR = 12
"""A line moved over no more words than this is shown with what it changed places with."""


def moved_pairs(case: Case, steps: Sequence[AlignedRun]) -> list[tuple[int, int, SpanPair, SpanPair]]:
    """Pairs of a loss and an addition of the same words: their two indices in ``steps``, and their spans."""
    losses = [index for index, step in enumerate(steps) if step.what == "missing"]
    gains = [index for index, step in enumerate(steps) if step.what == "added"]
    pairs: list[tuple[int, int, SpanPair, SpanPair]] = []
    # A moved passage shows up as a loss in one place and an addition of the same words in another. Each addition is
    # taken by the first loss it matches, so that no word is named twice.
    for loss in losses:
        for gain in gains:
            found = _match(case, steps, loss, gain)
            if found is not None:
                pairs.append((loss, gain, *found))
                gains.remove(gain)
                break
    return pairs


def reordered(case: Case, steps: Sequence[AlignedRun], done: set[int]) -> list[tuple[int, int]]:
    """First and last indices in ``steps`` of short stretches that hold the right words in another order."""
    found: list[tuple[int, int]] = []
    free = [index for index, step in enumerate(steps) if step.what != "same" and index not in done]
    for at, first in enumerate(free):
        if found and first <= found[-1][1]:
            continue
        for last in free[at + 1 : at + 2 * FEW + 1]:
            span = across(steps[first], steps[last])
            if _in_disorder(case, span) and done.isdisjoint(range(first, last + 1)):
                found.append((first, last))
                break
    return found


def _in_disorder(case: Case, span: SpanPair) -> bool:
    """Whether a few copied words are the exemplar's in another order."""
    length = span.copy_to - span.copy_from
    if length != span.text_to - span.text_from or length > 2 * FEW:
        return False
    return sorted(case.copy[span.copy_from : span.copy_to]) == sorted(case.text[span.text_from : span.text_to])


def across(first: AlignedRun, last: AlignedRun) -> SpanPair:
    """From the beginning of one step to the end of another."""
    return SpanPair(first.copy_from, last.copy_to, first.text_from, last.text_to)


def room(steps: Sequence[AlignedRun], index: int) -> tuple[int, int]:
    """How many words agree just before and just after a step."""
    before = steps[index - 1] if index else None
    after = steps[index + 1] if index + 1 < len(steps) else None
    return _agreeing(before), _agreeing(after)


def _agreeing(step: AlignedRun | None) -> int:
    if step is None or step.what != "same":
        return 0
    return min(step.copy_to - step.copy_from, step.text_to - step.text_from)


def span_of(step: AlignedRun) -> SpanPair:
    """The words a step concerns."""
    return SpanPair(step.copy_from, step.copy_to, step.text_from, step.text_to)


def _match(case: Case, steps: Sequence[AlignedRun], loss: int, gain: int) -> tuple[SpanPair, SpanPair] | None:
    """The spans at which what is missing and what was added are the same words, if they are."""
    missing, added = span_of(steps[loss]), span_of(steps[gain])
    lost, won = missing.text_to - missing.text_from, added.copy_to - added.copy_from
    if abs(loss - gain) == 1 or abs(lost - won) > min(lost, won) // 4:
        return None
    line = case.whole_lines(missing.text_from, missing.text_to)
    if _way(missing, added) > REACH.get(lost, len(case.copy)) and not line:
        return None
    for out in slides(case, missing, room(steps, loss)):
        for into in _copy_slides(case, added, room(steps, gain)):
            if case.text[out.text_from : out.text_to] == case.copy[into.copy_from : into.copy_to]:
                return out, into
    return (missing, added) if _alike(case, missing, added) else None


def _way(missing: SpanPair, added: SpanPair) -> int:
    """How many copied words lie between where words are missing and where they stand."""
    return max(added.copy_from - missing.copy_from, missing.copy_from - added.copy_to)


def _copy_slides(case: Case, span: SpanPair, room: tuple[int, int]) -> list[SpanPair]:
    """Every place where the same number of added words may be said to stand."""
    begin, end = span.copy_from, span.copy_to
    steps = steps_alike(case.copy, begin, end, room)
    return [SpanPair(begin + by, end + by, span.text_from + by, span.text_to + by) for by in steps]


def _alike(case: Case, missing: SpanPair, added: SpanPair) -> bool:
    """Whether the words that moved are the same but for a letter or a word."""
    from rapidfuzz.distance import Levenshtein

    right = " ".join(case.text[missing.text_from : missing.text_to])
    copied = " ".join(case.copy[added.copy_from : added.copy_to])
    return min(len(right), len(copied)) > FEW and Levenshtein.normalized_similarity(right, copied) >= ALIKE


def name_moved(case: Case, missing: SpanPair, added: SpanPair) -> list[Difference]:
    """Name words that stand out of their place; words also miswritten on the way make a fault each."""
    size, way = missing.text_to - missing.text_from, _way(missing, added)
    lines = case.whole_lines(missing.text_from, missing.text_to)
    whole = _whole(missing, added)
    if min(size, way) <= FEW and not lines:
        faults = [name_turned(case, whole)]
    else:
        faults = [_displaced(case, missing, added, whole if way <= NEAR else None, lines)]
    if size == added.copy_to - added.copy_from:
        faults += _miswritten(case, range(added.copy_from, added.copy_to), range(missing.text_from, missing.text_to))
    return faults


def name_exchange(case: Case, span: SpanPair) -> list[Difference]:
    """Name two neighbours that changed places; one also miswritten makes a fault of its own."""
    copied, right = range(span.copy_from, span.copy_to), range(span.text_from, span.text_to)
    return [name_turned(case, span), *_miswritten(case, copied, right[::-1])]


def _miswritten(case: Case, copied: range, right: range) -> list[Difference]:
    """The words that differ, each copied one against the right one beside it."""
    pairs = [pair for pair in zip(copied, right, strict=True) if case.copy[pair[0]] != case.text[pair[1]]]
    return [name_change(case, SpanPair(one, one + 1, other, other + 1)) for one, other in pairs]


def _whole(missing: SpanPair, added: SpanPair) -> SpanPair:
    """The whole stretch in which the order is wrong."""
    if missing.copy_from <= added.copy_from:
        return SpanPair(missing.copy_from, added.copy_to, missing.text_from, added.text_from)
    return SpanPair(added.copy_from, missing.copy_from, added.text_from, missing.text_to)


def _displaced(case: Case, missing: SpanPair, added: SpanPair, whole: SpanPair | None, lines: int) -> Difference:
    """A line, or as much as a line, out of its place."""
    words = quoted(case.stands(added.copy_from, added.copy_to))
    before = case.should(max(0, missing.text_from - 1), missing.text_from)
    where = f"after {quoted(before)}" if before else "at the beginning"
    cause = "whole line" if lines else "as much as a line"
    sentence = f"{words} stands out of its place; it belongs {where}"
    if whole is not None:
        return case.fault("line displaced", whole, sentence, cause)
    out = SpanPair(added.copy_from, added.copy_to, missing.text_from, missing.text_to)
    return case.fault("line displaced", out, sentence, cause, empty=True)
