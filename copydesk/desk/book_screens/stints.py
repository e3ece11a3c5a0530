"""Who wrote what: each hand's shares of the text in the order of the pages, and how each hand writes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import OptionList, Static

from copydesk.book.common.phrases import count_of
from copydesk.book.common.sanitize import sanitize
from copydesk.desk.base.book_screen import BookScreen
from copydesk.desk.widgets.pick_list import PickList
from copydesk.tracking.scribes.hands_now import hands_now
from copydesk.tracking.scribes.stints import SHARES, share_rows, shares, totals

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from textual.app import ComposeResult

    from copydesk.tracking.scribes.hands_now import HandReport
    from copydesk.tracking.scribes.stints import HandTotal, Share


class StintsScreen(BookScreen):
    """A list of the shares; enter goes to where one begins."""

    SCOPE = "stints"
    TOPIC = "handover"
    FOOT = ("go",)
    NEEDS_ROW = ("go",)
    CHOOSES = "go"
    CSS_PATH = "stints.tcss"

    _shares: Sequence[Share] = ()

    def compose(self) -> ComposeResult:
        """The list, what each hand comes to, the line above the foot, the keys."""
        yield Static(Content(" Who wrote what"), id="title")
        yield Static(id="heads", markup=False)
        yield PickList()
        with VerticalScroll(id="hands"):
            yield Static(id="totals", markup=False)
        yield from self.foot()

    def on_mount(self) -> None:
        """Fill the list."""
        self.renew()
        self.query_one(OptionList).focus()
        self.say("" if self._shares else "Nothing is written yet; w on a page records it as written.")

    def show_book(self) -> None:
        """Show the shares as they are now."""
        self._shares = shares(self.job.state)
        heads, *rows = SHARES.laid_out(share_rows(self.job.state), self.job.book)
        self.show_text("#heads", f" {heads}")
        self.show_rows(Content(f" {row}") for row in rows)
        said = hand_lines(hands_now(self.job.state), totals(self.job.state, self._shares))
        self.show_text("#totals", "\n".join(said))

    def action_go(self) -> None:
        """Go to the page where the share in hand begins."""
        at = self.query_one(OptionList).highlighted
        if at is None or at >= len(self._shares):
            return
        self.close(at=self._shares[at].first.page)


def hand_lines(hands: Iterable[HandReport], written: Iterable[HandTotal]) -> Iterator[str]:
    """Each hand: what it wrote in all, how close and how fast it writes, how that moved, its faults."""
    totals_of = {total.hand: total for total in written}
    for report in hands:
        total = totals_of.pop(report.hand, None)
        name = f" ({report.name})" if report.name else ""
        yield total_words(total) if total is not None else sanitize(f" {report.hand}{name}: nothing yet")
        yield from (f"   {sanitize(sentence)}" for sentence in report.sentences())
    yield from map(total_words, totals_of.values())


def total_words(total: HandTotal) -> str:
    """What a hand wrote in all."""
    name = f" ({total.name})" if total.name else ""
    return sanitize(f" {total.hand}{name}: {count_of(total.lines, 'line')}, {count_of(total.words, 'word')}")
