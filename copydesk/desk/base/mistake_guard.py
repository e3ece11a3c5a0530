"""Keeps a widget alive after a mistake of copydesk's own in one of its handlers, or in drawing it.

Textual stops a widget's messages for good when one of them raises, and ends the app. Here the mistake is handed on to
be logged and told, the message counts as handled, and what could not be drawn is left blank.
"""

from __future__ import annotations

from time import monotonic
from traceback import extract_tb
from typing import TYPE_CHECKING

from textual.strip import Strip

if TYPE_CHECKING:
    from collections.abc import Callable

    from textual.geometry import Region
    from textual.message import Message
    from textual.widget import Widget


_SAME_AGAIN_SECONDS = 5.0


class MistakesSeen:
    """Tells a mistake that was just told from a new one: telling it draws the screen, which may make it again."""

    def __init__(self) -> None:
        self._at: dict[tuple[str, str, int], float] = {}

    def is_new(self, error: BaseException) -> bool:
        """Whether this kind of error was not seen at the same place a moment ago."""
        passed = extract_tb(error.__traceback__)
        place = (type(error).__name__, passed[-1].filename if passed else "", (passed[-1].lineno or 0) if passed else 0)
        now, before = monotonic(), self._at.get(place)
        self._at[place] = now
        return before is None or now - before > _SAME_AGAIN_SECONDS


def guard(widget: Widget, take: Callable[[Exception], None]) -> None:
    """Hand what goes wrong in a widget's handlers or its drawing to ``take``, which raises it again where it must."""
    dispatch, render = widget._dispatch_message, widget.render_lines

    async def dispatched(message: Message) -> None:
        try:
            await dispatch(message)
        except Exception as error:
            take(error)

    def rendered(crop: Region) -> list[Strip]:
        try:
            return render(crop)
        except Exception as error:
            take(error)
            return [Strip.blank(crop.width)] * crop.height

    widget._dispatch_message = dispatched  # type: ignore[method-assign]
    widget.render_lines = rendered  # type: ignore[method-assign]
