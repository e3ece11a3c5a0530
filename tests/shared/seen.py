"""What stands on the screen in front, in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.widgets import OptionList, Static

from copydesk.desk.base.screen_foot import SayLine
from copydesk.desk.widgets.lines_panel import LinesPanel
from copydesk.desk.widgets.page_panel import PagePanel

if TYPE_CHECKING:
    from copydesk.desk.app import Desk


def said(desk: Desk) -> str:
    """The line above the foot."""
    return desk.screen.query_one(SayLine).said


def title(desk: Desk) -> str:
    """The line above a list."""
    return str(desk.screen.query_one("#title", Static).content)


def panel(desk: Desk) -> str:
    """The panel, a line each, with its headings."""
    shown = next(iter(desk.screen.query("LinesPanel, PagePanel").results()))
    assert isinstance(shown, LinesPanel | PagePanel)
    return "\n".join(f"{line.head} {line.says}" for line in shown.lines_shown)


def listed(desk: Desk) -> list[str]:
    """The rows of a list."""
    return [str(option.prompt) for option in desk.screen.query_one(OptionList).options]


def drawn(desk: Desk) -> str:
    """All that the terminal shows, row by row."""
    strips = desk.screen._compositor.render_strips()
    return "\n".join("".join(segment.text for segment in strip) for strip in strips)
