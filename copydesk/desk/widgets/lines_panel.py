"""A panel of lines with a heading each, wrapped beside their headings."""

from __future__ import annotations

from itertools import zip_longest
from typing import TYPE_CHECKING

from textual.content import Content
from textual.widgets import Static

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from copydesk.desk.wording.lines import PanelLine


HEAD_WIDTH = 8
"""Terminal cells for the headings; what they say is wrapped beside them."""


class LinesPanel(Static):
    """Shows lines with a heading each; nothing in them is read as markup."""

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002 - Textual's own name
        super().__init__(markup=False, id=id)
        self.lines_shown: tuple[PanelLine, ...] = ()

    def show_lines(self, lines: Sequence[PanelLine]) -> None:
        """Show these lines."""
        self.lines_shown = tuple(lines)
        self.update(self._laid_out())

    def on_resize(self) -> None:
        """Wrap the lines anew."""
        self.update(self._laid_out())

    def _laid_out(self) -> Content:
        width = max(self.size.width, HEAD_WIDTH + 8) - HEAD_WIDTH - 1
        return Content("\n").join(part for line in self.lines_shown for part in _wrapped(line, width))


def _wrapped(line: PanelLine, width: int) -> Iterator[Content]:
    said = Content(line.says).wrap(width) if line.says else [Content("")]
    for head, part in zip_longest([line.head], said):
        shown = Content.styled(f"{head or '':<{HEAD_WIDTH}} ", "bold")
        yield Content.assemble(shown, part.stylize("$text-error") if line.wrong else part)
