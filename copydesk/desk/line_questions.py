"""The acts on a page, asked and answered a line at a time. No Textual here."""

from __future__ import annotations

from abc import ABC, abstractmethod
from typing import TYPE_CHECKING

from copydesk.book.checks import ALOUD
from copydesk.book.common.errors import AlreadyDoneError, InvalidValueError, NotAllowedError, UnlikelyError
from copydesk.book.common.phrases import capital
from copydesk.book.common.typed_values import optional, read_minutes, read_whole
from copydesk.book.materials.cautions import caution_paragraph
from copydesk.comparing.corrections import remedy
from copydesk.comparing.faults import KIND_WORDS
from copydesk.desk.base.stint_watch import clock_now
from copydesk.desk.wording.check_words import check_lines
from copydesk.desk.wording.page_words import beginning_asked, beginning_held, end_asked
from copydesk.tracking.checking.open_faults import fault_called, fault_words
from copydesk.tracking.commands.check_commands import checker_words, read_to
from copydesk.tracking.commands.reading_checks import ways_open
from copydesk.tracking.commands.several import pages_of_gathering, pages_of_sheet
from copydesk.tracking.fit.correction_fit import correction_fit, room_lines, ways_told
from copydesk.tracking.ledger.entry import Act
from copydesk.tracking.scribes.desk_clock import pause_stint, start_stint, stop_stint
from copydesk.tracking.views.page_view import ActKind

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from copydesk.book.structure.page import Page
    from copydesk.job import Job
    from copydesk.tracking.ledger.entry import Entry
    from copydesk.tracking.views.page_view import PageAccount


CANCEL = "cancel"
"""What is typed to go back from a question; an empty line takes what the question offers."""


class QuestionCancelled(Exception):  # noqa: N818 - it is no error: the person left the question
    """A question was left without an answer."""


class PageQuestions(ABC):
    """Asks what an act has to know, and records it. Whoever inherits gives the job, the page and the voice."""

    job: Job
    page: Page
    ask: Callable[[str], str | None]
    say: Callable[..., None]

    @property
    @abstractmethod
    def account(self) -> PageAccount:
        """The account of the page in hand."""

    @abstractmethod
    def do(self, act: Act, *, hand: str = "", cautioned: bool = False) -> Entry:
        """Record an act and tell it."""

    @abstractmethod
    def do_all(self, acts: list[Act], *, hand: str = "", cautioned: bool = False) -> Entry:
        """The same for several at once."""

    @abstractmethod
    def run_verb(self, words: str) -> None:
        """Run a verb of the command line on the book."""

    def answer(self, asks: str, hint: str = "") -> str:
        """One answer.

        Raises:
            QuestionCancelled: where ``cancel`` is answered, or no more lines come.
        """
        said = self.ask(f"{asks}{f' (empty: {hint})' if hint else ''}: ")
        if said is None or said.strip().casefold() == CANCEL:
            raise QuestionCancelled
        return said.strip()

    def number(self, asks: str, hint: str = "") -> int | None:
        """A whole number; None where the answer is empty.

        Raises:
            InvalidValueError: where it is none.
        """
        return optional(read_whole, self.answer(asks, hint), f'"{asks}"')

    def minutes(self, asks: str, hint: str = "") -> float | None:
        """A time in minutes; None where the answer is empty.

        Raises:
            InvalidValueError: where it is none.
        """
        return optional(read_minutes, self.answer(asks, hint), f'"{asks}"')

    def choose(self, asks: str, options: Sequence[tuple[str, str]]) -> str:
        """One of a few, by its number or its name.

        Raises:
            InvalidValueError: where the answer is none of them.
        """
        self.say(*(f"{at}: {says}" for at, (_, says) in enumerate(options, start=1)))
        said = self.answer(asks)
        for at, (name, _) in enumerate(options, start=1):
            if said.casefold() in (str(at), name.casefold()):
                return name
        raise InvalidValueError(f"{said!r} is none of these; nothing was recorded")

    def next_act(self) -> None:
        """Do what comes next on the page; a page is read before it is checked."""
        record = self.account.record
        steps = {
            ActKind.RULE: self.rule,
            ActKind.WRITE: self.write,
            ActKind.CHECK: self.check if record.written and record.read_to >= record.written else self.read,
            ActKind.MEND: self.mend,
            ActKind.INK: self.go_over,
        }
        act = self.account.next_act
        if act.kind in steps:
            steps[act.kind]()
        else:
            self.say(f"{self.account.label}: {act.why_nothing}.")

    def rule(self) -> None:
        """Record the page as ruled."""
        self.do(self.job.commands.rule(self.page))

    def go_over(self) -> None:
        """Record the page as gone over in the pass that comes next."""
        name = self.account.next_act.name
        self.do(self.job.commands.go_over(self.page, name, now=self.job.clock()))

    def rule_sheet(self) -> None:
        """Record all pages of the sheet as ruled, or none."""
        pages = pages_of_sheet(self.job.state, self.account.place.sheet_name)
        self.do_all([self.job.commands.rule(page) for page in pages])

    def rule_gathering(self) -> None:
        """Record all pages of the gathering as ruled, or none."""
        pages = pages_of_gathering(self.job.state, self.account.place.gathering)
        self.do_all([self.job.commands.rule(page) for page in pages])

    def begin(self) -> None:
        """Record the page as begun."""
        self.do(self.job.commands.begin(self.page))

    def write(self) -> None:
        """Record the whole page as written."""
        if self.account.record.whole:
            raise AlreadyDoneError(f"{self.account.label} is written whole already; write to records another end")
        self.do(self.job.commands.write(self.page))

    def write_to(self) -> None:
        """Ask how far the page is written."""
        account = self.account
        line = self.number("Written to line, counted through the columns", "the whole page")
        ends = self.answer(*end_asked(self.job.state, account))
        within = self.answer("Did the pen stop within that line, yes or no", "no")
        begins = self.answer(*beginning_asked(self.job.state, account))
        minutes = self.minutes("Minutes", "not known")
        note = self.answer("Note", "none")

        def act(sure: bool) -> Act:
            return self.job.commands.write(
                self.page,
                to_line=line,
                begins=begins,
                ends=ends,
                within=within[:1].lower() == "y",
                minutes=minutes,
                note=note,
                sure=sure,
            )

        self._do_if_sure(act)

    def _do_if_sure(self, act: Callable[[bool], Act]) -> None:
        """Do an act; where hardly anybody can have done it, ask first whether it is so."""
        try:
            self.do(act(False))
        except UnlikelyError as doubt:
            self.say(*(f"{capital(str(why))}." for why in doubt.problems))
            if self.answer("Is that so, yes or no", "no")[:1].lower() != "y":
                raise QuestionCancelled from None
            self.do(act(True))

    def check(self) -> None:
        """Record the page as checked."""
        how = beside = ""
        if self.job.book.readings.ways:
            how = self.choose("How was it read", [(way, way) for way in ways_open(self.account)])
            beside = self.answer("Who read aloud") if how == ALOUD else ""
        self.do(self.job.commands.check(self.page, how=how, beside=beside))

    def read(self) -> None:
        """Tell the page's lines, and ask how far they were read against the exemplar."""
        rows = check_lines(self.job.state, self.page.index)
        if not rows:
            raise NotAllowedError(f"nothing is written on {self.account.label} that could be checked")
        minded = checker_words(self.job.state, self.page, self.job.hand)
        self.say(*([minded] if minded else []))
        self.say(*(f"{row.column}.{row.line}: {' '.join(row.words) or row.verse}" for row in rows))
        line = self.number("Read to line, counted through the columns", "not noted")
        if line is not None:
            self.do(read_to(self.job.state, self.page, line))

    def fault(self) -> None:
        """Ask for a fault found on the page."""
        if not self.account.record.stints:
            raise NotAllowedError(f"nothing is written on {self.account.label}, so it can have no fault")
        kinds = [(str(kind), f"{kind}: {says}") for kind, says in KIND_WORDS.items()]
        kind = self.choose("Of what kind", [*kinds, ("other", "other: in your own words")])
        if kind == "other":
            kind = self.answer("What kind of fault it is, in a word or two")
        facts = {
            "column": self.number("Column", "not told"),
            "line": self.number("Line in the column", "not told"),
            "stands": self.answer("What stands there", "nothing") or None,
            "should": self.answer("What should stand there", "nothing") or None,
            "note": self.answer("Note", "none") or None,
        }
        self.do(self.job.commands.fault(self.page, kind, **facts))

    def mend(self) -> None:
        """Ask which fault is mended, and how."""
        faults = self.account.record.open_faults
        if not faults:
            raise NotAllowedError(f"{self.account.label} has no open fault")
        fault = ""
        if len(faults) > 1:
            self.say(*map(fault_words, faults))
            fault = self.answer("Number of the fault that is mended")
        else:
            self.say(f"The fault: {fault_words(faults[0])}")
        known = fault_called(self.account.record, self.account.label, fault, lambda _: "")
        found = correction_fit(self.job.state, self.page, known)
        self.say(*room_lines(found))
        told, given = [], set[str]()
        for each in ways_told(found):
            way = remedy(each.name)
            cautions = [caution for caution in self.job.cautions(way.act) if caution.sentence not in given]
            given.update(caution.sentence for caution in cautions)
            told.append((each.name, f"{each.head}. {' '.join(each.note)} {caution_paragraph(cautions)}".rstrip()))
        self.do(self.job.commands.mend(self.page, fault, self.choose("How is it mended", told)), cautioned=True)

    def hold(self) -> None:
        """Ask for the words the page must begin with."""
        held = self.account.record.held is not None
        asked = beginning_held(self.job.state, self.account)
        begins = self.answer(asked.label, "let it begin where the text brings it" if held else asked.hint)
        commands = self.job.commands
        if held and not begins:
            self.do(commands.release(self.page))
        else:
            self._do_if_sure(lambda sure: commands.hold(self.page, begins, sure=sure))

    def change_hand(self) -> None:
        """Ask whose hand is at this desk."""
        hands = [(hand.id, f"{hand.id} {hand.name}".strip()) for hand in self.job.book.hands]
        hands += [(name, f"{name}, the {trade}") for name, trade in self.job.book.others.items()]
        hand = self.choose("Whose hand is at this desk now", hands)
        self.do(Act("at-desk", self.job.store.desk, "", {}), hand=hand)

    def clock(self) -> None:
        """Tell the stint clock, and ask what it is to do."""
        now, desk = clock_now(self.job), self.job.store.desk
        if not now.open:
            rest = self.minutes("Minutes after which a rest is due, 0 for no reminder", f"{int(now.rest_after)}")
            self.do(start_stint(desk, round(now.rest_after if rest is None else rest)))
            return
        if now.shows.forgotten:
            minutes = self.minutes("The clock was left running; minutes it really was, 0 where nobody knows")
            if minutes is None:
                raise InvalidValueError("give the minutes of the stint, 0 where nobody knows them")
            self.do(stop_stint(desk, minutes))
            return
        self.say(f"{int(now.shows.minutes)} minutes at the desk, {int(now.shows.since_rest)} without a rest.")
        go_on = ("go on", "go on") if now.paused else ("rest", "rest: the clock stands still")
        acts = {"go on": lambda: start_stint(desk, int(now.rest_after)), "rest": lambda: pause_stint(desk)}
        self.do(acts.get(self.choose("What now", [go_on, ("end", "end the stint")]), lambda: stop_stint(desk))())

    def leaf(self) -> None:
        """Ask what happened to the leaf, and record it by the command line's verb."""
        what = self.choose(f"What happened to {self.job.book.leaf_named(self.page.leaf)}", _LEAF)
        sizes = "".join(f" --{name} {self.answer(asks)}" for name, asks in _SIZES) if what == "flaw" else ""
        self.run_verb(f"record leaf:{self.page.leaf} {what}{sizes}")


_LEAF = (
    ("cancelled", "cancelled: cut away, its stub stays"),
    ("replaced", "replaced: cut away, a blank one tipped in"),
    ("added-after", "added-after: a leaf is added after this one"),
    ("flaw", "flaw: a hole, a scar, a short edge"),
    ("wanting", "wanting: the leaf is lost"),
)
_SIZES = (
    ("from-head", "How far from the head, as 120 mm"),
    ("from-fold", "How far from the fold"),
    ("width", "How wide"),
    ("height", "How high"),
)
