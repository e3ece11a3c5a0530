"""The handover: what the leaving hand would tell the next, how the lines ran, and the desk taken over with one key."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.containers import Container, VerticalScroll
from textual.content import Content
from textual.widgets import Static

from copydesk.desk.page_screens.page_screen import PageScreen
from copydesk.desk.widgets.lines_panel import LinesPanel
from copydesk.desk.wording.lines import PanelLine
from copydesk.tracking.scribes.handover import handover, leave_note, take_desk
from copydesk.tracking.scribes.handover_text import handover_lines
from copydesk.tracking.views.page_view import page_account

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping

    from textual.app import ComposeResult

    from copydesk.book.plan import Book
    from copydesk.book.structure.page import Page
    from copydesk.tracking.scribes.handover import Handover
    from copydesk.tracking.scribes.stopping_point import RunLine


NARROW = 118
LINES_WHEN_NARROW = 4
"""Lines shown before and after the pen where the screen is too narrow for all beside the rest."""


class HandoverScreen(PageScreen):
    """One handover: read it, leave a note, take the desk."""

    SCOPE = "handover"
    TOPIC = "handover"
    PAPER = "handover"
    FOOT = ("take", "other", "note", "write_to", "go")
    CSS_PATH = "handover.tcss"
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (NARROW, "-wide")]  # noqa: RUF012 - as Textual declares it

    _asked: Page | None = None
    _taker = ""

    def compose(self) -> ComposeResult:
        """What is told, the lines, what was done, the keys."""
        yield Static(id="title", markup=False)
        with Container(id="handover"):
            with VerticalScroll(id="told"):
                yield LinesPanel(id="words")
            yield Static(id="ran", markup=False)
        yield from self.foot()

    def on_mount(self) -> None:
        """Tell of the page one comes from if it is begun, else of where the pen stopped last."""
        record = page_account(self.job.state, self._from_page.index).record
        self._asked = self._from_page if record.stints and not record.whole else None
        self._given: Handover = handover(self.job.state, self._asked)
        self._taker = self._first_taker()
        self.renew()
        self.say(f"{self._what_enter_does()} i: a note. e: how far it is written.")

    def on_resize(self) -> None:
        """Show as many lines as there is room for."""
        self.call_after_refresh(self._show_lines)

    def _first_taker(self) -> str:
        """The hand at the desk, if one that writes and not the one that wrote here; else the next hand of the book."""
        if self.job.hand != self._given.hand and self.job.book.hand(self.job.hand) is not None:
            return self.job.hand
        others = [hand.id for hand in self.job.book.hands if hand.id != self._given.hand]
        return others[0] if others else self._given.hand

    @property
    def page(self) -> Page:
        """The page on which work goes on."""
        return self._given.goes_on.page

    def show_book(self) -> None:
        """Show the handover as it stands now."""
        state = self.job.state
        asked = self._asked if self._asked is not None and state.collation.has(self._asked) else None
        self._given = handover(state, asked)
        words = handover_lines(state, self._given)
        self.query_one(LinesPanel).show_lines([PanelLine(*told) for told in words])
        self._show_title()
        self._show_lines()

    def _show_title(self) -> None:
        taken = "has the pen" if self._has_it() else "takes the desk with enter"
        title = f" Handover at {self._given.goes_on.named(self.job.book)}   {self._taker} {taken}"
        self.show_text("#title", title)

    def _has_it(self) -> bool:
        """Whether the hand named has the desk and the pen already."""
        return self.job.hand == self._taker == self._given.hand

    def idle_now(self) -> Collection[str]:
        """Nobody takes the desk who has it; one hand alone has no other."""
        return (*(("take",) if self._has_it() else ()), *(("other",) if len(self.job.book.hands) < 2 else ()))

    def _what_enter_does(self) -> str:
        if self._has_it():
            return f"{self._taker} has the desk already; a names another hand."
        return f"enter: {self._taker} takes the desk."

    def text_to_copy(self) -> str:
        """What is told, and the lines as they ran and are to run."""
        from copydesk.desk.base.clipboard import told

        return f"{told(self)}\n\n{self.query_one('#ran', Static).content}"

    def _show_lines(self) -> None:
        """How the last lines ran, and how the next are to run, the pen between them."""
        wide = self.size.width >= NARROW
        before, after = self._given.before, self._given.after
        if not wide:
            before, after = before[-LINES_WHEN_NARROW:], after[:LINES_WHEN_NARROW]
        self.query_one("#ran", Static).update(
            Content("\n").join(_line(each, self.job.book) for each in (*before, *after))
        )

    def action_take(self) -> None:
        """The next hand takes the desk."""
        if self._has_it():
            self.say(self._what_enter_does(), wrong=True)
            return
        self.do_all(
            lambda: take_desk(self.job.state, self._taker, self.job.store.desk, page=self.page), hand=self._taker
        )

    def action_other(self) -> None:
        """Name another hand to take the desk."""
        hands = [hand.id for hand in self.job.book.hands]
        self._taker = hands[(hands.index(self._taker) + 1) % len(hands)] if self._taker in hands else hands[0]
        self._show_title()
        self.show_foot()
        self.say(self._what_enter_does())

    def action_note(self) -> None:
        """Write a note for the next hand."""
        from copydesk.desk.dialogs.form import Field, Form

        page = self.page

        def record(given: Mapping[str, str]) -> None:
            self.job.record(leave_note(self.job.state, page, given["note"]))

        label = "Note for the next hand: pen, ink, skin, anything it should know"
        fields = [Field("note", label, self._given.note)]
        self.app.push_screen(Form(f"{self.job.book.named(page)}: a note", fields, record), self._after_form)

    def action_go(self) -> None:
        """Go to the page in the gatherings."""
        self.close(at=self.page)


def _line(line: RunLine, book: Book) -> Content:
    """A line with its place; what is written is quiet, what is to come is not, the pen stands between."""
    place = f"{book.named(line.page):>5} {f'{line.column}.{line.line}':<5} "
    parts: list[Content | tuple[str, str]] = [(place, "$secondary"), (line.written, "$secondary")]
    if line.to_come:
        parts += [(" ▏" if line.written else "", "$error"), (line.to_come, "bold")]
    return Content.assemble(*parts)
