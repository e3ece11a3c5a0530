"""What the screens share that list things of the book, each with a page one can go to."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar, Generic, Protocol, TypeVar

from textual.widgets import OptionList
from textual.widgets.option_list import Option

from copydesk.desk.base.book_screen import FIRST, stay
from copydesk.desk.page_screens.page_screen import PageScreen

if TYPE_CHECKING:
    from collections.abc import Iterable

    from textual.content import Content

    from copydesk.book.structure.page import Page
    from copydesk.desk.base.book_screen import GoTo


class OnPage(Protocol):
    """A thing of the book and the page it stands on; None where it stands on none today."""

    @property
    def page(self) -> Page | None:
        """The page."""


Listed = TypeVar("Listed", bound=OnPage)


class PageListScreen(PageScreen, Generic[Listed]):
    """A list; the page of the thing in hand is the page of the screen, else the one it was opened from."""

    NOT_THERE: ClassVar[str] = ""
    NOTHING: ClassVar[str] = ""

    def __init__(self, page: Page = FIRST, go_to: GoTo = stay) -> None:
        super().__init__(page, go_to)
        self._from = page
        self._listed: list[Listed] = []

    def fill(self, listed: list[Listed], rows: Iterable[Content]) -> None:
        """Show these things, a row each, with the same row in hand as before."""
        self._listed = listed
        options = self.query_one(OptionList)
        at = options.highlighted or 0
        options.clear_options()
        options.add_options(map(Option, rows))
        options.highlighted = min(at, len(listed) - 1) if listed else None

    @property
    def in_hand(self) -> Listed | None:
        """The thing under the cursor."""
        at = self.query_one(OptionList).highlighted
        return self._listed[at] if at is not None and at < len(self._listed) else None

    def text_to_copy(self) -> str:
        """Nothing of its own: the list is copied as it is shown."""
        return ""

    @property
    def page(self) -> Page:
        """The page of the thing in hand, else the one gone from."""
        chosen = self.in_hand
        return chosen.page if chosen is not None and chosen.page is not None else self._from

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Go to its page."""
        event.stop()
        self.action_go()

    def action_go(self) -> None:
        """Go to the page of the thing in hand."""
        chosen = self.in_hand
        if chosen is None or chosen.page is None:
            self.say(self.NOT_THERE if chosen else self.NOTHING, wrong=True)
            return
        self.close(at=chosen.page)
