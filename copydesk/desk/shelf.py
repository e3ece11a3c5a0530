"""The shelf: the books of a folder with how far each has come; or, where it is empty, what to do."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar, NamedTuple

from textual import work
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from copydesk.book.refusal import Refused
from copydesk.desk.before_the_book import BeforeTheBook
from copydesk.desk.shelf_words import EMPTY, HOW, HOW_EMPTY, book_row

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from textual.app import ComposeResult
    from textual.binding import BindingType


class Wish(NamedTuple):
    """What a person wants of the shelf: ``open`` a book, make a ``new`` one, or copy the ``shipped`` one."""

    what: str
    book: Path | None = None


class Shelf(BeforeTheBook[Wish]):
    """Lists books; gives what is wished. ``amiss`` says why the last wish came to nothing."""

    CSS_PATH = "shelf.tcss"
    TOPIC = "shelf"
    BINDINGS: ClassVar[list[BindingType]] = [
        ("n", "wish('new')", "new book"),
        ("d", "wish('shipped')", "copy of the shipped book"),
        ("q,escape", "quit", "leave"),
    ]

    def __init__(self, shelf: Path, books: Sequence[Path], look: str = "", amiss: str = "") -> None:
        super().__init__(look)
        self._amiss = amiss
        self._shelf = shelf
        self._books = list(books)

    def compose(self) -> ComposeResult:
        """The list, or what to do."""
        yield Static(Content(f" Books in {self._shelf}"), id="title")
        if self._books:
            yield OptionList(
                *(Option(Content(f" {book.name}  ..."), id=f"b{at}") for at, book in enumerate(self._books))
            )
        else:
            yield Static(Content(EMPTY), id="empty")
        yield Static(Content(self._amiss), id="amiss")
        yield Static(Content(HOW if self._books else HOW_EMPTY), id="how")

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

    def action_wish(self, what: str) -> None:
        """Give the wish."""
        self.exit(Wish(what))


def _read(book: Path) -> str:
    from copydesk.job import Job
    from copydesk.ledger.gathering_report import gathering_reports

    try:
        job = Job.open(book)
        row = book_row(job.book.title, book.name, gathering_reports(job.standing))
    except Refused as refused:
        return f" {book.name}  cannot be opened: {refused.problems[0]}"
    job.close()
    return row
