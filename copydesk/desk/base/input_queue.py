"""Keys, pastes and clicks, handed on one at a time, each to a screen that is drawn and in front.

Textual hands a key on as soon as it arrives. Of several that arrive together (a slow link, a held key, a paste) all
then go to the screen that was in front when the first one came, although that one opens or closes a screen. Here the
next is handed on only when everything the last one set off is done: its messages are handled, the question it asks is
on the screen, and the screen now in front has been drawn.
"""

from __future__ import annotations

import asyncio
from collections import deque
from contextlib import suppress
from time import monotonic
from typing import TYPE_CHECKING, Any
from weakref import WeakSet

from textual import events
from textual.errors import NoWidget
from textual.screen import ModalScreen, SystemModalScreen

if TYPE_CHECKING:
    from collections.abc import Awaitable, Callable

    from textual.app import App
    from textual.message_pump import MessagePump
    from textual.screen import Screen


ASKING = "ask"
"""The group of the workers that ask a person something, one form after another."""

HELD = (events.Key, events.Paste, events.MouseDown, events.MouseUp)
"""The events that wait their turn. The pointer's moves and the wheel change nothing that a key could go astray by."""

_LONGEST_SECONDS = 10.0
"""After so long a wait an event is handed on all the same, so that nothing can lock the keys out for good."""

_PAUSE_SECONDS = 0.005


class InputQueue:
    """The events that wait to be handed on; ``hand_on`` is what the app does with one."""

    def __init__(self, app: App[Any], hand_on: Callable[[events.Event], Awaitable[None]]) -> None:
        self._app = app
        self._hand_on = hand_on
        self._waiting: deque[tuple[events.Event, Screen[object]]] = deque()
        self._drawn: WeakSet[Screen[object]] = WeakSet()
        self._task: asyncio.Task[None] | None = None

    def add(self, event: events.Event) -> None:
        """Hand an event on in its turn."""
        self._waiting.append((event, self._app.screen))
        if self._task is None:
            self._task = asyncio.get_running_loop().create_task(self._hand_all_on())

    async def _hand_all_on(self) -> None:
        try:
            while self._waiting and self._app.is_running:
                await self._everything_done()
                event, seen = self._waiting.popleft()
                # A click was meant for what was seen there. Where that has gone since, it is dropped.
                if not isinstance(event, events.MouseEvent) or (seen is self._app.screen and self._still_there(event)):
                    await self._hand_on(event)
        finally:
            self._task = None

    def _still_there(self, event: events.MouseEvent) -> bool:
        """Whether what is drawn under the pointer is still part of its screen."""
        with suppress(NoWidget):
            return self._app.screen.get_widget_at(event.x, event.y)[0].is_attached
        return True

    async def _everything_done(self) -> None:
        """Wait until nothing that was handed on before is under way any more."""
        begun = monotonic()
        while self._app.is_running and monotonic() - begun < _LONGEST_SECONDS:
            front, focused = self._app.screen, self._app.focused
            # A widget's message goes up to its screen and on to the app; what is done there may post to the widget
            # again (enter in a line, then "submitted"). So the way up is followed twice.
            for _ in range(2):
                for pump in self._way_up():
                    await self._passed(pump.call_later, pump)
            if (front, focused) != (self._app.screen, self._app.focused) or self._messages_left(front):
                continue
            if self._question_coming() or self._palette_searching(front):
                await asyncio.sleep(_PAUSE_SECONDS)
            elif front not in self._drawn:
                await self._passed(front.call_after_refresh, front)
                self._drawn.add(front)
            else:
                return

    def _way_up(self) -> list[MessagePump]:
        """What handles a key, in order: the widget that has the focus, what is round it, the screen, the app."""
        return [*(self._app.focused or self._app.screen).ancestors_with_self]

    def _messages_left(self, front: Screen[object]) -> bool:
        """Whether anything on the screen in front has a message to handle."""
        return any(each.message_queue_size for each in front.walk_children(with_self=True))

    def _question_coming(self) -> bool:
        """Whether something asks a person, and its form or list is not up yet; after an answer, the next one."""
        asked = any(isinstance(screen, ModalScreen) for screen in self._app.screen_stack)
        return not asked and any(each.group == ASKING and not each.is_finished for each in self._app.workers)

    def _palette_searching(self, front: Screen[object]) -> bool:
        """Whether the palette still looks for what was typed: enter takes what it finds."""
        return isinstance(front, SystemModalScreen) and any(
            each.node is front and not each.is_finished for each in self._app.workers
        )

    async def _passed(self, schedule: Callable[[Callable[[], None]], bool], pump: MessagePump) -> None:
        """Wait until a pump has handled what lay before it; not for one that is closed or taken away meanwhile."""
        done = asyncio.Event()
        if not schedule(done.set):
            return
        while not done.is_set() and self._app.is_running and (pump is self._app or pump.is_attached):
            try:
                await asyncio.wait_for(done.wait(), timeout=10 * _PAUSE_SECONDS)
            except TimeoutError:
                continue
