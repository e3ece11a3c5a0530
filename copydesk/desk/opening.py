"""What the desk shows while the book is read: the grid as it last stood, or nothing but that it is read."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual.containers import Horizontal
from textual.screen import Screen
from textual.widgets import Static

from copydesk.desk.base.keys import key_binding, key_named
from copydesk.desk.base.screen_foot import FootLine, SayLine
from copydesk.desk.widgets.page_panel import PanelSize, place_panel
from copydesk.desk.widgets.toned_lines import TonedLines

if TYPE_CHECKING:
    from textual.app import ComposeResult
    from textual.binding import BindingType

    from copydesk.desk.base.grid_snapshot import Picture


class PictureGrid(TonedLines):
    """The grid's lines as they were."""


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

    def __init__(self, picture: Picture) -> None:
        super().__init__()
        self._picture = picture

    def compose(self) -> ComposeResult:
        """The same pieces as the grid's screen."""
        picture = self._picture
        yield TonedLines(picture.title, id="heading")
        with Horizontal(id="book"):
            yield PictureGrid(picture.grid)
            yield TonedLines(picture.panel, id="panel")
        yield SayLine()
        yield FootLine([key_named(name) for name in picture.keys])

    def on_mount(self) -> None:
        """Put the panel in its place, and say what was said."""
        place_panel(self, PanelSize(self._picture.wide, self._picture.high))
        self.query_one(SayLine).say(self._picture.said)
