"""One book being copied: its plan, its ledger and its state. The desk, the papers and the command line come here.

A tick goes in a straight line: ``record`` makes an entry, the store keeps it, the ledger takes it in, what it
touches is worked out again, and whoever shows the book reads it off ``state``.
"""

from __future__ import annotations

import os
from contextlib import contextmanager
from functools import cached_property, partial
from typing import TYPE_CHECKING

from copydesk.book.common.errors import AlreadyDoneError, BadPlanError, CopydeskError, NotAllowedError, UnknownNameError
from copydesk.book.common.progress import OnProgress, no_progress
from copydesk.store.files.book_folder import LEDGER_FILE, BookFolder
from copydesk.store.files.environment import copy_name, desk_name, now
from copydesk.store.folder.opening import ignore_stage, open_ledger, stage_progress
from copydesk.store.folder.read_book import pages_beyond, read_all, stamp
from copydesk.tracking.fit.asked import with_asked
from copydesk.tracking.ledger.entry import COPY, KNEW, NONE_SEEN, TOGETHER, Act, Entry
from copydesk.tracking.ledger.entry_kinds import check_facts
from copydesk.tracking.ledger.ledger import Ledger
from copydesk.tracking.log.concurrent_entries import Meanwhile, already_taken_back
from copydesk.tracking.log.contradictions import Contradiction, contradictions
from copydesk.tracking.state.book_state import BookState
from copydesk.tracking.state.hand_evidence import may_tell_of_hands
from copydesk.tracking.state.known_hands import known_hand, known_hands
from copydesk.tracking.views.consequences import Standing, conflict_sentences, standing

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping, Sequence
    from datetime import datetime
    from pathlib import Path

    from copydesk.book.casting.line_budget import Budget
    from copydesk.book.materials.cautions import Caution
    from copydesk.book.plan import Book
    from copydesk.book.text.exemplar import Exemplar
    from copydesk.store.folder.opening import OnStage
    from copydesk.store.folder.read_book import BookSources
    from copydesk.store.journal.ledger_store import EntryDict, LedgerStore
    from copydesk.tracking.commands.page_commands import Commands
    from copydesk.tracking.ledger.ledger import Subject
    from copydesk.tracking.views.entry_cautions import CautionedSitting


_MOVES_SPACES = frozenset(("page", "space", "leaf", "text", "book", "entry"))
"""What an entry is about that may carry on to other pages; of a voided entry it is not looked at what it was."""


class Job:
    """A book folder opened: what is planned, what was recorded, and the ways to record more."""

    def __init__(
        self,
        folder: BookFolder,
        written: BookSources,
        store: LedgerStore,
        clock: Callable[[], datetime],
        tell: OnStage = ignore_stage,
    ) -> None:
        self.read_only = False
        self.folder = folder
        self.store = store
        self.clock = clock
        self.plan_problems: tuple[str, ...] = ()
        self._seen = stamp(folder, written.book)
        self._copy = copy_name(folder.root)
        tell(2, "")
        self.ledger = Ledger.of_documents(store.entries(), stage_progress(tell, 2))
        self._generation = store.generation
        tell(3, f"{len(self.ledger)} entries")
        self.state = self._state_of(written, self.ledger, stage_progress(tell, 3))
        self._meanwhile = Meanwhile()
        self._notes = store.notes
        self._stood: tuple[Budget, Standing] | None = None
        self._before: Standing | None = None
        self._recorded: list[Entry] = []
        self._meanwhile.news += conflict_sentences(self.state)
        store.news()  # what happened to the ledger until now is among its notes, and would be reported twice

    @classmethod
    def open(
        cls, path: Path, *, desk: str = "", clock: Callable[[], datetime] | None = None, tell: OnStage = ignore_stage
    ) -> Job:
        """Open the book in the folder ``path``.

        Args:
            path: the book folder.
            desk: this desk's name; the machine's where none is given.
            clock: gives the time; the machine's own where None.
            tell: called with each stage but the last and the share of it that is done.

        Raises:
            CopydeskError: where the folder holds no book, or its files have faults: all of them, each with its place.
        """
        folder = BookFolder.at(path)
        tell(0, "")
        written = read_all(folder, stage_progress(tell, 0))
        tell(1, f"{len(written.exemplar.words)} words" if written.exemplar else "")
        store = open_ledger(folder.root, written.book, desk or desk_name(), stage_progress(tell, 1))
        try:
            return cls(folder, written, store, clock or now, tell)
        except BaseException:
            store.close()
            raise

    def close(self) -> None:
        """Close the files."""
        self.store.close()

    @property
    def book(self) -> Book:
        """What the plan says."""
        return self.state.book

    @property
    def exemplar(self) -> Exemplar | None:
        """The text copied from; None where only counts are known."""
        return self.state.exemplar

    def _state_of(self, written: BookSources, ledger: Ledger, on_progress: OnProgress = no_progress) -> BookState:
        """The state of the book under a plan.

        Raises:
            CopydeskError: where the plan names pages that the book, its text cast off, does not have.
        """
        state = BookState(written.book, written.exemplar, ledger, written.samples)
        with state.progress.reporting_to(on_progress):
            planned = state.planned
        problems = pages_beyond(self.folder, written.book, planned)
        if problems:
            raise BadPlanError(*problems)
        state.fit_when_asked()
        return state

    @property
    def commands(self) -> Commands:
        """What can be recorded on the book as it stands, worked out and checked."""
        from copydesk.tracking.commands.page_commands import Commands  # not loaded by what only reads a book

        return Commands(self.state, self.hand)

    @cached_property
    def sitting(self) -> CautionedSitting:
        """What was cautioned of at this desk."""
        from copydesk.tracking.views.entry_cautions import CautionedSitting  # with the table of materials

        return CautionedSitting(self.store.desk)

    @property
    def hand(self) -> str:
        """The hand at this desk: who sat down last, else the book's first."""
        for entry in reversed(self.ledger.live("desk", self.store.desk)):
            if entry.what == "at-desk" and entry.hand in known_hands(self.state):
                return entry.hand
        return self.book.hands[0].id

    def record(self, act: Act, *, hand: str = "") -> Entry:
        """Record one thing that happened; it is safe on disk when this returns.

        Args:
            act: what happened, as ``acts`` makes it.
            hand: who did it; the hand at the desk where none is named.

        Raises:
            CopydeskError: where it cannot be; then nothing was recorded.
        """
        return self.record_all([act], hand=hand)[0]

    def record_all(
        self, acts: Sequence[Act], *, hand: str = "", expect: Callable[[], None] = lambda: None
    ) -> list[Entry]:
        """Record several things that happened together: all are kept, or none; undoing takes them all back.

        ``expect`` is asked once other desks' entries are in, and may refuse.

        Raises:
            CopydeskError: as for ``record``.
        """
        self._need_leave_to_record()
        hand = known_hand(self.state, hand or self.hand)
        at = self.clock().isoformat(timespec="seconds")
        entries: list[Entry] = []
        kept = {COPY: self._copy, **({TOGETHER: os.urandom(6).hex()} if len(acts) > 1 else {})}
        known = " ".join(self.ledger.newest) or NONE_SEEN
        for act in acts:
            check_facts(act.what, act.facts)
            facts, known = {**with_asked(self.state, act), **kept, KNEW: known}, os.urandom(6).hex()
            entries.append(Entry(known, 0, at, hand, self.store.desk, act.what, act.about, act.page, facts))
        self._meanwhile.begin(entries)
        before = self._standing() if any(entry.subject[0] in _MOVES_SPACES for entry in entries) else None

        def made(at: int, tick: int) -> EntryDict:
            if at == 0:
                self._take_others()
                expect()
                entries[:] = self.ledger.numbered(entries)
            return {**entries[at].as_document(), "tick": tick}  # type: ignore[dict-item]

        documents = self.store.append_many([partial(made, at) for at in range(len(entries))])
        recorded = [self._take(document) for document in documents]
        for entry, subject in recorded:
            self._meanwhile.recorded(self.state, entry, subject or entry.subject)
        self._meanwhile.begin(())
        if any(may_tell_of_hands(entry, self.state) for entry, _ in recorded):
            self.state.refit()  # so that what is said of this page now is what every answer says after
        self._before, self._recorded = before, [entry for entry, _ in recorded]
        return self._recorded

    @property
    def also(self) -> list[str]:
        """What followed elsewhere from what was last recorded, taken back or done again here, as sentences."""
        return self._followed(self._before) if self._before is not None else []

    def _followed(self, before: Standing) -> list[str]:
        from copydesk.tracking.commands.leaf_outcome import what_followed

        return what_followed(before, self.state)

    def taken_together(self) -> int:
        """How many entries were last recorded, taken back or done again together."""
        return len(self._recorded)

    def cautions(self, act: str | None = None) -> tuple[Caution, ...]:
        """The cautions new in this sitting for what was last recorded here, or for an act on a leaf to come."""
        of = self._recorded if act is None else []
        return self.sitting.cautions(self.state, self.ledger, self.clock().date(), of, act)

    def _take(self, document: EntryDict) -> tuple[Entry, Subject | None]:
        entry = Entry.from_document(document)
        subject = self.ledger.add(entry)
        if subject is not None:
            self.state.touch(subject)
        return entry, subject

    def _need_leave_to_record(self) -> None:
        if self.read_only:
            raise NotAllowedError("this desk is open for looking only; nothing was recorded")

    def undo(self, entry_id: str = "") -> Entry:
        """Take back the newest entry of this desk, with those recorded together with it, or the one named; gives it.

        Raises:
            CopydeskError: where there is nothing, or no such entry; and, once, where another desk took back the newest
                here.
        """
        self._need_leave_to_record()
        if not entry_id and (overtaken := self._meanwhile.overtaken(self.state, self.store.desk)):
            raise NotAllowedError(overtaken)
        target = self.ledger.find(entry_id) if entry_id else self.ledger.newest_standing(self.store.desk)
        if target is None and entry_id:
            raise UnknownNameError(f"there is no entry {entry_id!r}; see copydesk log --ids")
        if target is None:
            others = "this desk recorded nothing that stands; what other desks recorded is taken back from the log"
            raise UnknownNameError(others if self.ledger.newest_standing() else "there is nothing to take back")
        if self.ledger.is_void(target.entry):
            raise AlreadyDoneError(f"entry {target.entry} was taken back already; nothing was changed")
        self._void([target] if entry_id else self.ledger.together(target))
        return target

    def _void(self, entries: Sequence[Entry]) -> None:
        names = [entry.entry for entry in entries if not self.ledger.is_void(entry.entry)]
        self.record_all([Act("voided", name, "", {}) for name in names], expect=lambda: self._expect_standing(names))

    def _expect_standing(self, names: Sequence[str]) -> None:
        """See that another desk has not taken one of these back at this moment."""
        for name in names:
            taker = next(iter(self.ledger.live("entry", name)), None)
            if self.ledger.is_void(name) and taker is not None:
                raise AlreadyDoneError(already_taken_back(self.state, taker))

    def redo(self) -> Entry:
        """Make the entry count again that was taken back last at this desk, if nothing was recorded since.

        Raises:
            NotAllowedError: where there is none.
        """
        taker = self.ledger.newest_taken_back(self.store.desk)
        target = self.ledger.find(taker.about) if taker is not None else None
        if taker is None or target is None:
            raise NotAllowedError("nothing was taken back just now, so there is nothing to do again")
        self._void(self.ledger.together(taker))
        return target

    def refresh(self) -> bool:
        """Take in what other desks recorded and a changed plan; True where anything is new.

        A plan with faults is not taken: the old one stays, and ``plan_problems`` says what is wrong.

        Raises:
            CopydeskError: where the folder cannot be reached; what was read before still stands.
        """
        with self._telling_what_follows():
            try:
                changed = self._take_others()
            except CopydeskError:
                if not self._take_plan() or self.plan_problems:
                    raise
                return True
            return self._take_plan() or changed

    def refit(self) -> bool:
        """Let the pages written since teach how close each hand writes; True where it changed."""
        with self._telling_what_follows():
            return self.state.refit()

    @contextmanager
    def _telling_what_follows(self) -> Iterator[None]:
        """Have ``news`` tell what follows elsewhere from what this desk takes in without having recorded it."""
        before = self._standing()
        yield
        if self._standing() is not before:
            self._meanwhile.news += self._followed(before)

    def _standing(self) -> Standing:
        """How the book stands, for what is said of it later; looked at anew only once the line budget has changed."""
        budget = self.state.budget
        if self._stood is None or self._stood[0] is not budget:
            self._stood = (budget, standing(self.state))
        return self._stood[1]

    def _take_plan(self) -> bool:
        """Take a changed plan, and the ledger from where it says that it is kept; True where there was one."""
        if stamp(self.folder, self.book, where=bool(self.plan_problems)) == self._seen:
            return False
        self._seen = stamp(self.folder, self.book)
        try:
            self._change_to(read_all(self.folder))
        except CopydeskError as refused:
            self.plan_problems = tuple(map(str, refused.problems))
            self._seen = stamp(self.folder, self.book, where=True)
        else:
            self.plan_problems = ()
        return True

    def _change_to(self, written: BookSources) -> None:
        if written.book.server == self.book.server:
            self.state = self._state_of(written, self.ledger)
            return
        store = open_ledger(self.folder.root, written.book, self.store.desk)
        try:
            ledger = Ledger.of_documents(store.entries())
            self.state = self._state_of(written, ledger)
        except BaseException:
            store.close()
            raise
        self.store.close()
        self.store, self.ledger, self._generation = store, ledger, store.generation
        self._meanwhile = Meanwhile()
        self._notes = store.notes
        kept = f"The ledger is kept elsewhere now: {written.book.server or 'in the folder'}."
        self._meanwhile.news += [kept, *self._notes]
        store.news()

    def news(self) -> list[str]:
        """Sentences, each given once: what other desks did to the same thing, and what happened to the ledger."""
        found = [*self._meanwhile.news, *self.store.news()]
        self._meanwhile.news.clear()
        return found

    @property
    def contradictions(self) -> tuple[Contradiction, ...]:
        """What two desks recorded that cannot both be true, for a person to decide."""
        return contradictions(self.ledger, self.book)

    def keep_picture(self, picture: Mapping[str, object]) -> None:
        """Keep a picture of the desk for its next opening; it holds while no file of the book changes."""
        if self.read_only or self.book.server:
            return
        from copydesk import __version__
        from copydesk.store.folder.screen_cache import keep_picture

        ledger = [LEDGER_FILE] if (self.folder.root / LEDGER_FILE).exists() else []
        names = [*(name for name, _, _ in self._seen if name), *ledger]
        keep_picture(self.folder.root, __version__, names, picture)

    def _take_others(self) -> bool:
        fresh = self.store.refresh()
        anew = self.store.generation != self._generation
        if fresh or anew:
            self._meanwhile.note(self.state)
        taken = self._take_anew() if anew else [self._take(document) for document in fresh]
        for entry, subject in taken:
            if subject is not None:
                self._meanwhile.recorded_elsewhere(self.state, entry, subject)
        return bool(fresh) or anew

    def _take_anew(self) -> list[tuple[Entry, Subject | None]]:
        """Take the whole ledger in again; gives the entries not known before."""
        self._generation = self.store.generation
        before, old = self.ledger, self.state
        self.ledger = Ledger.of_documents(self.store.entries())
        self.state = BookState(old.book, old.exemplar, self.ledger, old.samples)
        self.state.fit_when_asked()
        known, self._notes = self._notes, self.store.notes
        self._meanwhile.news += [note for note in self._notes if note not in known]
        return [(entry, self.ledger.subject_of(entry)) for entry in self.ledger if before.find(entry.entry) is None]
