"""Before sewing: the binder's walk, sheet by sheet from the outermost of each gathering in, each ticked."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual.containers import Container, VerticalScroll
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from copydesk.desk.assembly_words import book_lines, gathering_row, sheet_lines, sheet_row, title_words
from copydesk.desk.book_screen import BookScreen
from copydesk.desk.keys import bindings, key_named
from copydesk.desk.widgets.foot_line import FootLine
from copydesk.desk.widgets.lines_panel import LinesPanel
from copydesk.desk.widgets.say_line import SayLine
from copydesk.ledger.assembly import assembly
from copydesk.ledger.binding_walk import binding_walk, walk_sheet, walked_by

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from textual.app import ComposeResult
    from textual.binding import BindingType

    from copydesk.book.book import Book
    from copydesk.book.page import Page
    from copydesk.desk.keys import Key
    from copydesk.ledger.assembly import Assembly
    from copydesk.ledger.binding_walk import WalkedGathering, WalkedSheet


class AssemblyScreen(BookScreen):
    """The walk on the left, what there is to say of the sheet in hand on the right or below."""

    SCOPE = "assembly"
    TOPIC = "assembly"
    CSS_PATH = "assembly.tcss"
    BINDINGS: ClassVar[list[BindingType]] = bindings("assembly")
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (130, "-wide")]  # noqa: RUF012 - as Textual declares it

    def __init__(self, go_to: Callable[[Page], None]) -> None:
        super().__init__()
        self._go_to = go_to
        self._walk: list[WalkedGathering | WalkedSheet] = []

    def compose(self) -> ComposeResult:
        """The walk, what is said of the sheet in hand, the line above the foot, the keys."""
        yield Static(id="title", markup=False)
        with Container(id="assembly"):
            yield OptionList(id="walk")
            with VerticalScroll(id="told", can_focus=False):
                yield LinesPanel(id="lines")
        yield SayLine()
        yield FootLine()

    def on_mount(self) -> None:
        """Begin on the first sheet not yet walked."""
        self.renew()
        self.query_one(OptionList).focus()
        self._go_where(-1, lambda sheet: not sheet.record.walked)
        self.say("Find each sheet in its place and tick it with enter; n: the next in the way.")

    def keys_now(self) -> Iterable[Key]:
        """Ticking first."""
        names = ("assembly.tick", "assembly.next", "assembly.go", "assembly.colophon")
        return map(key_named, (*names, "all.undo", "all.help", "all.back"))

    def show_book(self) -> None:
        """Show the walk as it stands now."""
        standing = self.job.standing
        self._found: Assembly = assembly(standing)
        self._walk = []
        for gathering in binding_walk(standing, self._found):
            self._walk += [gathering, *gathering.sheets]
        options = self.query_one(OptionList)
        at = options.highlighted
        options.clear_options()
        options.add_options(_option(row, self.job.book) for row in self._walk)
        options.highlighted = at
        title = self.query_one("#title", Static)
        title.set_class(not self._found.ready, "-wrong")
        title.update(Content(f" {title_words(self._found)}"))
        self._show_lines()

    @property
    def _sheet(self) -> WalkedSheet | None:
        """The sheet in hand."""
        at = self.query_one(OptionList).highlighted
        row = self._walk[at] if at is not None and at < len(self._walk) else None
        return row if row is not None and not _is_gathering(row) else None  # type: ignore[return-value]

    def _show_lines(self) -> None:
        sheet = self._sheet
        lines = [
            *(sheet_lines(sheet, self.job.book) if sheet is not None else ()),
            *book_lines(self._found, self.job.book),
        ]
        self.query_one(LinesPanel).show_lines(lines)

    def on_option_list_option_highlighted(self) -> None:
        """What is said follows the cursor."""
        self._show_lines()

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Tick the sheet."""
        event.stop()
        self.action_tick()

    def action_tick(self) -> None:
        """Tick the sheet in hand and go to the next one; or take its tick away."""
        sheet = self._sheet
        if sheet is None:
            return
        ticked = walked_by(self.job.standing, sheet.name)
        if ticked is not None:
            self._take_back("Taken back", lambda: self.job.undo(ticked[1]))
            return
        at = self.query_one(OptionList).highlighted or 0
        if self.do(lambda: walk_sheet(self.job.standing, sheet.name)) is not None:
            self._go_where(at, lambda each: not each.record.walked)

    def action_next(self) -> None:
        """Go to the next sheet that something stands in the way of."""
        at = self.query_one(OptionList).highlighted
        if not self._go_where(-1 if at is None else at, lambda sheet: bool(sheet.obstacles)):
            self.say("Nothing stands in the way of any sheet.")

    def _go_where(self, after: int, wanted: Callable[[WalkedSheet], bool]) -> bool:
        """Put the cursor on the next sheet that is wanted, from the beginning again after the end."""
        rows = len(self._walk)
        for step in range(1, rows + 1):
            at = (after + step) % rows
            row = self._walk[at]
            if not _is_gathering(row) and wanted(row):  # type: ignore[arg-type]
                self.query_one(OptionList).highlighted = at
                return True
        return False

    def action_go(self) -> None:
        """Go to the page that stands in the way, or to the sheet's first."""
        sheet = self._sheet
        if sheet is None:
            return
        pages = [point.page for point in sheet.obstacles if point.page is not None]
        page = pages[0] if pages else min(sheet.sheet.pages())
        self.app.pop_screen()
        self._go_to(page)

    def action_colophon(self) -> None:
        """A draft of the colophon."""
        from copydesk.desk.colophon import ColophonScreen

        self.app.push_screen(ColophonScreen())


def _is_gathering(row: WalkedGathering | WalkedSheet) -> bool:
    return hasattr(row, "sheets")


def _option(row: WalkedGathering | WalkedSheet, book: Book) -> Option:
    """A row of the list; a gathering's cannot be chosen."""
    if _is_gathering(row):
        return Option(Content(gathering_row(row, book)), disabled=True)  # type: ignore[arg-type]
    return Option(Content(sheet_row(row, book)))  # type: ignore[arg-type]
