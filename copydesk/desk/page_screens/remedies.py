"""What would make the text around a page fit: the ways, each with its effect; one is done when it is chosen."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.content import Content
from textual.widgets import OptionList, Static

from copydesk.book.common.errors import CopydeskError
from copydesk.book.common.sanitize import sanitize
from copydesk.desk.page_screens.page_screen import PageScreen
from copydesk.tracking.fit.remedies import fit_words, need_for, need_in_short, remedies_for

if TYPE_CHECKING:
    from collections.abc import Sequence

    from textual.app import ComposeResult

    from copydesk.book.structure.page import Page
    from copydesk.tracking.fit.remedies import Remedy


class RemediesScreen(PageScreen):
    """The remedies for the stretch in which one page lies."""

    SCOPE = "remedies"
    TOPIC = "budget"
    FOOT = ("choose", "all.undo", "all.back", "all.help")
    CHOOSES = "choose"
    CSS_PATH = "remedies.tcss"

    _listed: Sequence[Remedy] = ()

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
        yield OptionList(markup=False)
        yield Static(" Nothing is done until you choose it, and u takes it back.", id="how", markup=False)
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
        self.show_rows(Content(_row(remedy, self.size.width)) for remedy in self._listed)

    def action_choose(self) -> None:
        """Do the remedy in hand."""
        at = self.query_one(OptionList).highlighted
        if at is None or at >= len(self._listed):
            self.say("There is nothing to choose here.", wrong=True)
            return
        acts = self._listed[at].acts
        self.do_all(lambda: acts)


def _row(remedy: Remedy, width: int) -> str:
    """A remedy with what it comes to at the right."""
    says, fit = sanitize(remedy.says), fit_words(remedy)
    room = max(width - len(fit) - 4, 20)
    says = says if len(says) <= room else f"{says[: room - 1]}…"
    return f" {says:<{room}} {fit}"
