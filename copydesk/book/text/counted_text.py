"""A text known by its counts alone, laid out for casting off: its pieces are hundredths of a letter."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.text.copy_text import LETTERS_A_WORD, CopyText, WithinWords
from copydesk.book.text.line_runs import LineRun

if TYPE_CHECKING:
    from collections.abc import Iterable

    from copydesk.book.flow import CountedDivision, Flow


_GRAIN = 100
"""Pieces to a letter in a counted text, so that a line of 34.5 letters is held exactly."""


def lay_counts(divisions: Iterable[CountedDivision], flow: Flow, exemplar_letters: float | None = None) -> CopyText:
    """Lay a text out that is known by its counts alone; a line holds its letters evenly.

    Args:
        divisions: titles with words, letters (word-spaces included) or exemplar lines.
        flow: how divisions begin.
        exemplar_letters: letters to a line of the exemplar, for divisions counted in its lines.
    """
    runs: list[LineRun] = []
    parts = [(0, 0)]
    begins: list[int] = []
    letters_in_all = 0
    for number, division in enumerate(divisions, start=1):
        words, letters = _count(division, exemplar_letters)
        starts = division.starts or flow.starts.get(number, flow.divisions)
        begins.append(parts[-1][0])
        if letters:
            if starts != "run on" or not runs:
                runs.append(LineRun(parts[-1][1], "line" if starts == "run on" else starts, number, "counted"))
            parts.append((parts[-1][0] + words, parts[-1][1] + letters * _GRAIN))
        letters_in_all += letters
    return CopyText(
        sums=range(parts[-1][1] + 1),
        space=0.0,
        hyphen=0.0,
        mean=1.0,
        grain=_GRAIN,
        runs=tuple(runs),
        divisions=tuple(begins),
        words=parts[-1][0],
        letters=letters_in_all,
        written=None,
        first_piece=None,
        parts=parts,
        inner=WithinWords(),
        cuts={},
        flow=flow,
    )


def _count(division: CountedDivision, exemplar_letters: float | None) -> tuple[int, int]:
    """Words and letters of a counted division."""
    if division.letters is not None:
        letters = division.letters
    elif division.words is not None:
        letters = round(division.words * LETTERS_A_WORD)
    else:
        letters = round((division.lines or 0) * (exemplar_letters or 0.0))
    words = division.words if division.words is not None else max(round(letters / LETTERS_A_WORD), min(letters, 1))
    return words, letters
