"""Text whose lines go on set in where they are too long, so that each row of a list is seen to begin."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.content import Content
from textual.visual import Visual

if TYPE_CHECKING:
    from textual.css.styles import RulesMap
    from textual.strip import Strip
    from textual.style import Style
    from textual.visual import RenderOptions

_STEP = 2
"""Cells that a line is set in by where it goes on, from where it began."""


def hang_of(line: str, width: int) -> int:
    """The cell where a line goes on: under its last column, if that leaves a quarter of the width; else set in.

    Columns are two blanks or more apart.
    """
    last = line.rstrip().rfind("  ") + 2
    begins = len(line) - len(line.lstrip())
    return last if begins < last <= width * 3 // 4 else begins + _STEP


class HangingText(Visual):
    """A text of one or more lines, each wrapped by itself."""

    def __init__(self, text: Content) -> None:
        self._text = text
        self._wrapped = (0, text)

    def __str__(self) -> str:
        return self._text.plain

    def _at(self, width: int) -> Content:
        """The text as it is wrapped for a width."""
        if self._wrapped[0] != width:
            rows = [row for line in self._text.split(allow_blank=True) for row in _hung(line, width)]
            self._wrapped = (width, Content("\n").join(rows))
        return self._wrapped[1]

    def get_optimal_width(self, rules: RulesMap, container_width: int) -> int:
        """As wide as the longest line."""
        return self._text.get_optimal_width(rules, container_width)

    def get_height(self, rules: RulesMap, width: int) -> int:
        """Rows of the text at a width."""
        return self._shown(rules, width).get_height(rules, width)

    def render_strips(self, width: int, height: int | None, style: Style, options: RenderOptions) -> list[Strip]:
        """The rows as they are drawn."""
        return self._shown(options.rules, width).render_strips(width, height, style, options)

    def _shown(self, rules: RulesMap, width: int) -> Content:
        """Wrapped, unless the style asks for a single row."""
        return self._text if rules.get("text_wrap") == "nowrap" else self._at(width)


def _hung(line: Content, width: int) -> list[Content]:
    if line.cell_length <= width:
        return [line]
    hang = hang_of(line.plain, width)
    first = line.wrap(width)[0]
    rest = line[len(first.plain) :]
    blanks = len(rest.plain) - len(rest.plain.lstrip())
    return [first, *(Content(" " * hang) + row for row in rest[blanks:].wrap(max(width - hang, 1)))]
