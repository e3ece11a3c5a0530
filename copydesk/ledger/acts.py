"""What can be recorded, worked out from the book as it stands: the facts of an entry before it is made.

Each function gives an ``Act`` or says in a sentence why it cannot be.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.finding import find_words
from copydesk.book.refusal import Refused
from copydesk.ledger.accounts import page_account
from copydesk.ledger.half_line import line_begins
from copydesk.ledger.page_lines import lines_of_page
from copydesk.ledger.page_record import Stint
from copydesk.ledger.space_places import placements_on

if TYPE_CHECKING:
    from collections.abc import Mapping

    from copydesk.book.casting import Placement
    from copydesk.book.page import Page
    from copydesk.ledger.accounts import PageAccount
    from copydesk.ledger.page_record import Fault, PageRecord
    from copydesk.ledger.standing import Standing


class Act(NamedTuple):
    """An entry to be made: its kind, what it is about, the page's label where it is about one, its facts."""

    what: str
    about: str
    page: str
    facts: Mapping[str, object]


class Acts:
    """Makes acts for one book as it stands now."""

    def __init__(self, standing: Standing) -> None:
        self.standing = standing

    def rule(self, page: Page) -> Act:
        """Rule a page: the spaces on it are fixed from now on.

        Raises:
            Refused: where there is no such page, or it is ruled already.
        """
        account = self._account(page)
        if account.record.ruled:
            raise Refused(f"{page} is ruled already; nothing was recorded")
        return self._act(account, "ruled", placements=self._placements(account), lines=self._lines(account))

    def begin(self, page: Page, begins: str = "") -> Act:
        """Begin a page's text, at the planned word or at ``begins``.

        Raises:
            Refused: where it is begun or written already, or the words are not found.
        """
        account = self._account(page)
        if account.record.state not in ("unruled", "ruled"):
            raise Refused(f"{page} is {account.record.state} already; nothing was recorded")
        fixed = None if account.record.ruled else self._placements(account)
        start, lines = self._beginning(account, begins), self._lines(account)
        return self._act(account, "begun", from_word=start, placements=fixed, lines=lines)

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
    ) -> Act:
        """Write a page, whole or to a text line.

        Args:
            page: the page.
            to_line: the last text line written, counted through the columns; the whole page where None.
            begins: its first words, where it did not begin as planned.
            ends: its last words, where they are not those planned.
            within: whether the pen stopped within that line, so that the next words go on in it.
            minutes: how long it took.
            note: anything to be remembered.

        Raises:
            Refused: where the line is not on the page, or words are not found.
        """
        account = self._account(page)
        record = account.record
        again = record.whole or bool(begins)
        first = 1 if again else record.written + 1
        start = self._beginning(account, begins) if again or not record.stints else record.ends or 0
        last, end, whole = self._extent(account, first, to_line, start, ends)
        if end < start:
            raise Refused(
                f'"{ends}" stands before the place where {page} begins; give the last words of the page, or begins too'
            )
        stop = Stint("", first, last, start, end, "", None, "")
        return self._act(
            account,
            "written",
            from_line=first,
            to_line=last,
            from_word=start,
            to_word=end,
            line_from_word=self._line_begins(account, stop, again=again, ends=ends) if within else None,
            whole=whole and not within,
            minutes=minutes,
            note=note or None,
            placements=None if record.placements is not None else self._placements(account),
            lines=self._lines(account),
            letters=None if ends else self._letters(account),
        )

    def _extent(
        self, account: PageAccount, first: int, to_line: int | None, start: int, ends: str
    ) -> tuple[int, int, bool]:
        """Last line, the word after the last, and whether the page's text is then whole."""
        budget = account.budget
        if to_line is None:
            # A page has no more lines than are ruled: text planned beyond them was written closer.
            planned = max(min(budget.planned, budget.room), 1)
            end = self._ending(account, account.to_word, start, ends)
            full = planned if end == account.to_word else max(budget.room, planned)
            return max(full, first), end, True
        if not first <= to_line <= max(account.ruled_lines, budget.planned):
            raise Refused(
                f"{account.page} has lines {first} to {account.ruled_lines} to write, so it cannot be written "
                f"to line {to_line}; give a line among them"
            )
        expected = self._word_after_line(account, to_line)
        end = self._ending(account, expected, start, ends)
        whole = to_line >= budget.room or (to_line >= budget.planned and end >= account.to_word)
        return to_line, end, whole

    def _line_begins(self, account: PageAccount, stop: Stint, *, again: bool, ends: str) -> int:
        """The word that the line begins with in which the pen stopped."""
        if not ends or stop.to_word <= stop.from_word:
            raise Refused(
                f"to stop within a line of {account.page}, give that line and the last words written, "
                "so that the next hand finds the place; nothing was recorded"
            )
        before = None if again else account.record.within
        stop = stop._replace(
            hand=account.record.pen or self.standing.hand_of(account.page.index),
            goes_on=before.line_from if before is not None and before.shares_line(stop) else None,
        )
        return line_begins(self.standing, account.page.index, stop)

    def _word_after_line(self, account: PageAccount, line: int) -> int:
        lines = lines_of_page(self.standing, account.page.index)
        if line - 1 < len(lines):
            return self.standing.copy.word(lines[line - 1].end)
        return account.to_word

    def _ending(self, account: PageAccount, expected: int, start: int, ends: str) -> int:
        if not ends:
            return max(expected, start)
        words = self._words(account)
        count = len(ends.split())
        return find_words(words, ends, max(expected - count, 0)) + count

    def _beginning(self, account: PageAccount, begins: str) -> int:
        record = account.record
        planned = record.begins if record.begins is not None else account.from_word
        return find_words(self._words(account), begins, planned) if begins else planned

    def _words(self, account: PageAccount) -> list[str]:
        if self.standing.exemplar is None:
            raise Refused(
                f"the exemplar of this book is not typed, so words cannot be looked for; record {account.page} "
                "by its lines"
            )
        return self.standing.exemplar.words

    def check(self, page: Page, *, minutes: float | None = None, note: str = "") -> Act:
        """Check a page against the exemplar; faults are noted before it.

        Raises:
            Refused: where its text is not whole yet.
        """
        account = self._account(page)
        if not account.record.whole:
            raise Refused(f"{page} is {account.record.state}, not written whole; write it before it is checked")
        return self._act(account, "checked", minutes=minutes, note=note or None)

    def fault(self, page: Page, kind: str, **facts: object) -> Act:
        """Note a fault on a page: ``column``, ``line``, ``word``, ``stands``, ``should``, ``cause``, ``note``.

        Raises:
            Refused: where nothing is written on the page, or the place is not on it.
        """
        account = self._account(page)
        frame = self.standing.frame_of(page.index)
        if not account.record.stints:
            raise Refused(f"nothing is written on {page}, so no fault can stand there; name the page it is on")
        for name, most in (("column", frame.columns), ("line", frame.lines)):
            value = facts.get(name)
            if isinstance(value, int) and not 1 <= value <= most:
                raise Refused(f"{page} has {name}s 1 to {most}, so there is no {name} {value}; correct it")
        if not kind.strip():
            raise Refused("a fault needs its kind; give one such as omission or substitution")
        return self._act(account, "fault", kind=kind, **facts)

    def settle(self, page: Page, fault: str, remedy: str, note: str = "") -> Act:
        """Settle a fault: by its id, or its number among the page's open ones (from 1).

        Raises:
            Refused: where the page has no such open fault.
        """
        account = self._account(page)
        found = self._open_fault(account.record, fault)
        if found is None:
            open_ones = ", ".join(each.id for each in account.record.open_faults) or "none"
            raise Refused(f"{page} has no open fault {fault!r}; open there: {open_ones}")
        return self._act(account, "settled", fault=found.id, remedy=remedy or "settled", note=note or None)

    def _open_fault(self, record: PageRecord, fault: str) -> Fault | None:
        open_ones = record.open_faults
        if fault.isdecimal() and 1 <= int(fault) <= len(open_ones):
            return open_ones[int(fault) - 1]
        return next((each for each in open_ones if each.id == fault), None)

    def hold(self, page: Page, begins: str) -> Act:
        """Settle that a page begins with these words, whatever the pages before it need.

        Raises:
            Refused: where the page is begun already, or the words are not found.
        """
        account = self._account(page)
        if account.record.begins is not None:
            raise Refused(f"{page} is begun already, so its beginning is settled; nothing was recorded")
        return self._act(account, "held", from_word=self._beginning(account, begins))

    def release(self, page: Page) -> Act:
        """Let a page begin where the text brings it again.

        Raises:
            Refused: where no beginning was given it.
        """
        account = self._account(page)
        if account.record.held is None:
            raise Refused(f"{page} was given no beginning, so there is nothing to let go; nothing was recorded")
        if account.record.begins is not None:
            raise Refused(f"{page} is begun already, so its beginning is settled; nothing was recorded")
        return self._act(account, "released")

    def space(self, space: str, what: str, note: str = "", **facts: object) -> Act:
        """Record a stage of a space, how it ended, or another plan for it; see ``space_acts``.

        Raises:
            Refused: where there is no such space, or it cannot be.
        """
        from copydesk.ledger.space_acts import space_act

        return space_act(self.standing, space, what, note=note, **facts)

    def sheet(self, sheet: str, place: str, who: str = "", *, note: str = "", at: str = "") -> Act:
        """Record where a sheet (``3.2``) is now; see ``sheet_acts``.

        Raises:
            Refused: where there is no such sheet or place, or it is there already.
        """
        from copydesk.ledger.sheet_acts import move_sheet

        return move_sheet(self.standing, sheet, place, who, note=note, at=at)

    def _account(self, page: Page) -> PageAccount:
        if not self.standing.collation.has(page):
            last = self.standing.collation.leaves
            raise Refused(f"there is no page {page} in this book; its leaves go from 1 to {last}")
        return page_account(self.standing, page.index)

    def _placements(self, account: PageAccount) -> list[list[object]]:
        loose = self.standing.loose_spaces
        found = placements_on(self.standing, account.page.index)
        return [_row(placement) for placement in found if placement.id not in loose]

    def _letters(self, account: PageAccount) -> float:
        """Letters a line by which the plan puts the end of a page."""
        standing, index = self.standing, account.page.index
        pin = standing.pins.get(index)
        hand = pin.hand if pin is not None and pin.hand else standing.hand_of(index)
        return standing.agreed.get(index) or standing.letters_of(hand)

    def _lines(self, account: PageAccount) -> int | None:
        """Lines a column where they are settled with this entry and are not those of the plan."""
        lines = self.standing.frame.lines
        settled = account.record.placements is not None
        return None if settled or lines == self.standing.layout.lines else lines

    def _act(self, account: PageAccount, what: str, **facts: object) -> Act:
        kept = {name: value for name, value in facts.items() if value is not None}
        return Act(what, str(account.place.skin), str(account.page), kept)


def _row(placement: Placement) -> list[object]:
    return [placement.id, placement.column, placement.from_line, placement.lines, round(placement.share, 6)]
