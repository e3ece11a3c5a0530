"""Checking a page by reading: the exemplar in its own lines beside the page's, ticked one by one, faults noted."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.containers import Container, VerticalScroll
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from copydesk.book.common.phrases import count_of
from copydesk.desk.base.screen_foot import FootLine
from copydesk.desk.page_screens.page_screen import SkinScreen
from copydesk.desk.widgets.pick_list import PickList
from copydesk.desk.wording.check_words import CheckLine, ExemplarRow, check_lines, exemplar_rows
from copydesk.tracking.commands.check_commands import checker_words, read_to, remarks_on
from copydesk.tracking.log.entry_text import describe, entry_sentence

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Sequence

    from textual.app import ComposeResult

    from copydesk.desk.base.keys import KeyBinding


TONES = {"wrong": "$text-error", "ink": "$foreground"}

HEAD = 10
"""Cells before the words of a line: its place, its tick, and the sign for words that recur."""

WIDE, BESIDE = 118, 26
"""Cells from which a screen is wide; then so many are kept after the words, for faults and what was typed."""

SIDES = 4
"""Cells beside the words: room at either side, and the bar one scrolls by."""

LEAST, MOST = 30, 78
"""Cells for the exemplar, beside the page; where fewer are free it stands above."""

PLACE = 8
"""Cells for the places of the exemplar."""

LEAST_BESIDE = 14
"""Cells from which words stand beside a line; what the line in hand holds is said in full below."""

RECURS, OPEN = "≈", "!"


class LineList(PickList, inherit_bindings=False):
    """The lines of the page; every key of theirs is the screen's."""


class CheckScreen(SkinScreen):
    """One page, line by line."""

    SCOPE = "check"
    TOPIC = "check"
    PAPER = "guide"
    CHOOSES = "tick"
    CSS_PATH = "check.tcss"

    _rows: Sequence[CheckLine] = ()
    _ticked: frozenset[int] = frozenset()
    _word = 0
    _row_in_hand = 0
    _longest = 0
    _page_width = 0
    _exemplar: Sequence[ExemplarRow] = ()

    def compose(self) -> ComposeResult:
        """The heading, the exemplar and the page's lines, what is said of a line, what was done, the keys."""
        yield Static(id="title", markup=False)
        with Container(id="both"):
            with VerticalScroll(id="exemplar", can_focus=False):
                yield Static(id="rows", markup=False)
            yield LineList(markup=False)
        yield Static(id="note", markup=False)
        yield from self.foot()

    def on_mount(self) -> None:
        """Go on where an unfinished reading stopped; say so where the checker wrote the page."""
        record = self.account.record
        self._ticked = frozenset(range(1, record.read_to + 1))
        self.renew()
        lines = self.query_one(LineList)
        lines.focus()
        lines.highlighted = min(record.read_to, max(len(self._rows) - 1, 0))
        words = checker_words(self.job.state, self._page, self.job.hand)
        if words:
            self.say(f"{words} (a: say who is at this desk)", wrong=True)
        elif record.read_to:
            self.say(f"{record.read_by} read to line {record.read_to}; go on from there.")
        else:
            self.say("Read the page against each line: space ticks it, f notes a fault at the word marked.")

    def on_resize(self) -> None:
        """Lay the lines out anew."""
        self.call_after_refresh(self.show_book)

    def show_page(self) -> None:
        """Show the page's lines as they stand now."""
        rows = check_lines(self.job.state, self._page.index)
        lines = self.query_one(LineList)
        at = lines.highlighted
        if len(rows) != len(self._rows):
            lines.clear_options()
            lines.add_options(Option("") for _ in rows)
            lines.highlighted = None if at is None or not rows else min(at, len(rows) - 1)
        self._rows = rows
        self._longest = max((row.indent + len(" ".join(row.words)) for row in rows), default=0)
        self._lay_out()
        for index in range(len(rows)):
            self._show_row(index)
        self._show_title()
        self._show_place()

    def _lay_out(self) -> None:
        """Put the exemplar beside the page's lines where both have room, else above; away where it is not typed."""
        free = self.size.width - self._longest - HEAD - SIDES - (BESIDE if self.size.width >= WIDE else 0)
        is_typed, is_beside = self.job.state.exemplar is not None, free >= LEAST
        self.set_class(is_beside, "-beside")
        self.set_class(not is_beside, "-above")
        panel, width = self.query_one("#exemplar", VerticalScroll), min(free, MOST) if is_beside else self.size.width
        panel.display, panel.styles.width = is_typed, width
        self._page_width = self.size.width - (width if is_typed and is_beside else 0)
        self._exemplar = exemplar_rows(self.job.state, self._rows, width - PLACE - SIDES - 1)

    def _show_place(self) -> None:
        """Mark the line in hand in the exemplar, and say what there is to say of it."""
        if not self._rows or self._at >= len(self._rows):
            return
        row = self._rows[self._at]
        inside = frozenset(row.positions)
        word = row.positions[min(self._word, len(row.positions) - 1)] if row.positions else -1
        self.query_one("#rows", Static).update(
            Content("\n").join(exemplar_row(each, inside, word) for each in self._exemplar)
        )
        said = row.note()
        self.show_text("#note", f" {row.column}.{row.line}: {said}" if said else "")
        at = next((at for at, each in enumerate(self._exemplar) if word < each.first + len(each.words)), 0)
        panel = self.query_one("#exemplar", VerticalScroll)
        panel.scroll_to(y=max(at - panel.size.height // 2, 0), animate=False)

    def _show_title(self) -> None:
        record = self.account.record
        writers = ", ".join(dict.fromkeys(stint.hand for stint in record.stints))
        parts = [
            f" {self.account.label}   {self.job.hand} reads what {writers} wrote",
            f"{len(self._ticked)} of {len(self._rows)} lines read",
        ]
        if record.open_faults:
            parts.append(count_of(len(record.open_faults), "open fault"))
        self.show_text("#title", "   ".join(parts))

    def _show_row(self, index: int) -> None:
        row = self._rows[index]
        lines = self.query_one(LineList)
        width = max(self._page_width - 2, 30)
        head = f" {f'{row.column}.{row.line}':<5} {'✓' if row.number in self._ticked else ' '}"
        head += f"{RECURS if row.watch else ' '} "
        half = min(width - len(head) - 2, self._longest + 2)
        word = min(self._word, len(row.words) - 1) if index == lines.highlighted else -1
        words = (
            Content.styled(each, "underline bold") if at == word else Content(each) for at, each in enumerate(row.words)
        )
        text = Content.assemble(" " * row.indent, Content(" ").join(words))
        own = Content.assemble(head, text.truncate(half, ellipsis=True, pad=True), " ")
        beside = _beside(row, width - own.cell_length) or [Content("")]
        rows = [own, *[Content(" " * own.cell_length)] * (len(beside) - 1)]
        lines.replace_option_prompt_at_index(index, Content("\n").join(map(Content.assemble, rows, beside)))

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        """The mark goes to the first word of the line come to."""
        event.stop()
        self._word = 0
        left, self._row_in_hand = self._row_in_hand, event.option_index
        for index in {left, event.option_index} & set(range(len(self._rows))):
            self._show_row(index)
        self._show_place()

    @property
    def _at(self) -> int:
        return self.query_one(LineList).highlighted or 0

    def idle_now(self) -> Collection[str]:
        """The act that checks waits for every line to be read; mending, for a fault that is open."""
        idle = () if self._rows else ("tick", "tick_to", "word_right")
        unread = ("finish",) if len(self._ticked) < len(self._rows) else ()
        return (*idle, *unread, *(() if self.account.record.open_faults else ("settle",)))

    def keys_now(self) -> Iterable[KeyBinding]:
        """Most likely acts first."""
        done = len(self._ticked) >= len(self._rows)
        first = ("finish", "fault", "tick") if done else ("tick", "fault", "word_right", "tick_to", "finish")
        return self.foot_keys(
            *first, "settle", "typed", "hand", *self.papers_now(), "all.undo", "all.others", "all.back", "all.help"
        )

    def action_line(self, way: str) -> None:
        """Go to another line."""
        lines = self.query_one(LineList)
        getattr(lines, f"action_{way}")()

    def action_word(self, step: int) -> None:
        """Mark the word to the left or right in the line."""
        if self._rows:
            self._word = max(0, min(self._word + step, len(self._rows[self._at].words) - 1))
            self._show_row(self._at)
            self._show_place()

    def action_tick(self) -> None:
        """Tick the line, or take its tick away; then the next."""
        if not self._rows:
            return
        at = self._at
        self._ticked ^= {self._rows[at].number}
        self._show_row(at)
        if self._rows[at].number in self._ticked and at + 1 < len(self._rows):
            self.query_one(LineList).highlighted = at + 1
        self._after_ticks()

    def action_tick_to(self) -> None:
        """Tick every line up to this one."""
        self._ticked |= {row.number for row in self._rows[: self._at + 1]}
        self.show_book()
        self._after_ticks()

    def _after_ticks(self) -> None:
        self._show_title()
        self.query_one(FootLine).show_keys(self.keys_now())
        if self._rows and len(self._ticked) == len(self._rows):
            self.say("All lines are read: c records the page as checked.")

    def action_fault(self) -> None:
        """Note a fault at the word marked."""
        from copydesk.desk.dialogs.fault_dialog import FaultPlace, note_fault

        spot = FaultPlace()
        if self._rows:
            row = self._rows[self._at]
            word = min(self._word, len(row.words) - 1)
            spot = FaultPlace(row.column, row.line, row.positions[word], row.words[word]) if row.words else spot
        self.run_worker(note_fault(self, self._page, spot), exclusive=True, group="ask")

    def action_check(self) -> None:
        """Record the page as checked once every line is read."""
        left = len(self._rows) - len(self._ticked)
        if left:
            lines = "1 line is" if left == 1 else f"{left} lines are"
            self.say(f"{lines} not ticked yet; d ticks all down to the line in hand.", wrong=True)
            return
        if self.job.book.readings.ways:
            self.run_worker(self._ask_and_check(), exclusive=True, group="ask")
        else:
            self._check("", "")

    async def _ask_and_check(self) -> None:
        from copydesk.desk.dialogs.reading_dialog import ask_reading

        reading = await ask_reading(self, self.account)
        if reading is not None:
            self._check(*reading)

    def _check(self, how: str, beside: str) -> None:
        entry = self.do(lambda: self.job.commands.check(self._page, read=True, how=how, beside=beside))
        if entry is not None:
            self._ticked = frozenset()
            said = f"{self.account.label} checked against the exemplar by {self.job.hand}."
            if how:
                said = entry_sentence(entry, self.job.state)
            self.close(" ".join([said, *remarks_on(self.job.state, entry)]))

    def action_check_lines(self) -> None:
        """Check by a transcription instead."""
        if self.job.state.exemplar is None:
            self.say(
                "The exemplar is not typed, so a transcription cannot be compared; read it line by line.", wrong=True
            )
            return
        self.desk.open_screen("transcribe", self._page, lambda _: self.close())

    def action_back(self) -> None:
        """Go back; how far the reading came is kept, so that it can go on from there."""
        self.close(self._keep_place())

    def on_unmount(self) -> None:
        """The same where the desk is left from here."""
        self._keep_place()

    def _keep_place(self) -> str:
        """Record up to which line all are read, where that is further than what is on record; gives what to say."""
        reached = next((row.number - 1 for row in self._rows if row.number not in self._ticked), len(self._rows))
        self._ticked = frozenset()
        if not self.still_stands() or reached <= self.account.record.read_to:
            return ""
        entry = self.job.record(read_to(self.job.state, self._page, reached))
        return f"{describe(entry, self.job.state)}; the check can go on from there."


def _beside(row: CheckLine, room: int) -> list[Content]:
    """What stands beside a line, wrapped; where there is no room, a mark that a fault is open."""
    said, tone = row.beside
    if room < LEAST_BESIDE:
        said = OPEN if tone == "wrong" else ""
    return list(Content.styled(said, TONES[tone]).wrap(room)) if said else []


def exemplar_row(row: ExemplarRow, inside: frozenset[int], word: int) -> Content:
    """A row of the exemplar: the words of the line in hand strong, the word marked underlined, the rest quiet."""
    words = range(row.first, row.first + len(row.words))
    styles = (
        "$strong bold underline" if at == word else "$strong bold" if at in inside else "$secondary" for at in words
    )
    parts = (Content.styled(each, style) for each, style in zip(row.words, styles, strict=True))
    has_it = any(at in inside for at in words)
    head = Content.styled(f"{'▸' if has_it else ' '}{row.place:<{PLACE}} ", "$strong bold" if has_it else "$quiet")
    return Content.assemble(head, Content(" ").join(parts))
