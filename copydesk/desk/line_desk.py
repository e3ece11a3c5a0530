"""The desk a line at a time: for screen readers, for slow links, for a pipe. No Textual here.

The page is told in the same order of lines always, then an order is asked for. Nothing is said or moved unless you ask:
what other desks recorded is told before the next order is asked.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.errors import CopydeskError
from copydesk.book.common.phrases import count_of
from copydesk.book.structure.page import EXAMPLE, Page
from copydesk.desk.line_orders import find_order, order_lines
from copydesk.desk.line_questions import PageQuestions, QuestionCancelled
from copydesk.desk.wording.page_words import page_lines
from copydesk.desk.wording.plan_words import PlanSeen, plan_news
from copydesk.desk.wording.sheet_words import half_lines, heading, next_on_sheet
from copydesk.desk.wording.stretch_words import after_sentences, after_words, together_sentences, untold
from copydesk.tracking.commands.check_commands import remarks_on
from copydesk.tracking.ledger.timestamps import say_at
from copydesk.tracking.log.entry_text import describe, entry_sentence, shared_sentence
from copydesk.tracking.views.entry_cautions import CautionedSitting, shown_cautions
from copydesk.tracking.views.page_lookup import next_to_write, next_with_space, page_called
from copydesk.tracking.views.page_view import page_account

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator

    from copydesk.desk.base.keymap import Keymap
    from copydesk.desk.line_orders import LineCommand
    from copydesk.desk.wording.lines import PanelLine
    from copydesk.job import Job
    from copydesk.tracking.ledger.entry import Act, Entry
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.page_view import PageAccount


LOG_SHOWN = 20
NEWS_SHOWN = 5


class LineDesk(PageQuestions):
    """One desk on one book, spoken with a line at a time.

    ``ask`` gives the next line typed after a prompt, None at the end; ``say`` shows lines; ``verb`` runs a verb of
    the command line on the book.
    """

    def __init__(
        self,
        job: Job,
        keys: Keymap,
        ask: Callable[[str], str | None],
        say: Callable[..., None],
        verb: Callable[[str], None],
    ) -> None:
        self.job = job
        job.sitting = CautionedSitting.begun(job.ledger, job.store.desk)
        self.say = say
        self.ask = ask
        self._keys = keys
        self._verb = verb
        self._told = len(job.ledger)
        self._plan_told = PlanSeen(job.book, job.plan_problems)
        self._done = False
        self.page = Page.at(next_to_write(job.state, -1) or 0)

    def run(self) -> None:
        """Tell the page, then take orders until there are no more."""
        book, hand = self.job.book, self.job.hand
        self.say(f"{book.title}. At this desk: hand {hand}. help lists the orders, quit ends.")
        self.tell_page()
        while not self._done:
            self._tell_news()
            said = self.ask(f"{self.account.label}, {self.account.next_act}> ")
            if said is None:
                return
            self.obey(said.strip())

    def obey(self, said: str) -> None:
        """Do one order; an empty line tells the page again, a page's number goes there."""
        try:
            order = find_order(said, self._keys)
            if not said:
                self.tell_page()
            elif order is not None:
                self._do_order(order)
            elif said[0].isdigit():
                self.go_to(said)
            else:
                self._verb(said)
        except QuestionCancelled:
            self.say("Nothing was recorded.")
        except CopydeskError as refused:
            self.say(*(f"Refused: {problem}" for problem in refused.problems))

    def _do_order(self, order: LineCommand) -> None:
        if order.verb:
            self._verb(order.verb)
        else:
            getattr(self, order.does)()

    @property
    def account(self) -> PageAccount:
        """The account of the page in hand."""
        if not self.job.state.collation.has(self.page):
            self.page = Page.at(self.job.state.collation.pages - 1)
        return page_account(self.job.state, self.page.index)

    def do(self, act: Act, *, hand: str = "", cautioned: bool = False) -> Entry:
        """Record an act and tell it, and its cautions unless the question gave them."""
        return self.do_all([act], hand=hand, cautioned=cautioned)

    def do_all(self, acts: list[Act], *, hand: str = "", cautioned: bool = False) -> Entry:
        """The same for several at once."""
        entries = self.job.record_all(acts, hand=hand)
        entry, state = entries[-1], self.job.state
        after = after_words(state, self.page.index) if entry.subject[0] == "page" else ""
        beside = [f"{after}."] if after else []
        self.say(f"Recorded: {shared_sentence(entry, state)}", *beside, *untold(self.job.also, after))
        self.say(*remarks_on(state, entry), *(() if cautioned else shown_cautions(self.job.cautions())))
        return entry

    def _tell_news(self) -> None:
        """Tell what other desks recorded, and once a plan that changed or cannot be taken."""
        try:
            self.job.refresh()
        except CopydeskError as refused:
            self.say(*(f"Refused: {problem}" for problem in refused.problems))
        fresh = [entry for entry in list(self.job.ledger)[self._told :] if entry.desk != self.job.store.desk]
        self._told = len(self.job.ledger)
        for entry in fresh[-NEWS_SHOWN:]:
            self.say(f"News from desk {entry.desk}: {entry_sentence(entry, self.job.state)}")
        if len(fresh) > NEWS_SHOWN:
            self.say(f"News: {count_of(len(fresh) - NEWS_SHOWN, 'entry', 'entries')} more; log lists them.")
        self._tell_plan()
        self.say(*self.job.news())

    def _tell_plan(self) -> None:
        before, self._plan_told = self._plan_told, PlanSeen(self.job.book, self.job.plan_problems)
        self.say(*plan_news(before, self._plan_told))

    # where the desk is

    def tell_page(self) -> None:
        """The page in hand, line by line."""
        self.say("", *spoken(page_lines(self.job.state, self.account)))

    def go(self) -> None:
        """Ask for a page and go there."""
        self.go_to(self.answer(f"Page, as {self.job.book.named(EXAMPLE)}"))

    def go_to(self, text: str) -> None:
        """Go to a page.

        Raises:
            CopydeskError: where there is no such page.
        """
        self.page = page_called(self.job.state, text, leaf_alone=True)
        self.tell_page()

    def _step_to(self, index: int) -> None:
        last = self.job.state.collation.pages - 1
        if not 0 <= index <= last:
            self.say("There is no page further on." if index > last else "There is no page before.")
            return
        self.page = Page.at(index)
        self.tell_page()

    def forward(self) -> None:
        """The page after."""
        self._step_to(self.page.index + 1)

    def back(self) -> None:
        """The page before."""
        self._step_to(self.page.index - 1)

    def first(self) -> None:
        """The first page."""
        self._step_to(0)

    def last(self) -> None:
        """The last page."""
        self._step_to(self.job.state.collation.pages - 1)

    def gathering_down(self) -> None:
        """The first page of the next gathering."""
        self._to_gathering(self.account.place.gathering + 1)

    def gathering_up(self) -> None:
        """The first page of the gathering before."""
        self._to_gathering(self.account.place.gathering - 1)

    def _to_gathering(self, number: int) -> None:
        collation = self.job.state.collation
        if not 1 <= number <= len(collation.gatherings) or not (leaves := collation.leaf_numbers(number)):
            self.say(f"There is no gathering {number} with leaves in it.")
            return
        self._step_to(leaves[0] * 2 - 2)

    def next_to_write(self) -> None:
        """The next page to rule or write."""
        self._go_where("page to write", next_to_write)

    def next_space(self) -> None:
        """The next page with a space that waits."""
        self._go_where("space waiting", next_with_space)

    def _go_where(self, what: str, find: Callable[[BookState, int], int | None]) -> None:
        found = find(self.job.state, self.page.index)
        if found is None:
            self.say(f"There is no {what} in the book.")
        else:
            self._step_to(found)

    # what is told

    def sheet(self) -> None:
        """The loose sheet of this page: both its sides, both pages of each."""
        from copydesk.book.structure.sheets import find_sheet
        from copydesk.tracking.views.sheet_view import sheet_account

        state, place = self.job.state, self.account.place
        sheet = sheet_account(state, find_sheet(state.collation, place.sheet_name))
        for side in (sheet.outer, sheet.inner):
            self.say("", ", ".join(heading(state, sheet, side, 1, 200).split("   ")).strip())
            for half in (side.left, side.right):
                label = half.page.label if half.page is not None else "no page"
                self.say(f"On the {half.lies.value}: {label}", *spoken(half_lines(state, half)))
        self.say("", next_on_sheet(state, sheet, sheet.outer.side))

    def overview(self) -> None:
        """All gatherings, a sentence each."""
        from copydesk.tracking.views.gathering_progress import gathering_reports

        for each in gathering_reports(self.job.state):
            leaves = self.job.book.leaves_named(range(each.first, each.last + 1)) if each.leaves else "no leaves"
            said = (
                f"Gathering {each.number}, {leaves}, {count_of(each.sheets, 'sheet')}: {each.written} of {each.pages} "
                f"pages written, {each.checked} checked, {each.corrected} corrected, "
                f"{count_of(each.faults, 'fault')} open, {each.painted} of {count_of(each.all_spaces, 'space')} painted"
            )
            self.say(said + (f", hands {each.hands}" if each.hands else ""))

    def log(self) -> None:
        """What was recorded last, newest first."""
        ledger, contradictions = self.job.ledger, self.job.contradictions
        self.say(*(f"Contradiction: {each}" for each in contradictions))
        for entry in list(ledger)[: -LOG_SHOWN - 1 : -1]:
            void = " (taken back)" if ledger.is_void(entry.entry) else ""
            self.say(f"{say_at(entry.at)}: {describe(entry, self.job.state)}{void}")

    def remedies(self) -> None:
        """What would make the text around this page fit."""
        self._verb(f"remedies {self.page}")

    def undo(self) -> None:
        """Take back the newest entry of this desk."""
        self._tell_again("Taken back", self.job.undo())

    def redo(self) -> None:
        """Let what was taken back stand again."""
        self._tell_again("Stands again", self.job.redo())

    def _tell_again(self, said: str, entry: Entry) -> None:
        state = self.job.state
        beside = after_sentences(state, entry)
        told = (*together_sentences(self.job.taken_together()), *beside, *untold(self.job.also, " ".join(beside)))
        self.say(f"{said}: {entry_sentence(entry, state)}", *told)

    def run_verb(self, words: str) -> None:
        """Run a verb of the command line on the book."""
        self._verb(words)

    def words(self) -> None:
        """Look a word of the trade up."""
        from copydesk.help.glossary import find_words

        found = find_words(self.answer("Which word"))[:NEWS_SHOWN]
        self.say(*(f"{word}: {meaning}" for word, meaning in found) if found else ("The glossary has nothing on it.",))

    def help(self) -> None:
        """Every order."""
        self.say(
            "An order is given by its name or its key, then enter. An empty line tells the page again; a page's",
            "number, as 12r, goes there. cancel goes back from a question. Any verb of copydesk can be given with",
            "its options, the book left out, as in faults --tell or record leaf:5 replaced.",
            *order_lines(self._keys),
        )

    def quit(self) -> None:
        """Leave the desk."""
        self._done = True


def spoken(lines: Iterable[PanelLine]) -> Iterator[str]:
    """Lines of a panel with the heading before each, so that none has to be looked for above."""
    head = ""
    for line in lines:
        head = line.head or head
        yield f"{head}: {line.says}" if head else line.says
