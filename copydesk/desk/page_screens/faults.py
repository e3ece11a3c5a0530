"""Every fault of the book in a list: filtered, gone to, settled."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.content import Content
from textual.widgets import OptionList, Static

from copydesk.book.common.phrases import count_of
from copydesk.book.common.sanitize import sanitize
from copydesk.desk.page_screens.page_list import PageListScreen
from copydesk.tracking.checking.fault_report import choose_faults, fault_accounts

if TYPE_CHECKING:
    from collections.abc import Sequence

    from textual.app import ComposeResult

    from copydesk.tracking.checking.fault_report import FaultAccount


_STATES = ("open", "settled", "gone", "")
_ROW = " {:>5} {:<{}} {:<6} {:<15} {:<5} {}"


class FaultsScreen(PageListScreen["FaultAccount"]):
    """The faults, page by page; those open first asked for, if there are any."""

    SCOPE = "faults"
    TOPIC = "faults"
    FOOT = ("go", "settle", "state", "page", "hand", "kind", "tell", "all.undo", "all.back", "all.help")
    NOT_THERE = "Its leaf is no longer in the book."
    NOTHING = "There is no fault here to go to."

    _all: Sequence[FaultAccount] = ()

    def compose(self) -> ComposeResult:
        """What is shown, the list, a line for what was done, and the keys."""
        yield Static(id="title", markup=False)
        yield Static(id="heads", markup=False)
        yield OptionList(markup=False)
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
        width = max([6, *(len(each.named) for each in listed)])
        self.show_text("#heads", _ROW.format("fault", "page", width, "place", "kind", "hand", "what"))
        self.fill(listed, (Content.styled(_row(each, width), _tone(each)) for each in listed))
        self.show_text("#title", self._title())

    def _title(self) -> str:
        open_ones = sum(each.state == "open" for each in self._all)
        chosen = {name: value for name, value in self._filter.items() if value}
        if "page" in chosen:
            chosen["page"] = self.job.book.renamed(chosen["page"])
        said = f" {open_ones} of {count_of(len(self._all), 'fault')} {'is' if open_ones == 1 else 'are'} open."
        if not chosen:
            return f"{said}  All are shown."
        words = {"state": "{}", "page": "on {}", "hand": "in {}'s writing", "kind": "{}"}
        shown = ", ".join(words[name].format(value) for name, value in chosen.items())
        return f"{said}  Shown: {len(self._listed)}, {shown}."

    def action_settle(self) -> None:
        """Settle the fault in hand."""
        from copydesk.desk.dialogs.fault_dialog import settle_fault

        chosen = self.in_hand
        if chosen is None or chosen.page is None or chosen.state != "open":
            self.say("Only an open fault can be settled; o shows those.", wrong=True)
            return
        self.run_worker(settle_fault(self, chosen.page, chosen.fault.id), exclusive=True, group="ask")

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


_FOOT = (
    *("faults.go", "faults.settle", "faults.state", "faults.page", "faults.hand", "faults.kind", "faults.tell"),
    *("all.undo", "all.back", "all.help"),
)


def _tone(account: FaultAccount) -> str:
    return "$text-error" if account.state == "open" else "$secondary"


def _row(account: FaultAccount, width: int) -> str:
    fault = account.fault
    place = f"{fault.column or 1}.{fault.line}" if fault.line else ""
    said = _ROW.format(fault.number, account.named, width, place, fault.kind, account.written_by, _what(account))
    if account.state == "open":
        return sanitize(said)
    by = f"{fault.remedy} by {fault.settled_by}" if account.state == "settled" else "gone with its leaf"
    return sanitize(f"{said}: {by}")


def _what(account: FaultAccount) -> str:
    """What stands there and what should, as far as it was told."""
    stands, should = account.fault.stands, account.fault.should
    if stands and should:
        return f'"{stands}" should be "{should}"'
    if should:
        return f'"{should}" is missing'
    return f'"{stands}" is too many' if stands else "not told"
