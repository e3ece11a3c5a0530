"""What other desks record while this one works, where it touches the same thing: told once each."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.tracking.log.contradictions import contradictions, contradictions_about
from copydesk.tracking.log.entry_text import tell

if TYPE_CHECKING:
    from collections.abc import Iterable

    from copydesk.tracking.ledger.entry import Entry
    from copydesk.tracking.ledger.ledger import Subject
    from copydesk.tracking.state.book_state import BookState


class Meanwhile:
    """Remembers which contradictions were told, and so knows those that are new.

    Attributes:
        news: What is still to be told.
    """

    def __init__(self) -> None:
        self.news: list[str] = []
        self._told: set[str] | None = None
        self._recording: dict[Subject, list[str]] = {}
        self._overtaken: set[str] = set()

    def note(self, state: BookState) -> None:
        """Know what contradicts itself before anything new comes; worked out the first time only."""
        if self._told is None:
            self._told = set(contradictions(state.ledger, state.book))

    def begin(self, entries: Iterable[Entry]) -> None:
        """Know what this desk is about to record: what others did to the same things at this moment is told."""
        self._recording = {entry.subject: [] for entry in entries}

    def heard(self, state: BookState, entry: Entry, subject: Subject) -> None:
        """Another desk recorded this; ``state`` has it already."""
        found = self._new_about(state, subject)
        self.news += found
        if not found and subject in self._recording:
            target = state.ledger.find(entry.about) if entry.what == "voided" else None
            told = f"taken back by {entry.hand}: {tell(target, state)}" if target else tell(entry, state)
            self._recording[subject].append(f"Meanwhile at {entry.desk}: {told}.")

    def recorded(self, state: BookState, entry: Entry, subject: Subject) -> None:
        """This desk recorded this; a contradiction that comes of it says more than what others did meanwhile."""
        if self._told is not None:
            self.news += self._new_about(state, subject) or self._recording.get(entry.subject, [])

    def overtaken(self, state: BookState, desk: str) -> str:
        """Told once: what this desk recorded last, another desk has taken back; empty where none has.

        Whoever takes something back means what was done last here, not what came before it.
        """
        taker = state.ledger.taken_back_elsewhere(desk)
        if taker is None or taker.entry in self._overtaken:
            return ""
        self._overtaken.add(taker.entry)
        before = state.ledger.newest_standing(desk)
        told = f"; the one before it is {before.entry}, {tell(before, state)}" if before is not None else ""
        return f"entry {taker.about} was taken back already, at {taker.desk}; nothing was changed{told}"

    def _new_about(self, state: BookState, subject: Subject) -> list[str]:
        told = self._told if self._told is not None else set()
        found = [each for each in contradictions_about(state.ledger, subject, state.book) if each not in told]
        told.update(found)
        return found
