"""What a screen tells, as text for the clipboard."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.widgets import OptionList

from copydesk.book.common.sanitize import sanitize
from copydesk.desk.widgets.lines_panel import HEAD_WIDTH, LinesPanel
from copydesk.desk.wording.page_words import page_lines
from copydesk.tracking.checking.line_texts import line_texts

if TYPE_CHECKING:
    from collections.abc import Iterable

    from textual.screen import Screen

    from copydesk.desk.wording.lines import PanelLine
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.page_view import PageAccount


def page_told(state: BookState, account: PageAccount) -> str:
    """A page's panel; below it the page's text, line by line, where there is any."""
    lines = [sanitize(str(line)) for line in line_texts(state, account.page.index)]
    panel = _as_text(page_lines(state, account))
    return "\n".join([panel, "", *lines] if any(lines) else [panel])


def told(screen: Screen[None]) -> str:
    """Every list and panel of a screen, as it is shown."""
    parts = [
        "\n".join(str(option.prompt).rstrip() for option in each.options)
        if isinstance(each, OptionList)
        else _as_text(each.lines_shown)
        for each in screen.query("OptionList, LinesPanel").results()
        if isinstance(each, (OptionList, LinesPanel))
    ]
    return "\n\n".join(part for part in parts if part)


def _as_text(lines: Iterable[PanelLine]) -> str:
    return "\n".join(f"{line.head:{HEAD_WIDTH}} {line.says}".rstrip() for line in lines)
