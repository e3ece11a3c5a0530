"""What can be recorded of a page: each command works out the facts of an entry, or refuses with a sentence.

A command changes nothing. It gives an ``Act``, which ``Job.record`` turns into an entry of the ledger.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from copydesk.book.checks import PageReading
from copydesk.book.common.errors import (
    AlreadyDoneError,
    DoesNotFitError,
    InvalidValueError,
    NotAllowedError,
)
from copydesk.book.common.phrases import decimal
from copydesk.book.layout.spaces import takes_lines
from copydesk.book.structure.page import Page
from copydesk.comparing.corrections import remedy as known_remedy
from copydesk.tracking.checking.fault_report import fault_page
from copydesk.tracking.checking.open_faults import fault_called
from copydesk.tracking.commands.pass_commands import go_over
from copydesk.tracking.commands.reading_checks import reading_facts
from copydesk.tracking.commands.sheet_commands import move_sheet
from copydesk.tracking.commands.space_commands import space_act
from copydesk.tracking.commands.writing import Given, checked_minutes, likely_beginning, written_facts
from copydesk.tracking.ledger.agreements import AGREED, MOST_LINES, RULING
from copydesk.tracking.ledger.entry import NONE_SEEN, Act
from copydesk.tracking.ledger.page_record import PageState
from copydesk.tracking.state.page_content import placements_on
from copydesk.tracking.state.plan_conflicts import plan_of_page, words_mark
from copydesk.tracking.views.page_lookup import expect_page
from copydesk.tracking.views.page_view import page_account

if TYPE_CHECKING:
    from copydesk.book.layout.page_frame import Placement
    from copydesk.tracking.ledger.page_record import PageRecord
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.page_view import PageAccount


class Commands:
    """The commands for one book as it stands now; ``hand`` is who does it, empty for the hand expected on each page."""

    def __init__(self, state: BookState, hand: str = "") -> None:
        self.state = state
        self.hand = hand

    def rule(self, page: Page, *, minutes: float | None = None, note: str = "") -> Act:
        """Rule a page: the spaces on it are fixed from now on.

        Raises:
            CopydeskError: where there is no such page, or it is ruled already: as recorded, or since it is begun.
        """
        account = self._account(page)
        if account.record.ruled:
            raise AlreadyDoneError(f"{account.label} is ruled already; nothing was recorded")
        if account.record.has_ruling:
            state = account.record.state
            raise AlreadyDoneError(f"{account.label} is {state} already, so it counts as ruled; nothing was recorded")
        return self._act(account, "ruled", minutes=checked_minutes(minutes), note=note or None, **self._skin(account))

    def begin(
        self, page: Page, begins: str = "", *, minutes: float | None = None, note: str = "", sure: bool = False
    ) -> Act:
        """Begin a page's text, at the planned word or at ``begins``.

        Raises:
            UnlikelyError: where it cannot have begun there, unless ``sure``.
            CopydeskError: where it is begun or written already, or the words are not found.
        """
        account = self._account(page)
        if account.record.state not in (PageState.UNRULED, PageState.RULED):
            raise AlreadyDoneError(f"{account.label} is {account.record.state} already; nothing was recorded")
        start = likely_beginning(self.state, account, begins, sure=sure)
        told = {"minutes": checked_minutes(minutes), "note": note or None}
        return self._act(account, "begun", from_word=start, **told, **self._skin(account))

    def write(
        self,
        page: Page,
        *,
        to_line: int | None = None,
        begins: str = "",
        ends: str = "",
        within: bool = False,
        minutes: float | None = None,
        note: str = "",
        sure: bool = False,
    ) -> Act:
        """Write a page, whole or to a text line.

        Args:
            page: the page.
            to_line: the last text line written, counted through the columns; the whole page where None.
            begins: its first words, where it did not begin as planned; or those of this sitting.
            ends: its last words, where they are not those planned.
            within: whether the pen stopped within that line, so that the next words go on in it.
            minutes: how long it took.
            note: anything to be remembered.
            sure: whether an end or a beginning that hardly any hand can have reached is meant all the same.

        Raises:
            UnlikelyError: where the hand cannot have begun or ended there, unless ``sure``.
            CopydeskError: where the line is not on the page, words are not found, or there is nothing new in it.
        """
        account = self._account(page)
        facts = written_facts(self.state, account, Given(to_line, begins, ends, within, sure, self.hand))
        told = {"minutes": checked_minutes(minutes), "note": note or None, "seen": _seen(account.record)}
        words = words_mark(self.state, int(facts["from_word"]), int(facts["to_word"]))  # type: ignore[call-overload]
        return self._act(account, "written", **facts, text=words, **told, **self._skin(account))

    def check(
        self,
        page: Page,
        *,
        read: bool = False,
        how: str = "",
        beside: str = "",
        minutes: float | None = None,
        note: str = "",
    ) -> Act:
        """Check a page against the exemplar; faults are noted before it.

        Args:
            page: the page.
            read: whether it was read, now or line by line before; else it is kept as what it is: ticked, not read.
            how: the way it was read, where somebody says; whoever says it has read the page.
            beside: who read aloud, where two did.
            minutes: how long it took.
            note: anything to be remembered.

        Raises:
            NotAllowedError: where its text is not whole yet, or it is no reading that the book wants.
        """
        account = self._account(page)
        if not account.record.whole:
            raise NotAllowedError(
                f"{account.label} is {account.record.state}, not written whole; write it before it is checked"
            )
        told = {"minutes": checked_minutes(minutes), "note": note or None, "seen": _seen(account.record)}
        record = account.record
        read = read or bool(how) or (record.written > 0 and record.read_to >= record.written)
        reading = reading_facts(self.state, account, PageReading(self.hand, how, beside, "", read, ""))
        words = words_mark(self.state, record.begins or 0, record.ends or 0)
        return self._act(account, "checked", read=read, text=words, **reading, **told)

    def fault(self, page: Page, kind: str, **facts: object) -> Act:
        """Note a fault on a page: ``column``, ``line``, ``word``, ``stands``, ``should``, ``cause``, ``note``.

        Raises:
            CopydeskError: where nothing is written on the page, or the place is not on it.
        """
        account = self._account(page)
        frame = self.state.frame_of(page.index)
        if not account.record.stints:
            raise NotAllowedError(
                f"nothing is written on {account.label}, so it can have no fault; name the page it is on"
            )
        for name, most in (("column", frame.columns), ("line", frame.lines)):
            value = facts.get(name)
            if isinstance(value, int) and not 1 <= value <= most:
                raise InvalidValueError(
                    f"{account.label} has {name}s 1 to {most}, so there is no {name} {value}; correct it"
                )
        if not kind.strip():
            raise InvalidValueError("a fault needs its kind; give one such as omission or substitution")
        if facts.get("line") and facts.get("column") is None and frame.columns == 1:
            facts["column"] = 1
        return self._act(account, "fault", kind=kind, **facts)

    def mend(self, page: Page, fault: str, remedy: str, note: str = "") -> Act:
        """Mend a fault, given by its number or its id; none need be given where the page has only one open.

        Raises:
            CopydeskError: where the page has no such open fault, or there is no such remedy.
        """
        account = self._account(page)
        found = fault_called(account.record, account.label, fault, lambda name: fault_page(self.state, name))
        how = known_remedy(remedy).name if remedy else "settled"
        return self._act(account, "settled", fault=found.id, remedy=how, note=note or None)

    def hold(self, page: Page, begins: str, note: str = "", *, sure: bool = False) -> Act:
        """Fix the words a page begins with, whatever room the pages before it need.

        Raises:
            UnlikelyError: where no hand can bring the text before it to that place, unless ``sure``.
            CopydeskError: where the page is begun already, or the words are not found.
        """
        account = self._account(page)
        if account.record.begins is not None:
            raise NotAllowedError(f"{account.label} is begun already, so its beginning is fixed; nothing was recorded")
        start = likely_beginning(self.state, account, begins, sure=sure)
        return self._act(account, "held", from_word=start, note=note or None)

    def release(self, page: Page) -> Act:
        """Undo ``hold``: the page begins again where the text before it ends.

        Raises:
            CopydeskError: where no beginning was given it.
        """
        account = self._account(page)
        if account.record.held is None:
            raise InvalidValueError(f"{account.label} has no given beginning to take back; nothing was recorded")
        if account.record.begins is not None:
            raise NotAllowedError(f"{account.label} is begun already, so its beginning is fixed; nothing was recorded")
        return self._act(account, "released")

    def space(self, space: str, what: str, note: str = "", **facts: object) -> Act:
        """Record a stage of a space, how it ended, or another plan for it; see ``space_acts``.

        Raises:
            CopydeskError: where there is no such space, or it cannot be.
        """
        return space_act(self.state, space, what, note=note, **facts)

    def sheet(self, sheet: str, place: str, who: str = "", *, note: str = "", at: str = "") -> Act:
        """Record where a sheet (``3.2``) is now; see ``sheet_acts``.

        Raises:
            CopydeskError: where there is no such sheet or place, or it is there already.
        """
        return move_sheet(self.state, sheet, place, who, note=note, at=at)

    def go_over(self, page: Page, name: str, **how: Any) -> Act:
        """Record a later pass of a page as done; see ``pass_commands``.

        Raises:
            CopydeskError: where the page needs nothing in such a pass, or it cannot have been done.
        """
        return go_over(self.state, page, name, **how)

    def _account(self, page: Page) -> PageAccount:
        expect_page(self.state, page)
        return page_account(self.state, page.index)

    def _skin(self, account: PageAccount) -> dict[str, object]:
        """What is fixed on the skin from now on: its spaces and its lines, whatever the plan says of other pages later.

        Every entry about the page carries it, so that it stays known when one of the entries is undone.
        """
        state, index = self.state, account.page.index
        loose = state.loose_spaces
        rows = [_row(each) for each in placements_on(state, index) if each.id not in loose]
        plan = plan_of_page(state, index, [str(row[0]) for row in rows])
        return {"placements": rows, "lines": state.frame_of(index).lines, "plan": plan}

    def _act(self, account: PageAccount, what: str, **facts: object) -> Act:
        kept = {name: value for name, value in facts.items() if value is not None}
        return Act(what, str(account.place.skin), str(account.page), kept)


def _seen(record: PageRecord) -> str:
    """The entry by which the page was last written, as far as this desk knows."""
    return record.stints[-1].entry if record.stints else NONE_SEEN


def _row(placement: Placement) -> list[object]:
    return [placement.id, placement.column, placement.from_line, placement.lines, round(placement.share, 6)]


def agree_letters(state: BookState, first: int, last: int, letters: float, words: int = 0) -> Act:
    """Agree to put ``letters`` on a line from one page to another (indices), of which ``words`` words abbreviated.

    Raises:
        InvalidValueError: where that is no number of letters.
    """
    if not 1 <= letters <= 1000:
        raise InvalidValueError(f"{decimal(letters)} letters cannot stand on a line; give a number from 1 to 1000")
    facts: dict[str, object] = {
        "from_page": str(Page.at(first)),
        "to_page": str(Page.at(last)),
        "from_skin": str(state.skin_at(first)),
        "to_skin": str(state.skin_at(last)),
        "letters": round(letters, 2),
    }
    if words:
        facts["words"] = words
    return Act("abbreviated", AGREED, "", facts)


def agree_lines(state: BookState, lines: int) -> Act:
    """Give the pages not yet ruled another number of written lines a column; the foot margin takes or gives the room.

    Raises:
        CopydeskError: where that is no number of lines, or the foot margin has not so much room.
    """
    if not 1 <= lines <= MOST_LINES:
        raise InvalidValueError(f"a column cannot have {lines} lines; give a number from 1 to {MOST_LINES}")
    state.layout.with_lines(lines)
    _check_spaces_within(state, lines)
    return Act("ruling", RULING, "", {"lines": lines})


def _check_spaces_within(state: BookState, lines: int) -> None:
    """See that the spaces on pages not yet ruled still end within columns of so many lines.

    Raises:
        DoesNotFitError: naming the first that would not.
    """
    tied = [each for frame in state.frames.values() if not frame.ruled for each in frame.fixed]
    open_ones = [plan for plan in state.plans if plan.id not in state.budget.fixed and takes_lines(plan.kind)]
    for name, last in [
        *((each.id, each.from_line + each.lines - 1) for each in tied if each.lines),
        *((plan.id, plan.lines) for plan in open_ones),
    ]:
        if last > lines:
            raise DoesNotFitError(
                f"space {name} needs a column of {last} lines at least, so {lines} are too few; make it smaller first"
            )
