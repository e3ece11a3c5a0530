"""What every app of ours shares: input in its turn, screens by name, and what happens where copydesk makes a mistake.

A mistake in an act, a handler, a timer, a callback or in drawing is told in a sentence and logged, and the app stays
open. Before its first screen stands a mistake ends it: whoever ran it gets the error, and no traceback is drawn.
"""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, Protocol, TypeVar, cast

from rich.cells import cell_len
from rich.segment import Segment
from textual.app import App
from textual.await_complete import AwaitComplete
from textual.filter import LineFilter
from textual.worker import WorkerFailed

from copydesk.book.common.errors import CopydeskError
from copydesk.desk.base.input_queue import HELD, InputQueue
from copydesk.desk.base.mistake_guard import MistakesSeen, guard
from copydesk.desk.base.screen_foot import SayLine
from copydesk.desk.base.screen_table import screen_class
from copydesk.desk.base.themes import themes
from copydesk.store.files.mistake_log import log_mistake

if TYPE_CHECKING:
    from collections.abc import Mapping

    from textual import events
    from textual.actions import ActionParseResult
    from textual.color import Color
    from textual.dom import DOMNode
    from textual.drivers.web_driver import WebDriver
    from textual.message import Message
    from textual.widget import Widget

    from copydesk.desk.base.keymap import Keymap
    from copydesk.job import Job


_LOOK_FOR_TERMINAL_SECONDS = 2.0
"""How often an app looks whether its terminal is still there. Where it went and no signal of the system said so, the
toolkit reads the end of its input over and over, at full load."""

Given = TypeVar("Given")
"""What an app gives when it is left."""


class OwnApp(App[Given]):
    """An app that is run with ``stay``."""

    _input: InputQueue | None = None
    _stands = False

    def __init__(self, *, ansi_color: bool | None = None) -> None:
        super().__init__(ansi_color=ansi_color)
        self._mistakes_seen = MistakesSeen()

    def on_mount(self) -> None:
        """From the first drawn screen on a mistake no longer ends the app; a terminal that goes away ends it."""
        self.call_after_refresh(self._first_screen_stands)
        if not self.is_headless and self._is_attended():
            self.set_interval(_LOOK_FOR_TERMINAL_SECONDS, self._look_for_terminal)

    def _is_attended(self) -> bool:
        """Whether the terminal is still there; in a browser, whether the server that passes the keys on is."""
        if self._driver is not None and self.is_web:
            return cast("WebDriver", self._driver)._key_thread.is_alive()  # it ends with its input
        return _at_a_terminal()

    def _look_for_terminal(self) -> None:
        if not self._is_attended():
            self.exit()

    def _first_screen_stands(self) -> None:
        self._stands = True

    def _register_child(self, parent: DOMNode, child: Widget, before: int | None, after: int | None) -> None:
        if child not in self._registry:
            guard(child, self._take_or_raise)
        super()._register_child(parent, child, before, after)

    def _start_widget(self, parent: Widget, widget: Widget) -> None:
        guard(widget, self._take_or_raise)
        super()._start_widget(parent, widget)

    def _take_or_raise(self, error: Exception) -> None:
        if not self._stands:
            raise error
        self.take_mistake(error)

    async def _dispatch_message(self, message: Message) -> None:
        try:
            await super()._dispatch_message(message)
        except Exception as error:
            self._take_or_raise(error)

    def wear(self, theme: str) -> None:
        """Begin with one of the themes, before the first style sheet is read, so that it is read once; move nothing."""
        for each in themes():
            self.register_theme(each)
        self.animation_level = "none"
        self.set_reactive(OwnApp.theme, theme)
        self.stylesheet.set_variables(self.get_css_variables())

    def stay(self, *, mouse: bool = True) -> Given | None:
        """Run until it is left; gives what it was left with.

        Raises:
            Exception: the mistake of copydesk's own that ended it, once the terminal is as it was before.
        """
        given = self.run(mouse=mouse)
        if self._exception is not None:
            raise self._exception
        return given

    async def on_event(self, event: events.Event) -> None:
        """Hold keys, pastes and clicks back until it is their turn; hand everything else on."""
        if not isinstance(event, HELD) or event.is_forwarded:
            await super().on_event(event)
            return
        if self._input is None:
            self._input = InputQueue(self, self._hand_on)
        self._input.add(event)

    async def _hand_on(self, event: events.Event) -> None:
        try:
            await super().on_event(event)
        except Exception as error:
            self._take_or_raise(error)

    def pop_screen(self) -> AwaitComplete:
        """Close the screen in front; nothing where it is the last."""
        return super().pop_screen() if len(self.screen_stack) > 1 else AwaitComplete()

    async def run_action(
        self,
        action: str | ActionParseResult,
        default_namespace: DOMNode | None = None,
        namespaces: Mapping[str, DOMNode] | None = None,
    ) -> bool:
        """Do an act; what it refuses, or a mistake of copydesk's own in it, is told, and the app stays open."""
        try:
            return await super().run_action(action, default_namespace, namespaces)
        except CopydeskError as refused:
            self.tell_wrong("; ".join(map(str, refused.problems)))
        except Exception as error:
            self.take_mistake(error)
        return True

    def take_mistake(self, error: Exception) -> None:
        """Log a mistake of copydesk's own, and tell it where acts are told; pass over the same one again at once."""
        if not self._mistakes_seen.is_new(error):
            return
        file = log_mistake(error)
        said = "copydesk made a mistake and could not do this. What was recorded is safe on disk."
        said += f" Send {file} to whoever looks after copydesk." if file is not None else ""
        self.tell_wrong(said)

    def tell_wrong(self, said: str) -> None:
        """Say what went wrong on the line of the screen in front, or of the nearest below that has one."""
        for screen in reversed(self.screen_stack):
            if lines := screen.query(SayLine):
                lines.first().say(said, wrong=True)
                return
        self.notify(said, severity="error", markup=False)

    def _handle_exception(self, error: Exception) -> None:
        # Timers, callbacks and workers end here. Questions are asked in a worker, which wraps what went wrong in it.
        if isinstance(error, WorkerFailed) and isinstance(error.error, Exception):
            error = error.error
        if self._stands:
            self.take_mistake(error)
        else:
            log_mistake(error)
            super()._handle_exception(error)

    def action_help_quit(self) -> None:
        """Say how to quit, where ctrl+c means nothing else."""
        self.tell_wrong("ctrl+q quits from anywhere.")

    def open_screen(self, name: str, *given: object) -> None:
        """Open the screen that the table of screens lists under ``name``; ``given`` is what its class is made with."""
        self.push_screen(screen_class(name)(*given))

    def action_help(self) -> None:
        """What the screen in front is for, and its keys."""
        front = self.screen
        topic = getattr(front, "TOPIC", "") or getattr(self, "TOPIC", "")
        self.open_screen("help", topic, getattr(front, "SCOPE", ""))

    def action_words(self) -> None:
        """The words of the trade, to look one up."""
        self.open_screen("words")

    def _fatal_error(self) -> None:
        # Textual would draw the traceback with what every name in it held, the exemplar's text among it.
        self._close_messages_no_wait()


class DeskApp(Protocol):
    """What a screen on a book asks of the desk that shows it."""

    own_keys: Keymap
    offers_tour: bool
    is_new: bool
    """Whether the book was made just now, so that it is said what to do first."""
    plan_step: tuple[int, bool]
    """How long the ledger was when the plan was last kept here, and whether that was taken back since."""

    @property
    def job(self) -> Job:
        """The book being copied."""

    def plan_taken(self, *, back: bool) -> None:
        """Take in the plan just kept here, or taken ``back``."""

    def print_paper(self, usual: str) -> None:
        """Ask at the screen in front which paper is wanted, the ``usual`` one in hand, and make it."""

    def next_look(self) -> str:
        """Change to the next look; gives its name, empty where colours are not wanted."""

    def open_screen(self, name: str, *given: object) -> None:
        """Open a screen by its name."""


def _at_a_terminal() -> bool:
    return sys.__stdin__ is not None and sys.__stdin__.isatty()


class Harmless(LineFilter):
    """Puts room in the place of every character that is not for showing."""

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:  # noqa: ARG002 - as filters are called
        """The same segments, each of the same width."""
        if all(segment.text.isprintable() for segment in segments):
            return segments
        shown = [Segment(_shown(segment.text), segment.style, segment.control) for segment in segments]
        return [segment for segment in shown if segment.text or segment.control]


def _shown(text: str) -> str:
    return "".join(each if each.isprintable() else " " * cell_len(each) for each in text)
