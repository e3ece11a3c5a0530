"""What the desk shows while the book is read: the grid as it last stood, or nothing but that it is read."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from rich.segment import Segment
from textual.containers import Horizontal, VerticalScroll
from textual.screen import Screen
from textual.strip import Strip
from textual.widget import Widget
from textual.widgets import Static

from copydesk.desk.base.keys import key_binding, key_named
from copydesk.desk.base.screen_foot import FootLine, SayLine
from copydesk.desk.widgets.gathering_heading import TONES
from copydesk.desk.widgets.lines_panel import LinesPanel
from copydesk.desk.wording.lines import PanelLine

if TYPE_CHECKING:
    from textual.app import ComposeResult
    from textual.binding import BindingType

    from copydesk.desk.base.grid_snapshot import Picture


class PictureGrid(Widget):
    """The grid's lines as they were."""

    COMPONENT_CLASSES: ClassVar[set[str]] = {f"grid--{tone}" for tone in TONES}

    def __init__(self, picture: Picture) -> None:
        super().__init__()
        self._picture = picture

    def render_line(self, y: int) -> Strip:
        """One line."""
        row = self._picture.grid[y] if y < len(self._picture.grid) else []
        pieces = [Segment(text, self.get_component_rich_style(f"grid--{tone}")) for text, tone in row if tone in TONES]
        return Strip(pieces).adjust_cell_length(self.size.width, self.rich_style)


class LeavingScreen(Screen[None]):
    """A screen from which one can only leave; going back leaves too, since nothing lies behind it."""

    BINDINGS: ClassVar[list[BindingType]] = [key_binding(name) for name in ("all.back", "all.quit")]

    async def action_back(self) -> None:
        """Leave the desk."""
        await self.app.action_quit()


READING = "Reading the book."


class ReadingScreen(LeavingScreen):
    """Stands, with little on it, until a book is read that has no picture."""

    def compose(self) -> ComposeResult:
        """Room for the grid, a word, and how to leave."""
        yield Static(id="book")
        yield SayLine()
        yield FootLine([key_named("all.quit")])

    def on_mount(self) -> None:
        """Say what is done."""
        self.query_one(SayLine).say(READING)


class OpeningScreen(LeavingScreen):
    """Stands as a picture of the grid until the book is read."""

    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (118, "-wide")]  # noqa: RUF012 - as Textual declares it

    def __init__(self, picture: Picture) -> None:
        super().__init__()
        self._picture = picture

    def compose(self) -> ComposeResult:
        """The same pieces as the grid's screen; only the words above the foot are left out."""
        with Horizontal(id="book"):
            yield PictureGrid(self._picture)
            with VerticalScroll(id="panel", can_focus=False):
                yield LinesPanel()
        yield SayLine()
        yield FootLine([key_named(name) for name in self._picture.keys])

    def on_mount(self) -> None:
        """Fill the panel."""
        lines = [PanelLine(str(head), str(says), bool(wrong)) for head, says, wrong in self._picture.panel]
        self.query_one(LinesPanel).show_lines(lines)
        self.query_one(SayLine).say(self._picture.said)
