"""The artist's screen: every space to fill, by sheet, by stage or by material; stages ticked, sheets taken."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.containers import Horizontal, VerticalScroll
from textual.widgets import OptionList, Static

from copydesk.desk.base.list_screen import ToldListScreen
from copydesk.desk.dialogs.space_forms import added_fields, moved_fields, resized_fields
from copydesk.desk.widgets.page_drawing import draw_small_page
from copydesk.desk.widgets.plot_view import PlotView
from copydesk.desk.wording.lines import next_row
from copydesk.desk.wording.space_rows import BY, caution_lines, progress_line, rows, space_lines, tally_lines, title
from copydesk.tracking.decoration.rubrication_tally import tally
from copydesk.tracking.decoration.space_report import ARRANGEMENTS, arranged, progress, space_reports
from copydesk.tracking.ledger.entry_kinds import SpaceEnd
from copydesk.tracking.views.consequences import in_short
from copydesk.tracking.views.page_view import page_account

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping

    from textual.app import ComposeResult

    from copydesk.desk.dialogs.form import Field
    from copydesk.desk.wording.lines import ListRow, PanelLine
    from copydesk.tracking.commands.page_commands import Commands
    from copydesk.tracking.decoration.space_report import Arrangement, SpaceReport
    from copydesk.tracking.ledger.entry import Act, Entry


_PANELS = ("the space", "cautions", "tally")


class SpacesScreen(ToldListScreen["SpaceReport"]):
    """A list of the spaces, and beside or under it what there is to say of the one under the cursor."""

    SCOPE = "spaces"
    TOPIC = "spaces"
    PAPER = "spaces"
    FOOT = ("stage", "take", "give", "shown", "add", "go", "more")
    NEEDS_ROW = ("stage", "take", "give", "go", "more")
    CHOOSES = "stage"
    CSS_PATH = "spaces.tcss"
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (118, "-wide")]  # noqa: RUF012 - as Textual declares it

    _by: Arrangement = ARRANGEMENTS[0]
    _panel = 0
    _waiting_only = True
    _came_back = ""

    def compose(self) -> ComposeResult:
        """The heading, the bars, the list, the panel, what was done, the keys."""
        yield Static(id="title", markup=False)
        yield Static(id="bars", markup=False)
        yield from self.list_and_panel(Horizontal(id="spaces"), "list", PlotView())

    def on_mount(self) -> None:
        """Begin on the first space of the page one comes from, else on the first."""
        self.renew()
        options = self.query_one(OptionList)
        options.focus()
        here = next_row(self._rows, lambda each: each.account.page == self._from_page)
        options.highlighted = here if here is not None else next_row(self._rows, bool)
        if self.in_hand is None:
            self.say(
                "No space waits; o shows the filled ones too."
                if self.job.state.plans
                else "This book has no spaces; i adds one."
            )

    def show_book(self) -> None:
        """Show the spaces as they stand now; the cursor stays on its space where that still shows."""
        state, width = self.job.state, self.size.width
        reports = space_reports(state, self.job.clock())
        shown = [report for report in reports if report.waiting or not self._waiting_only]
        self.show_text("#title", title(reports, self._by, width, waiting_only=self._waiting_only))
        self.show_text("#bars", progress_line(progress(state, reports), width))
        before, at = self.in_hand, self.query_one(OptionList).highlighted
        listed = rows(arranged(state, shown, self._by), self._by, state.book)
        self.fill(listed, self._place_in(listed, before, at))

    def _place_in(self, listed: list[ListRow[SpaceReport]], before: SpaceReport | None, at: int | None) -> int | None:
        """The row of the space that came back, or that the cursor was on; by stage, the row that took its place."""
        back, self._came_back = self._came_back, ""
        wanted = back or (before.account.plan.id if before else "")
        same = [place for place, row in enumerate(listed) if row.thing and row.thing.account.plan.id == wanted]
        if at in same:
            return at
        if same and (back or self._by != "stage"):
            return same[0]
        return next_row(listed, bool, (at or 0) - 1)

    def show_lines(self) -> None:
        """Show what there is to say, and where there is room a small picture of the page with the space in place."""
        super().show_lines()
        view, chosen = self.query_one(PlotView), self.in_hand
        page = chosen.account.page if chosen is not None and self._panel == 0 and self.has_class("-wide") else None
        view.display = page is not None
        if chosen is not None and page is not None:
            account, name = page_account(self.job.state, page.index), chosen.account.plan.id
            view.styles.height = len(draw_small_page(self.job.state, account, name, view.size.width)) + 1
            view.show(lambda width, _height: draw_small_page(self.job.state, account, name, width))

    def lines_in_hand(self) -> Iterable[PanelLine]:
        """The tally, the cautions for all that is listed, or the space under the cursor."""
        if self._panel == 2:
            return tally_lines(tally(self.job.state), self.job.book)
        if self._panel == 1:
            return caution_lines(row.thing for row in self._rows if row.thing is not None)
        chosen = self.in_hand
        if chosen is None:
            return ()
        return (*space_lines(chosen, self.job.book), *(caution_lines([chosen]) if self.has_class("-wide") else ()))

    def on_option_list_option_highlighted(self) -> None:
        """The panel follows the cursor."""
        if self._panel == 0:
            self.show_lines()

    def on_resize(self) -> None:
        """The heading and the panel say more where there is room."""
        self.show_book()

    def action_stage(self) -> None:
        """Record the next stage as done."""
        chosen = self.in_hand
        if chosen is None:
            return
        stage = chosen.account.next_stage
        if stage is None:
            said = "is never reached: no page has room for it" if chosen.waiting else f"is {chosen.account.stage}"
            self.say(f"Space {chosen.account.plan.id} {said}.", wrong=True)
            return
        self._fill_space(stage)

    def action_fill(self, what: str) -> None:
        """Record the whole space as done, or as left empty on purpose."""
        self._fill_space(what)

    def _fill_space(self, what: str) -> None:
        chosen = self.in_hand
        if chosen is not None:
            name = chosen.account.plan.id
            self.do(lambda: self._fresh().space(name, what), hand=self._hand(chosen))

    def _hand(self, report: SpaceReport) -> str:
        """The artist, where the book knows them; else the hand at this desk."""
        book, artist = self.job.book, report.artist
        return artist if artist == book.workshop.artist or book.hand(artist) is not None else ""

    def _fresh(self) -> Commands:
        """What can be recorded, other desks' news taken in first, so that nobody takes what another has."""
        if self.job.refresh():
            self.renew()
        return self.job.commands

    def action_sheet(self, place: str) -> None:
        """Take the sheet of the space to the artist, or give it back to the desk."""
        chosen = self.in_hand
        if chosen is None or chosen.sheet is None:
            self.say("This space is on no sheet." if chosen is not None else "No space is chosen.", wrong=True)
            return
        name, who = chosen.sheet.sheet.name, chosen.artist if place == "artist" else ""
        self.do(lambda: self._fresh().sheet(name, place, who, at=self.job.clock().isoformat()))

    def _take_back(self, said: str, step: Callable[[], Entry]) -> None:
        """Take back, and put the cursor on the space it was about."""

        def stepped() -> Entry:
            entry = step()
            self._came_back = entry.about if entry.subject[0] == "space" else ""
            return entry

        super()._take_back(said, stepped)

    def action_turn(self) -> None:
        """Put the list together another way."""
        self._by = ARRANGEMENTS[(ARRANGEMENTS.index(self._by) + 1) % len(ARRANGEMENTS)]
        self.renew()
        self.say(f"By {BY[self._by]}.")

    def action_panel(self) -> None:
        """Show the space, the cautions for all that is listed, or the tally of small work."""
        self._panel = (self._panel + 1) % len(_PANELS)
        self.show_lines()
        self.query_one("#told", VerticalScroll).scroll_home(animate=False)

    def action_all(self) -> None:
        """Show filled spaces too, or only those to fill."""
        self._waiting_only = not self._waiting_only
        self.renew()

    def action_go(self) -> None:
        """Go to the page of the space."""
        chosen = self.in_hand
        if chosen is not None and chosen.account.page is not None:
            self.close(at=chosen.account.page)

    def action_add(self) -> None:
        """Ask for a new space."""
        state, page = self.job.state, self._from_page
        is_ruled = state.record(state.skin_at(page.index)).ruled
        at = "" if is_ruled else f"page {page}"
        self._ask("A new space", added_fields(state, at), lambda given: ("added", given))

    def action_size(self) -> None:
        """Ask for another number of lines."""
        if self.in_hand is not None:
            self._ask_of(self.in_hand, "takes another number of lines", resized_fields(self.in_hand), "resized")

    def action_move(self) -> None:
        """Ask for another place."""
        if self.in_hand is not None:
            fields = moved_fields(self.in_hand, self.job.book.signing.foliation)
            self._ask_of(self.in_hand, "is moved", fields, "moved")

    def action_drop(self) -> None:
        """Give the space up, while its page is unruled."""
        chosen = self.in_hand
        if chosen is not None:
            self.do(lambda: self._fresh().space(chosen.account.plan.id, SpaceEnd.GIVEN_UP))

    def _ask_of(self, chosen: SpaceReport, title: str, fields: list[Field], what: str) -> None:
        name = chosen.account.plan.id
        self._ask(f"Space {name} {title}", fields, lambda given: (what, {**given, "space": name}))

    def _ask(
        self, title: str, fields: list[Field], told: Callable[[Mapping[str, str]], tuple[str, Mapping[str, str]]]
    ) -> None:
        from copydesk.desk.dialogs.form import Form
        from copydesk.desk.dialogs.space_forms import facts_from
        from copydesk.tracking.planning.space_effect import effect_of

        def act(commands: Commands, given: Mapping[str, str]) -> Act:
            what, facts = told(given)
            read = facts_from(facts)
            note = str(read.pop("note", ""))
            return commands.space(facts["space"], what, note, **read)

        def answer(given: Mapping[str, str]) -> None:
            self.job.record(act(self._fresh(), given))

        def effect(given: Mapping[str, str]) -> str:
            if not all(told(given)[1].get(name, "-") for name in ("space", "at")):
                return ""
            return in_short(effect_of(self.job.state, [act(self.job.commands, given)]), 3)

        self.app.push_screen(Form(title, fields, answer, check=effect), self._after_form)
