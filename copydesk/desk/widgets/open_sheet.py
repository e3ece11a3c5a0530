"""The open sheet: one side of it drawn in place, a page on either side of the fold."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from rich.segment import Segment
from textual.message import Message
from textual.strip import Strip
from textual.widget import Widget

from copydesk.book.structure.gathering import Lies
from copydesk.desk.widgets.sheet_drawing import SheetPicture, draw_side, lines_of_side

if TYPE_CHECKING:
    from textual import events
    from textual.geometry import Size

    from copydesk.book.structure.page import Page
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.sheet_view import SideAccount


_FOR_WORDS = ((50, 24), (34, 14), (0, 10))
"""Rows of the screen that are kept for what is not the picture, by the screen's height."""
_LEAST = 8


class OpenSheetView(Widget, can_focus=True):
    """Draws one side of a sheet; the page of the cursor bears a marked label."""

    COMPONENT_CLASSES: ClassVar[set[str]] = {
        "sheet--edge",
        "sheet--ink",
        "sheet--quiet",
        "sheet--rule",
        "sheet--space",
        "sheet--wrong",
        "sheet--label",
        "sheet--cursor",
    }
    """
    | Class | What it colours |
    | :- | :- |
    | `sheet--edge` | The sheet's edges and its fold |
    | `sheet--ink`, `sheet--quiet`, `sheet--rule` | Lines written, planned, only ruled |
    | `sheet--space`, `sheet--wrong` | Reserved spaces; flaws, faults and lines over |
    | `sheet--label`, `sheet--cursor` | What a page is called; the page of the cursor |
    """

    class Chosen(Message):
        """A half was clicked on."""

        def __init__(self, lies: Lies) -> None:
            self.lies = lies
            super().__init__()

    class Redrawn(Message):
        """The rows stand for another number of lines than before."""

    def __init__(self) -> None:
        super().__init__()
        self._shown: tuple[BookState, SideAccount, Page] | None = None
        self._drawn: SheetPicture | None = None

    def show(self, state: BookState, side: SideAccount, cursor: Page) -> None:
        """Show this side."""
        grown = self._shown is None or lines_of_side(*self._shown[:2]) != lines_of_side(state, side)
        self._shown = (state, side, cursor)
        if grown:
            self.refresh(layout=True)
        self._draw()

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:  # noqa: ARG002 - as Textual asks
        """As many rows as the lines need, as long as the words below keep their room."""
        words = next(rows for height, rows in _FOR_WORDS if viewport.height >= height)
        lines = lines_of_side(*self._shown[:2]) if self._shown is not None else 0
        return min(lines + 4, max(viewport.height - words, _LEAST))

    def on_resize(self) -> None:
        """Draw anew in the room there is."""
        self._draw()

    @property
    def lines_a_row(self) -> int:
        """How many ruled lines one row stands for."""
        return self._drawn.lines_a_row if self._drawn is not None else 1

    def _draw(self) -> None:
        if self._shown is not None and self.size.width and self.size.height:
            before = self.lines_a_row
            self._drawn = draw_side(*self._shown, self.size.width, self.size.height)
            if self.lines_a_row != before:
                self.post_message(self.Redrawn())
            self.refresh()

    def render_line(self, y: int) -> Strip:
        """One row."""
        rows = self._drawn.rows if self._drawn is not None else []
        if y >= len(rows):
            return Strip.blank(self.size.width, self.rich_style)
        segments = [
            Segment(
                piece.text, self.get_component_rich_style(f"sheet--{piece.tone}") if piece.tone else self.rich_style
            )
            for piece in rows[y]
        ]
        return Strip(segments).adjust_cell_length(self.size.width, self.rich_style)

    def on_click(self, event: events.Click) -> None:
        """Say which half was clicked on."""
        if self._drawn is not None and event.x != self._drawn.fold:
            self.post_message(self.Chosen(Lies.LEFT if event.x < self._drawn.fold else Lies.RIGHT))
