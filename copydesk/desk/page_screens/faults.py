"""Every fault of the book in a list: filtered, gone to, mended."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.content import Content
from textual.widgets import OptionList, Static

from copydesk.book.common.phrases import count_of
from copydesk.desk.page_screens.page_list import PageListScreen
from copydesk.desk.widgets.pick_list import PickList
from copydesk.tracking.checking.fault_report import FAULTS, choose_faults, fault_accounts

if TYPE_CHECKING:
    from collections.abc import Collection, Sequence

    from textual.app import ComposeResult

    from copydesk.tracking.checking.fault_report import FaultAccount


_STATES = ("open", "settled", "gone", "")
_LIST = FAULTS.without("found_by")
"""What the list has room for."""


class FaultsScreen(PageListScreen["FaultAccount"]):
    """The faults, page by page; those open first asked for, if there are any."""

    SCOPE = "faults"
    TOPIC = "faults"
    FOOT = ("go", "settle", "shown", "tell")
    NEEDS_ROW = ("go", "settle")
    NOT_THERE = "Its leaf is no longer in the book."
    NOTHING = "There is no fault here to go to."

    _all: Sequence[FaultAccount] = ()

    def compose(self) -> ComposeResult:
        """What is shown, the list, a line for what was done, and the keys."""
        yield Static(id="title", markup=False)
        yield Static(id="heads", markup=False)
        yield PickList(markup=False)
        yield from self.foot()

    def on_mount(self) -> None:
        """Begin with the open ones, at the page one comes from."""
        is_open = any(each.state == "open" for each in fault_accounts(self.job.state))
        self._filter = {"state": "open" if is_open else "", "page": "", "hand": "", "kind": ""}
        self.renew()
        options = self.query_one(OptionList)
        options.focus()
        here = (at for at, each in enumerate(self._listed) if each.page is not None and each.page >= self._from_page)
        options.highlighted = next(here, 0) if self._listed else None

    def show_book(self) -> None:
        """Show the faults as they stand now."""
        self._all = fault_accounts(self.job.state)
        listed = choose_faults(self._all, **self._filter)
        heads, *rows = _LIST.laid_out(listed, self.job.book)
        self.show_text("#heads", f" {heads}")
        self.fill(listed, (Content.styled(f" {row}", _tone(each)) for row, each in zip(rows, listed, strict=True)))
        self.show_text("#title", self._title())

    def idle_now(self) -> Collection[str]:
        """Only an open fault can be mended; without any fault there is nothing to choose from."""
        chosen = self.in_hand
        can_mend = chosen is not None and chosen.page is not None and chosen.state == "open"
        return (*super().idle_now(), *(() if can_mend else ("settle",)), *(() if self._all else ("shown",)))

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        """The foot follows the cursor."""
        event.stop()
        self.show_foot()

    def _title(self) -> str:
        open_ones = sum(each.state == "open" for each in self._all)
        chosen = {name: value for name, value in self._filter.items() if value}
        if "page" in chosen:
            chosen["page"] = self.job.book.renamed(chosen["page"])
        said = f" {open_ones} of {count_of(len(self._all), 'fault')} {'is' if open_ones == 1 else 'are'} open."
        if not chosen:
            return f"{said}  All are shown."
        words = {"state": "{}", "page": "on {}", "hand": "in {}'s writing", "kind": "{}"}
        if chosen.get("state") == "settled":
            chosen["state"] = "mended"
        shown = ", ".join(words[name].format(value) for name, value in chosen.items())
        return f"{said}  Shown: {len(self._listed)}, {shown}."

    def action_mend(self) -> None:
        """Ask how the fault in hand is mended."""
        from copydesk.desk.dialogs.fault_dialog import mend_fault

        chosen = self.in_hand
        if chosen is None or chosen.page is None or chosen.state != "open":
            self.say("Only an open fault can be mended; o chooses which are shown.", wrong=True)
            return
        self.run_worker(mend_fault(self, chosen.page, chosen.fault.id), exclusive=True, group="ask")

    def action_turn(self, what: str) -> None:
        """Turn one filter on: to all, one, the next ..."""
        values = _STATES if what == "state" else self._values(what)
        at = values.index(self._filter[what]) if self._filter[what] in values else -1
        self._filter[what] = values[(at + 1) % len(values)]
        self.renew()

    def _values(self, what: str) -> tuple[str, ...]:
        """What a filter can be set to, the usual order first; nothing at the end shows all."""
        of = {
            "page": [each.label for each in self._all],
            "hand": [each.written_by for each in self._all],
            "kind": [each.fault.kind for each in self._all],
        }
        return (*dict.fromkeys(value for value in of[what] if value), "")


def _tone(account: FaultAccount) -> str:
    return "$text-error" if account.state == "open" else "$secondary"
