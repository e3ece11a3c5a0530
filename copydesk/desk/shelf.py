"""The shelf: the books of a folder with how far each has come; or, where it is empty, what to do."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar, NamedTuple

from textual import work
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from copydesk.book.common.errors import CopydeskError
from copydesk.book.common.phrases import count_of, grouped
from copydesk.book.common.sanitize import sanitize
from copydesk.desk.base.keys import key_binding, key_named
from copydesk.desk.base.screen_foot import FootLine
from copydesk.desk.start_app import BeforeTheBook
from copydesk.desk.widgets.pick_list import PickList

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from textual.app import ComposeResult
    from textual.binding import BindingType

    from copydesk.tracking.views.gathering_progress import OnShelf


class Wish(NamedTuple):
    """What a person wants of the shelf: ``open`` a book, make a ``new`` one, or copy the ``shipped`` one."""

    what: str
    book: Path | None = None


class Shelf(BeforeTheBook[Wish]):
    """Lists books; gives what is wished. ``amiss`` says why the last wish came to nothing."""

    CSS_PATH: ClassVar = ["base/desk.tcss", "shelf.tcss"]
    TOPIC = "shelf"
    BINDINGS: ClassVar[list[BindingType]] = [key_binding(f"shelf.{name}") for name in ("new", "shipped", "quit")]

    def __init__(self, shelf: Path, books: Sequence[Path], look: str = "", amiss: str = "") -> None:
        super().__init__(look)
        self._amiss = amiss
        self._shelf = shelf
        self._books = list(books)

    def compose(self) -> ComposeResult:
        """The list, or what to do."""
        yield Static(Content(f" Books in {self._shelf}"), id="title")
        if self._books:
            rows = (Option(Content(f" {book.name}  ..."), id=f"b{at}") for at, book in enumerate(self._books))
            yield PickList(*rows, id="shelf")
        else:
            yield Static(Content(EMPTY), id="empty")
        yield Static(Content(self._amiss), id="amiss")
        names = (*(["open"] if self._books else []), "new", "shipped", "help", "quit")
        yield FootLine(key_named(f"shelf.{name}") for name in names)

    def on_mount(self) -> None:
        """Begin to read the books; each shows as soon as it is read."""
        if self._books:
            self.query_one(OptionList).focus()
            self.read_books()

    @work(thread=True, exclusive=True)
    def read_books(self) -> None:
        """Read one book after another, off the screen's own thread."""
        for at, book in enumerate(self._books):
            self.call_from_thread(self._show, at, _read(book))

    def _show(self, at: int, row: str) -> None:
        self.query_one(OptionList).replace_option_prompt(f"b{at}", Content(row))

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Open the book chosen."""
        self.exit(Wish("open", self._books[event.option_index]))

    def action_open(self) -> None:
        """Open the book in hand."""
        self.query_one(OptionList).action_select()

    def action_wish(self, what: str) -> None:
        """Give the wish."""
        self.exit(Wish(what))


def _read(book: Path) -> str:
    from copydesk.job import Job
    from copydesk.tracking.views.gathering_progress import gathering_reports, on_shelf

    try:
        job = Job.open(book)
        row = book_row(on_shelf(book.name, job.book.title, gathering_reports(job.state)))
    except CopydeskError as refused:
        return f" {book.name}  cannot be opened: {refused.problems[0]}"
    job.close()
    return row


EMPTY = """ There is no book in this folder yet.

 i  sets a new book up: a few questions, and what follows from them beside
 o  copies the shipped book here, a year of a river keeper part of the way written, to look round in
"""


def book_row(book: OnShelf) -> str:
    """A book in a line: its title, its folder, pages written and corrected, what waits."""
    filled = book.written * 16 // book.pages if book.pages else 0
    said = [f"{grouped(book.written)} of {grouped(book.pages)} written", f"{grouped(book.corrected)} corrected"]
    if book.faults_open:
        said.append(f"{count_of(book.faults_open, 'fault')} open")
    if book.spaces_waiting:
        said.append(f"{count_of(book.spaces_waiting, 'space')} to fill")
    return sanitize(f" {book.title}  ({book.folder})  {'━' * filled}{'─' * (16 - filled)}  {', '.join(said)}")
