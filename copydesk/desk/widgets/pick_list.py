"""Lists and grids under a pointer: a click selects, the second click on the same thing does what enter does."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, ClassVar

from textual.binding import Binding
from textual.widgets import OptionList

if TYPE_CHECKING:
    from textual import events
    from textual.binding import BindingType


class SecondClick:
    """Tells whether a click is the second one on the same thing, with nothing between that moved elsewhere."""

    def __init__(self) -> None:
        self._clicked: object = None

    def is_second(self, thing: object) -> bool:
        """Take a click on a thing; after a second one the next is a first one again."""
        second = thing == self._clicked
        self._clicked = None if second else thing
        return second

    def moved_to(self, thing: object) -> None:
        """Forget the click where something else is in hand now; None where that what was clicked may be gone."""
        if thing is None or thing != self._clicked:
            self._clicked = None


class PickList(OptionList):
    """A list in which a single click only selects; a second click on the same row, or enter, acts on it."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("j", "cursor_down", "down", show=False),
        Binding("k", "cursor_up", "up", show=False),
    ]

    def __init__(self, *content: Any, **given: Any) -> None:
        self._click = SecondClick()
        super().__init__(*content, **given)

    def clear_options(self) -> PickList:
        """Empty the list; whatever comes into it then was not clicked yet."""
        self._click.moved_to(None)
        super().clear_options()
        return self

    def watch_highlighted(self, highlighted: int | None) -> None:
        """Forget a click on a row that the cursor has left."""
        self._click.moved_to(highlighted)
        super().watch_highlighted(highlighted)

    async def _on_click(self, event: events.Click) -> None:
        event.prevent_default()  # the list's own handler acts on the first click
        clicked = event.style.meta.get("option")
        if clicked is None or self.get_option_at_index(clicked).disabled:
            return
        second = self._click.is_second(clicked)
        self.highlighted = clicked
        if second:
            self.action_select()
