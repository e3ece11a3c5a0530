"""The skins in the making: each batch with its step, what it asks for today, and the sheets cut from it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.containers import VerticalScroll
from textual.widgets import OptionList, Static

from copydesk.book.common.phrases import count_of, say_day, say_short
from copydesk.book.common.typed_values import optional, read_whole
from copydesk.book.materials.cautions import LABEL
from copydesk.book.materials.skin_preparation import step_cautions
from copydesk.desk.base.list_screen import ToldListScreen
from copydesk.desk.widgets.lines_panel import LinesPanel
from copydesk.desk.widgets.pick_list import PickList
from copydesk.desk.wording.lines import ListRow, PanelLine, under_one_head
from copydesk.tracking.commands.skin_commands import NEXT, cut_sheet, move_skins, went_in
from copydesk.tracking.views.skin_batches import BATCHES, BatchAccount, needed_words, skins_today
from copydesk.tracking.views.skin_order import steps_words

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Mapping
    from datetime import date

    from textual.app import ComposeResult

    from copydesk.desk.base.keys import KeyBinding
    from copydesk.tracking.ledger.entry import Act
    from copydesk.tracking.views.skin_batches import SkinsToday


class SkinsScreen(ToldListScreen[BatchAccount]):
    """A list of the batches, and what there is to say of the one under the cursor."""

    SCOPE = "skins"
    TOPIC = "skins"
    PAPER = "cutting"
    CHOOSES = "move_on"
    CSS_PATH = "skins.tcss"

    def compose(self) -> ComposeResult:
        """The batches, what is said of them, the line above the foot, the keys."""
        yield Static(id="title", markup=False)
        yield Static(id="heads", markup=False)
        yield PickList(id="batches")
        with VerticalScroll(id="told", can_focus=False):
            yield LinesPanel(id="lines")
        yield from self.foot()

    def on_mount(self) -> None:
        """Begin on the first batch."""
        self.renew()
        self.query_one(OptionList).focus()
        if not self._skins.batches:
            self.say("No skins are in the making. i adds a batch.")

    def keys_now(self) -> Iterable[KeyBinding]:
        """Moving a batch on first, where there is one."""
        names = ("next", "more", "new") if self._skins.batches else ("new",)
        return self.foot_keys(*names, *self.papers_now(), "all.undo", "all.others", "all.help", "all.back")

    @property
    def _today(self) -> date:
        return self.job.clock().date()

    def show_book(self) -> None:
        """Show the batches as they are today."""
        self._skins: SkinsToday = skins_today(self.job.state, self._today)
        self.show_text("#title", f" Skins in the making, {say_day(self._today)}")
        at = self.query_one(OptionList).highlighted or 0
        heads, *rows = BATCHES.laid_out(self._skins.batches, self.job.book)
        self.show_text("#heads", f" {heads}")
        listed = [ListRow(f" {row}", each) for row, each in zip(rows, self._skins.batches, strict=True)]
        self.fill(listed, min(at, len(listed) - 1) if listed else None)

    def lines_in_hand(self) -> Iterable[PanelLine]:
        """What there is to say of the skins, and of the batch under the cursor."""
        return skins_lines(self._skins, self.in_hand, self._today)

    def action_move_on(self) -> None:
        """Put the batch into the step that follows."""
        chosen = self.in_hand
        if chosen is None:
            self.say("There is no batch yet; i adds one.", wrong=True)
            return
        self.do(lambda: move_skins(self.job.state, chosen.batch.name, NEXT))

    def action_new(self) -> None:
        """Ask for a new batch."""
        asked = [("batch", "Name of the batch, one word, as in A", "", ""), ("skins", "How many skins", "", "")]
        asked.append(("step", "Step it begins in", next(iter(self._skins.steps)), ""))
        self._ask("A batch of skins", asked)

    def action_step(self) -> None:
        """Ask for the step a batch goes into, or for another number of skins."""
        chosen = self.in_hand
        if chosen is None:
            self.action_new()
            return
        batch, steps = chosen.batch, ", ".join((*self._skins.steps, "ready"))
        asked = [("batch", "Batch", batch.name, ""), ("step", f"Step: {steps}", chosen.next or batch.step, "")]
        asked.append(("skins", "How many skins from now on", str(batch.skins), ""))
        self._ask(f"Batch {batch.name}", asked)

    def _ask(self, title: str, asked: list[tuple[str, str, str, str]]) -> None:
        """Ask for the facts of a step and record it."""

        def act(given: Mapping[str, str]) -> Act:
            skins = optional(read_whole, given["skins"], "the number of skins")
            since = went_in(given["since"], self.job.clock().date())
            return move_skins(self.job.state, given["batch"], given["step"], skins, since, given["note"])

        self._form(title, [*asked, ("since", "Since, as 2026-11-14", "", "today"), ("note", "Note", "", "")], act)

    def action_cut(self) -> None:
        """Ask which sheet was cut from which skin."""
        chosen = self.in_hand
        batch = chosen.batch.name if chosen else ""
        asked = [("sheet", "Sheet, as gathering and sheet: 3.2", "", ""), ("batch", "Batch", batch, "")]
        asked.append(("skin", "Which of its skins, counted from 1", "", ""))

        def act(given: Mapping[str, str]) -> Act:
            skin = optional(read_whole, given["skin"], "the number of the skin")
            return cut_sheet(self.job.state, given["sheet"], given["batch"], skin)

        self._form("A sheet cut from a skin", asked, act)

    def _form(
        self, title: str, asked: list[tuple[str, str, str, str]], make: Callable[[Mapping[str, str]], Act]
    ) -> None:
        from copydesk.desk.dialogs.form import Field, Form

        def answer(given: Mapping[str, str]) -> None:
            self.job.record(make(given))

        fields = [Field(name, label, value, hint) for name, label, value, hint in asked]
        self.app.push_screen(Form(title, fields, answer), self._after_form)


def skins_lines(skins: SkinsToday, chosen: BatchAccount | None, today: date) -> Iterator[PanelLine]:
    """What is said of the skins: what they ask for today, then the batch chosen, then the rest."""
    yield from under_one_head("Today", skins.warnings, wrong=True)
    if chosen is not None:
        yield PanelLine("Batch", _taken(chosen, today))
        yield from _cut(skins, chosen)
    yield PanelLine("Needed", needed_words(skins))
    yield PanelLine("Days", steps_words(skins.steps))
    yield from (PanelLine("Look at", words, wrong=True) for words in skins.doubts)
    yield from under_one_head(LABEL, step_cautions(skins.steps))


def _taken(account: BatchAccount, today: date) -> str:
    """The steps a batch took, with days and notes."""
    told = []
    for each in account.taken:
        note = f' "{each.note}"' if each.note else ""
        told.append(f"{each.step} {say_short(each.since, today)}, {count_of(each.skins, 'skin')}{note}")
    return f"{account.batch.name}: {'; '.join(told)}"


def _cut(skins: SkinsToday, account: BatchAccount) -> Iterator[PanelLine]:
    """The sheets cut from each skin of a batch."""
    by_skin: dict[int, list[str]] = {}
    for each in {cut.sheet: cut for cut in skins.cut}.values():
        if each.batch == account.batch.name:
            by_skin.setdefault(each.skin or 0, []).append(each.sheet)
    for at, (skin, sheets) in enumerate(sorted(by_skin.items())):
        of = f"skin {skin}" if skin else "a skin not noted"
        yield PanelLine("Cut" if not at else "", f"from {of}: {', '.join(sheets)}")
    if not by_skin:
        yield PanelLine("Cut", "no sheet is noted as cut from it")
