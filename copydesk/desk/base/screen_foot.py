"""The foot of the screen: the acts that make sense now, most likely first; each can be clicked."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from rich.segment import Segment
from textual.content import Content
from textual.strip import Strip
from textual.widget import Widget
from textual.widgets import Static

from copydesk.desk.base.keys import shown

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from textual import events

    from copydesk.desk.base.keys import KeyBinding


class FootLine(Widget):
    """One line of keys with what they do; at its right end a short note, where there is one."""

    COMPONENT_CLASSES: ClassVar[set[str]] = {"foot--key", "foot--says"}

    def __init__(self, keys: Sequence[KeyBinding] = ()) -> None:
        super().__init__()
        self._keys: tuple[KeyBinding, ...] = tuple(keys)
        self._noted = ""

    def show_keys(self, keys: Iterable[KeyBinding]) -> None:
        """Show these keys."""
        new = tuple(keys)
        if new != self._keys:
            self._keys = new
            self.refresh()

    def show_note(self, note: str) -> None:
        """Show a short note at the right, or none."""
        if note != self._noted:
            self._noted = note
            self.refresh()

    def _fitting(self) -> list[tuple[int, int, KeyBinding]]:
        """The keys that fit on the line, each with where it begins and ends."""
        left, found = 1, []
        for key in self._keys:
            width = len(self._label(key)) + 1 + len(key.says)
            if left + width > self.size.width - (len(self._noted) + 2 if self._noted else 0):
                break
            found.append((left, left + width, key))
            left += width + 2
        return found

    def _label(self, key: KeyBinding) -> str:
        return shown(self.app.own_keys.key_of(key))  # type: ignore[attr-defined]

    def render_line(self, y: int) -> Strip:
        """Draw the keys."""
        if y:
            return Strip.blank(self.size.width, self.rich_style)
        strong, plain_style = self.get_component_rich_style("foot--key"), self.get_component_rich_style("foot--says")
        segments = [Segment(" ", plain_style)]
        for _, _, key in self._fitting():
            segments += [Segment(self._label(key), strong), Segment(f" {key.says}  ", plain_style)]
        strip = Strip(segments)
        if not self._noted:
            return strip.adjust_cell_length(self.size.width, self.rich_style)
        noted = f"{self._noted} "
        left = strip.adjust_cell_length(max(self.size.width - len(noted), 0), self.rich_style)
        return Strip([*left, Segment(noted, strong)]).adjust_cell_length(self.size.width, self.rich_style)

    async def on_click(self, event: events.Click) -> None:
        """Do what was clicked on."""
        for left, right, key in self._fitting():
            if left <= event.x < right:
                await self.screen.run_action(key.action)


class SayLine(Static):
    """Where the desk says what it did, or why not."""

    def __init__(self) -> None:
        super().__init__(markup=False)
        self.said = ""

    def say(self, text: str, *, wrong: bool = False) -> None:
        """Say something; nothing in it is read as markup."""
        self.said = text
        self.set_class(wrong, "-wrong")
        self.update(Content(text))
