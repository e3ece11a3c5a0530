"""What the screens share that list things of the book, each with a page one can go to."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar, Generic, Protocol, TypeVar

from textual.widgets import OptionList

from copydesk.desk.page_screens.page_screen import PageScreen

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from textual.content import Content

    from copydesk.book.structure.page import Page


class OnPage(Protocol):
    """A thing of the book and the page it stands on; None where it stands on none today."""

    @property
    def page(self) -> Page | None:
        """The page."""


Listed = TypeVar("Listed", bound=OnPage)


class PageListScreen(PageScreen, Generic[Listed]):
    """A list; the page of the thing in hand is the page of the screen, else the one it was opened from."""

    CHOOSES = "go"
    NOT_THERE: ClassVar[str] = ""
    NOTHING: ClassVar[str] = ""

    _listed: Sequence[Listed] = ()

    def fill(self, listed: list[Listed], rows: Iterable[Content]) -> None:
        """Show these things, a row each, with the same row in hand as before."""
        self._listed = listed
        self.show_rows(rows)

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
        return chosen.page if chosen is not None and chosen.page is not None else self._from_page

    def action_go(self) -> None:
        """Go to the page of the thing in hand."""
        chosen = self.in_hand
        if chosen is None or chosen.page is None:
            self.say(self.NOT_THERE if chosen else self.NOTHING, wrong=True)
            return
        self.close(at=chosen.page)
