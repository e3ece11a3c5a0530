"""From the steps of an alignment to the faults of a page, each named once."""

from __future__ import annotations

from dataclasses import replace
from itertools import groupby
from typing import TYPE_CHECKING

from copydesk.book.common.phrases import count_of
from copydesk.comparing.additions import name_addition
from copydesk.comparing.faults import quoted
from copydesk.comparing.omissions import name_omission
from copydesk.comparing.page_case import SpanPair
from copydesk.comparing.substitutions import (
    by_letters,
    name_change,
    name_divided,
    name_joined,
    name_passage,
    name_turned,
    unlike,
)
from copydesk.comparing.transpositions import across, moved_pairs, name_exchange, name_moved, reordered, room, span_of
from copydesk.comparing.word_alignment import merged

if TYPE_CHECKING:
    from collections.abc import Sequence

    from copydesk.comparing.faults import Difference
    from copydesk.comparing.page_case import Case
    from copydesk.comparing.word_alignment import AlignedRun


HYPHENS = "-‐‑=⸗¬"
"""Marks that part a word at a line's end."""
FEW = 3
"""A word is compared letter by letter with its neighbours across no more words than this."""


def name_faults(case: Case, steps: Sequence[AlignedRun]) -> list[Difference]:
    """Every fault the steps hold, in the order of the page."""
    faults: list[Difference] = []
    done: set[int] = set()
    for loss, gain, missing, added in moved_pairs(case, steps):
        done.update((loss, gain))
        faults += name_moved(case, missing, added)
    for first, last in reordered(case, steps, done):
        done.update(range(first, last + 1))
        faults.append(name_turned(case, across(steps[first], steps[last])))
    left = [index for index, step in enumerate(steps) if step.what != "same" and index not in done]
    for gap in _gaps(left):
        faults += _name_gap(case, steps, gap)
    return sorted(faults, key=lambda fault: (fault.at, fault.word))


def already_written(case: Case, steps: Sequence[AlignedRun], begin: int) -> list[Difference]:
    """The fault of a page that begins by repeating the end of the page before, if it does."""
    before = [step for step in steps if step.what == "same" and step.text_from < begin]
    if not before:
        return []
    last = before[-1]
    end = min(last.copy_to, last.copy_from + begin - last.text_from)
    span = SpanPair(0, end, before[0].text_from, before[0].text_from)
    words = quoted(case.stands(0, end))
    sentence = f"{words} ends the page before and is written again, {count_of(end, 'word')} too many"
    return [case.fault("repetition", span, sentence, "page before taken up again")]


def _gaps(left: list[int]) -> list[list[int]]:
    """Indices of steps that follow one another without a word that agrees between them."""
    groups = groupby(enumerate(left), key=lambda pair: pair[1] - pair[0])
    return [[index for _, index in group] for _, group in groups]


def _name_gap(case: Case, steps: Sequence[AlignedRun], gap: list[int]) -> list[Difference]:
    """The faults of one stretch in which nothing agrees."""
    whole = across(steps[gap[0]], steps[gap[-1]])
    copied, right = whole.copy_to - whole.copy_from, whole.text_to - whole.text_from
    if 0 < copied <= FEW and 0 < right <= FEW:
        fault = by_letters(case, whole)
        if fault is not None:
            return [fault]
    if sum(steps[index].what == "changed" and _unlike(case, steps[index]) for index in gap) > FEW:
        return [name_passage(case, whole)]
    return [fault for index in gap for fault in _name_step(case, steps, index)]


def _unlike(case: Case, step: AlignedRun) -> bool:
    """Whether a word stands for one it has little in common with."""
    return unlike(case.text[step.text_from], case.copy[step.copy_from])


def _name_step(case: Case, steps: Sequence[AlignedRun], index: int) -> list[Difference]:
    """The faults of one step."""
    step = steps[index]
    span = span_of(step)
    if step.what == "missing":
        return [name_omission(case, span, room(steps, index))]
    if step.what == "added":
        return [name_addition(case, span, room(steps, index))]
    if step.what == "turned":
        return name_exchange(case, span)
    return [{"joined": name_joined, "divided": name_divided}.get(step.what, name_change)(case, span)]


def with_allowances(case: Case, steps: Sequence[AlignedRun], whole: bool) -> list[AlignedRun]:
    """The steps with what is allowed counted as the same.

    Allowed are words whose signs of abbreviation may be read alike, a word divided at a line's end, and, where
    the page is not typed whole, a last word not yet typed to its end.
    """
    out = [replace(step, what="same") if _allowed(case, step) else step for step in steps]
    if out and _half_typed(case, out[-1], whole):
        last = out[-1]
        out[-1] = replace(last, what="same", text_to=min(last.text_from + 1, len(case.text)))
    return merged(out)


def _allowed(case: Case, step: AlignedRun) -> bool:
    if step.what == "changed":
        (stands,), (should,) = case.stands(step.copy_from, step.copy_to), case.should(step.text_from, step.text_to)
        # What is a word of the exemplar's own as it stands is no abbreviation, whatever stands over its letters.
        return case.allow.key(stands) not in case.text and case.allow.same(stands, should)
    return step.what == "divided" and all(
        _divided_at_line_end(case, at) for at in range(step.copy_from, step.copy_to - 1)
    )


def _divided_at_line_end(case: Case, at: int) -> bool:
    """Whether the copied word breaks off here for the line's end: by its hyphen, or by standing last in its line."""
    index = case.copy_at[at]
    if len(case.copied[index]) > 1 and case.copied[index][-1] in HYPHENS:
        return True
    return case.allow.bare_divisions and case.place_of(index) != case.place_of(case.copy_at[at + 1])


def _half_typed(case: Case, step: AlignedRun, whole: bool) -> bool:
    """Whether the last copied word is the beginning of the word that is due."""
    if step.what not in ("changed", "added") or step.copy_to - step.copy_from != 1 or step.text_from >= len(case.text):
        return False
    word = case.stands(step.copy_from, step.copy_to)[-1]
    begun = case.text[step.text_from].startswith(case.copy[step.copy_from])
    return begun and (not whole or (len(word) > 1 and word[-1] in HYPHENS))
