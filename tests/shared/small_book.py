"""A small book at work, without files: acts go into its ledger as they would at a desk."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from copydesk.book.flow import ExemplarLoan
from copydesk.book.plan import Book, Columns, GatheringPlan, Hand, Margins, PageSize, Ruling
from copydesk.book.text.exemplar import read_exemplar
from copydesk.tracking.commands.page_commands import Commands
from copydesk.tracking.ledger.entry import Act, Entry
from copydesk.tracking.ledger.entry_kinds import check_facts
from copydesk.tracking.ledger.ledger import Ledger
from copydesk.tracking.state.book_state import BookState

if TYPE_CHECKING:
    from copydesk.book.structure.page import Page


class SmallBook:
    """A book of one column of ten lines, twenty letters to a line; words are ``w0``, ``w1`` and so on."""

    def __init__(self, words: int = 900, sheets: int = 2, count: int | None = 3, **changes: Any) -> None:
        text = " ".join(f"w{number}" for number in range(words))
        values: dict[str, Any] = {
            "title": "A small book",
            "page": PageSize(100.0, 140.0, Margins(10.0, 10.0, 20.0, 30.0)),
            "hands": (Hand("A", "first", 20.0), Hand("B", "second", 16.0)),
            "exemplar": ExemplarLoan("exemplar.txt"),
            "columns": Columns(1),
            "ruling": Ruling(lines=10),
            "letter_widths": "equal",
            "gatherings": GatheringPlan(sheets=sheets, count=count),
            **changes,
        }
        self.plan = Book(**values)
        self.exemplar = read_exemplar(text)
        self.ledger = Ledger()
        self.state = BookState(self.plan, self.exemplar, self.ledger)

    @property
    def commands(self) -> Commands:
        return Commands(self.state)

    def do(self, act: Act, hand: str = "A") -> Entry:
        check_facts(act.what, act.facts)
        tick = self.ledger.last_tick + 1
        entry = Entry(
            f"e{tick}", tick, "2026-03-02T10:00:00+00:00", hand, "desk", act.what, act.about, act.page, act.facts
        )
        subject = self.ledger.add(entry)
        assert subject is not None
        self.state.touch(subject)
        return entry

    def undo(self, entry: Entry) -> Entry:
        return self.do(Act("voided", entry.entry, "", {}))

    def write(self, page: str, to_line: int | None = None, hand: str = "A") -> Entry:
        return self.do(self.commands.write(_page(page), to_line=to_line), hand)

    def afresh(self) -> BookState:
        """The same book with everything worked out from the beginning."""
        return BookState(self.plan, self.exemplar, Ledger(self.ledger))


def _page(text: str) -> Page:
    from copydesk.book.structure.page import Page

    return Page.parse(text)
