"""One book's life at the job's seam: things done to it at random, and what is untrue after each of them."""

from __future__ import annotations

import re
from collections import Counter
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING

from copydesk.book.common.errors import CopydeskError
from copydesk.book.structure.page import Page
from copydesk.job import Job
from copydesk.tracking.commands import leaf_commands as leaves
from copydesk.tracking.commands.change_commands import change_text
from copydesk.tracking.commands.page_commands import agree_lines
from copydesk.tracking.commands.several import pages_of_sheet
from copydesk.tracking.fit.remedies import remedies_for
from copydesk.tracking.fit.stretches import need_from
from copydesk.tracking.ledger.ledger import Ledger
from copydesk.tracking.scribes.handover import leave_note, take_desk
from copydesk.tracking.state.book_state import BookState
from copydesk.tracking.views.page_view import page_account
from life_before import Before, reply
from life_books import COUNTED, WORDS, make_book
from truth import contradictions
from truth_seen import differs, look, told

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path
    from random import Random

    from copydesk.tracking.ledger.entry import Act, Entry


_PLANS_TURNED: tuple[tuple[str, Callable[[str, Random], str]], ...] = (
    (r"letters_per_line: \d+", lambda found, chance: _turned(found, chance.choice((-1, 1)))),
    (r"ruling: \{lines: \d+", lambda found, chance: _turned(found, chance.choice((-1, 1)))),
    (r"count: [3-9](?=\})", lambda found, chance: _turned(found, chance.choice((-1, 1)))),
    (r"foot: \d+", lambda found, chance: _turned(found, chance.choice((-2, 2)))),
    (r"lines: \d+(?=[^}]*\}\n)", lambda found, chance: _turned(found, chance.choice((-1, 1, 2)))),
    (r"at: \{word: \d+", lambda found, chance: _turned(found, chance.choice((-40, 30)))),
    (r"at: \{page: 3v", lambda _found, _chance: "at: {page: 4r"),
    (r"  - \{id: \w+, kind: miniature.*\n", lambda _found, _chance: ""),
)
"""What is turned in a plan: what it looks for, and what it makes of one of the places found."""


def _turned(found: str, by: int) -> str:
    return re.sub(r"\d+", lambda number: str(max(int(number[0]) + by, 1)), found)


class Life:
    """One book's life: ``live`` does one thing and gives what is untrue after it.

    ``done`` tells what was done, ``counts`` how often each kind of thing was and how often it was refused.
    """

    def __init__(self, folder: Path, kind: str, chance: Random) -> None:
        self.now = datetime(2026, 3, 2, 9, tzinfo=UTC)
        self.job = Job.open(make_book(folder, kind), desk="desk", clock=self._clock)
        self.kind, self.chance = kind, chance
        self.done: list[str] = []
        self.counts: Counter[str] = Counter()
        self._other: Job | None = None
        self._at = self.job
        self._acts: list[Callable[[], list[Act]]] = [
            self._rule, self._rule_sheet, self._write, self._write, self._write, self._write_to_line, self._write_ends,
            self._write_begins, self._begin, self._hold, self._release, self._check, self._fault, self._settle,
            self._space, self._space, self._space_plan, self._leaf, self._sheet, self._flaw, self._remedy, self._remedy,
            self._ruling, self._gathering, self._text, self._hand_over, self._move_sheet,
        ]  # fmt: skip

    def close(self) -> None:
        """Close the book at both desks."""
        for job in (self.job, self._other):
            if job is not None:
                job.close()

    def _clock(self) -> datetime:
        return self.now

    def live(self) -> list[str]:
        """Do one thing at random; what is untrue after it, a sentence each."""
        self.now += timedelta(minutes=self.chance.choice((10, 45, 600)))
        self.job.refit()
        self.job.news()
        before = Before(self.job)
        way = self.chance.random()
        if way < 0.06:
            return self._plan_changed(before)
        if way < 0.16:
            return self._elsewhere(before)
        if way < 0.20:
            return self._one_taken_back(before)
        act = self.chance.choice(self._acts)
        entries = self._record(self.job, act)
        if not entries:
            now = told(look(self.job))
            return [] if now == before.told else [f"refused, and yet {differs(before.told, now)}"]
        said = reply(self.job, entries)
        found = [*before.unsaid(said, {entry.about for entry in entries}), *contradictions(self.job)]
        letters = dict(self.job.state.measures)
        self.job.refit()
        if letters != self.job.state.measures:
            found.append(f"{letters} letters a line when it was recorded, {self.job.state.measures} after")
        found += before.moved_as_planned(entries)
        if self.chance.random() < 0.35:
            found += self._taken_back(before)
        return found

    def _record(self, job: Job, act: Callable[[], list[Act]]) -> list[Entry]:
        """Do it at one of the desks; nothing where it cannot be done, or was refused."""
        self._at, name = job, act.__name__[1:]
        try:
            acts = act()
            if not acts:
                return []
            entries = job.record_all(acts, hand=self.chance.choice([hand.id for hand in job.book.hands]))
        except CopydeskError as refused:
            self.counts[f"{name} refused"] += 1
            assert all(str(problem) for problem in refused.problems)
            return []
        self.counts[name] += 1
        self.done.append(f"{name} {[(each.what, each.about, dict(each.facts)) for each in acts]}")
        return entries

    def _plan_changed(self, before: Before) -> list[str]:
        """Change the plan's file; where it is refused, nothing may be otherwise and the old one is put back."""
        path = self.job.folder.root / "book.yaml"
        was = path.read_text("utf-8")
        pattern, turn = self.chance.choice(_PLANS_TURNED)
        places = list(re.finditer(pattern, was))
        if not places:
            return []
        place = self.chance.choice(places)
        new = turn(place[0], self.chance)
        path.write_text(was[: place.start()] + new + was[place.end() :], "utf-8")
        plans = {plan.id: plan for plan in self.job.state.plans}
        self.job.refresh()
        if self.job.plan_problems:
            self.counts["plan changed refused"] += 1
            now, found = told(look(self.job)), []
            if now != before.told:
                found = [f"plan refused, and yet {differs(before.told, now)}"]
            path.write_text(was, "utf-8")
            self.job.refresh()
            self.job.news()
            now = told(look(self.job))
            return found if now == before.told else [*found, f"plan put back, and yet {differs(before.told, now)}"]
        self.counts["plan changed"] += 1
        self.done.append(f"plan changed: {place[0]!r} to {new!r}")
        own = {name for name, plan in plans.items() if self.job.state.plan_of(name) != plan}
        self.job.refit()
        said = self.job.news()
        return [*before.unsaid(said, own), *contradictions(self.job)]

    def _elsewhere(self, before: Before) -> list[str]:
        """Something done at another desk of the same book: both then tell the same, and this one says what moved."""
        if self._other is None:
            self._other = Job.open(self.job.folder.root, desk="other", clock=self._clock)
        other = self._other
        other.refresh()
        other.refit()
        entries = self._record(other, self.chance.choice(self._acts))
        if not entries:
            return []
        self.done[-1] += " (at the other desk)"
        self.job.refresh()
        self.job.refit()
        said = self.job.news()
        other.refit()
        here, there = told(look(self.job)), told(look(other))
        found = [] if here == there else [f"told otherwise at the other desk: {differs(here, there)}"]
        return [*found, *before.unsaid(said, {entry.about for entry in entries}), *contradictions(self.job)]

    def _one_taken_back(self, before: Before) -> list[str]:
        """Take back any entry there is; and often let it stand again, which must restore all."""
        ledger = self.job.ledger
        standing = [entry for entry in ledger if entry.what != "voided" and not ledger.is_void(entry.entry)]
        if not standing:
            return []
        entry = self.chance.choice(standing)
        try:
            self.job.undo(entry.entry)
        except CopydeskError:
            self.counts["one taken back refused"] += 1
            return []
        self.counts["one taken back"] += 1
        self.done.append(f"taken back: {entry.what} {entry.about} {dict(entry.facts)}")
        said = reply(self.job, [entry])
        self.job.refit()
        said += self.job.news()
        found = [*before.unsaid(said, {entry.about}), *contradictions(self.job)]
        if self.chance.random() < 0.5:
            self.job.undo(list(self.job.ledger)[-1].entry)
            self.job.refit()
            self.done.append("and stands again")
            now = told(look(self.job))
            found += [] if now == before.told else [f"standing again did not restore {differs(before.told, now)}"]
        return found

    def _taken_back(self, before: Before) -> list[str]:
        """Take back what was done just now; the book must be as it was. Then let it stand again, or not."""
        # letters follow the pages written, so the book is compared at the letters it is cast off at then
        self.job.undo()
        self.job.refit()
        now, found = told(look(self.job)), []
        self.done.append("undo")
        self.counts["undo"] += 1
        if now != before.told:
            found.append(f"undo did not restore {differs(before.told, now)}")
        if self.chance.random() < 0.5:
            self.job.redo()
            self.done.append("redo")
            self.counts["redo"] += 1
            found += contradictions(self.job)
        return found

    def afresh(self) -> list[str]:
        """What is otherwise where the book is opened anew."""
        self.job.refit()
        fresh = Job.open(self.job.folder.root, desk="third", clock=self._clock)
        fresh.refit()
        here, there = told(look(self.job)), told(look(fresh))
        fresh.close()
        return [] if here == there else [f"the book opened anew stands otherwise: {differs(here, there)}"]

    def all_taken_back(self) -> list[str]:
        """What is otherwise than in a book nothing was recorded of, once everything is taken back."""
        for _ in range(3 * len(self.job.ledger)):
            newest = self.job.ledger.newest_standing()
            if newest is None:
                break
            try:
                self.job.undo("" if self.job.ledger.newest_standing(self.job.store.desk) else newest.entry)
            except CopydeskError:
                continue  # told once, where the other desk took back the newest
        self.job.refit()
        state = BookState(self.job.book, self.job.exemplar, Ledger(), self.job.state.samples)
        was, self.job.state = self.job.state, state
        first = told(look(self.job))
        self.job.state = was
        now = told(look(self.job))
        return [] if now == first else [f"all taken back, and yet {differs(first, now)}"]

    # what is done: acts for the desk it is done at

    def _page(self) -> Page:
        return Page.at(self.chance.randrange(self._at.state.collation.pages))

    def _next(self) -> Page:
        """The first page not written whole, three times in four; any page else."""
        state = self._at.state
        if self.chance.random() < 0.25:
            return self._page()
        whole = (state.record(state.skin_at(at)).whole for at in range(state.collation.pages))
        return Page.at(next((at for at, each in enumerate(whole) if not each), 0))

    def _written_page(self) -> Page:
        """Some page with writing, where there is one."""
        state = self._at.state
        begun = [at for at in range(state.collation.pages) if state.record(state.skin_at(at)).stints]
        return Page.at(self.chance.choice(begun)) if begun else Page.at(0)

    def _words(self, near: int, spread: int = 12) -> str:
        """Words of the text near a place, or the place in counts."""
        state = self._at.state
        at = max(near + self.chance.randint(-spread, spread), 1)
        if state.exemplar is None:
            first = at <= 260
            return f"division {1 if first else 2} word {at if first else min(at - 260, 200)}"
        return " ".join(state.exemplar.words[max(min(at, len(state.exemplar.words)) - 3, 0) : at])

    def _rule(self) -> list[Act]:
        return [self._at.commands.rule(self._page())]

    def _rule_sheet(self) -> list[Act]:
        name = self.chance.choice(self._at.state.collation.sheet_names)
        return [self._at.commands.rule(page) for page in pages_of_sheet(self._at.state, name)]

    def _write(self) -> list[Act]:
        return [self._at.commands.write(self._next(), minutes=self.chance.choice((None, 45.0)))]

    def _write_to_line(self) -> list[Act]:
        within = self.chance.random() < 0.2
        return [self._at.commands.write(self._next(), to_line=self.chance.randint(1, 20), within=within)]

    def _write_ends(self) -> list[Act]:
        page = self._next()
        to_word = page_account(self._at.state, page.index).to_word
        sure = self.chance.random() < 0.3
        return [self._at.commands.write(page, ends=self._words(to_word, 40 if sure else 12), sure=sure)]

    def _write_begins(self) -> list[Act]:
        page = self._next()
        from_word = page_account(self._at.state, page.index).from_word
        return [self._at.commands.write(page, begins=self._words(from_word + 3, 6))]

    def _begin(self) -> list[Act]:
        page = self._page()
        from_word = page_account(self._at.state, page.index).from_word
        return [self._at.commands.begin(page, self.chance.choice(("", self._words(from_word + 3, 6))))]

    def _hold(self) -> list[Act]:
        page = self._page()
        from_word = page_account(self._at.state, page.index).from_word
        return [self._at.commands.hold(page, self._words(from_word + 3))]

    def _release(self) -> list[Act]:
        state = self._at.state
        held = [at for at in range(state.collation.pages) if state.record(state.skin_at(at)).held is not None]
        return [self._at.commands.release(Page.at(self.chance.choice(held)))] if held else []

    def _check(self) -> list[Act]:
        return [self._at.commands.check(self._written_page(), read=self.chance.random() < 0.5)]

    def _fault(self) -> list[Act]:
        word = self.chance.randrange(WORDS)
        line = self.chance.randint(1, 10)
        return [self._at.commands.fault(self._written_page(), "omission", column=1, line=line, word=word)]

    def _settle(self) -> list[Act]:
        state = self._at.state
        found = [
            (at, fault.id)
            for at in range(state.collation.pages)
            for fault in state.record(state.skin_at(at)).open_faults
        ]
        if not found:
            return []
        at, fault = self.chance.choice(found)
        return [self._at.commands.mend(Page.at(at), fault, "scraped")]

    def _named_space(self) -> str:
        return self.chance.choice([plan.id for plan in self._at.state.plans] or ["weir"])

    def _space(self) -> list[Act]:
        what = self.chance.choice(("drawn", "gilded", "coloured", "done", "left-empty", "given-up"))
        return [self._at.commands.space(self._named_space(), what)]

    def _space_plan(self) -> list[Act]:
        at = self.chance.choice((f"word {self.chance.randrange(WORDS)}", str(self._page())))
        match self.chance.choice(("added", "moved", "resized")):
            case "added":
                kind = self.chance.choice(("miniature", "initial"))
                across = "all" if kind == "miniature" and self.chance.random() < 0.5 else "column"
                name = f"n{len(self.done)}"
                return [self._at.commands.space(name, "added", kind=kind, at=at, lines=3, across=across)]
            case "moved":
                return [self._at.commands.space(self._named_space(), "moved", at=at)]
        return [self._at.commands.space(self._named_space(), "resized", lines=self.chance.randint(2, 6))]

    def _a_leaf(self) -> int:
        return self.chance.randint(1, max(self._at.state.collation.leaves, 1))

    def _leaf(self) -> list[Act]:
        act = self.chance.choice((leaves.cancel_leaf, leaves.replace_leaf, leaves.lose_leaf, leaves.add_leaf))
        return [act(self._at.state, self._a_leaf())]

    def _sheet(self) -> list[Act]:
        act = self.chance.choice((leaves.replace_sheet, leaves.add_sheet))
        return [act(self._at.state, self.chance.choice(self._at.state.collation.sheet_names))]

    def _gathering(self) -> list[Act]:
        return [leaves.add_gathering(self._at.state, 4)] if self.chance.random() < 0.3 else []

    def _flaw(self) -> list[Act]:
        sizes = {name: float(self.chance.randint(5, 60)) for name in ("from_head", "from_fold")}
        size = {"width": self.chance.choice((8.0, 20.0, 60.0)), "height": self.chance.choice((4.0, 12.0))}
        return [leaves.note_flaw(self._at.state, self._a_leaf(), {**sizes, **size})]

    def _ruling(self) -> list[Act]:
        return [agree_lines(self._at.state, self._at.state.frame.lines + self.chance.choice((-1, 1)))]

    def _remedy(self) -> list[Act]:
        state = self._at.state
        found = [need_from(state, at) for at in range(state.collation.pages)]
        open_ones = list(dict.fromkeys(need for need in found if need is not None and need.over))
        ways = remedies_for(state, self.chance.choice(open_ones)) if open_ones else []
        return list(self.chance.choice(ways).acts) if ways else []

    def _text(self) -> list[Act]:
        """A departure from the exemplar: a few words left out, or others written."""
        exemplar = self._at.state.exemplar
        if exemplar is None or self.kind == COUNTED or self.chance.random() < 0.5:
            return []
        at, count = self.chance.randrange(len(exemplar.words) - 8), self.chance.randint(1, 6)
        words = exemplar.words[at : at + count]
        write = self.chance.choice(("", "another word", "one"))
        return [change_text(self._at.state, first=words[0], last=words[-1], write=write, why="not wanted")]

    def _hand_over(self) -> list[Act]:
        hand = self.chance.choice([hand.id for hand in self._at.book.hands])
        if self.chance.random() < 0.5:
            return [leave_note(self._at.state, None, "the ink is thin")]
        return take_desk(self._at.state, hand, self._at.store.desk)

    def _move_sheet(self) -> list[Act]:
        name = self.chance.choice(self._at.state.collation.sheet_names)
        place = self.chance.choice(("desk", "drying", "checker", "artist", "press"))
        return [self._at.commands.sheet(name, place, at=self.now.isoformat())]
