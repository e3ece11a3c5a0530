"""What would make the text around a page fit: the ways, each with its effect; one is done when it is chosen."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.content import Content
from textual.widgets import OptionList, Static

from copydesk.book.common.errors import CopydeskError
from copydesk.book.common.sanitize import sanitize
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
    from copydesk.tracking.fit.remedies import Remedy


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
            f" {LOOK_AGAIN}\n Nothing is done until you choose it, and u takes it back.", id="how", markup=False
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
        rows = [Content(_row(remedy, self.size.width)) for remedy in self._listed[: self._shown]]
        rest = len(self._listed) - self._shown
        self.show_rows([*rows, *([Content(f" {only_help_words(rest)}: choose this to see them.")] if rest else [])])
        self._tell()

    def on_option_list_option_highlighted(self) -> None:
        """Tell of the remedy in hand."""
        self._tell()

    def _tell(self) -> None:
        """The chances, the cost and the assumptions of the remedy in hand."""
        at = self.query_one(OptionList).highlighted
        remedy = self._listed[at] if at is not None and at < self._shown else None
        self.show_text("#about", "\n".join(f" {line}" for line in remedy_lines(remedy)) if remedy is not None else "")

    def action_choose(self) -> None:
        """Do the remedy in hand, or show those that only help."""
        at = self.query_one(OptionList).highlighted
        if at is None or at >= len(self._listed):
            self.say("There is nothing to choose here.", wrong=True)
        elif at >= self._shown:
            self._all = True
            self.show_book()
        else:
            acts = self._listed[at].acts
            self.do_all(lambda: acts)


def _row(remedy: Remedy, width: int) -> str:
    """A remedy with what it comes to at the right."""
    says, fit = sanitize(remedy.says), fit_words(remedy)
    room = max(width - len(fit) - 4, 20)
    says = says if len(says) <= room else f"{says[: room - 1]}…"
    return f" {says:<{room}} {fit}"
