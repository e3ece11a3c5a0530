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
"""Terminal cells for the headings, more where one is longer; what they say is wrapped beside them."""


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
        head = max([HEAD_WIDTH, *(len(line.head) for line in self.lines_shown)])
        width = max(self.size.width - head - 1, 8)
        return Content("\n").join(part for line in self.lines_shown for part in _wrapped(line, head, width))


def _wrapped(line: PanelLine, head_width: int, width: int) -> Iterator[Content]:
    said = Content(line.says).wrap(width) if line.says else [Content("")]
    for head, part in zip_longest([line.head], said):
        shown = Content.styled(f"{head or '':<{head_width}} ", "bold")
        yield Content.assemble(shown, part.stylize("$text-error") if line.wrong else part)
