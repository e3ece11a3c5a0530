"""What would make the text around a page fit: the ways, each with its effect; one is done when it is chosen."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from copydesk.book.common.errors import CopydeskError
from copydesk.book.common.sanitize import plain
from copydesk.desk.base.book_screen import FIRST, stay
from copydesk.desk.base.keys import bindings, key_named
from copydesk.desk.base.screen_foot import FootLine, SayLine
from copydesk.desk.page_screens.page_screen import PageScreen
from copydesk.tracking.fit.remedies import fit_words, need_for, need_in_short, remedies_for

if TYPE_CHECKING:
    from collections.abc import Iterable

    from textual.app import ComposeResult
    from textual.binding import BindingType

    from copydesk.book.structure.page import Page
    from copydesk.desk.base.book_screen import GoTo
    from copydesk.desk.base.keys import KeyBinding
    from copydesk.tracking.fit.remedies import Remedy


_FOOT = ("remedies.choose", "all.undo", "all.back", "all.help")


class RemediesScreen(PageScreen):
    """The remedies for the stretch in which one page lies."""

    SCOPE = "remedies"
    TOPIC = "budget"
    CSS_PATH = "remedies.tcss"
    BINDINGS: ClassVar[list[BindingType]] = bindings("remedies")

    def __init__(self, page: Page = FIRST, go_to: GoTo = stay) -> None:
        super().__init__(page, go_to)
        self._of_page = page
        self._listed: list[Remedy] = []

    def text_to_copy(self) -> str:
        """Nothing of its own: the list is copied as it is shown."""
        return ""

    @property
    def page(self) -> Page:
        """The page one came from."""
        return self._of_page

    def compose(self) -> ComposeResult:
        """How the stretch stands, the remedies, and the keys."""
        yield Static(id="title", markup=False)
        yield OptionList(markup=False)
        yield Static(" Nothing is done until you choose it, and u takes it back.", id="how", markup=False)
        yield SayLine()
        yield FootLine()

    def on_mount(self) -> None:
        """Show them."""
        self.renew()
        self.query_one(OptionList).focus()

    def show_book(self) -> None:
        """Show how the stretch stands now, and what would mend it."""
        options, title = self.query_one(OptionList), self.query_one("#title", Static)
        at = options.highlighted or 0
        options.clear_options()
        self._listed = []
        try:
            need = need_for(self.job.state, self._of_page)
        except CopydeskError as refused:
            title.update(Content(f" {refused.problems[0]}"))
            return
        self._listed = remedies_for(self.job.state, need)
        title.update(Content(f" {need_in_short(need, self.job.book)}"))
        options.add_options(Option(Content(_row(remedy, self.size.width))) for remedy in self._listed)
        options.highlighted = min(at, len(self._listed) - 1) if self._listed else None

    def keys_now(self) -> Iterable[KeyBinding]:
        """What can be done here."""
        return map(key_named, _FOOT)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Do the remedy chosen."""
        event.stop()
        self.action_choose()

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
    says, fit = plain(remedy.says), fit_words(remedy)
    room = max(width - len(fit) - 4, 20)
    says = says if len(says) <= room else f"{says[: room - 1]}…"
    return f" {says:<{room}} {fit}"
