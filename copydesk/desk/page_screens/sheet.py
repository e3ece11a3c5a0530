"""The sheet view: one loose sheet as it lies in front of the scribe, to be turned over, and the pile it came from."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.containers import Horizontal, VerticalScroll
from textual.widgets import Static

from copydesk.book.structure.gathering import Lies, SheetSide
from copydesk.book.structure.sheets import find_sheet, pile
from copydesk.desk.base.book_screen import FIRST, stay
from copydesk.desk.page_screens.page_screen import PageScreen
from copydesk.desk.widgets.lines_panel import LinesPanel
from copydesk.desk.widgets.open_sheet import OpenSheetView
from copydesk.desk.widgets.pick_list import SecondClick
from copydesk.desk.wording.sheet_words import half_lines, heading, next_on_sheet, under_lines
from copydesk.tracking.views.sheet_view import sheet_account

if TYPE_CHECKING:
    from collections.abc import Iterable

    from textual.app import ComposeResult

    from copydesk.book.structure.collation import PagePlace
    from copydesk.book.structure.page import Page
    from copydesk.book.structure.sheets import OpenSheet
    from copydesk.desk.base.book_screen import GoTo
    from copydesk.desk.base.keys import KeyBinding
    from copydesk.tracking.views.sheet_view import SheetAccount, SideAccount


class SheetScreen(PageScreen):
    """One sheet, one side up; the cursor stands on its left or right page."""

    SCOPE = "sheet"
    TOPIC = "sheet"
    PAPER = "guide side"
    CSS_PATH = "sheet.tcss"
    VERTICAL_BREAKPOINTS = [(0, "-low"), (34, "-middle"), (50, "-high")]  # noqa: RUF012 - as Textual declares it

    def __init__(self, page: Page = FIRST, go_to: GoTo = stay) -> None:
        super().__init__(page, go_to)
        self._page = page
        self._click = SecondClick()

    def compose(self) -> ComposeResult:
        """Where the sheet lies, the sheet, what is said under either half, what comes next, the keys."""
        yield Static(id="where", markup=False)
        yield OpenSheetView()
        for row, names in (("halves", ("left", "right")), ("under", ("under-left", "under-right"))):
            with Horizontal(id=row):
                for name in names:
                    with VerticalScroll(can_focus=False):
                        yield LinesPanel(id=name)
        yield Static(id="next", markup=False)
        yield from self.foot()

    def on_mount(self) -> None:
        """Show the sheet."""
        self.query_one(OpenSheetView).focus()
        self.renew()

    def on_resize(self) -> None:
        """The heading says more where there is room."""
        self._show_heading()

    def on_open_sheet_view_redrawn(self) -> None:
        """The heading says how many lines a row stands for."""
        self._show_heading()

    @property
    def page(self) -> Page:
        """The page of the cursor."""
        return self._page

    @property
    def _place(self) -> PagePlace:
        return self.job.state.collation.place(self._page)

    @property
    def _sheet(self) -> SheetAccount:
        place = self._place
        found = find_sheet(self.job.state.collation, place.sheet_name)
        return sheet_account(self.job.state, found)

    def show_book(self) -> None:
        """Show the sheet as it stands now; where the cursor's page is gone, the one now in its place."""
        state = self.job.state
        if not state.collation.has(self._page):
            self._page = max(state.collation.all_pages())
        sheet = self._sheet
        up = sheet.side(self._place.side)
        self.query_one(OpenSheetView).show(state, up, self._page)
        under = sheet.side(SheetSide.INNER if up.side is SheetSide.OUTER else SheetSide.OUTER)
        for name, lines in (
            ("left", half_lines(state, up.left)),
            ("right", half_lines(state, up.right)),
            ("under-left", under_lines(state, under.left)),
            ("under-right", under_lines(state, under.right)),
        ):
            self.query_one(f"#{name}", LinesPanel).show_lines(lines)
        self.show_text("#next", f" {next_on_sheet(state, sheet, up.side)}")
        self._show_heading()

    def _show_heading(self) -> None:
        view = self.query_one(OpenSheetView)
        sheet = self._sheet
        up: SideAccount = sheet.side(self._place.side)
        said = heading(self.job.state, sheet, up, view.lines_a_row, self.size.width)
        self.show_text("#where", said)

    def keys_now(self) -> Iterable[KeyBinding]:
        """Most likely acts on this page first."""
        return self.foot_keys(
            "turn",
            *self.acts_now(),
            "below",
            "more",
            *self.papers_now(),
            "all.undo",
            "all.others",
            "all.help",
            "all.back",
        )

    def _go(self, page: Page) -> None:
        self._click.moved_to(page)
        self._page = page
        self.renew()

    def on_open_sheet_view_chosen(self, event: OpenSheetView.Chosen) -> None:
        """A click on a half puts the cursor there; a second one does what comes next."""
        beside = self._place.conjugate
        clicked = self._page if event.lies is self._place.lies else beside
        if clicked is None:
            return
        second = self._click.is_second(clicked)
        if clicked != self._page:
            self._go(clicked)
        if second:
            self.action_do_next()

    def action_turn(self) -> None:
        """Turn the sheet over; the cursor stays on its leaf."""
        self._go(type(self._page)(self._page.leaf, self._page.side.other))

    def action_half(self, lies: str) -> None:
        """Go to the left or the right half."""
        beside = self._place.conjugate
        if self._place.lies is not Lies(lies) and beside is not None:
            self._go(beside)

    def action_pile(self, step: int) -> None:
        """Go down the pile (1), outward, or up it (-1); past its end to the next gathering's or the last one's."""
        found = self._sheet_beyond(step)
        if found is None:
            self.say("This is the last sheet of the last pile." if step > 0 else "This is the first sheet on top.")
        else:
            self._lay_before(found)

    def action_gathering(self, step: int) -> None:
        """Go to the top of the pile of the gathering after (1) or before (-1)."""
        found = self._pile_beyond(step)
        if found:
            self._lay_before(found[0])

    def _sheet_beyond(self, step: int) -> OpenSheet | None:
        sheets = pile(self.job.state.collation, self._place.gathering)
        at = next(at for at, sheet in enumerate(sheets) if sheet.sheet == self._place.sheet) + step
        if 0 <= at < len(sheets):
            return sheets[at]
        beyond = self._pile_beyond(step)
        return beyond[0 if step > 0 else -1] if beyond else None

    def _pile_beyond(self, step: int) -> tuple[OpenSheet, ...]:
        """The pile of the nearest gathering after or before that has a sheet."""
        collation = self.job.state.collation
        numbers = [gathering.number for gathering in collation.gatherings]
        at = numbers.index(self._place.gathering)
        ahead = numbers[at + 1 :] if step > 0 else numbers[:at][::-1]
        piles = (pile(collation, number) for number in ahead)
        return next((sheets for sheets in piles if sheets), ())

    def _lay_before(self, sheet: OpenSheet) -> None:
        """Show another sheet with the same side up, the cursor on the same half where it has a page."""
        place = self._place
        side = sheet.outer if place.side is SheetSide.OUTER else sheet.inner
        halves = (side.left, side.right) if place.lies is Lies.LEFT else (side.right, side.left)
        self._go(next(page for page in halves if page is not None))

    def action_back(self) -> None:
        """Go back, to the page one was on."""
        self.close(at=self._page)
