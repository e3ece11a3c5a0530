"""Checking a page by its transcription: type or paste what stands there, see what differs, note it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.containers import Horizontal, VerticalScroll
from textual.content import Content
from textual.widgets import OptionList, Static, TextArea
from textual.widgets.option_list import Option

from copydesk.book.common.errors import CopydeskError
from copydesk.book.common.phrases import capital, count_of
from copydesk.book.common.sanitize import sanitize
from copydesk.comparing.compare import FIRST_FEW
from copydesk.desk.page_screens.page_screen import SkinScreen
from copydesk.desk.widgets.pick_list import PickList
from copydesk.desk.wording.check_words import check_lines
from copydesk.tracking.checking.page_compare import compare_page
from copydesk.tracking.commands.check_commands import (
    checker_words,
    keep_transcription,
    note_comparison,
    remarks_on,
    sort_faults,
)

if TYPE_CHECKING:
    from collections.abc import Sequence

    from textual.app import ComposeResult
    from textual.timer import Timer

    from copydesk.comparing.faults import Difference
    from copydesk.tracking.checking.page_compare import PageComparison


WAIT_SECONDS = 0.4
"""How long nothing must be typed before the page is compared without a key."""


class TranscribeScreen(SkinScreen):
    """One page typed beside its lines as they should stand; ``go_to`` is called when it is recorded as checked."""

    SCOPE = "typed"
    TOPIC = "check"
    PAPER = "guide"
    FOOT = ("compare", "note", "finish")
    CSS_PATH = "transcribe.tcss"

    _kept = ""
    _compared: PageComparison | None = None
    _new: tuple[Difference, ...] = ()
    _noted: tuple[Difference, ...] = ()
    _left_out: frozenset[Difference] = frozenset()
    _all_shown = False
    _due: Timer | None = None
    _spots: Sequence[str] = ()

    def compose(self) -> ComposeResult:
        """The lines as they should stand, the typing beside them, the differences below."""
        self._kept = self.account.record.transcription or ""
        yield Static(id="title", markup=False)
        with Horizontal(id="beside"):
            with VerticalScroll(id="expected", can_focus=False):
                yield Static(id="lines", markup=False)
            yield TextArea(self._kept, id="typed", soft_wrap=True, show_line_numbers=False)
        yield PickList(id="differences", markup=False)
        yield from self.foot()

    def on_mount(self) -> None:
        """Begin to type; say so where the checker wrote the page."""
        self.query_one(TextArea).focus()
        self.renew()
        words = checker_words(self.job.state, self._page, self.job.hand)
        self.say(words or f"Type or paste what stands on {self.account.label}, line by line.", wrong=bool(words))
        if self._kept:
            self._compare(whole=False)

    def show_page(self) -> None:
        """Show the heading and the lines as they should stand."""
        rows = check_lines(self.job.state, self._page.index)
        self._spots = [f"{row.column}.{row.line:<3}{' '.join(row.words)}" for row in rows]
        writers = ", ".join(dict.fromkeys(stint.hand for stint in self.account.record.stints))
        open_ones = len(self.account.record.open_faults)
        said = f" {self.account.label}   {self.job.hand} transcribes what {writers} wrote"
        if open_ones:
            said += f"   {count_of(open_ones, 'open fault')}"
        self.show_text("#title", said)
        self._show_line()

    def _show_line(self) -> None:
        """Mark the line in hand among those expected, and keep it in sight."""
        area = self.query_one(TextArea)
        above = area.text.splitlines()[: area.cursor_location[0] + 1]
        at = max(sum(bool(line.strip()) for line in above[:-1]), 0)
        lines = [
            Content.styled(text, "bold reverse" if number == at else "") for number, text in enumerate(self._spots)
        ]
        self.query_one("#lines", Static).update(Content("\n").join(lines))
        pane = self.query_one("#expected", VerticalScroll)
        pane.scroll_to(y=max(at - pane.size.height // 2, 0), animate=False)

    def on_text_area_selection_changed(self) -> None:
        """The mark follows the cursor."""
        self._show_line()

    def on_text_area_changed(self) -> None:
        """Compare once the typing rests."""
        if self._due is not None:
            self._due.stop()
        self._due = self.set_timer(WAIT_SECONDS, self._compare_unasked)

    def _compare_unasked(self) -> None:
        if self.is_current:
            self._compare(whole=False)

    @property
    def _text(self) -> str:
        return self.query_one(TextArea).text

    def action_compare(self) -> None:
        """Compare now."""
        self._compare(whole=False)

    def _compare(self, *, whole: bool) -> bool:
        """Compare what is typed and list what differs; False where that is impossible."""
        if self._due is not None:
            self._due.stop()
        self._compared, self._new, self._noted = None, (), ()
        if self._text.split():
            try:
                self._compared = compare_page(self.job.state, self._page.index, self._text, whole=whole)
            except CopydeskError as refused:
                self.say("; ".join(map(str, refused.problems)), wrong=True)
                return False
            self._new, self._noted = sort_faults(self.account.record, self._compared, self._text)
        self._list()
        return self._compared is not None

    def _list(self) -> None:
        options = self.query_one("#differences", OptionList)
        at = options.highlighted
        options.clear_options()
        shown = (*self._new, *self._noted)[: FIRST_FEW if self._hidden else None]
        options.add_options(Option(Content(self._told(fault))) for fault in shown)
        if self._hidden:
            options.add_option(Option(Content(f"and {count_of(self._hidden, 'difference')} more: enter shows all")))
        if options.option_count:
            options.highlighted = min(at or 0, options.option_count - 1)
        options.set_class(not options.option_count, "-none")
        if self._compared is not None:
            found = self._compared.comparison
            past = self._compared.goes_on
            more = f" It goes on {past} words past the end on record: record its real last words." if past else ""
            self.say(f"{capital(found.sentence)}.{more}", wrong=not found.clean)

    @property
    def _hidden(self) -> int:
        """How many differences of a flood are not listed."""
        flood = self._compared is not None and self._compared.flood and not self._all_shown
        return max(len(self._new) + len(self._noted) - FIRST_FEW, 0) if flood else 0

    def _show_all(self) -> bool:
        """List every difference of a flood, so that none is noted unseen; False where all are listed already."""
        hidden, self._all_shown = self._hidden, True
        if hidden:
            self._list()
            self.say(f"{count_of(hidden, 'more difference')} shown now; see whether they are slips at all.", wrong=True)
        return hidden > 0

    def _told(self, fault: Difference) -> str:
        mark = "noted" if fault in self._noted else " [ ] " if fault in self._left_out else " [x] "
        return sanitize(f"{mark} {fault.column}.{fault.line:<3}{fault.kind}: {fault.sentence}")

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Mark a difference as a fault to be noted, or leave it out; and show it in the typing."""
        event.stop()
        if event.option_index >= FIRST_FEW and self._show_all():
            return
        fault = (*self._new, *self._noted)[event.option_index]
        if fault in self._new:
            self._left_out ^= {fault}
            event.option_list.replace_option_prompt_at_index(event.option_index, Content(self._told(fault)))
        self._go_to_word(fault.at)

    def _go_to_word(self, at: int) -> None:
        """Put the cursor of the typing on a typed word, by its number."""
        left = at
        for row, line in enumerate(self._text.splitlines()):
            words = line.split()
            if left < len(words):
                column = len(line) - len(line.lstrip()) + len(" ".join(words[:left])) + bool(left)
                self.query_one(TextArea).move_cursor((row, min(column, len(line))))
                return
            left -= len(words)

    def action_note(self) -> None:
        """Note the faults marked, and keep the transcription."""
        if self._compare(whole=False) and not self._show_all():
            self._record(checked=False)

    def action_finish(self) -> None:
        """The same with the page taken as typed to its end, and record it as checked; new faults are shown first."""
        before = set(self._new)
        if not self._compare(whole=True):
            return
        more = [fault for fault in self._new if fault not in before]
        if self._show_all():
            return
        if more:
            self.say(
                f"Typed to its end, the page has {count_of(len(self._new), 'fault')}; F9 once more records them.",
                wrong=True,
            )
            return
        self._record(checked=True)

    def _record(self, *, checked: bool) -> None:
        compared = self._compared
        if compared is None:
            return
        chosen = [fault for fault in self._new if fault not in self._left_out]
        text = self._text
        hand = self.job.hand
        entry = self.do_all(lambda: note_comparison(self.job.state, compared, text, chosen, checked=checked, hand=hand))
        if entry is None:
            return
        self._kept = text
        if checked:
            said = " ".join(remarks_on(self.job.state, entry))
            checked_by = f"{self.account.label} checked by {self.job.hand}"
            self.close(f"{checked_by}: {count_of(len(chosen), 'fault')} noted. {said}".rstrip(), at=self._page)
        else:
            self._compare(whole=False)
            self.say(f"{count_of(len(chosen), 'fault')} noted; the transcription is kept.")

    def action_back(self) -> None:
        """Go back; what was typed is kept."""
        self.close(self._keep())

    def on_unmount(self) -> None:
        """Keep what was typed where the desk is left from here."""
        self._keep()

    def _keep(self) -> str:
        """Keep the transcription as it stands, where it changed; gives what to say."""
        areas = self.query(TextArea)
        text = areas.first().text if areas else self._kept
        if not text.split() or text == self._kept or not self.still_stands():
            return ""
        self._kept = text
        self.job.record(keep_transcription(self.job.state, self._page, text))
        return f"What was typed of {self.account.label} is kept."
