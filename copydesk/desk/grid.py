"""The desk's first screen: the gatherings lying open, and the page under the cursor in words."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual.containers import Horizontal, VerticalScroll

from copydesk.book.page import Page
from copydesk.book.refusal import Refused
from copydesk.desk.book_screen import BookScreen, SayLine
from copydesk.desk.keys import bindings, key_named
from copydesk.desk.widgets.foot_line import FootLine
from copydesk.desk.widgets.gathering_grid import GatheringGrid
from copydesk.desk.widgets.page_panel import PagePanel
from copydesk.ledger.accounts import page_account

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping

    from textual.app import ComposeResult
    from textual.binding import BindingType

    from copydesk.desk.keys import Key
    from copydesk.ledger.accounts import PageAccount

_FIRST_KEYS = {
    "rule": ("next", "rule", "write", "write_to"),
    "write": ("next", "write", "write_to", "begin"),
    "check": ("next", "check", "fault", "write_to"),
    "mend": ("next", "settle", "fault"),
    "paint": ("next_space", "next_write", "fault"),
    "done": ("next_write", "next_space", "fault"),
    "blank": ("next_write", "rule", "write_to"),
}


class GridScreen(BookScreen):
    """Every gathering, page by page."""

    SCOPE = "grid"
    TOPIC = "desk"
    CSS_PATH = "grid.tcss"
    BINDINGS: ClassVar[list[BindingType]] = bindings("grid")
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (118, "-wide")]  # noqa: RUF012 - as Textual declares it

    def compose(self) -> ComposeResult:
        """The grid, the panel, a line for what was done, and the keys."""
        standing = self.job.standing
        with Horizontal(id="book"):
            yield GatheringGrid(standing, cursor=self._first_cursor())
            with VerticalScroll(id="panel", can_focus=False):
                yield PagePanel()
        yield SayLine(markup=False)
        yield FootLine()

    def _first_cursor(self) -> int:
        """The page to write next, else the first."""
        found = self._next_where(-1, lambda account: account.next_act in ("write", "rule"))
        return found if found is not None else 0

    def on_mount(self) -> None:
        """Begin on the grid."""
        self.query_one(GatheringGrid).focus()
        self.renew()
        standing = self.job.standing
        notes = (*self.job.store.notes, *self._homeless())
        at_desk = self.job.book.hand(self.job.hand)
        name = f" ({at_desk.name})" if at_desk and at_desk.name else ""
        self.say(
            notes[0] if notes else f"{standing.book.title}. At this desk: hand {self.job.hand}{name}.",
            wrong=bool(notes),
        )

    def _homeless(self) -> list[str]:
        spaces = self.job.standing.budget.homeless
        return [f"no page has room for the space {', '.join(spaces)}; rule it in on another page"] if spaces else []

    def show_book(self) -> None:
        """Show the grid and the panel as the book stands now."""
        grid = self.query_one(GatheringGrid)
        grid.show(self.job.standing)
        self._show_panel()

    def _show_panel(self) -> None:
        grid = self.query_one(GatheringGrid)
        self.query_one(PagePanel).show_page(self.job.standing, grid.cursor)

    def on_gathering_grid_moved(self) -> None:
        """The panel and the foot follow the cursor."""
        self._show_panel()
        self.query_one(FootLine).show_keys(self.keys_now())

    def on_gathering_grid_chosen(self) -> None:
        """A second click on a page does what comes next."""
        self.action_do_next()

    @property
    def page(self) -> Page:
        """The page under the cursor."""
        return self.query_one(GatheringGrid).page

    @property
    def account(self) -> PageAccount:
        """The account of the page under the cursor."""
        return page_account(self.job.standing, self.page.index)

    def keys_now(self) -> Iterable[Key]:
        """Most likely acts on this page first."""
        first = _FIRST_KEYS.get(self.account.next_act.split()[0], ("next",))
        rest = ("go", "next_write", "next_space", "overview", "log", "hand")
        names = dict.fromkeys((*(f"grid.{name}" for name in first), "all.undo", *(f"grid.{name}" for name in rest)))
        return [key_named(name) for name in (*names, "all.help", "all.quit")]

    def action_move(self, way: str) -> None:
        """Move the cursor."""
        self.query_one(GatheringGrid).move(way)

    def action_do_next(self) -> None:
        """Do what the word on the page says comes next."""
        act = self.account.next_act.split()[0]
        steps = {
            "rule": self.action_rule,
            "write": self.action_write,
            "check": self.action_check,
            "mend": self.action_settle,
        }
        step = steps.get(act)
        if step is not None:
            step()
        else:
            said = {"paint": "it waits for the artist", "done": "it is done", "blank": "no text comes here"}
            self.say(f"{self.page}: {said.get(act, act)}.")

    def action_rule(self) -> None:
        """Record the page as ruled."""
        self.do(lambda: self.job.acts.rule(self.page))

    def action_begin(self) -> None:
        """Record the page as begun."""
        self.do(lambda: self.job.acts.begin(self.page))

    def action_write(self) -> None:
        """Record the whole page as written, ending where planned."""
        if self.account.record.whole:
            self.say(f"{self.page} is written whole already; e records another end.", wrong=True)
            return
        self.do(lambda: self.job.acts.write(self.page))

    def action_check(self) -> None:
        """Record the page as checked by the hand at the desk."""
        self.do(lambda: self.job.acts.check(self.page))

    def action_write_to(self) -> None:
        """Ask how far the page is written, and its real last words."""
        from copydesk.desk.dialogs.form import Field, Form

        page, account = self.page, self.account

        def record(given: Mapping[str, str]) -> None:
            line = int(given["line"]) if given["line"] else None
            minutes = float(given["minutes"].replace(",", ".")) if _is_number(given["minutes"]) else None
            act = self.job.acts.write(
                page, to_line=line, begins=given["begins"], ends=given["ends"], minutes=minutes, note=given["note"]
            )
            self.job.record(act)

        fields = [
            Field("line", "Written to line, counted through the columns", hint="the whole page", whole=True),
            Field("ends", "Last words written", hint=account.last_words),
            Field("begins", "First words, if it did not begin as planned", hint=account.first_words),
            Field("minutes", "Minutes"),
            Field("note", "Note"),
        ]
        self.app.push_screen(Form(f"{page} written", fields, record), self._after_form)

    def _after_form(self, done: bool | None) -> None:
        if done:
            newest = self.job.ledger.newest_standing(self.job.store.desk)
            self.renew()
            if newest is not None:
                from copydesk.ledger.telling import tell

                self.say(f"{tell(newest, self.job.standing)}.")

    def action_fault(self) -> None:
        """Ask for a fault found on the page."""
        from copydesk.desk.dialogs.form import Field, Form

        page = self.page

        def record(given: Mapping[str, str]) -> None:
            places = {name: int(given[name]) if given[name] else None for name in ("column", "line")}
            facts = {name: given[name] or None for name in ("stands", "should", "note")}
            self.job.record(self.job.acts.fault(page, given["kind"], **places, **facts))

        fields = [
            Field("kind", "Kind of fault", hint="omission, repetition, substitution, transposition, addition ..."),
            Field("column", "Column", hint="1", whole=True),
            Field("line", "Line in the column", whole=True),
            Field("stands", "What stands there"),
            Field("should", "What should stand there"),
            Field("note", "Note"),
        ]
        self.app.push_screen(Form(f"A fault on {page}", fields, record), self._after_form)

    def action_settle(self) -> None:
        """Ask which fault is settled, and how."""
        self.run_worker(self._settle(), exclusive=True, group="ask")

    async def _settle(self) -> None:
        from copydesk.comparing.remedies import KNIFE, REMEDIES
        from copydesk.desk.dialogs.form import Choice
        from copydesk.desk.page_words import fault_words

        page, open_faults = self.page, self.account.record.open_faults
        if not open_faults:
            self.say(f"{page} has no open fault.", wrong=True)
            return
        fault = open_faults[0].id
        if len(open_faults) > 1:
            options = [(each.id, fault_words(each)) for each in open_faults]
            fault = await self.app.push_screen_wait(Choice(f"Which fault on {page} is settled?", options))
        if not fault:
            return
        remedies = [(remedy.name, f"{remedy.name}: {remedy.how}") for remedy in REMEDIES]
        remedy = await self.app.push_screen_wait(Choice("How is it settled?", remedies, note=KNIFE))
        if remedy:
            self.do(lambda: self.job.acts.settle(page, fault, remedy))

    def action_hand(self) -> None:
        """Ask whose hand is at this desk."""
        self.run_worker(self._change_hand(), exclusive=True, group="ask")

    async def _change_hand(self) -> None:
        from copydesk.desk.dialogs.form import Choice
        from copydesk.ledger.acts import Act

        options = [(hand.id, f"{hand.id}  {hand.name}") for hand in self.job.book.hands]
        if artist := self.job.book.workshop.artist:
            options.append((artist, f"{artist}  (artist)"))
        hand = await self.app.push_screen_wait(Choice("Whose hand is at this desk now?", options))
        if hand:
            self.do(lambda: Act("at-desk", self.job.store.desk, "", {}), hand=hand)

    def action_hold(self) -> None:
        """Ask for the words the page must begin with."""
        from copydesk.desk.dialogs.form import Field, Form

        page = self.page

        def record(given: Mapping[str, str]) -> None:
            self.job.record(self.job.acts.hold(page, given["begins"]))

        fields = [Field("begins", f"{page} must begin with these words of the exemplar", hint=self.account.first_words)]
        self.app.push_screen(Form(f"The beginning of {page}", fields, record), self._after_form)

    def action_go(self) -> None:
        """Ask for a page to go to."""
        from copydesk.desk.dialogs.form import Field, Form

        def go(given: Mapping[str, str]) -> None:
            text = given["page"]
            page = Page.parse(text if text[-1:] in "rvRV" else f"{text}r")
            if not self.job.standing.collation.has(page):
                raise Refused(f"there is no page {page}; the leaves go from 1 to {self.job.standing.collation.leaves}")
            self.query_one(GatheringGrid).cursor = page.index

        self.app.push_screen(Form("Go to a page", [Field("page", "Page", hint="12r")], go))

    def go_to(self, page: Page) -> None:
        """Put the cursor on a page."""
        self.query_one(GatheringGrid).cursor = page.index

    def action_next_to_write(self) -> None:
        """Go to the next page that is to be ruled or written."""
        self._go_where("page to write", lambda account: account.next_act in ("write", "rule"))

    def action_next_space(self) -> None:
        """Go to the next page with a space waiting for the artist."""
        self._go_where("space waiting", lambda account: account.spaces_waiting > 0)

    def _go_where(self, what: str, wanted: Callable[[PageAccount], bool]) -> None:
        found = self._next_where(self.query_one(GatheringGrid).cursor, wanted)
        if found is None:
            self.say(f"There is no {what} in the book.")
        else:
            self.query_one(GatheringGrid).cursor = found

    def _next_where(self, after: int, wanted: Callable[[PageAccount], bool]) -> int | None:
        """The next page after ``after`` that is wanted, from the beginning again after the end."""
        pages = self.job.standing.collation.pages
        for step in range(1, pages + 1):
            index = (after + step) % pages
            if wanted(page_account(self.job.standing, index)):
                return index
        return None

    def action_overview(self) -> None:
        """All gatherings, a line each."""
        from copydesk.desk.overview import OverviewScreen

        def come_back(page: Page | None) -> None:
            if page is not None:
                self.go_to(page)

        self.app.push_screen(OverviewScreen(self.page), come_back)

    def action_log(self) -> None:
        """Everything that was recorded."""
        from copydesk.desk.log import LogScreen

        self.app.push_screen(LogScreen())


def _is_number(text: str) -> bool:
    return text.replace(",", ".", 1).replace(".", "", 1).isdigit()
