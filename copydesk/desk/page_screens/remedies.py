"""What would make the text around a page fit: the ways, each with its effect; one is done when it is chosen."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.content import Content
from textual.widgets import OptionList, Static

from copydesk.book.common.errors import CopydeskError
from copydesk.book.common.sanitize import sanitize
from copydesk.desk.base.hanging_text import HangingText
from copydesk.desk.page_screens.page_screen import PageScreen
from copydesk.desk.widgets.pick_list import PickList
from copydesk.tracking.fit.remedies import (
    LOOK_AGAIN,
    fit_words,
    need_for,
    need_in_short,
    only_help_words,
    remedies_for,
    remedy_lines,
    shown_at_first,
)

if TYPE_CHECKING:
    from collections.abc import Sequence

    from textual.app import ComposeResult

    from copydesk.book.structure.page import Page
    from copydesk.desk.base.keys import KeyBinding
    from copydesk.tracking.fit.remedies import Remedy
    from copydesk.tracking.ledger.entry import Entry


_LEAVE = " leave all as it is"
"""The first row, which does nothing."""


class RemediesScreen(PageScreen):
    """The remedies for the stretch in which one page lies."""

    SCOPE = "remedies"
    TOPIC = "remedies"
    FOOT = ("choose",)
    NEEDS_ROW = ("choose",)
    CHOOSES = "choose"
    CSS_PATH = "remedies.tcss"

    _listed: Sequence[Remedy] = ()
    _shown = 0
    _all = False
    _chosen = ""

    def text_to_copy(self) -> str:
        """Nothing of its own: the list is copied as it is shown."""
        return ""

    @property
    def page(self) -> Page:
        """The page one came from."""
        return self._from_page

    def compose(self) -> ComposeResult:
        """How the stretch stands, the remedies, and the keys."""
        yield Static(id="title", markup=False)
        yield PickList(markup=False)
        yield Static(id="about", markup=False)
        yield Static(
            HangingText(Content(f" {LOOK_AGAIN}\n Nothing is done until you choose it, and u takes it back.")), id="how"
        )
        yield from self.foot()

    def on_mount(self) -> None:
        """Show them."""
        self.renew()
        self.query_one(OptionList).focus()

    def show_book(self) -> None:
        """Show how the stretch stands now, and what would mend it."""
        try:
            need = need_for(self.job.state, self._from_page)
            self._listed, title = remedies_for(self.job.state, need), need_in_short(need, self.job.book)
        except CopydeskError as refused:
            self._listed, title = (), str(refused.problems[0])
        self.show_text("#title", f" {title}")
        self._shown = len(self._listed) if self._all else shown_at_first(self._listed)
        rows = [_LEAVE, *(_row(remedy, self.size.width - 2) for remedy in self._listed[: self._shown])]
        if rest := len(self._listed) - self._shown:
            rows.append(f" {only_help_words(rest)}: choose this to see them.")
        self.show_rows(map(Content, rows), first=1)
        self._tell()

    def on_option_list_option_highlighted(self) -> None:
        """Tell of the remedy in hand, and what enter does there."""
        self._tell()
        self.show_foot()

    def _tell(self) -> None:
        """The chances, the cost and the assumptions of the remedy in hand."""
        remedy = self._listed[self._at] if 0 <= self._at < self._shown else None
        self.show_text("#about", "\n".join(f" {line}" for line in remedy_lines(remedy)) if remedy is not None else "")

    @property
    def _at(self) -> int:
        """The place of the remedy in hand; -1 on the first row, which leaves all as it is."""
        return (self.query_one(OptionList).highlighted or 0) - 1

    def named_now(self, key: KeyBinding) -> KeyBinding:
        """What enter does on the row in hand."""
        if key.id != "remedies.choose" or 0 <= self._at < self._shown:
            return key
        return key._replace(says="leave it so" if self._at < 0 else "show them")

    def action_choose(self) -> None:
        """Leave all as it is, do the remedy in hand, or show those that only help."""
        if self._at < 0:
            self.close()
        elif self._at >= self._shown:
            self._all = True
            self.show_book()
        else:
            self._carry_out(self._listed[self._at])

    def _carry_out(self, remedy: Remedy) -> None:
        """Do a remedy and say which; the cursor goes to the row that does nothing, so that no second one follows."""
        self._chosen = sanitize(remedy.says)
        if self.do_all(lambda: remedy.acts) is not None:
            self.query_one(OptionList).highlighted = 0

    def say_recorded(self, entry: Entry) -> None:  # noqa: ARG002
        """Say which remedy was done, not the entries it made."""
        said = self._with_what_followed(f"Done: {self._chosen}. u takes it back.")
        self.say(said)
        self.say_news(said)


def _row(remedy: Remedy, width: int) -> str:
    """A remedy with what it comes to: at the right where there is room, else behind it."""
    says, fit = sanitize(remedy.says), fit_words(remedy)
    room = width - len(fit) - 3
    return f" {says:<{room}} {fit}" if len(says) <= room else f" {says}: {fit}"
