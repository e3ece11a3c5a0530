"""Lines of pieces, each in its tone: what the gatherings, their title and their panel are drawn with."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from rich.segment import Segment
from rich.style import Style
from textual.strip import Strip
from textual.widget import Widget

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence


Piece = tuple[str, str]
"""A text and its tone; ``tone@ground`` where it stands on another ground than the widget's own."""

TONES = ("now", "work", "ink", "soft", "quiet", "wrong", "mend", "waits", "here", "head")
"""What colours a text: each a class of the style sheet."""

GROUNDS = ("hair", "flesh", "beside", "cursor")
"""What colours the ground under it."""

_PARTS = {f"grid--{tone}" for tone in TONES} | {f"grid--on-{ground}" for ground in GROUNDS}


def on(ground: str, pieces: Iterable[Piece]) -> Iterator[Piece]:
    """Pieces on a ground; an empty one is the widget's own."""
    for text, tone in pieces:
        yield text, f"{tone}@{ground}" if ground else tone


def joined(pieces: Iterable[Piece]) -> Iterator[Piece]:
    """Neighbours of one tone put together, and blanks with what is on the same ground: fewer pieces draw quicker."""
    text, tone = "", ""
    for more, its_tone in pieces:
        if not more:
            continue
        blank = more.isspace() and its_tone.partition("@")[2] == tone.partition("@")[2] and tone[:3] != "now"
        if text and (its_tone == tone or blank):
            text += more
            continue
        if text:
            yield text, tone
        text, tone = more, its_tone
    if text:
        yield text, tone


def plain(pieces: Iterable[Piece]) -> str:
    """The text of pieces alone."""
    return "".join(text for text, _ in pieces)


class TonedLines(Widget):
    """Shows lines of pieces; what passes its width is cut."""

    COMPONENT_CLASSES: ClassVar[set[str]] = _PARTS
    """
    | Class | What it colours |
    | :- | :- |
    | `grid--now`, `grid--work`, `grid--mend`, `grid--waits`, `grid--soft` | What comes next, by whom |
    | `grid--ink`, `grid--quiet`, `grid--wrong`, `grid--head` | Facts: in work, done, amiss; headings |
    | `grid--here` | Where one is, and what joins the leaves of a sheet |
    | `grid--on-hair`, `grid--on-flesh`, `grid--on-beside`, `grid--on-cursor` | The grounds |
    """

    def __init__(self, lines: Sequence[Sequence[Piece]] = (), *, id: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id)
        self.lines: Sequence[Sequence[Piece]] = lines
        self._styles: dict[str, Style] = {}

    def show_lines_of(self, lines: Sequence[Sequence[Piece]]) -> None:
        """Show these lines, if they are others than before."""
        if lines != self.lines:
            self.lines = lines
            self.refresh()

    def notify_style_update(self) -> None:
        """Forget the colours of another look."""
        self._styles.clear()
        super().notify_style_update()

    def style_of(self, tone: str) -> Style:
        """How a tone is drawn."""
        if tone not in self._styles:
            self._styles[tone] = self._style_of(tone)
        return self._styles[tone]

    def _style_of(self, tone: str) -> Style:
        name, _, ground = tone.partition("@")
        style = self.rich_style
        if ground in GROUNDS:
            under = self.get_component_rich_style(f"grid--on-{ground}", partial=True)
            style += Style(bgcolor=under.bgcolor, reverse=under.reverse)
        if name in TONES:
            style += self.get_component_rich_style(f"grid--{name}", partial=True)
        return style

    def strip(self, pieces: Iterable[Piece]) -> Strip:
        """One line of the screen."""
        strip = Strip([Segment(text, self.style_of(tone)) for text, tone in joined(pieces)])
        return strip.adjust_cell_length(self.size.width, self.rich_style)

    def render_line(self, y: int) -> Strip:
        """One line of the screen."""
        return self.strip(self.lines[y]) if y < len(self.lines) else Strip.blank(self.size.width, self.rich_style)
