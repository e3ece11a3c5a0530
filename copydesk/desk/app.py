"""The desk as a Textual app. It only wires: screens, looks, keys, and the watch for other desks."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING, ClassVar

from textual.app import App

from copydesk.book.refusal import Refused
from copydesk.desk.book_screen import BookScreen
from copydesk.desk.grid import GridScreen
from copydesk.desk.keymap import Keymap
from copydesk.desk.looks import DARK, LIGHT, themes

if TYPE_CHECKING:
    from collections.abc import Awaitable, Callable, Iterable

    from textual.app import SystemCommand
    from textual.screen import Screen

    from copydesk.job import Job

LOOK_EVERY_SECONDS = 0.25
"""How often the folder is looked at for what other desks recorded: a quarter second costs a look at two files."""


class Desk(App[None]):
    """The copying desk on one book."""

    TITLE = "copydesk"
    CSS_PATH = "grid.tcss"  # the first screen's: Textual reads a screen's own sheet only when it is pushed
    ENABLE_COMMAND_PALETTE = True
    COMMAND_PALETTE_BINDING = "ctrl+p"
    BINDINGS: ClassVar = []

    def __init__(self, job: Job, keys: Keymap | None = None) -> None:
        plain = bool(os.environ.get("NO_COLOR"))
        super().__init__(ansi_color=True if plain else None)
        self.job = job
        self.own_keys = keys or Keymap()
        self._plain = plain
        for theme in themes():
            self.register_theme(theme)
        # Set before the first style sheet is read, so that it is read once.
        self.set_reactive(App.theme, "ansi-dark" if plain else DARK)
        self.stylesheet.set_variables(self.get_css_variables())

    def get_default_screen(self) -> Screen[None]:
        """The desk opens on the gatherings."""
        return GridScreen()

    def on_mount(self) -> None:
        """Take a person's own keys, begin to watch."""
        if self.own_keys.changed:
            self.set_keymap(self.own_keys.changed)
        self.set_interval(LOOK_EVERY_SECONDS, self.look_round)

    def look_round(self) -> None:
        """Take in what other desks recorded, and a changed plan."""
        screen = self.screen
        try:
            changed = self.job.refresh()
        except Refused as refused:
            if isinstance(screen, BookScreen):
                screen.say(str(refused.problems[0]), wrong=True)
            return
        if not changed:
            return
        for each in self.screen_stack:
            if isinstance(each, BookScreen):
                each.renew()
        if self.job.plan_problems and isinstance(screen, BookScreen):
            screen.say(f"The changed plan was not taken: {self.job.plan_problems[0]}", wrong=True)

    def turn_light(self) -> None:
        """Change between the dark and the light look."""
        if not self._plain:
            self.theme = LIGHT if self.theme == DARK else DARK

    def get_system_commands(self, screen: Screen[object]) -> Iterable[SystemCommand]:
        """Every act of the screen in front, by its name, for the palette."""
        from textual.app import SystemCommand

        from copydesk.desk.keys import KEYS

        scope = getattr(screen, "SCOPE", "")
        for key in KEYS:
            if key.id.split(".")[0] in (scope, "all") and not key.action.startswith("move"):
                yield SystemCommand(key.says, key.more, _runner(screen, key.action))


def _runner(screen: Screen[object], action: str) -> Callable[[], Awaitable[None]]:
    async def run() -> None:
        await screen.run_action(action)

    return run
