"""All entries of a book in order, also by what each is about, with those taken back marked.

Adding one costs the same however many there are: only what the entry is about is touched.
"""

from __future__ import annotations

from bisect import insort
from collections import defaultdict
from itertools import count, islice
from typing import TYPE_CHECKING

from copydesk.book.common.progress import OnProgress, no_progress, with_progress
from copydesk.tracking.ledger.entry import TOGETHER, Entry
from copydesk.tracking.ledger.knowledge import Knowledge

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence


_TURN = 1_000
"""Entries taken in between two reports of progress."""

Subject = tuple[str, str]


def _order(entry: Entry) -> tuple[int, str, str]:
    return (entry.tick, entry.desk, entry.entry)


class Ledger:
    """The entries so far. It only grows; state is read off it by folding what one thing's live entries say."""

    def __init__(self, entries: Iterable[Entry] = ()) -> None:
        self._entries: list[Entry] = []
        self._by_id: dict[str, Entry] = {}
        self._by_subject: defaultdict[Subject, list[Entry]] = defaultdict(list)
        self._takers: defaultdict[str, list[Entry]] = defaultdict(list)
        self._void: set[str] = set()
        self._fault_numbers: dict[str, int] = {}
        self._last_fault = 0
        self._last = (0, "", "")
        self._knowledge = Knowledge()
        for entry in sorted(entries, key=_order):
            self.add(entry)

    @classmethod
    def of_documents(cls, documents: Sequence[Mapping[str, object]], on_progress: OnProgress = no_progress) -> Ledger:
        """The ledger of entries as they are kept, in any order; ``on_progress`` is given the share taken in."""
        return cls(map(Entry.from_document, with_progress(documents, on_progress, _TURN)))

    def __len__(self) -> int:
        """How many entries there are, those taken back included."""
        return len(self._entries)

    def __iter__(self) -> Iterator[Entry]:
        """The entries, oldest first."""
        return iter(self._entries)

    def add(self, entry: Entry) -> Subject | None:
        """Add an entry; returns the subject whose state it changes, or None where it was here already."""
        if entry.entry in self._by_id:
            return None
        self._by_id[entry.entry] = entry
        order, subject = _order(entry), entry.subject
        of_subject = self._by_subject[subject]
        if order > self._last:
            self._entries.append(entry)
            of_subject.append(entry)
            self._last = order
        else:
            insort(self._entries, entry, key=_order)
            insort(of_subject, entry, key=_order)
            self._knowledge = Knowledge()
        if entry.what == "fault":
            self._number_fault(entry)
        if entry.what == "voided":
            self._takers[entry.about].append(entry)
        elif entry.entry not in self._takers:
            return subject
        return self._update_void(entry)

    def _number_fault(self, entry: Entry) -> None:
        """Keep the number a fault was given when it was noted; one noted without a number gets the next."""
        number = entry.number("number") or 0
        self._fault_numbers[entry.entry] = number if number > 0 else self._last_fault + 1
        self._last_fault = max(self._last_fault, self._fault_numbers[entry.entry])

    @property
    def fault_numbers(self) -> Mapping[str, int]:
        """The number of every fault ever noted, those taken back included, by its entry.

        Two desks that could not see each other may have given one number twice; a fault's page tells them apart.
        """
        return self._fault_numbers

    def numbered(self, entries: Iterable[Entry]) -> list[Entry]:
        """New entries, the faults among them numbered on from those noted before."""
        numbers = count(self._last_fault + 1)
        return [
            each._replace(facts={**each.facts, "number": next(numbers)}) if each.what == "fault" else each
            for each in entries
        ]

    def supposing(self, entries: Sequence[Entry]) -> Ledger:
        """A ledger that has these new entries besides, none of them a taking back; this one does not change."""
        other = Ledger()
        other._entries, other._by_id = [*self._entries], {**self._by_id}
        other._takers, other._void, other._last = self._takers, set(self._void), self._last
        other._fault_numbers, other._last_fault = {**self._fault_numbers}, self._last_fault
        other._by_subject.update(self._by_subject)
        for entry in entries:
            other._by_subject[entry.subject] = [*other._by_subject[entry.subject]]
        for entry in entries:
            other.add(entry)
        return other

    def _update_void(self, entry: Entry) -> Subject:
        """Work out anew whether this entry is taken back, and the chain of what it takes back; give what that changes.

        Undo and redo are entries too: one that takes back a taking-back makes the first entry count again. Entries of
        other desks may arrive late and in any order, so the chain is followed from the new entry down. An entry can
        take back only an older one, so the chain ends whatever the entries say.
        """
        while True:
            takers = self._takers.get(entry.entry, ())
            if any(_order(taker) > _order(entry) and taker.entry not in self._void for taker in takers):
                self._void.add(entry.entry)
            else:
                self._void.discard(entry.entry)
            target = self._by_id.get(entry.about) if entry.what == "voided" else None
            if target is None or _order(target) >= _order(entry):
                return entry.subject
            entry = target

    def subject_of(self, entry: Entry) -> Subject:
        """What an entry is about; for a taking back, what is taken back in the end."""
        while entry.what == "voided":
            target = self._by_id.get(entry.about)
            if target is None or _order(target) >= _order(entry):
                break
            entry = target
        return entry.subject

    def find(self, entry_id: str) -> Entry | None:
        """The entry with this identity."""
        return self._by_id.get(entry_id)

    def together(self, entry: Entry) -> list[Entry]:
        """The entries recorded in one go with this one, itself among them."""
        name = entry.text(TOGETHER)
        return [each for each in self._entries if each.text(TOGETHER) == name] if name else [entry]

    def is_void(self, entry_id: str) -> bool:
        """Whether an entry has been taken back (and the taking back was not itself taken back)."""
        return entry_id in self._void

    def live(self, kind: str, name: str) -> list[Entry]:
        """The entries about one thing that are not taken back, oldest first."""
        entries = self._by_subject.get((kind, name), ())
        return [entry for entry in entries if entry.entry not in self._void]

    def about(self, kind: str) -> list[str]:
        """The names of all things of a kind that entries speak of."""
        return [name for about, name in self._by_subject if about == kind]

    def live_of(self, kind: str) -> list[Entry]:
        """All entries about things of a kind that are not taken back, oldest first."""
        found = [entry for name in self.about(kind) for entry in self.live(kind, name)]
        return sorted(found, key=_order)

    def newest_standing(self, desk: str | None = None) -> Entry | None:
        """The newest entry not taken back (of one desk, where named): what undo takes back."""
        for entry in reversed(self._entries):
            if entry.what != "voided" and desk in (None, entry.desk) and not self.is_void(entry.entry):
                return entry
        return None

    def last_standing(self, most: int) -> list[Entry]:
        """The newest entries not taken back, at most ``most``, the newest first."""
        standing = (
            entry for entry in reversed(self._entries) if entry.what != "voided" and not self.is_void(entry.entry)
        )
        return list(islice(standing, most))

    def taken_back_elsewhere(self, desk: str) -> Entry | None:
        """The entry of another desk that took back the newest entry of ``desk``; None where there is none."""
        for entry in reversed(self._entries):
            if entry.what == "voided" or entry.desk != desk:
                continue
            takers = self.live("entry", entry.entry)
            if not takers or takers[0].desk != desk:
                return takers[0] if takers else None
        return None

    def newest_taken_back(self, desk: str | None = None) -> Entry | None:
        """The newest undo with nothing recorded since: what redo takes back; None where there is none."""
        for entry in reversed(self._entries):
            if desk not in (None, entry.desk) or self.is_void(entry.entry):
                continue
            if entry.what != "voided":
                return None
            target = self._by_id.get(entry.about)
            if target is None or target.what != "voided":
                return entry
        return None

    def knew(self, after: Entry, before: Entry) -> bool:
        """Whether whoever made ``after`` knew of ``before``, an older entry."""
        self._knowledge.follow(self._entries)
        return self._knowledge.knew(after.entry, before.entry)

    @property
    def newest(self) -> tuple[str, ...]:
        """The entries that no other knew of: whoever knows these knows all."""
        self._knowledge.follow(self._entries)
        return self._knowledge.newest

    @property
    def last_tick(self) -> int:
        """The highest tick among the entries, 0 where there are none."""
        return self._last[0]
