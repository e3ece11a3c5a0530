"""What other desks record while this one works, where it touches the same thing; each sentence is given once."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.tracking.log.contradictions import Contradiction, contradictions, contradictions_about
from copydesk.tracking.log.entry_text import describe

if TYPE_CHECKING:
    from collections.abc import Iterable

    from copydesk.tracking.ledger.entry import Entry
    from copydesk.tracking.ledger.ledger import Subject
    from copydesk.tracking.state.book_state import BookState


class Meanwhile:
    """Knows which contradictions were reported already, and so which are new.

    Attributes:
        news: sentences not yet shown.
    """

    def __init__(self) -> None:
        self.news: list[str] = []
        self._reported: set[Contradiction] | None = None
        self._recording: dict[Subject, list[str]] = {}
        self._overtaken: set[str] = set()

    def note(self, state: BookState) -> None:
        """Know what contradicts itself before anything new comes; worked out the first time only."""
        if self._reported is None:
            self._reported = set(contradictions(state.ledger, state.book))

    def begin(self, entries: Iterable[Entry]) -> None:
        """This desk is about to record ``entries``; what others do to the same things until then will be reported."""
        self._recording = {entry.subject: [] for entry in entries}

    def recorded_elsewhere(self, state: BookState, entry: Entry, subject: Subject) -> None:
        """Another desk recorded ``entry``; ``state`` has it already."""
        found = self._new_about(state, subject)
        self.news += found
        if not found and subject in self._recording:
            self._recording[subject].append(f"Meanwhile at {entry.desk}: {describe(entry, state)}.")

    def recorded(self, state: BookState, entry: Entry, subject: Subject) -> None:
        """This desk recorded ``entry``; a contradiction that follows says more than what others did meanwhile."""
        if self._reported is not None:
            self.news += self._new_about(state, subject) or self._recording.get(entry.subject, [])

    def overtaken(self, state: BookState, desk: str) -> str:
        """Why an undo at ``desk`` would not do what is meant, given once: another desk took back the newest entry here.

        Whoever takes something back means what was done last here, not what came before it. Empty where none has.
        """
        taker = state.ledger.taken_back_elsewhere(desk)
        if taker is None or taker.entry in self._overtaken:
            return ""
        self._overtaken.add(taker.entry)
        before = state.ledger.newest_standing(desk)
        rest = f"; the one before it is: {describe(before, state)}" if before is not None else ""
        return f"{already_taken_back(state, taker)}{rest}"

    def _new_about(self, state: BookState, subject: Subject) -> list[str]:
        reported = self._reported if self._reported is not None else set[Contradiction]()
        found = [each for each in contradictions_about(state.ledger, subject, state.book) if each not in reported]
        reported.update(found)
        return list(map(str, found))


def already_taken_back(state: BookState, taker: Entry) -> str:
    """Why an entry cannot be taken back: ``taker`` did so already, at another desk."""
    return f"{describe(taker, state)}; that was done at {taker.desk} already, so nothing was changed"
