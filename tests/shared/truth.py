"""Random lives of books at the job's seam, and what must be true of a book after every step of one.

``contradictions`` holds every place that gives a figure against the others that give the same one: pages, panel,
handover, remedies, plan, sheets, spaces, the artist's list, the binder's order, the ruling and the lists for
spreadsheets. ``Life`` does one thing after another to a book, some of them taken back.
"""

from __future__ import annotations

import csv
import io
import re
from collections import Counter
from itertools import pairwise
from typing import TYPE_CHECKING, Any, NamedTuple

from copydesk.book.common.errors import CopydeskError
from copydesk.book.structure.page import Page
from copydesk.desk.wording.page_words import page_lines
from copydesk.desk.wording.stretch_words import need_words
from copydesk.job import Job
from copydesk.papers.catalogue import make
from copydesk.papers.export.csv_lists import csv_list
from copydesk.papers.paper_forms import PaperRequest
from copydesk.tracking.binding.assembly import assembly
from copydesk.tracking.commands import leaf_commands as leaves
from copydesk.tracking.decoration.space_report import place_words, space_reports
from copydesk.tracking.fit.remedies import REMEDIES_OF_PAGE, need_in_short, remedies_for
from copydesk.tracking.fit.stretches import asked_words, need_from, need_to_the_end, needs, stretch_at
from copydesk.tracking.planning.plan_report import PLAN, plan_as_is
from copydesk.tracking.scribes.handover import HANDOVER, handover
from copydesk.tracking.scribes.handover_text import handover_lines
from copydesk.tracking.views.consequences import standing
from copydesk.tracking.views.page_report import PAGES, page_rows
from copydesk.tracking.views.page_view import page_account
from copydesk.tracking.views.sheet_report import SHEETS
from copydesk.tracking.views.space_homes import open_spaces, space_homes
from copydesk.tracking.views.space_view import space_accounts

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path
    from random import Random

    from copydesk.tracking.ledger.entry import Act
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.consequences import Standing


HEAD = """title: A book of weirs
exemplar: {text: exemplar.txt}
page: {width: 100, height: 140, margins: {inner: 10, head: 10, outer: 20, foot: 30}}
"""
SPACES = """spaces:
  - {id: weir, kind: miniature, at: {word: 60}, lines: 4}
  - {id: key, kind: initial, at: {word: 0}, lines: 2}
  - {id: owl, kind: initial, at: {word: 150}, lines: 3}
  - {id: rim, kind: border, at: {page: 2r}}
  - {id: mill, kind: miniature, at: {page: 3v}, lines: 3}
workshop: {artist: Ines}
"""
KINDS: dict[str, str] = {
    "one column": "ruling: {lines: 10}\nhands: {A: {letters_per_line: 20}}\ngatherings: {sheets: 2, count: 3}\n",
    "two columns, two hands": (
        "columns: {count: 2, gap: 6}\nruling: {lines: 10}\ngatherings: {sheets: 2, count: 2}\n"
        "hands: {A: {letters_per_line: 14}, B: {letters_per_line: 11, gatherings: [2]}}\n"
        "skins: {width: 420, height: 310, spoilage: 0.1}\nflyleaves: {front: 2, back: 1}\n"
    ),
    "too much text": (
        "ruling: {lines: 10}\ngatherings: {sheets: 2, count: 2}\n"
        "hands: {A: {letters_per_line: 20}, B: {letters_per_line: 16, gatherings: [2]}}\n"
    ),
    "roman leaves, eight sheets": (
        "ruling: {lines: 8}\nhands: {A: {letters_per_line: 24}}\nsigning: {foliation: roman}\n"
        "gatherings: {sheets: 8, count: 1}\n"
    ),
}
"""Plans, by what each is; all with the same text and spaces."""

WORDS = 420
COUNTED = "counted"
COUNTS = """title: A book of counts
page: {width: 100, height: 140, margins: {inner: 10, head: 10, outer: 20, foot: 30}}
ruling: {lines: 10}
hands: {A: {letters_per_line: 24}, B: {letters_per_line: 20}}
gatherings: {sheets: 2, count: 3}
divisions: [{title: first, words: 260}, {title: second, words: 200}]
"""
NAMES = (*KINDS, COUNTED)


def make_book(folder: Path, kind: str) -> Path:
    """A folder with a book of one of the ``NAMES``."""
    folder.mkdir()
    if kind == COUNTED:
        (folder / "book.yaml").write_text(COUNTS, "utf-8")
        return folder
    (folder / "book.yaml").write_text(HEAD + KINDS[kind] + SPACES, "utf-8")
    words = [f"w{number}{'abcdefgh'[: number * 7 % 6]}" for number in range(WORDS)]
    (folder / "exemplar.txt").write_text(
        "\n\n".join(" ".join(words[at : at + 90]) for at in range(0, WORDS, 90)), "utf-8"
    )
    return folder


# --- what must be true of a book ------------------------------------------------------------------------------------


def contradictions(job: Job) -> list[str]:
    """Everything that two places say otherwise of the book as it stands, a sentence each."""
    state, found = job.state, list[str]()
    for check in (_pages, _text, _needs, _plan, _spaces, _papers, _binder):
        found += [f"{check.__name__[1:]}: {each}" for each in check(job, state)]
    return found


def _pages(job: Job, state: BookState) -> Iterator[str]:
    rows = PAGES.all_data(page_rows(state, lambda at: stretch_at(state, at)))
    table = list(csv.DictReader(io.StringIO(csv_list(state, "pages", job.clock()).decode())))
    yield from [] if len(rows) == len(table) == state.collation.pages else ["as many rows as pages"]
    sheets = _sheets(state)
    for index, (row, line) in enumerate(zip(rows, table, strict=False)):
        for key in ("page", "state", "written", "planned", "budget", "over", "from_word", "to_word", "ruled_lines"):
            if str(row[key]) != line[key].lstrip("'"):
                yield f"{row['page']} {key}: JSON {row[key]}, CSV {line[key]}"
        account = page_account(state, index)
        frame = state.frame_of(index)
        if row["ruled_lines"] != frame.columns * frame.lines or state.layout_on(index).lines != frame.lines:
            yield f"{row['page']} lines: {row['ruled_lines']}, its frame {frame.columns} by {frame.lines}"
        told = {line.head: line.says for line in page_lines(state, account)}
        ruled = told.get("Lines", "")
        if ruled and not ruled.startswith(f"{row['ruled_lines']} "):
            yield f"{row['page']} panel: {ruled!r}, JSON {row['ruled_lines']} lines"
        if f"{account.place.gathering}.{account.place.sheet}" not in sheets:
            yield f"{row['page']}: its sheet is not among the sheets"


def _sheets(state: BookState) -> list[str]:
    """The names of the sheets, as the verb for them gives them."""
    gatherings = SHEETS.data(state.collation)["gatherings"]
    return [f"{each['gathering']}.{sheet['sheet']}" for each in gatherings for sheet in each["sheets"]]


def _text(_: Job, state: BookState) -> Iterator[str]:
    """No word is lost or doubled without being told."""
    reached = 0
    for index in range(state.collation.pages):
        account = page_account(state, index)
        if account.from_word != reached + account.gap_words - account.overlap_words:
            yield f"{account.label} begins at {account.from_word}; {reached} reached, gap {account.gap_words}"
        reached = account.to_word
    end, budget = state.copy.word(state.copy.pieces), state.budget
    if reached != end and not budget.lines_without_room and not _written_past(state, reached):
        yield f"the text ends at {reached} of {end} words, and nothing is told to have no room"


def _written_past(state: BookState, reached: int) -> bool:
    """Whether the last page is written, so that what comes after it was left out there."""
    last = state.collation.pages - 1
    return last >= 0 and state.record(state.skin_at(last)).whole and reached >= 0


def _needs(_: Job, state: BookState) -> Iterator[str]:
    """Every place tells the same target for the same hand, and no remedy makes matters worse."""
    tail = need_to_the_end(state)
    if (tail is None) != (state.budget.lines_without_room == 0) and not _all_written(state):
        yield f"text without room: {state.budget.lines_without_room} lines; the end asks {tail}"
    if tail is not None and tail.over != state.budget.lines_without_room:
        yield f"the end is {tail.over} over, the plan says {state.budget.lines_without_room}"
    for need in (*needs(state), *((tail,) if tail is not None else ())):
        yield from _one_need(state, need)
    given = handover(state)
    data, room = HANDOVER.data(given), given.room
    need = need_from(state, given.point.ahead) if given.point.ahead < state.collation.pages else None
    if need is not None and room.need is not None:
        if (data["lines_over"], [each["hand"] for each in data["hands"]]) != (
            need.over,
            [e.hand for e in need.targets],
        ):
            yield f"handover {data['lines_over']} over, the stretch {need.over}"
        said = next(line.says for line in handover_lines(state, given) if line.head == "Room")
        if need.over > 0 and "wider" in said:
            yield f"handover: {said}"
        if need.over and len(need.targets) > 1 and need.needed is not None and asked_words(need) not in said:
            yield f"handover asks {said}; the stretch {asked_words(need)}"


def _all_written(state: BookState) -> bool:
    return all(state.record(state.skin_at(at)).whole for at in range(state.collation.pages))


def _one_need(state: BookState, need: Any) -> Iterator[str]:
    page = Page.at(need.last)
    row = stretch_at(state, need.last) if need.held else None
    if row is not None and row["lines_over"] != need.over:
        yield f"stretch to {page}: pages {row['lines_over']}, needs {need.over}"
    last = state.budget.pages[need.last]
    beyond = last.planned - last.room
    # lines at its foot that stay empty, since an initial needs more, are room of the page and none of the text's
    if need.held and need.over > 0 and not beyond <= need.over <= beyond + last.room and last.written < last.planned:
        yield f"stretch to {page}: {need.over} over, its last page {beyond}"
    for said in (need_words(need, state.book), need_in_short(need, state.book)):
        if need.over > 0 and "wider" in said:
            yield f"stretch to {page}: {said}"
    remedies = remedies_for(state, need)
    data = REMEDIES_OF_PAGE.data((page, need, remedies))
    for each, remedy in zip(data["remedies"], remedies, strict=True):
        if each["lines_over"] > max(need.over, 0) or not 0 <= each["chance_to_fit"] <= 1:
            yield f"remedy {each['remedy']} for {page}: {each['lines_over']} over after {need.over}"
        after = state.supposing(remedy.acts)
        if _over(after) > _over(state):
            yield f"remedy {each['remedy']} for {page}: {_over(after)} over in all after {_over(state)}"
    fits = [each["fits"] for each in data["remedies"]]
    if fits != sorted(fits, reverse=True):
        yield f"remedies for {page}: those that fit do not come first"


def _over(state: BookState) -> int:
    return sum(max(each.over, 0) for each in state.budget.stretches) + state.budget.lines_without_room


def _plan(_: Job, state: BookState) -> Iterator[str]:
    data, budget = {column.key: column.data(plan_as_is(state)) for column in PLAN}, state.budget
    facts = {
        "lines_without_room": budget.lines_without_room,
        "lines_left_over": budget.lines_left_over,
        "pages": len(budget.pages),
        "leaves": state.collation.leaves,
        "sheets": len(_sheets(state)),
        "lines": sum(page.planned for page in budget.pages) + budget.lines_without_room,
        "homeless": list(budget.homeless),
    }
    for key, value in facts.items():
        if data[key] != value:
            yield f"{key}: plan {data[key]}, elsewhere {value}"
    if data["page"]["lines"] != state.frame.lines:
        yield f"the plan's page has {data['page']['lines']} lines, pages to rule {state.frame.lines}"


def _spaces(job: Job, state: BookState) -> Iterator[str]:
    """Every space of today stands once, in one place, wherever it is told of; one without a place is told of."""
    accounts = {account.plan.id: account for account in space_accounts(state)}
    missing = {plan.id for plan in state.plans} - set(accounts)
    yield from (f"space {name} is in no list" for name in sorted(missing))
    reports = {each.account.plan.id: each.account for each in space_reports(state, job.clock())}
    table = list(csv.DictReader(io.StringIO(csv_list(state, "spaces", job.clock()).decode())))
    if Counter(row["space"] for row in table) != Counter(list(accounts)):
        yield f"spaces in the spreadsheet {[row['space'] for row in table]}, in the book {sorted(accounts)}"
    for name, account in accounts.items():
        other = reports.get(name)
        if other is None or (other.page, other.placement) != (account.page, account.placement):
            yield f"space {name}: {account.page} {account.placement}, the artist's list {other and other.placement}"
        if account.page is None and account.record.ended is None and not _told_homeless(state, name):
            yield f"space {name} stands nowhere, and nothing says so"
    homes = space_homes(state)
    for name, home in homes.items():
        known = accounts.get(name)
        if known is not None and known.page is not None and known.page.index != home.page:
            yield f"space {name}: on {known.page}, its home {Page.at(home.page)}"
    for index in range(state.collation.pages):
        taken = [each for each in (*state.frame_of(index).fixed, *state.budget.pages[index].placed) if each.lines]
        for one, two in pairwise(sorted(set(taken), key=lambda each: (each.column, each.from_line))):
            meet = 0 in (one.column, two.column) or one.column == two.column
            if (
                meet
                and one.id != two.id
                and one.from_line + one.lines > two.from_line
                and one.from_line <= two.from_line
            ):
                yield f"spaces {one.id} and {two.id} overlap on {Page.at(index)}"


def _told_homeless(state: BookState, name: str) -> bool:
    return name in state.budget.homeless or any(name in said for said in open_spaces(state))


def _papers(job: Job, state: BookState) -> Iterator[str]:
    """Papers as text name what the screens name."""

    def paper(name: str, page: Page | None = None) -> str:
        return " ".join(make(name, PaperRequest(job, "text", page)).decode().split())

    given = handover(state)
    lines = handover_lines(state, given)
    squeezed = re.sub(r"\s", "", paper("handover"))
    for head in ("Room", "Ruling"):
        said = next(line.says for line in lines if line.head == head)
        if re.sub(r"\s", "", said)[1:] not in squeezed:
            yield f"the handover on paper has not: {said}"
    index = given.goes_on.page.index
    if (
        f"{state.frame_of(index).lines} lines" not in paper("ruling", Page.at(index))
        and state.frame_of(index).lines != 1
    ):
        yield f"the ruling paper of {Page.at(index)} has not {state.frame_of(index).lines} lines"
    listed = re.sub(r"\s", "", paper("spaces"))
    for account in space_accounts(state):
        if account.waiting and account.page is not None and account.placement is not None and account.placement.lines:
            named = state.book.named(account.page)
            if named not in place_words(account, state.book) or re.sub(r"\s", "", account.plan.id) not in listed:
                yield f"the artist's list has not {account.plan.id} on {named}"
    paper("sheets")


def _binder(job: Job, state: BookState) -> Iterator[str]:
    text = " ".join(make("binder", PaperRequest(job, "text")).decode().split())
    found = assembly(state)
    if found.sheets != len(_sheets(state)):
        yield f"the binder counts {found.sheets} sheets, the sheets' list {len(_sheets(state))}"
    if f"{state.collation.leaves} lea" not in text:
        yield f"the binder's order has not {state.collation.leaves} leaves"


# --- a life ---------------------------------------------------------------------------------------------------------


class Told(NamedTuple):
    """All that can be compared of a book at one moment."""

    pages: list[dict[str, Any]]
    spaces: list[object]
    rest: list[object]


def told(state: BookState) -> Told:
    """The book as it tells itself, to be held against another time."""
    budget = state.budget
    return Told(
        PAGES.all_data(page_rows(state, lambda at: stretch_at(state, at))),
        [(each.plan, each.page, each.placement, each.stage) for each in space_accounts(state)],
        [budget.lines_without_room, budget.lines_left_over, budget.homeless, state.agreed, state.frame, state.flaws],
    )


def _differs(before: Told, now: Told) -> str:
    """Where two tellings differ first."""
    for name in Told._fields:
        was, is_ = list(getattr(before, name)), list(getattr(now, name))
        for one, two in zip(was, is_, strict=False):
            if one != two:
                return f"{name}: {one} is {two}"
        if len(was) != len(is_):
            return f"{name}: {len(was)} are {len(is_)}"
    return "nothing"


class Life:
    """One book's life: ``live`` does one thing and gives what is untrue after it."""

    def __init__(self, folder: Path, kind: str, chance: Random) -> None:
        self.job = Job.open(make_book(folder, kind), desk="desk")
        self.kind, self.chance = kind, chance
        self.done: list[str] = []
        self._stages: list[Callable[[], list[Act]]] = [
            self._rule, self._write, self._write, self._write_to_line, self._write_ends, self._hold, self._check,
            self._space, self._space_plan, self._leaf, self._flaw, self._remedy, self._ruling, self._gathering,
        ]  # fmt: skip

    def live(self) -> list[str]:
        """Do one thing at random; what is untrue after it, a sentence each."""
        self.job.state.refit()
        before, homes = told(self.job.state), standing(self.job.state)
        act = self.chance.choice(self._stages)
        try:
            acts = act()
            if not acts:
                return []
            self.job.record_all(acts, hand=self.chance.choice([hand.id for hand in self.job.book.hands]))
        except CopydeskError:
            return []  # refused: nothing happened
        self.done.append(f"{act.__name__[1:]} {[(each.what, each.about, dict(each.facts)) for each in acts]}")
        if self.chance.random() < 0.5:
            self.job.state.refit()
        found = [*self._vanished(homes, acts), *contradictions(self.job)]
        if self.chance.random() < 0.35:
            found += self._taken_back(before)
        return found

    def afresh(self) -> list[str]:
        """What is otherwise where the book is opened anew."""
        fresh = Job.open(self.job.folder.root, desk="other")
        self.job.state.refit()
        fresh.state.refit()
        same = told(fresh.state) == told(self.job.state)
        fresh.close()
        return [] if same else ["the book opened anew stands otherwise"]

    def _vanished(self, homes: Standing, acts: list[Act]) -> Iterator[str]:
        """Spaces that lost their place or moved, of which the reply says nothing."""
        after, said = space_homes(self.job.state), " ".join(self.job.also)
        own = {each.about for each in acts}
        for name, home in homes.homes.items():
            plan = self.job.state.plan_of(name)
            new = after.get(name)
            if plan is None or name in own or f"pace {name} " in said:
                continue
            if new is None or (new.page != home.page and new.skin != home.skin):
                there = "nowhere" if new is None else f"on {Page.at(new.page)}"
                yield f"space {name} was on {Page.at(home.page)}, is {there}, and nothing said so"

    def _taken_back(self, before: Told) -> list[str]:
        # letters follow the pages written, so the book is compared at the letters it is cast off at then
        self.job.undo()
        self.job.state.refit()
        now = told(self.job.state)
        self.done.append("undo")
        found = [] if now == before else [f"undo did not restore {_differs(before, now)}"]
        self.job.redo()
        self.done.append("redo")
        if self.chance.random() < 0.5:
            self.job.undo()
            self.done.append("undo")
        return found

    # what is done

    def _page(self) -> Page:
        return Page.at(self.chance.randrange(self.job.state.collation.pages))

    def _next(self) -> Page:
        """The first page not written whole, three times in four; any page else."""
        state = self.job.state
        if self.chance.random() < 0.25:
            return self._page()
        whole = (state.record(state.skin_at(at)).whole for at in range(state.collation.pages))
        return Page.at(next((at for at, each in enumerate(whole) if not each), 0))

    def _words(self, near: int) -> str:
        """Words of the text near a place, or the place in counts."""
        state = self.job.state
        at = max(near + self.chance.randint(-12, 12), 1)
        if state.exemplar is None:
            return (
                f"division {1 if at <= 260 else 2} word {min(at if at <= 260 else at - 260, 200 if at > 260 else 260)}"
            )
        return " ".join(state.exemplar.words[max(min(at, len(state.exemplar.words)) - 3, 0) : at])

    def _rule(self) -> list[Act]:
        return [self.job.commands.rule(self._page())]

    def _write(self) -> list[Act]:
        return [self.job.commands.write(self._next(), minutes=self.chance.choice((None, 45.0)))]

    def _write_to_line(self) -> list[Act]:
        return [self.job.commands.write(self._next(), to_line=self.chance.randint(1, 20))]

    def _write_ends(self) -> list[Act]:
        page = self._next()
        to_word = page_account(self.job.state, page.index).to_word
        return [self.job.commands.write(page, ends=self._words(to_word))]

    def _hold(self) -> list[Act]:
        page = self._page()
        from_word = page_account(self.job.state, page.index).from_word
        return [self.job.commands.hold(page, self._words(from_word + 3))]

    def _check(self) -> list[Act]:
        return [self.job.commands.check(self._page())]

    def _space(self) -> list[Act]:
        what = self.chance.choice(("drawn", "coloured", "done", "left-empty", "given-up"))
        return [self.job.commands.space(self.chance.choice(("weir", "key", "owl", "rim", "mill")), what)]

    def _space_plan(self) -> list[Act]:
        name = self.chance.choice(("weir", "key", "owl", "mill", "new"))
        if name == "new":
            at = self.chance.choice((f"word {self.chance.randrange(WORDS)}", str(self._page())))
            return [self.job.commands.space(f"n{len(self.done)}", "added", kind="miniature", at=at, lines=3)]
        return [self.job.commands.space(name, "resized", lines=self.chance.randint(2, 6))]

    def _leaf(self) -> list[Act]:
        state, leaf = self.job.state, self.chance.randint(1, max(self.job.state.collation.leaves, 1))
        act = self.chance.choice((leaves.cancel_leaf, leaves.replace_leaf, leaves.lose_leaf, leaves.add_leaf))
        return [act(state, leaf)]

    def _gathering(self) -> list[Act]:
        return [leaves.add_gathering(self.job.state, 4)] if self.chance.random() < 0.3 else []

    def _flaw(self) -> list[Act]:
        sizes = {name: float(self.chance.randint(5, 60)) for name in ("from_head", "from_fold")}
        leaf = self.chance.randint(1, max(self.job.state.collation.leaves, 1))
        return [leaves.note_flaw(self.job.state, leaf, {**sizes, "width": 20.0, "height": 12.0})]

    def _ruling(self) -> list[Act]:
        from copydesk.tracking.commands.page_commands import agree_lines

        return [agree_lines(self.job.state, self.job.state.frame.lines + self.chance.choice((-1, 1)))]

    def _remedy(self) -> list[Act]:
        state = self.job.state
        found = [need_from(state, at) for at in range(state.collation.pages)]
        open_ones = [need for need in found if need is not None and need.over]
        if not open_ones:
            return []
        ways = remedies_for(state, self.chance.choice(open_ones))
        return list(self.chance.choice(ways).acts) if ways else []
