"""The panel: what there is to know of the page under the cursor, in sentences."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.desk.page_words import page_lines
from copydesk.desk.widgets.lines_panel import LinesPanel
from copydesk.ledger.accounts import page_account

if TYPE_CHECKING:
    from copydesk.ledger.standing import Standing


class PagePanel(LinesPanel):
    """Shows a page of the book."""

    def show_page(self, standing: Standing, index: int) -> None:
        """Show the page at ``index``."""
        inside = 0 <= index < standing.collation.pages
        self.show_lines(page_lines(standing, page_account(standing, index)) if inside else ())
