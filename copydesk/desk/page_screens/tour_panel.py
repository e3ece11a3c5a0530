"""A step of a walk round the desk, above the grid."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.content import Content
from textual.widgets import Static

from copydesk.desk.base.keymap import Keymap, shown
from copydesk.desk.base.keys import KEYS, key_named
from copydesk.help.topics import tour_steps

if TYPE_CHECKING:
    from copydesk.desk.base.keys import KeyBinding


class TourPanel(Static):
    """Shows one step at a time, with a person's own keys; the desk below it goes on working."""

    def __init__(self, keys: Keymap, topic: str = "tour") -> None:
        super().__init__(markup=False)
        self._keys = keys
        self._steps = tour_steps(topic)
        self.step = 0

    def on_mount(self) -> None:
        """Begin with the first step."""
        self._show()

    def go_on(self) -> None:
        """The next step; after the last, be gone."""
        self.step += 1
        if self.step < len(self._steps):
            self._show()
        else:
            self.remove()

    def _show(self) -> None:
        step = self._steps[self.step]
        head = Content.styled(f"{self.step + 1} of {len(self._steps)}   {step.head}. ", "bold $primary")
        parts = (
            Content.styled(own_key(part, self._keys), "bold") if at % 2 else Content(part)
            for at, part in enumerate(step.says.split("**"))
        )
        last = self.step + 1 == len(self._steps)
        on, leave = (shown(self._keys.key_of(key_named(name))) for name in ("grid.tour", "all.back"))
        how = f"   {on} {'ends it' if last else 'goes on'}, {leave} leaves"
        self.update(Content.assemble(head, *parts, Content.styled(how, "$secondary")))


def own_key(house: str, keys: Keymap) -> str:
    """The key a person gave the act that has the key ``house`` of the house's own; of several acts, the gatherings'."""
    acts = sorted(KEYS, key=_near_the_grid)
    act = next((key for key in acts if house in Keymap().way_to(key).split(", ")), None)
    return keys.way_to(act).split(", ")[0] if act is not None and keys.changed else house


def _near_the_grid(key: KeyBinding) -> int:
    scope = key.id.partition(".")[0]
    return ("grid", "all").index(scope) if scope in ("grid", "all") else 2
