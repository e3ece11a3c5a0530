"""The facts of an entry of writing: from which line and word to which, and whether the page is then whole.

Words that a scribe gives are looked for in the text as it is written, changes made on purpose included, near the
place where the plan puts them. Of a text known by its counts only they give places in it.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.errors import AlreadyDoneError, InvalidValueError, UnlikelyError
from copydesk.book.common.phrases import decimal
from copydesk.book.text.counted_places import first_at, last_at
from copydesk.book.text.word_search import find_words
from copydesk.tracking.commands.plausible_end import doubt_about, doubt_about_beginning, reachable
from copydesk.tracking.ledger.stint import Stint
from copydesk.tracking.state.page_content import line_begins, lines_of_page, lines_on_from

if TYPE_CHECKING:
    from collections.abc import Iterator

    from copydesk.tracking.commands.plausible_end import Reachable
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.page_view import PageAccount


class Given(NamedTuple):
    """What a scribe says of a page: the last line written (None for the whole page), first and last words.

    ``within`` tells that the pen stopped within that line; ``sure`` that an end or a beginning is meant though hardly
    any hand can have reached it; ``hand`` who wrote, empty for the hand expected on the page.
    """

    to_line: int | None = None
    begins: str = ""
    ends: str = ""
    within: bool = False
    sure: bool = False
    hand: str = ""


def written_facts(state: BookState, account: PageAccount, given: Given) -> dict[str, object]:
    """The facts of an entry that a page was written.

    Raises:
        UnlikelyError: where the hand cannot have begun or ended there, and nobody said that it is so.
        CopydeskError: where the line is not on the page, words are not found, or there is nothing to record.
    """
    return _Writing(state, account, given).facts()


def beginning(state: BookState, account: PageAccount, begins: str) -> int:
    """The word a page begins with: the one it was begun with, or planned to; or that of ``begins``, found near it.

    Raises:
        CopydeskError: where the words are not found, or none are given and the plan has no text for the page.
    """
    planned = account.record.begins if account.record.begins is not None else account.from_word
    if begins:
        return _find(state, begins, near=planned)
    if account.record.begins is None and account.from_word >= account.to_word:
        raise InvalidValueError(f"the plan has no text for {account.label}; give the first words that stand there")
    return planned


def likely_beginning(state: BookState, account: PageAccount, begins: str, *, sure: bool) -> int:
    """The same, where the page can have begun there or somebody is ``sure`` that it did.

    Raises:
        UnlikelyError: where it cannot have begun there, and nobody said that it is so.
        CopydeskError: as ``beginning`` does.
    """
    start = beginning(state, account, begins)
    why = doubt_about_beginning(state, account.page.index, start, begins) if begins and not sure else ""
    if why:
        raise UnlikelyError(why)
    return start


def checked_minutes(minutes: float | None) -> float | None:
    """The minutes a piece of work took, as they are kept.

    Raises:
        InvalidValueError: where no work takes so long.
    """
    if minutes is None or (math.isfinite(minutes) and 0 < minutes <= _MOST_MINUTES):
        return minutes
    raise InvalidValueError(f"no page takes {decimal(minutes)} minutes; give a number above 0")


_MOST_MINUTES = 100_000
"""Some seventy days without a pause."""


def _find(state: BookState, phrase: str, *, near: int) -> int:
    """The exemplar's word at which ``phrase`` begins; of a counted text, that of the place it names."""
    written = state.copy.written
    if written is None:
        return first_at(state.copy, state.book.divisions, phrase, near)
    return written.exemplar(find_words(written.words, phrase, written.written(near)))


def _find_end(state: BookState, phrase: str, *, near: int, least: int, likely: range) -> int:
    """The exemplar's word after ``phrase``, which ends near the word ``near`` and begins at ``least`` or after it.

    An end among the words ``likely`` goes before any other.
    """
    written = state.copy.written
    if written is None:
        return last_at(state.copy, state.book.divisions, phrase, near - 1)
    count = len(phrase.split())
    begins = max(written.written(near) - count, 0)
    first = range(max(written.written(likely.start) - count, 0), written.written(likely.stop - 1) - count + 1)
    return written.exemplar(
        find_words(written.words, phrase, begins, least=written.written(least), likely=first) + count
    )


class _Writing:
    """One page's writing, worked out."""

    def __init__(self, state: BookState, account: PageAccount, given: Given) -> None:
        self.state = state
        self.account = account
        self.given = given
        if account.record.whole and not (given.begins or given.ends or given.to_line is not None):
            raise AlreadyDoneError(
                f"{account.label} is written whole already; to record it again, give its first or last words, or a line"
            )
        self.anew = True
        self.start = self._start()
        self.first = 1 if self.anew else account.record.written + 1

    def facts(self) -> dict[str, object]:
        last, end, whole = self._extent()
        if end < self.start:
            raise InvalidValueError(
                f'"{self.given.ends}" comes before the place where {self.account.label} begins; '
                "give the last words of the page, or begins too"
            )
        facts: dict[str, object] = {
            "from_line": self.first,
            "to_line": last,
            "from_word": self.start,
            "to_word": end,
            "line_from_word": self._line_begins(last, end) if self.given.within else None,
            "whole": whole and not self.given.within,
            "letters": None if self.given.ends else self._letters(),
        }
        if doubts := () if self.given.sure else tuple(filter(None, self._doubts(last, end))):
            raise UnlikelyError(*doubts)
        return facts

    def _start(self) -> int:
        """The first word; first words given are this sitting's where they stand nearer to where the last one ended."""
        record, begins = self.account.record, self.given.begins
        if record.whole or not record.stints:
            return beginning(self.state, self.account, begins)
        first, ends = record.begins or 0, record.ends or 0
        start = _find(self.state, begins, near=ends) if begins else ends
        # The words given may begin the page (a correction of all that was recorded) or this sitting. They are found
        # near the end of the last sitting; nearer to the page's beginning, they mean the page is recorded again.
        self.anew = abs(start - first) < abs(start - ends)
        return start

    def _extent(self) -> tuple[int, int, bool]:
        """Last line, the word after the last, and whether the page's text is then whole."""
        account, to_line = self.account, self.given.to_line
        budget = account.budget
        if to_line is None:
            # A page has no more lines than are ruled: text planned beyond them was written closer.
            planned = max(min(budget.planned, budget.room), 1)
            expected = account.to_word if self.start < account.to_word else self._word_after_line(budget.room)
            end = self._end(expected, max(budget.room, planned))
            full = planned if end == account.to_word else max(budget.room, planned)
            return max(full, self.first), end, True
        if not self.first <= to_line <= max(account.ruled_lines, budget.planned):
            raise InvalidValueError(
                f"{account.label} has lines {self.first} to {account.ruled_lines} to write, so it cannot be written "
                f"to line {to_line}; give a line among them"
            )
        end = self._end(self._word_after_line(to_line), to_line)
        return to_line, end, to_line >= budget.room or (to_line >= budget.planned and end >= account.to_word)

    def _end(self, expected: int, last: int) -> int:
        ends = self.given.ends
        if not ends:
            return max(expected, self.start)
        can = self._reachable(last)
        likely = range(min(can.nearest, expected), max(can.farthest, expected) + 1)
        return _find_end(self.state, ends, near=expected, least=self.start, likely=likely)

    def _reachable(self, last: int) -> Reachable:
        lines = range(self.first, max(last, self.first) + 1)
        return reachable(self.state, self.account.page.index, lines, self.start, self.given.hand)

    def _doubts(self, last: int, end: int) -> Iterator[str]:
        """Why the hand cannot have begun or ended there, unless that is the plan's."""
        given, account = self.given, self.account
        if given.begins:
            index, goes_on = account.page.index, not self.anew
            yield doubt_about_beginning(self.state, index, self.start, given.begins, goes_on=goes_on)
        planned = not given.begins and end in (account.to_word, self._word_after_line(last))
        if planned or not (given.begins or given.ends):
            return
        can = self._reachable(last)
        if given.ends or end > can.farthest:  # a page that began late is planned to end no later
            yield doubt_about(self.state, account.label, can, end, given.ends)

    def _word_after_line(self, line: int) -> int:
        """The word after a line, by the plan; cast from where the page begins, if that is not where the plan has it."""
        index = self.account.page.index
        if self.given.begins:
            lines = lines_on_from(self.state, index, self.state.copy.piece(self.start), self.first - 1)
            line -= self.first - 1
        else:
            lines = lines_of_page(self.state, index)
        if not lines:
            return self.account.to_word
        return self.state.copy.word(lines[min(max(line, 1), len(lines)) - 1].end)

    def _line_begins(self, last: int, end: int) -> int:
        """The word that the line begins with in which the pen stopped."""
        record = self.account.record
        if self.given.to_line is None or not self.given.ends or end <= self.start:
            raise InvalidValueError(
                f"to stop within a line of {self.account.label}, give that line and the last words written, "
                "so that the next hand finds the place; nothing was recorded"
            )
        index = self.account.page.index
        stop = Stint(self.state.hand_on(index), self.first, last, self.start, end, "", None, "")
        before = None if self.anew else record.within
        goes_on = before.line_from if before is not None and before.shares_line(stop) else None
        return line_begins(self.state, index, stop._replace(goes_on=goes_on))

    def _letters(self) -> float:
        """Letters a line by which the plan puts the end of a page."""
        return self.state.letters_on(self.account.page.index)
