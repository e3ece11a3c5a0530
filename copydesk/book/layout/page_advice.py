"""Where a page strays from what the handbooks advise: sentences for the planner, who may have good reasons.

Advice never forbids. Each sentence names the figure, the advice and whose it is.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.phrases import grouped
from copydesk.book.common.units import Unit, show_length

if TYPE_CHECKING:
    from copydesk.book.layout.page_layout import PageLayout
    from copydesk.book.plan import Script


LETTERS_A_LINE = (25, 50)
"""Letters and word-spaces a line in an ordinary book (E. Johnston 1906, ch. VI, "The size of the writing")."""

USUAL_UNIT_MM = (3.8, 8.0)
"""Ruling unit of four books in five: 684 records of the Bodleian Libraries' catalogue of medieval manuscripts."""


def page_advice(layout: PageLayout, script: Script, letters_a_line: float | None, unit: Unit = "mm") -> tuple[str, ...]:
    """Where this page strays from the handbooks, most telling first; lengths are shown in ``unit``."""
    said = (
        letters_advice(letters_a_line),
        *margin_advice(layout),
        script_advice(layout, script, unit),
        unit_advice(layout, unit),
    )
    return tuple(sentence for sentence in said if sentence is not None)


def letters_advice(letters_a_line: float | None) -> str | None:
    """Whether a line holds too few or too many letters to be read with ease."""
    low, high = LETTERS_A_LINE
    if letters_a_line is None or low <= letters_a_line <= high:
        return None
    too = "few" if letters_a_line < low else "many"
    shown = grouped(round(letters_a_line, 1))
    return f"{shown} letters a line are {too}: Johnston (1906, ch. VI) advises {low} to {high}."


def margin_advice(layout: PageLayout) -> tuple[str, ...]:
    """Whether the margins are narrow for the page, or grow another way than from inner to head to outer to foot."""
    margins = layout.margins
    share = 1 - layout.written_width * layout.written_height / (layout.width * layout.height)
    said = []
    if share < 0.495:
        said.append(f"Margins take {share:.0%} of the page: Johnston (1906, p. 256) finds half or more common.")
    if not margins.inner <= margins.outer or not margins.head <= margins.foot:
        said.append(
            "The inner margin is usually the narrower of the sides and the head narrower than the foot: "
            "Johnston (1906, p. 256) gives inner, head, outer, foot as 1½ : 2 : 3 : 4."
        )
    return tuple(said)


def script_advice(layout: PageLayout, script: Script, unit: Unit = "mm") -> str | None:
    """Whether descenders of one line would meet ascenders of the next."""
    if script.nib is None:
        return None
    letters = script.nib * sum(script.heights)
    if layout.line_height >= letters - 0.005:
        return None
    return (
        f"Lines {show_length(layout.line_height, unit)} apart are less than the script's {show_length(letters, unit)} "
        "from ascender to descender: the two may meet, which common practice avoids."
    )


def unit_advice(layout: PageLayout, unit: Unit = "mm") -> str | None:
    """Whether the lines stand closer or wider than in four medieval books of five."""
    low, high = USUAL_UNIT_MM
    if low <= layout.line_height <= high:
        return None
    how = "closer" if layout.line_height < low else "wider"
    return (
        f"Lines {show_length(layout.line_height, unit)} apart are {how} than in most medieval books: "
        f"four in five of the Bodleian's have {show_length(low, unit)} to {show_length(high, unit)}."
    )
