"""A widget that shows a plot in the colours of the look."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from rich.segment import Segment
from textual.strip import Strip
from textual.widget import Widget

from copydesk.desk.widgets.braille_plot import TONES

if TYPE_CHECKING:
    from collections.abc import Callable

    from copydesk.desk.widgets.canvas import TonedText


class PlotView(Widget):
    """Shows what ``draw`` gives for a width and a height in cells; it is drawn anew where the size changes."""

    COMPONENT_CLASSES: ClassVar[set[str]] = {f"plot--{tone}" for tone in TONES}

    def __init__(self) -> None:
        super().__init__()
        self._draw: Callable[[int, int], list[list[TonedText]]] | None = None
        self._rows: list[list[TonedText]] = []
        self._drawn_for: tuple[int, int] | None = None

    def show(self, draw: Callable[[int, int], list[list[TonedText]]]) -> None:
        """Show another plot."""
        self._draw, self._drawn_for = draw, None
        self.refresh()

    def render_line(self, y: int) -> Strip:
        """One row of the plot."""
        size = (self.size.width, self.size.height)
        if self._draw is not None and self._drawn_for != size:
            self._rows, self._drawn_for = self._draw(*size), size
        row = self._rows[y] if y < len(self._rows) else []
        pieces = [
            Segment(text, self.get_component_rich_style(f"plot--{tone}") if tone else self.rich_style)
            for text, tone in row
        ]
        return Strip(pieces).adjust_cell_length(self.size.width, self.rich_style)
