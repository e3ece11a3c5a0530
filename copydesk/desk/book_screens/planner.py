"""The planner: change one figure of the book and see the rest move; what is liked can be kept."""

from __future__ import annotations

from datetime import timedelta
from typing import TYPE_CHECKING

from textual.containers import Horizontal, VerticalScroll
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from copydesk.book.common.errors import CopydeskError
from copydesk.book.common.phrases import capital
from copydesk.book.common.typed_values import read_day, read_whole
from copydesk.desk.base.book_screen import BookScreen
from copydesk.desk.widgets.lines_panel import LinesPanel
from copydesk.desk.widgets.pick_list import PickList
from copydesk.desk.wording.lines import PanelLine
from copydesk.desk.wording.planner_words import (
    AT_ONCE,
    MOST_WAYS,
    READY_BY,
    begin_line,
    figure_rows,
    outcome_lines,
    say_way,
    skin_rows,
    title_words,
    way_lines,
)
from copydesk.tracking.planning.plan_figures import LETTERS, Trial, figure_named, read_figure, turned, turned_letters
from copydesk.tracking.planning.planner import Planner
from copydesk.tracking.planning.ways_report import book_to_write, formula_of_way, read_letters, write_remarks
from copydesk.tracking.views.skin_batches import batches_of
from copydesk.tracking.views.skin_order import skin_days, skin_steps

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator, Sequence
    from datetime import date

    from textual.app import ComposeResult

    from copydesk.desk.wording.planner_words import FigureRow
    from copydesk.store.folder.kept_plan import PlanChange
    from copydesk.tracking.planning.gathering_choices import Way
    from copydesk.tracking.planning.planner import Outcome
    from copydesk.tracking.views.skin_order import SkinDays


LABEL, VALUE = 18, 9
"""Terminal cells for a figure's name and for each of its two values."""

PICTURE = 34
"""Terminal cells that the picture of the cutting is wide."""


class PlannerScreen(BookScreen):
    """A table of figures on the left, what follows from them on the right."""

    SCOPE = "planner"
    TOPIC = "plan"
    PAPER = "ruling"
    FOOT = ("less", "more", "type", "as_planned", "keep", "ways", "all_as_planned")
    CHOOSES = "type"
    CSS_PATH = "planner.tcss"

    _trial = Trial()
    _ready_by: date | None = None
    _at_once = 0
    _way: Way | None = None
    _rows: Sequence[FigureRow] = ()

    def compose(self) -> ComposeResult:
        """The table, what follows, the line above the foot, the keys."""
        yield Static(id="title", markup=False)
        with Horizontal(id="plan"):
            yield PickList(id="figures")
            with VerticalScroll(id="follows", can_focus=False):
                yield LinesPanel(id="outcome")
                yield Static(id="cutting", markup=False)
        yield from self.foot()

    def on_mount(self) -> None:
        """Work out the book as it is planned."""
        self.renew()
        self.query_one(OptionList).focus()
        self.say("← and → change a figure. Nothing is written until you keep it.")

    @property
    def _today(self) -> date:
        return self.job.clock().date()

    def show_book(self) -> None:
        """Work everything out again on the book as it stands."""
        self._planner = Planner(self.job.state)
        self._base = self._planner.outcome(Trial())
        told = title_words(self.job.book.title, len(self._planner.ground.sizes))
        self.show_text("#title", f" {told}")
        self._show()

    def _show(self) -> None:
        """Work the trial out and show what follows."""
        try:
            self._outcome: Outcome | None = self._planner.outcome(self._trial)
            lines = list(self._follows(self._outcome))
        except CopydeskError as refused:
            self._outcome = None
            lines = [PanelLine("Refused", str(problem), wrong=True) for problem in refused.problems]
        self.query_one(LinesPanel).show_lines(lines)
        self._show_rows()
        self._show_cutting()

    def _follows(self, outcome: Outcome) -> Iterator[PanelLine]:
        yield from outcome_lines(self._base, outcome)
        if outcome.skins:
            yield begin_line(self._days(outcome), self._today, asked=self._ready_by is not None)
        if self._way is not None:
            yield PanelLine("Chosen", f"{formula_of_way(self._planner, self._way)}: {say_way(self._way)}")
            return
        ways = self._planner.ways(self._trial)[:MOST_WAYS]
        yield from way_lines([(way, formula_of_way(self._planner, way)) for way in ways])

    def _days(self, outcome: Outcome) -> SkinDays:
        steps = skin_steps(outcome.book)
        here = sum(batch.skins for batch, _ in batches_of(self.job.ledger))
        wanting = max(outcome.skins_with_flyleaves - here, 0)
        return skin_days(steps, wanting, self._today, self._ready_by, self._at_once)

    def _show_rows(self) -> None:
        rows = figure_rows(self._base, self._outcome, self._trial, self._planner.ground.own_sheets)
        if self.job.book.skins is not None:
            rows += skin_rows(self._ready_by, self._at_once, self._today)
        options = self.query_one(OptionList)
        if len(rows) != len(self._rows):
            options.clear_options()
            options.add_options(Option(Content.assemble(*_parts(row))) for row in rows)
            options.highlighted = next(at for at, row in enumerate(rows) if row.name == "lines")
        else:
            for at, (before, row) in enumerate(zip(self._rows, rows, strict=True)):
                if before != row:
                    options.replace_option_prompt_at_index(at, Content.assemble(*_parts(row)))
        self._rows = rows
        self.show_foot()

    def on_option_list_option_highlighted(self) -> None:
        """The foot follows the cursor."""
        self.show_foot()

    def _show_cutting(self) -> None:
        """A small picture of how a skin is cut, with the caution about lime."""
        from copydesk.papers.cutting import cutting_text, cutting_words
        from copydesk.tracking.views.skin_order import lime_caution

        shown = self.query_one("#cutting", Static)
        cutting = self._outcome.cutting if self._outcome else None
        shown.display = cutting is not None
        if cutting is None or self._outcome is None:
            return
        rows = [cutting_words(cutting, self.job.book.unit), *cutting_text(cutting, PICTURE)]
        caution = lime_caution(skin_steps(self._outcome.book))
        shown.update(Content("\n".join([*rows, *([caution] if caution else [])])))

    def idle_now(self) -> Collection[str]:
        """Only what was changed is put back or kept."""
        changed = [row for row in self._rows if row.planned != row.now]
        if not changed and self._way is None:
            return ("as_planned", "all_as_planned", "keep")
        return () if self._row in changed else ("as_planned",)

    @property
    def _row(self) -> FigureRow:
        return self._rows[self.query_one(OptionList).highlighted or 0]

    def action_turn(self, steps: int) -> None:
        """Change the figure under the cursor by so many steps."""
        row = self._row
        if row.name == READY_BY:
            soonest = self._days(self._outcome or self._base).ready
            self._ready_by = (self._ready_by or soonest) + timedelta(days=steps)
        elif row.name == AT_ONCE:
            self._at_once = max(self._at_once + steps, 0)
        elif row.sort == "letters":
            self._put_letters(row, turned_letters(row.value or 1.0, steps))
        else:
            self._put(row, turned(figure_named(row.name), row.value, steps, self.job.book.unit))
        self._turned()

    def _put(self, row: FigureRow, value: float) -> None:
        planned = figure_named(row.name).value(self._base.book, self._base.layout)
        self._trial = self._trial.with_figure(row.name, value, planned)

    def _put_letters(self, row: FigureRow, letters: float) -> None:
        self._trial = self._trial.with_letters(row.name.removeprefix(f"{LETTERS}."), letters, row.value or 1.0)

    def _turned(self) -> None:
        self._way = None
        self._show()
        self.say("")

    def action_type(self) -> None:
        """Ask for the value of the figure under the cursor."""
        from copydesk.desk.dialogs.form import Field, Form

        row = self._row
        field = Field("value", f"{capital(row.says)}, planned {row.planned}", hint=row.now)
        self.app.push_screen(Form(f"Try {row.says}", [field], lambda given: self._typed(row, given["value"])))

    def _typed(self, row: FigureRow, text: str) -> None:
        """Take a typed value; what it refuses is said in the form."""
        if row.name == READY_BY:
            self._ready_by = read_day(text, row.says)
        elif row.name == AT_ONCE:
            self._at_once = read_whole(text, row.says)
        elif row.sort == "letters":
            self._put_letters(row, read_letters(text))
        else:
            self._put(row, read_figure(figure_named(row.name), text))
        self._turned()

    def action_further(self) -> None:
        """Show what stands further down, or the beginning again after the end."""
        follows = self.query_one("#follows", VerticalScroll)
        if follows.scroll_offset.y >= follows.max_scroll_y:
            follows.scroll_home(animate=False)
        else:
            follows.scroll_page_down(animate=False)

    def action_as_planned(self) -> None:
        """Put the figure under the cursor back to what is planned."""
        name = self._row.name
        if name == READY_BY:
            self._ready_by = None
        elif name == AT_ONCE:
            self._at_once = 0
        hand = name.removeprefix(f"{LETTERS}.")
        figures = {other: value for other, value in self._trial.figures.items() if other != name}
        self._trial = Trial(figures, {other: value for other, value in self._trial.closer.items() if other != hand})
        self._turned()

    def action_all_as_planned(self) -> None:
        """Put every figure back to what is planned."""
        self._trial, self._ready_by, self._at_once = Trial(), None, 0
        self._turned()

    def action_ways(self) -> None:
        """List every way to gather the rest of the book, to choose one."""
        self.run_worker(self._choose_way(), exclusive=True, group="ask")

    async def _choose_way(self) -> None:
        from copydesk.desk.dialogs.form import Choice

        if self._outcome is None:
            self.say("Such a page is impossible; take a figure back first.", wrong=True)
            return
        ways = self._planner.ways(self._trial)
        told = [(str(at), f"{formula_of_way(self._planner, way)}: {say_way(way)}") for at, way in enumerate(ways)]
        chosen = await self.app.push_screen_wait(Choice("How are the gatherings made?", told))
        if chosen:
            self._way = ways[int(chosen)]
            self._show()

    def action_keep(self) -> None:
        """Write what was changed into ``book.yaml``, once it was shown."""
        self.run_worker(self._keep(), exclusive=True, group="ask")

    async def _keep(self) -> None:
        from copydesk.desk.dialogs.plan_keeping import keep_plan
        from copydesk.store.folder.kept_plan import change_to

        outcome = self._outcome
        if outcome is None:
            self.say("Such a page is impossible, so it cannot be kept; take a figure back first.", wrong=True)
            return

        def make() -> PlanChange:
            after = book_to_write(self._planner, self._trial, outcome, self._way)
            return change_to(self.job.folder, self.job.state, after)

        if await keep_plan(self, make, write_remarks(self._planner, outcome)):
            self._trial, self._way = Trial(), None
            self._show()


def _parts(row: FigureRow) -> tuple[Content | str, ...]:
    """A row of the table: what the figure is, as planned, and as tried."""
    planned, now = f"{row.planned:>{VALUE}}", f"{row.now:>{VALUE}}"
    turned_to = Content.styled(f"{now} ◂", "bold $primary") if row.is_tried else Content(f"{now}  ")
    return (f" {row.says:<{LABEL}}", Content.styled(planned, "$secondary"), turned_to)
