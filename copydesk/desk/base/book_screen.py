"""What every screen on a book shares: the job, recording with a word about it, undo, and news of other desks."""

from __future__ import annotations

from collections.abc import Callable, Collection
from typing import TYPE_CHECKING, ClassVar, cast

from textual.content import Content
from textual.screen import Screen
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from copydesk.book.common.errors import CopydeskError, NotAllowedError
from copydesk.book.common.phrases import count_of
from copydesk.book.structure.page import Page
from copydesk.desk.base.hanging_text import HangingText
from copydesk.desk.base.keymap import records
from copydesk.desk.base.keys import KEYS, bindings, key_named, offered_by, scope_of
from copydesk.desk.base.screen_foot import FootLine, SayLine
from copydesk.desk.base.screen_table import SCREENS
from copydesk.desk.base.stint_watch import clock_now
from copydesk.desk.wording.stretch_words import after_entry, after_sentences, together_sentences, untold
from copydesk.tracking.ledger.entry_kinds import KINDS
from copydesk.tracking.log.entry_text import entry_sentence, place_name, shared_sentence
from copydesk.tracking.views.consequences import in_short
from copydesk.tracking.views.entry_cautions import shown_cautions

if TYPE_CHECKING:
    from collections.abc import Iterable

    from textual.app import ComposeResult
    from textual.binding import BindingType

    from copydesk.desk.base.base_app import DeskApp
    from copydesk.desk.base.keys import KeyBinding
    from copydesk.desk.base.screen_table import ScreenEntry
    from copydesk.job import Job
    from copydesk.store.folder.kept_plan import PlanChange
    from copydesk.tracking.ledger.entry import Act, Entry
    from copydesk.tracking.scribes.desk_clock import DeskClock


_EVERYWHERE = ("all.undo", "all.others", "all.find", "all.help", "all.back")
"""What the foot of every screen ends with."""


MOST_CAUTIONS = 4
CAUTION_SECONDS = 30.0
"""How many cautions a notice shows, and how long it stays unless it is clicked away."""

FIRST = Page.at(0)
"""The page a screen is opened from where none is told."""

GoTo = Callable[[Page], None]
"""What shows a page on the screen one came from."""


def stay(page: Page) -> None:
    """Go to no page: the screen one came from shows none."""


LEAST_WIDTH, LEAST_HEIGHT = 60, 18
"""Columns and rows of a terminal in which every screen shows what it must."""


class BookScreen(Screen[None]):
    """A screen on the open book. A subclass shows the book in ``show_book`` and names its keys' scope.

    ``FOOT`` are the keys for the foot, most likely first; those of the scope go without its name. ``CHOOSES`` is the
    act that choosing a row of the screen's list does. ``NEEDS_ROW`` are the keys that do
    nothing where the list is empty. ``PAPER`` is the paper that belongs to the screen, offered in its foot.
    """

    SCOPE: ClassVar[str] = ""
    TOPIC: ClassVar[str] = "desk"
    FOOT: ClassVar[tuple[str, ...]] = ()
    CHOOSES: ClassVar[str] = ""
    NEEDS_ROW: ClassVar[tuple[str, ...]] = ()
    PAPER: ClassVar[str] = ""
    BINDINGS: ClassVar[list[BindingType]] = bindings("all")

    def __init_subclass__(cls) -> None:
        """Give a screen with a scope the keys of that scope, unless it declares its own."""
        if "SCOPE" in vars(cls) and "BINDINGS" not in vars(cls):
            cls.BINDINGS = bindings(cls.SCOPE)
        super().__init_subclass__()

    def __init__(self, page: Page = FIRST, go_to: GoTo = stay) -> None:
        """``page`` is the page one comes from; ``go_to`` shows a page on the screen one comes from."""
        super().__init__()
        self._from_page = page
        self._go_to = go_to
        self._book_seen: tuple[int, int] | None = None
        self._undo_known = (-1, False)

    @property
    def desk(self) -> DeskApp:
        """The desk that shows this screen."""
        return cast("DeskApp", self.app)

    @property
    def job(self) -> Job:
        """The book being copied."""
        return self.desk.job

    def show_book(self) -> None:
        """Show the book as it stands now."""

    def keys_now(self) -> Iterable[KeyBinding]:
        """The keys for the foot, most likely first."""
        names = self.FOOT or [key.id.partition(".")[2] for key in KEYS if scope_of(key) == self.SCOPE]
        return self.foot_keys(*names, *self.papers_now(), *_EVERYWHERE)

    def idle_now(self) -> Collection[str]:
        """Names of the keys in the foot that would do nothing now."""
        return self.NEEDS_ROW if self.NEEDS_ROW and not self._has_row() else ()

    def papers_now(self) -> tuple[str, ...]:
        """The key that makes a paper, where one belongs to this screen."""
        return ("all.print",) if self.PAPER else ()

    def _has_row(self) -> bool:
        lists = self.query(OptionList)
        return bool(lists) and lists.first().highlighted is not None

    def foot_keys(self, *names: str) -> list[KeyBinding]:
        """The keys of these names, each once, as they are called now; those of this scope go without its name."""
        idle = self.idle_now()
        full = (name if "." in name else f"{self.SCOPE}.{name}" for name in names if name not in idle)
        return [self.named_now(key) for key in map(key_named, dict.fromkeys(full)) if self.lets(key)]

    def lets(self, key: KeyBinding) -> bool:
        """Whether this desk may do an act; one that is open for looking only offers none that records."""
        if key.id == "all.undo" and not self._may_undo():
            return False
        return not (self.job.read_only and records(key))

    def _may_undo(self) -> bool:
        """Whether there is something of this desk to take back: an entry, or the plan it kept last."""
        entries = len(self.job.ledger)
        if self._undo_known[0] != entries:  # the foot is drawn at every step, and a ledger may be long
            self._undo_known = (entries, self.job.ledger.newest_standing(self.job.store.desk) is not None)
        return self._undo_known[1] or self.desk.plan_step == (entries, False)

    def named_now(self, key: KeyBinding) -> KeyBinding:
        """A key with the label that says what it will do now."""
        return key

    @property
    def page(self) -> Page:
        """The page this screen is on, else the one it was opened from."""
        return self._from_page

    def foot(self) -> ComposeResult:
        """The end of every screen: the line that says what was done, and the keys."""
        yield SayLine()
        yield FootLine()

    def show_text(self, where: str, text: str) -> None:
        """Show a text in the part called ``where``."""
        self.query_one(where, Static).update(HangingText(Content(text)))

    def show_rows(self, rows: Iterable[Content], *, first: int = 0) -> None:
        """Show these rows in the screen's list; the cursor stays in its place, or begins at the row ``first``."""
        options = self.query_one(OptionList)
        at = first if options.highlighted is None else options.highlighted
        options.clear_options()
        options.add_options(Option(HangingText(row)) for row in rows)
        options.highlighted = min(at, options.option_count - 1) if options.option_count else None

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Do with the chosen row what this screen does with it."""
        if self.CHOOSES:
            event.stop()
            self.call_next(self.run_action, self.CHOOSES)

    def on_resize(self) -> None:
        """Say what the desk needs, where a terminal has less."""
        width, height = self.app.size
        if self.children and (width < LEAST_WIDTH or height < LEAST_HEIGHT):
            self.say(f"Too small: the desk needs {LEAST_WIDTH} by {LEAST_HEIGHT}.", wrong=True)

    def renew(self) -> None:
        """Show everything as it stands now; nothing where the screen is not laid out yet, or is being left."""
        if not self.children:
            return
        self._book_seen = self._newest()
        self.show_book()
        self.show_foot()
        self.show_clock(clock_now(self.job))

    def show_foot(self) -> None:
        """Offer the keys that make sense now."""
        for foot in self.query(FootLine):
            foot.show_keys(self.keys_now())

    def _newest(self) -> tuple[int, int]:
        """What tells whether anything was recorded, or the plan read anew, since."""
        return (len(self.job.ledger), id(self.job.state))

    def on_screen_resume(self) -> None:
        """Come back from another screen: show what was recorded there."""
        if self._book_seen not in (None, self._newest()):
            self.renew()

    def show_clock(self, now: DeskClock) -> None:
        """Show the stint clock in the foot, where a stint is open."""
        for foot in self.query(FootLine):
            foot.show_note(now.in_short())

    def say(self, text: str, *, wrong: bool = False) -> None:
        """Say something on the line above the foot."""
        for line in self.query(SayLine):
            line.say(text, wrong=wrong)

    def refuse(self, refused: CopydeskError) -> None:
        """Say why something cannot be done."""
        self.say("; ".join(map(str, refused.problems)), wrong=True)

    def say_news(self, before: str = "") -> None:
        """Say what other desks did to the same thing, and what happened to the ledger; after ``before``."""
        if news := self.job.news():
            self.say(" ".join(filter(None, [before, *news])), wrong=True)

    def do(self, make: Callable[[], Act], *, hand: str = "") -> Entry | None:
        """Make an act, record it, show what follows; a refusal is said and changes nothing."""
        return self.do_all(lambda: [make()], hand=hand)

    def do_all(self, make: Callable[[], Iterable[Act]], *, hand: str = "", cautioned: bool = False) -> Entry | None:
        """The same for several acts at once; gives the last entry. ``cautioned``: the question gave the cautions."""
        try:
            entries = self.job.record_all(list(make()), hand=hand)
        except CopydeskError as refused:
            self.refuse(refused)
            return None
        self.renew()
        self.say_recorded(entries[-1])
        if not cautioned:
            self.show_cautions()
        return entries[-1]

    def say_recorded(self, entry: Entry) -> None:
        """Say what was recorded; and where it made the text beside it tight or loose, that before all else."""
        state = self.job.state
        said = shared_sentence(entry, state)
        if after := after_entry(state, entry):
            said = f"{place_name(entry, state)} {KINDS[entry.what].says}: {after}."
        said = self._with_what_followed(said)
        self.say(said)
        self.say_news(said)

    def show_cautions(self) -> None:
        """Show, in a notice, the cautions for what was just recorded that this sitting has not shown yet."""
        if cautions := shown_cautions(self.job.cautions(), MOST_CAUTIONS):
            self.notify("\n".join(cautions), severity="warning", timeout=CAUTION_SECONDS, markup=False)

    def _with_what_followed(self, said: str) -> str:
        """A sentence on what was recorded or taken back, and what followed from it elsewhere."""
        return " ".join(filter(None, (said, in_short(untold(self.job.also, said)))))

    def _after_form(self, recorded: bool | None) -> None:
        """Show and say what a form recorded."""
        newest = self.job.ledger.newest_standing(self.job.store.desk)
        if recorded and newest is not None:
            self.renew()
            self.say_recorded(newest)
            self.show_cautions()

    def action_undo(self) -> None:
        """Take back the newest entry of this desk, or the plan if that was kept last."""
        if not self._plan_put_back(again=False):
            self._take_back("Taken back", self.job.undo)

    def action_redo(self) -> None:
        """Let what was taken back stand again."""
        if not self._plan_put_back(again=True):
            self._take_back("Stands again", self.job.redo)

    def keep_plan(self, change: PlanChange, said: str, *, back: bool = False) -> None:
        """Write a changed plan, show the book with it, and say so.

        Raises:
            CopydeskError: where it cannot be written.
        """
        from copydesk.store.folder.kept_plan import keep

        if self.job.read_only:
            raise NotAllowedError("this desk is open for looking only; nothing was written")
        keep(self.job.folder, change)
        self.desk.plan_taken(back=back)
        self.renew()
        self.say(" ".join(filter(None, [said, in_short(self.job.news())])))

    def _plan_put_back(self, *, again: bool) -> bool:
        """Take the plan kept last back, or keep it again, if nothing was recorded since; whether it was so."""
        if self.desk.plan_step != (len(self.job.ledger), again):
            return False
        from copydesk.store.folder.kept_plan import put_back

        try:
            change = put_back(self.job.folder, self.job.state)
            said = "Kept in book.yaml again." if again else "Taken back: book.yaml is as it was."
            self.keep_plan(change, said, back=not again)
        except CopydeskError as refused:
            self.refuse(refused)
        return True

    def _take_back(self, said: str, step: Callable[[], Entry]) -> None:
        try:
            entry = step()
        except CopydeskError as refused:
            self.refuse(refused)
            return
        self.renew()
        state = self.job.state
        named = f"{said}: {entry_sentence(entry, state)}"
        told = " ".join([named, *together_sentences(self.job.taken_together()), *after_sentences(state, entry)])
        told = self._with_what_followed(told)
        self.say(told)
        self.say_news(told)

    def action_back(self) -> None:
        """Go back to the screen before."""
        self.close()

    def close(self, said: str = "", *, at: Page | None = None) -> None:
        """Go back to the screen before, if this one is in front: show the page ``at`` there, and say ``said``."""
        if not self.is_current:
            return
        self.app.pop_screen()
        if at is not None:
            self._go_to(at)
        below = self.app.screen
        if said and isinstance(below, BookScreen):
            below.say(said)

    def action_open(self, name: str) -> None:
        """Open another screen by its name, on the page this one is on; it can send back to another page."""
        self.desk.open_screen(name, self.page, self.go_to)

    def go_to(self, page: Page) -> None:
        """Show a page where pages are shown: go back to the screen before, and so on."""
        self.close(at=page)

    def action_offer(self, name: str) -> None:
        """Offer the acts that stand in the list behind a key of this screen, each with its letter."""
        opener = f"{self.SCOPE}.{name}"
        keys = [(letter, self.named_now(key)) for letter, key in offered_by(opener) if self.lets(key)]
        self.desk.open_screen("offers", key_named(opener).says.removesuffix(" ...").capitalize(), keys, self.do_later)

    def action_others(self) -> None:
        """Offer the other screens, each with its letter."""
        others = [
            (entry.letter, key_named(entry.key)._replace(action=self.opening(entry)))
            for entry in SCREENS
            if entry.letter and self.opening(entry)
        ]
        self.desk.open_screen("offers", "Go to another screen", others, self.do_later)

    def opening(self, entry: ScreenEntry) -> str:
        """The act that opens a screen from here; empty where that is not possible."""
        action = key_named(entry.key).action
        if entry.key.startswith(f"{self.SCOPE}.") or action.startswith("open("):
            return "" if entry.where.endswith(f":{type(self).__name__}") else action
        return f"open('{entry.name}')" if entry.name == "remedies" else ""

    def action_find(self) -> None:
        """Find a page, words of the text, a space, a person, a page of help."""
        self.desk.open_screen("finder", self)

    def action_palette(self) -> None:
        """Find any act or screen by its name."""
        self.desk.open_screen("palette", self)

    def do_later(self, action: str) -> None:
        """Do an act of this screen once what was open over it is closed."""
        self.call_next(self.app.run_action, action, self)

    def action_print(self) -> None:
        """Make a paper; that of this screen is in hand in the list."""
        self.desk.print_paper(self.PAPER)

    def action_look(self) -> None:
        """Change the look, and say which it is."""
        look = self.desk.next_look()
        self.say(f"Look: {look}." if look else "NO_COLOR is set, so the desk keeps to the terminal's own ink.")

    def action_copy(self) -> None:
        """Copy what the screen tells to the terminal's clipboard."""
        from copydesk.desk.base.clipboard import told

        text = self.text_to_copy() or told(self)
        self.app.copy_to_clipboard(text)
        lines = len(text.splitlines())
        self.say(f"Copied {count_of(lines, 'line')}, if the terminal lets the clipboard be set.")

    def text_to_copy(self) -> str:
        """What is copied; where empty, the lists and panels as they are shown."""
        return ""
