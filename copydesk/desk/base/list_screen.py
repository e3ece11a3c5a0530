"""What the screens share that list things of the book, headings between, and tell of the one in hand beside them."""

from __future__ import annotations

from abc import abstractmethod
from typing import TYPE_CHECKING, Generic

from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from copydesk.desk.base.book_screen import FIRST, BookScreen, stay
from copydesk.desk.base.hanging_text import HangingText
from copydesk.desk.widgets.lines_panel import LinesPanel
from copydesk.desk.widgets.pick_list import PickList
from copydesk.desk.wording.lines import ListRow, Thing

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from textual.app import ComposeResult
    from textual.widget import Widget

    from copydesk.book.structure.page import Page
    from copydesk.desk.base.book_screen import GoTo
    from copydesk.desk.wording.lines import PanelLine


class ToldListScreen(BookScreen, Generic[Thing]):
    """A list, and a panel that follows its cursor. A subclass fills the list in ``show_book``."""

    def __init__(self, page: Page = FIRST, go_to: GoTo = stay) -> None:
        super().__init__(page, go_to)
        self._rows: Sequence[ListRow[Thing]] = ()

    def list_and_panel(self, around: Widget, name: str, *above: Widget) -> ComposeResult:
        """The list, called ``name``, and its panel, with ``above`` over its lines, ``around`` both; the foot."""
        with around:
            yield PickList(id=name)
            with VerticalScroll(id="told", can_focus=False):
                yield from above
                yield LinesPanel(id="lines")
        yield from self.foot()

    def fill(self, rows: Sequence[ListRow[Thing]], at: int | None) -> None:
        """Show these rows with the cursor at one of them, and what there is to say of it."""
        self._rows = rows
        options = self.query_one(OptionList)
        options.clear_options()
        options.add_options(Option(HangingText(Content(row.text)), disabled=row.thing is None) for row in rows)
        options.highlighted = at
        self.call_after_refresh(options.scroll_to_highlight)
        self.show_lines()

    @property
    def in_hand(self) -> Thing | None:
        """The thing under the cursor."""
        at = self.query_one(OptionList).highlighted
        return self._rows[at].thing if at is not None and at < len(self._rows) else None

    @abstractmethod
    def lines_in_hand(self) -> Iterable[PanelLine]:
        """What the panel says."""

    def show_lines(self) -> None:
        """Show what there is to say."""
        self.query_one(LinesPanel).show_lines(list(self.lines_in_hand()))

    def on_option_list_option_highlighted(self) -> None:
        """The panel and the foot follow the cursor."""
        self.show_lines()
        self.show_foot()
