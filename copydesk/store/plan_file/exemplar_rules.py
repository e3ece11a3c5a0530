"""What an exemplar's own marks ask for, held against the plan: indents, and places that lines and pages follow."""

from __future__ import annotations

from itertools import islice
from typing import TYPE_CHECKING

from copydesk.book.common.errors import Problem
from copydesk.book.flow import Flow
from copydesk.book.text.exemplar import places_that_go_back, verses_too_far_in

if TYPE_CHECKING:
    from collections.abc import Iterator

    from copydesk.book.text.exemplar import Exemplar
    from copydesk.store.plan_file.reading import Reading


_MOST = 20
"""Mistakes of one kind that are listed; a text noted backwards has one at every line."""


def exemplar_problems(
    reading: Reading, exemplar: Exemplar, text: str, name: str, *, by_line: bool = True
) -> Iterator[Problem]:
    """Verses indented by more than a line holds, and, where lines or pages are followed, places that go back.

    Args:
        reading: the plan.
        exemplar: the text as read.
        text: the plain form it was read from.
        name: what a person knows its file by.
        by_line: whether the lines of the file are those of ``text``; a TEI file's are not.
    """
    flow = reading.value(Flow, "flow") or Flow()
    letters = _narrowest(reading)
    if letters is not None and any(block.indent or block.hang for block in exemplar.blocks):
        for line, indent in islice(verses_too_far_in(text, letters), _MOST):
            what = (
                f"this verse is indented by {indent} letters, and a line of the book holds {letters:g}; indent it less"
            )
            yield Problem(name, line if by_line else 0, 1 if by_line else 0, what)
    if flow.copied == "freely":
        return
    if not exemplar.places or (flow.by_line and not any(place.line for place in exemplar.places)):
        kind = "lines" if flow.by_line else "leaves"
        reading.reject(
            ("flow", "copied"),
            f"has nothing to go by: the text notes no {kind} of the exemplar; note them, as in {{12r 5}}",
        )
    for line, column, before, place in islice(places_that_go_back(text), _MOST):
        what = f"{place} comes after {before} in the exemplar, so its places go back; correct the one that is wrong"
        yield Problem(name, line if by_line else 0, column if by_line else 0, what)


def _narrowest(reading: Reading) -> float | None:
    """The fewest letters to a line that a hand is said to write; None where none is."""
    said = (reading.value(float, "hands", hand, "letters_per_line") for hand in reading.value(dict, "hands") or ())
    return min((letters for letters in said if letters), default=None)
