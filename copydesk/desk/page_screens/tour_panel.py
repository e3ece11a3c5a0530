"""A step of the walk round the desk, above the grid."""

from __future__ import annotations

from textual.content import Content
from textual.widgets import Static

from copydesk.help.topics import tour_steps


class TourPanel(Static):
    """Shows one step at a time; the desk below it goes on working."""

    def __init__(self) -> None:
        super().__init__(markup=False)
        self._steps = tour_steps()
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
            Content.styled(part, "bold") if at % 2 else Content(part) for at, part in enumerate(step.says.split("**"))
        )
        last = self.step + 1 == len(self._steps)
        how = f"   F6 {'ends it' if last else 'goes on'}, esc leaves"
        self.update(Content.assemble(head, *parts, Content.styled(how, "$secondary")))
