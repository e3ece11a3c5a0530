"""A draft of the colophon: who wrote, checked, decorated and laid the book in order, from when to when.

It holds what the book's plan and its ledger say and nothing else; what they do not know is left as a blank to fill.
S. Farnsworth (*Illumination*, 1922) asks for a statement that names all who worked, with a blank page before it.
"""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.columns import Cell, Column, Report, iso, one_of, page_or_none, rows_of
from copydesk.book.common.errors import InvalidValueError
from copydesk.book.common.phrases import listed, say_day
from copydesk.book.common.sanitize import sanitize
from copydesk.book.structure.page import Page, Side
from copydesk.tracking.binding.bound_book import binding_of
from copydesk.tracking.later.later_work import open_passes
from copydesk.tracking.ledger.entry import Act
from copydesk.tracking.ledger.timestamps import moment
from copydesk.tracking.state.writing_tools import TOOLS, HandTools, all_tools
from copydesk.tracking.views.space_view import space_accounts

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence
    from datetime import date

    from copydesk.book.plan import Book
    from copydesk.tracking.binding.bound_book import Binding
    from copydesk.tracking.state.book_state import BookState


BLANK = "________"

KEPT = "colophon"
"""What the note is about in which a colophon is kept."""


class WorkDone(NamedTuple):
    """What one person did: the hand (or the artist's name), the person's name, where in words, first and last day."""

    hand: str
    name: str
    where: str
    first: date | None = None
    last: date | None = None


class Colophon(NamedTuple):
    """The draft: its sentences, what they rest on, and the page it could be written on, a blank one before it.

    ``finished`` tells that every page that bears text is written and checked with nothing open, every later pass done
    and every space filled or left on purpose. ``leaves`` are those that bear writing or a filled space.
    """

    sentences: tuple[str, ...]
    wrote: tuple[WorkDone, ...]
    checked: tuple[WorkDone, ...]
    mended: tuple[WorkDone, ...]
    decorated: tuple[WorkDone, ...]
    laid_in_order: tuple[WorkDone, ...]
    bound: Binding | None
    tools: tuple[HandTools, ...]
    went_over: tuple[WorkDone, ...]
    first: date | None
    last: date | None
    leaves: int
    finished: bool
    page: Page | None

    @property
    def text(self) -> str:
        """The whole draft."""
        return " ".join(self.sentences)


class _Work:
    """The work done on a book, by hand; ``days`` collects the days on which it was done.

    Each kind of work is asked for once, so that ``_by_hand`` holds the days of the one in hand.
    """

    def __init__(self, state: BookState) -> None:
        self.state = state
        self.records = [state.record(state.skin_at(index)) for index in range(state.collation.pages)]
        self.spaces = space_accounts(state)
        self.days: set[date] = set()
        self._by_hand: dict[str, set[date]] = {}

    def _note_day(self, at: str, hand: str) -> None:
        read = moment(at)
        if read is not None:
            self.days.add(read.date())
            self._by_hand.setdefault(hand, set()).add(read.date())

    def _done(self, where: Mapping[str, str]) -> tuple[WorkDone, ...]:
        """The work of each hand under its name, or under the hand itself where the plan gives no name."""
        named = {hand.id: hand.name or f"Hand {hand.id}" for hand in self.state.book.hands}
        days, self._by_hand = self._by_hand, {}
        return tuple(
            WorkDone(
                hand,
                sanitize(named.get(hand, hand)),
                places,
                min(days.get(hand, ()), default=None),
                max(days.get(hand, ()), default=None),
            )
            for hand, places in where.items()
        )

    def _pages(self, pages: dict[int, bool]) -> str:
        """Pages as ranges, those written in part (True) marked: ``1r to 8v, part of 12v``."""
        book = self.state.book
        whole = [index for index, part in sorted(pages.items()) if not part]
        part = [book.named(Page.at(index)) for index, in_part in sorted(pages.items()) if in_part]
        said = [_range(book, run) for run in _runs(whole)]
        return listed([*said, f"part of {', '.join(part)}"] if part else said)

    def wrote(self) -> tuple[WorkDone, ...]:
        """Each writing hand and its pages."""
        pages: dict[str, dict[int, bool]] = {}
        for index, record in enumerate(self.records):
            shared = len({stint.hand for stint in record.stints}) > 1
            for stint in record.stints:
                self._note_day(stint.at, stint.hand)
                pages.setdefault(stint.hand, {})[index] = shared or not record.whole
        return self._done({hand: self._pages(theirs) for hand, theirs in pages.items()})

    def checked(self) -> tuple[WorkDone, ...]:
        """Each checking hand and the pages read against the exemplar; a page only ticked was not."""
        pages: dict[str, dict[int, bool]] = {}
        for index, record in enumerate(self.records):
            if not record.checked_by or record.unread:
                continue
            read = [each for each in record.readings if each.read] if self.state.book.readings.ways else []
            times = [(who, each.at) for each in read for who in (each.by, each.beside) if who]
            for who, at in times or [(record.checked_by, record.checked_at)]:
                self._note_day(at, who)
                pages.setdefault(who, {})[index] = False
        return self._done({hand: self._pages(theirs) for hand, theirs in pages.items()})

    def mended(self) -> tuple[WorkDone, ...]:
        """Each hand that mended faults, and on which pages."""
        pages: dict[str, dict[int, bool]] = {}
        for index in range(self.state.collation.pages):
            for entry in self.state.ledger.live("page", str(self.state.skin_at(index))):
                if entry.what == "settled":
                    self._note_day(entry.at, entry.hand)
                    pages.setdefault(entry.hand, {})[index] = False
        return self._done({hand: self._pages(theirs) for hand, theirs in pages.items()})

    def decorated(self) -> tuple[WorkDone, ...]:
        """Each hand that worked in spaces, and in how many of which kind."""
        kinds: dict[str, Counter[str]] = {}
        for space in self.spaces:
            end = space.record.end
            steps = [*space.record.stages, *([end] if end is not None and end.what == "done" else [])]
            for step in steps:
                self._note_day(step.at, step.hand)
            for hand in dict.fromkeys(step.hand for step in steps):
                kinds.setdefault(hand, Counter())[space.plan.kind] += 1
        return self._done(
            {hand: listed([_count(number, kind) for kind, number in found.items()]) for hand, found in kinds.items()}
        )

    def went_over(self) -> tuple[WorkDone, ...]:
        """Each hand that did later passes, which of them, and on which pages."""
        pages: dict[str, dict[str, dict[int, bool]]] = {}
        for index, record in enumerate(self.records):
            for name, done in record.passes.items():
                self._note_day(done.at, done.hand)
                pages.setdefault(done.hand, {}).setdefault(name, {})[index] = bool(done.left)
        return self._done(
            {
                hand: listed([f"the {name} of {self._pages(theirs)}" for name, theirs in passes.items()])
                for hand, passes in pages.items()
            }
        )

    def laid_in_order(self) -> tuple[WorkDone, ...]:
        """Each hand that walked the sheets before sewing."""
        sheets: Counter[str] = Counter()
        for name in self.state.ledger.about("sheet"):
            entries = [entry for entry in self.state.ledger.live("sheet", name) if entry.what == "walked"]
            if entries and self.state.sheet_record(name).walked:
                self._note_day(entries[-1].at, entries[-1].hand)
                sheets[entries[-1].hand] += 1
        return self._done({hand: _count(number, "sheet") for hand, number in sheets.items()})

    def leaves(self) -> set[int]:
        """The leaves that bear writing or decoration, by number."""
        written = {index // 2 + 1 for index, record in enumerate(self.records) if record.stints}
        painted = {space.page.leaf for space in self.spaces if space.page is not None and space.record.stages}
        return written | painted

    def finished(self) -> bool:
        """Whether all is written, checked, corrected and filled, and no words stand on no page."""
        budget = self.state.budget
        bearing = [
            (record, page) for record, page in zip(self.records, budget.pages, strict=True) if page.start < page.end
        ]
        done = all(record.state == "corrected" and not page.gap for record, page in bearing)
        done = done and not any(open_passes(self.state, index) for index in range(len(self.records)))
        return done and not budget.lines_without_room and not any(space.waiting for space in self.spaces)

    def free_page(self) -> Page | None:
        """The first page that leaves a blank one between it and the last that bears anything."""
        pages = enumerate(zip(self.records, self.state.budget.pages, strict=True))
        bearing = (at for at, (record, page) in pages if page.start < page.end or page.placed or record.stints)
        free = max(bearing, default=-1) + 2
        return Page.at(free) if free < len(self.records) else None


def colophon(state: BookState) -> Colophon:
    """The draft as the book stands today."""
    work = _Work(state)
    wrote, checked, mended = work.wrote(), work.checked(), work.mended()
    decorated, laid, bound, went_over = work.decorated(), work.laid_in_order(), binding_of(state), work.went_over()
    first, last = min(work.days, default=None), max(work.days, default=None)
    finished, leaves = work.finished(), work.leaves()
    tools = all_tools(state)
    sentences = (
        _opening(state),
        *_who(wrote, "wrote"),
        *_written_with(tools),
        *_who(went_over, "did"),
        *_who(checked, "checked", " against the exemplar"),
        *_who(decorated, "decorated"),
        *_who(laid, "laid", " in order for sewing"),
        _when(first, last, _extent(state, leaves), finished=finished),
        _bound(state, bound),
    )
    return Colophon(
        sentences,
        wrote=wrote,
        checked=checked,
        mended=mended,
        decorated=decorated,
        laid_in_order=laid,
        bound=bound,
        tools=tools,
        went_over=went_over,
        first=first,
        last=last,
        leaves=len(leaves),
        finished=finished,
        page=work.free_page(),
    )


def _opening(state: BookState) -> str:
    lent_by = state.book.exemplar.lent_by
    source = f" was copied from an exemplar lent by {sanitize(lent_by)}" if lent_by else " was copied by hand"
    return f"{sanitize(state.book.title)}{source}."


def _who(works: Sequence[WorkDone], did: str, after: str = "") -> list[str]:
    """``Agnes Orrin wrote 1r to 8v.``; a sentence a person."""
    return [f"{work.name} {did} {work.where}{after}." for work in works]


def _bound(state: BookState, bound: Binding | None) -> str:
    who = sanitize(bound.who if bound is not None else state.book.workshop.binder) or BLANK
    day = f" on {say_day(bound.day)}" if bound is not None and bound.day is not None else ""
    return f"Sewn and bound by {who}{day}."


def _written_with(used: Iterable[HandTools]) -> list[str]:
    """``Written with oak-gall ink; pen: goose quill.``; nothing where nobody said."""
    found = [each.tools for each in used]
    ways = (("ink", ""), ("pen", "pen: "), ("pounce", "the skin pounced with "))
    said = [
        f"{before}{sanitize(listed(list(named)))}"
        for name, before in ways
        if (named := dict.fromkeys(getattr(tools, name) for tools in found if getattr(tools, name)))
    ]
    return [f"Written with {'; '.join(said)}."] if said else []


def _extent(state: BookState, leaves: Iterable[int]) -> str:
    """``12 leaves in 2 gatherings``, those on which work was done."""
    numbers = list(leaves)
    gatherings = {state.collation.place(Page(leaf, Side.RECTO)).gathering for leaf in numbers}
    return f"{_count(len(numbers), 'leaf', 'leaves')} in {_count(len(gatherings), 'gathering')}"


def _when(first: date | None, last: date | None, extent: str, *, finished: bool) -> str:
    if first is None or last is None:
        return "Nothing is written yet."
    days = f"on {say_day(first)}" if first == last else f"from {say_day(first)} to {say_day(last)}"
    return f"{'The' if finished else 'So far the'} work was done {days}, on {extent}."


_NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")


def _count(number: int, noun: str, several: str = "") -> str:
    """``one miniature``, ``four leaves``, ``13 leaves``."""
    shown = _NUMBERS[number] if number < len(_NUMBERS) else str(number)
    return f"{shown} {noun if number == 1 else several or noun + 's'}"


def _runs(indices: Iterable[int]) -> list[list[int]]:
    runs: list[list[int]] = []
    for index in indices:
        if runs and runs[-1][-1] == index - 1:
            runs[-1].append(index)
        else:
            runs.append([index])
    return runs


def _range(book: Book, run: Sequence[int]) -> str:
    first, last = book.named(Page.at(run[0])), book.named(Page.at(run[-1]))
    return first if first == last else f"{first} to {last}"


def room_words(book: Book, found: Colophon) -> str:
    """The page it could be written on, in words."""
    if found.page is None:
        return "no page is left after a blank one"
    return f"{book.named(found.page)}, with a blank page before it"


def keep_colophon(text: str) -> Act:
    """Keep a colophon, as drafted or in other words.

    Raises:
        InvalidValueError: where there is nothing in it.
    """
    if not text.strip():
        raise InvalidValueError("a colophon needs its words; nothing was kept")
    return Act("note", KEPT, "", {"text": text.strip()})


def kept_already(state: BookState, text: str) -> bool:
    """Whether the colophon kept last says just this, so that there is nothing to record."""
    return bool(text.strip()) and kept_colophon(state) == text.strip()


def kept_colophon(state: BookState) -> str:
    """The colophon kept last, or nothing."""
    entries = state.ledger.live("book", KEPT)
    return entries[-1].text("text") if entries else ""


WORK_DONE: Report[WorkDone] = rows_of(
    "colophon, a person's work",
    "What one person did.",
    Column("hand", Cell.TEXT, "the hand, or the artist's name"),
    Column("name", Cell.TEXT, "the person's name"),
    Column("where", Cell.TEXT, "where, in words"),
    Column("from", Cell.DAY, "the first day; null where no time is on record", lambda work: iso(work.first)),
    Column("to", Cell.DAY, "the last day so far", lambda work: iso(work.last)),
)
COLOPHON: Report[tuple[Colophon, str]] = one_of(
    "colophon",
    "A draft of who made the book, and what it rests on.",
    Column("text", Cell.TEXT, "the draft", lambda of: of[0].text),
    Column("sentences", Cell.TEXTS, "the same, sentence by sentence", lambda of: list(of[0].sentences)),
    Column("wrote", Cell.ROWS, "who wrote", lambda of: of[0].wrote, of=WORK_DONE),
    Column("checked", Cell.ROWS, "who checked", lambda of: of[0].checked, of=WORK_DONE),
    Column("mended", Cell.ROWS, "who mended faults", lambda of: of[0].mended, of=WORK_DONE),
    Column("went_over", Cell.ROWS, "who did the later passes", lambda of: of[0].went_over, of=WORK_DONE),
    Column("decorated", Cell.ROWS, "who filled the spaces", lambda of: of[0].decorated, of=WORK_DONE),
    Column("laid_in_order", Cell.ROWS, "who laid the sheets in order", lambda of: of[0].laid_in_order, of=WORK_DONE),
    Column("bound_by", Cell.TEXT, "who bound it; null until then", lambda of: of[0].bound and of[0].bound.who),
    Column("bound_on", Cell.DAY, "the day", lambda of: iso(of[0].bound.day) if of[0].bound else None),
    Column("tools", Cell.ROWS, "what it is written with, hand by hand", lambda of: of[0].tools, of=TOOLS),
    Column("from", Cell.DAY, "the first day of the work; null before it", lambda of: iso(of[0].first)),
    Column("to", Cell.DAY, "the last day so far", lambda of: iso(of[0].last)),
    Column("leaves", Cell.NUMBER, "leaves that bear writing or a filled space", lambda of: of[0].leaves),
    Column(
        "finished",
        Cell.YES_NO,
        "whether all is written, checked, corrected, gone over and filled",
        lambda of: of[0].finished,
    ),
    Column(
        "page",
        Cell.PAGE,
        "a blank page it could be written on; null where there is none",
        lambda of: page_or_none(of[0].page),
    ),
    Column("kept", Cell.TEXT, "the draft kept in the ledger; null where none is", lambda of: of[1] or None),
)
