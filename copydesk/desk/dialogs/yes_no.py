"""A line of a form that is answered yes or no, by one key."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual.content import Content
from textual.message import Message
from textual.widgets import Static

if TYPE_CHECKING:
    from textual import events
    from textual.binding import BindingType


class YesNo(Static, can_focus=True):
    """Shows both answers with the one that stands marked; ``y`` and ``n`` choose, space and the arrows change it."""

    BINDINGS: ClassVar[list[BindingType]] = [
        ("y", "answer(True)", "yes"),
        ("n", "answer(False)", "no"),
        ("space,left,right,h,l", "turn", "the other one"),
        ("enter", "submit", "next line"),
    ]

    class Submitted(Message):
        """The answer stands; the form goes on."""

        def __init__(self, line: YesNo) -> None:
            self.line = line
            super().__init__()

    class Changed(Message):
        """The answer is another now."""

    def __init__(self, *, yes: bool, id: str) -> None:  # noqa: A002 - as Textual calls it
        super().__init__(markup=False, id=id)
        self.yes = yes

    @property
    def value(self) -> str:
        """``yes``, or empty for no."""
        return "yes" if self.yes else ""

    def on_mount(self) -> None:
        """Show the answer that stands."""
        self._show()

    def _show(self) -> None:
        marks = [("●" if chosen else "○", word) for chosen, word in ((self.yes, "yes (y)"), (not self.yes, "no (n)"))]
        self.update(Content("     ".join(f"{mark} {word}" for mark, word in marks)))

    def action_answer(self, yes: bool) -> None:
        """Take an answer."""
        self.yes = yes
        self._show()
        self.post_message(self.Changed())

    def action_turn(self) -> None:
        """Change to the other answer."""
        self.action_answer(not self.yes)

    def action_submit(self) -> None:
        """Go on to the next line."""
        self.post_message(self.Submitted(self))

    def on_click(self, event: events.Click) -> None:
        """A click on this line, once it is in hand, changes the answer; the first one only selects it."""
        event.stop()
        if self._was_focused:
            self.action_turn()
        self._was_focused = True

    _was_focused = False

    def on_blur(self) -> None:
        """Forget that it was in hand."""
        self._was_focused = False
