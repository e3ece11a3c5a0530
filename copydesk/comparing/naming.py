"""From the steps of an alignment to the faults of a page, each named once."""

from __future__ import annotations

from dataclasses import replace
from itertools import groupby
from typing import TYPE_CHECKING

from copydesk.comparing.case import Span
from copydesk.comparing.changes import (
    by_letters,
    name_change,
    name_divided,
    name_joined,
    name_passage,
    name_turned,
)
from copydesk.comparing.gains import name_gain
from copydesk.comparing.losses import name_loss
from copydesk.comparing.moved import across, moved_pairs, name_moved, reordered, room, span_of
from copydesk.comparing.settle import merged

if TYPE_CHECKING:
    from collections.abc import Sequence

    from copydesk.comparing.case import Case
    from copydesk.comparing.faults import Fault
    from copydesk.comparing.settle import Step

HYPHENS = "-‐‑=⸗¬"
"""Marks that part a word at a line's end."""
FEW = 3
"""A word is compared letter by letter with its neighbours across no more words than this."""


def name_faults(case: Case, steps: Sequence[Step]) -> list[Fault]:
    """Every fault the steps hold, in the order of the page."""
    faults: list[Fault] = []
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


def _gaps(left: list[int]) -> list[list[int]]:
    """Indices of steps that follow one another without a word that agrees between them."""
    groups = groupby(enumerate(left), key=lambda pair: pair[1] - pair[0])
    return [[index for _, index in group] for _, group in groups]


def _name_gap(case: Case, steps: Sequence[Step], gap: list[int]) -> list[Fault]:
    """The faults of one stretch in which nothing agrees."""
    whole = across(steps[gap[0]], steps[gap[-1]])
    copied, right = whole.copy_to - whole.copy_from, whole.text_to - whole.text_from
    if 0 < copied <= FEW and 0 < right <= FEW:
        fault = by_letters(case, whole)
        if fault is not None:
            return [fault]
    faults: list[Fault] = []
    waiting = list(gap)
    while waiting:
        index = waiting.pop(0)
        pair = {steps[index].what, steps[waiting[0]].what} if waiting else set()
        if pair == {"missing", "added"}:
            faults += _replaced(case, across(steps[index], steps[waiting.pop(0)]))
        else:
            faults.append(_name_step(case, steps, index))
    return faults


def _replaced(case: Case, span: Span) -> list[Fault]:
    """Words put for others: one for one where their numbers are small and equal, else the whole passage."""
    length = span.copy_to - span.copy_from
    if length == span.text_to - span.text_from and length <= FEW:
        pairs = zip(range(span.copy_from, span.copy_to), range(span.text_from, span.text_to), strict=True)
        return [name_change(case, Span(one, one + 1, other, other + 1)) for one, other in pairs]
    return [name_passage(case, span)]


def _name_step(case: Case, steps: Sequence[Step], index: int) -> Fault:
    """The fault of one step."""
    step = steps[index]
    span = span_of(step)
    if step.what == "missing":
        return name_loss(case, span, room(steps, index))
    if step.what == "added":
        return name_gain(case, span, room(steps, index))
    named = {"turned": name_turned, "joined": name_joined, "divided": name_divided}
    return named.get(step.what, name_change)(case, span)


def pardoned(case: Case, steps: Sequence[Step], whole: bool) -> list[Step]:
    """The steps with what is allowed counted as the same.

    Allowed are words whose signs of abbreviation may be read alike, a word divided at a line's end, and, where
    the page is not typed whole, a last word not yet typed to its end.
    """
    out = [replace(step, what="same") if _allowed(case, step) else step for step in steps]
    if out and _half_typed(case, out[-1], whole):
        last = out[-1]
        out[-1] = replace(last, what="same", text_to=min(last.text_from + 1, len(case.text)))
    return merged(out)


def _allowed(case: Case, step: Step) -> bool:
    if step.what == "changed":
        return case.allow.same(*case.stands(step.copy_from, step.copy_to), *case.should(step.text_from, step.text_to))
    return step.what == "divided" and all(
        _divided_at_line_end(case, at) for at in range(step.copy_from, step.copy_to - 1)
    )


def _divided_at_line_end(case: Case, at: int) -> bool:
    """Whether the copied word breaks off here for the line's end: by its hyphen, or by standing last in its line."""
    index = case.copy_at[at]
    if len(case.copied[index]) > 1 and case.copied[index][-1] in HYPHENS:
        return True
    return case.allow.bare_divisions and case.place_of(index) != case.place_of(case.copy_at[at + 1])


def _half_typed(case: Case, step: Step, whole: bool) -> bool:
    """Whether the last copied word is the beginning of the word that is due."""
    if step.what not in ("changed", "added") or step.copy_to - step.copy_from != 1 or step.text_from >= len(case.text):
        return False
    word = case.stands(step.copy_from, step.copy_to)[-1]
    begun = case.text[step.text_from].startswith(case.copy[step.copy_from])
    return begun and (not whole or (len(word) > 1 and word[-1] in HYPHENS))
