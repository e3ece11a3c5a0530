"""The foot of the screen: the acts that make sense now, most likely first; each can be clicked."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from rich.cells import cell_len
from rich.segment import Segment
from textual.content import Content
from textual.strip import Strip
from textual.widget import Widget
from textual.widgets import Static

from copydesk.desk.base.keymap import shown

if TYPE_CHECKING:
    from collections.abc import Iterable

    from textual import events

    from copydesk.desk.base.keys import KeyBinding


MOST_ACTS = 8
"""Acts shown at once; help and the way out stand at the right besides."""

_PINNED = ("help", "quit", "back")
"""Names of the keys that stand at the right of every foot, in this order."""


class FootLine(Widget):
    """One line of keys with what they do; help and the way out pinned right, before them a short note if there is one.

    The acts that do not fit are left out, then the note; help and the way out stay at any width.
    """

    COMPONENT_CLASSES: ClassVar[set[str]] = {"foot--key", "foot--says"}

    def __init__(self, keys: Iterable[KeyBinding] = ()) -> None:
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

    @property
    def acts(self) -> list[KeyBinding]:
        """The acts offered, most likely first: those that have a key, and no more than are read at a glance."""
        keys = (key for key in self._keys if _name(key) not in _PINNED)
        return [key for key in keys if self._label(key)][:MOST_ACTS]

    @property
    def pinned(self) -> list[KeyBinding]:
        """Help and the way out."""
        found = [key for key in self._keys if _name(key) in _PINNED and self._label(key)]
        return sorted(found, key=lambda key: _PINNED.index(_name(key)))

    def _fitting(self) -> list[tuple[int, int, KeyBinding]]:
        """The keys that fit on the line, each with where it begins and ends."""
        pinned = self.pinned
        at = max(self.size.width - sum(self._width(key) + 2 for key in pinned), 1)
        room = at - (len(self._noted) + 2 if self._noted else 0)
        left, found = 1, []
        for key in self.acts:
            if left + self._width(key) + 1 > room:
                break
            found.append((left, left + self._width(key), key))
            left += self._width(key) + 2
        for key in pinned:
            found.append((at, at + self._width(key), key))
            at += self._width(key) + 2
        return found

    def _width(self, key: KeyBinding) -> int:
        return cell_len(f"{self._label(key)} {key.says}")

    def _label(self, key: KeyBinding) -> str:
        own = getattr(self.app, "own_keys", None)
        return shown(key.key if own is None else own.key_of(key))

    def render_line(self, y: int) -> Strip:
        """Draw the keys."""
        if y:
            return Strip.blank(self.size.width, self.rich_style)
        pinned = self.pinned
        found = self._fitting()
        acts, ways_out = found[: len(found) - len(pinned)], found[len(found) - len(pinned) :]
        noted = f"{self._noted}  " if self._noted else ""
        begin = ways_out[0][0] if ways_out else self.size.width
        gap = Segment(" ", self.rich_style)
        left = Strip([gap, *self._drawn(acts)]).adjust_cell_length(max(begin - cell_len(noted), 0), self.rich_style)
        strong = self.get_component_rich_style("foot--key")
        right = Strip([Segment(noted, strong), *self._drawn(ways_out)])
        return Strip([*left, *right]).adjust_cell_length(self.size.width, self.rich_style)

    def _drawn(self, keys: Iterable[tuple[int, int, KeyBinding]]) -> list[Segment]:
        strong, plain_style = self.get_component_rich_style("foot--key"), self.get_component_rich_style("foot--says")
        return [
            piece
            for _, _, key in keys
            for piece in (Segment(self._label(key), strong), Segment(f" {key.says}  ", plain_style))
        ]

    async def on_click(self, event: events.Click) -> None:
        """Do what was clicked on."""
        for left, right, key in self._fitting():
            if left <= event.x < right:
                await self.screen.run_action(key.action)


def _name(key: KeyBinding) -> str:
    return key.id.partition(".")[2]


class SayLine(Static):
    """Where the desk says what it did, or why not."""

    def __init__(self, id: str | None = None) -> None:  # noqa: A002 - as Textual calls it
        super().__init__(markup=False, id=id)
        self.said = ""

    def say(self, text: str, *, wrong: bool = False) -> None:
        """Say something; nothing in it is read as markup."""
        self.said = text
        self.set_class(wrong, "-wrong")
        self.update(Content(text))
