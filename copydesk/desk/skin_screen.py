"""A screen that stays with one page of skin, whatever number it bears, and closes when its leaf is gone."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.desk.page_screen import PageScreen

if TYPE_CHECKING:
    from copydesk.book.page import Page, SkinPage


class SkinScreen(PageScreen):
    """A screen on the page of skin that bears ``page`` when it is opened."""

    def __init__(self, page: Page) -> None:
        super().__init__()
        self._page = page
        self._skin: SkinPage | None = None

    @property
    def page(self) -> Page:
        """The page as it is numbered today."""
        return self._page

    def show_page(self) -> None:
        """Show the page as it stands now."""

    def show_book(self) -> None:
        """Follow the skin; close where its leaf is no longer in the book."""
        if self.still_stands():
            self.show_page()
        elif self.is_current:
            self.app.pop_screen()
        else:
            self._book_seen = (-1, -1)  # so that it closes when it is come back to

    def still_stands(self) -> bool:
        """Whether the skin is in the book; its page is then the one it bears today."""
        standing = self.job.standing
        if self._skin is None:
            self._skin = standing.skin_at(self._page.index)
        found = standing.page_of(self._skin)
        if found is not None:
            self._page = found
        return found is not None
