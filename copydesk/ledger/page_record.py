"""What has happened on one page of skin: a fold over its entries."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal, NamedTuple

from copydesk.book.casting import Placement

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping

    from copydesk.ledger.entry import Entry

_MOST_LINES = 10_000
"""No page has more lines; a higher figure in an entry is a slip."""

State = Literal["unruled", "ruled", "begun", "written", "checked", "corrected"]


class Stint(NamedTuple):
    """Lines one hand wrote at one sitting: text lines of the page from 1, words of the exemplar, minutes if told."""

    hand: str
    from_line: int
    to_line: int
    from_word: int
    to_word: int
    at: str
    minutes: float | None
    entry: str


class Fault(NamedTuple):
    """A fault found on a page, and how it was settled: ``remedy`` is empty while it is open."""

    id: str
    page: str
    kind: str
    cause: str
    column: int | None
    line: int | None
    word: int | None
    stands: str
    should: str
    found_by: str
    found_at: str
    remedy: str
    settled_by: str
    settled_at: str


@dataclass(frozen=True, slots=True)
class PageRecord:
    """The page as it stands now.

    ``placements`` are the spaces fixed when it was ruled, None while it is not. ``begins`` and ``ends`` are
    words of the exemplar; ``written`` counts text lines written. ``read_to`` is the text line to which a check that
    is not finished came, by ``read_by``. ``written_again`` tells that lines were written anew after a check.
    """

    ruled: bool = False
    ruled_by: str = ""
    ruled_at: str = ""
    placements: tuple[Placement, ...] | None = None
    held: int | None = None
    begins: int | None = None
    ends: int | None = None
    stints: tuple[Stint, ...] = ()
    whole: bool = False
    checked_by: str = ""
    checked_at: str = ""
    read_to: int = 0
    read_by: str = ""
    faults: tuple[Fault, ...] = ()
    transcription: str | None = None
    written_again: bool = False

    @property
    def written(self) -> int:
        """Text lines written."""
        return max((stint.to_line for stint in self.stints), default=0)

    @property
    def open_faults(self) -> tuple[Fault, ...]:
        """Faults not yet settled."""
        return tuple(fault for fault in self.faults if not fault.remedy)

    @property
    def self_checked(self) -> bool:
        """Whether the checker is the only hand that wrote the page."""
        return bool(self.checked_by) and {stint.hand for stint in self.stints} == {self.checked_by}

    @property
    def state(self) -> State:
        """One word for how far the page has come."""
        if self.whole and self.checked_by:
            return "checked" if self.open_faults else "corrected"
        if self.whole:
            return "written"
        if self.stints or self.begins is not None:
            return "begun"
        return "ruled" if self.ruled else "unruled"


def _ruled(record: PageRecord, entry: Entry) -> PageRecord:
    return replace(record, ruled=True, ruled_by=entry.hand, ruled_at=entry.at, placements=_fixed(record, entry))


def _begun(record: PageRecord, entry: Entry) -> PageRecord:
    begins = record.begins if record.stints else _word(entry, "from_word")
    return replace(record, begins=begins, placements=_fixed(record, entry))


def _fixed(record: PageRecord, entry: Entry) -> tuple[Placement, ...]:
    """The spaces fixed on the page after an entry: those fixed before it, and those it adds."""
    before = record.placements or ()
    known = {placement.id for placement in before}
    return (*before, *(each for each in placements_from(entry.facts) if each.id not in known))


def _word(entry: Entry, name: str) -> int | None:
    word = entry.number(name)
    return None if word is None else max(word, 0)


def _line(entry: Entry, name: str, least: int) -> int:
    line = entry.number(name)
    return least if line is None else min(max(line, least), _MOST_LINES)


def _written(record: PageRecord, entry: Entry) -> PageRecord:
    """Lines written anew take the place of what was recorded for them; a check made before no longer holds."""
    first = _line(entry, "from_line", 1)
    last = _line(entry, "to_line", first)
    start = _word(entry, "from_word") or 0
    end = max(_word(entry, "to_word") or start, start)
    stint = Stint(entry.hand, first, last, start, end, entry.at, entry.amount("minutes"), entry.entry)
    kept = tuple(_before(old, stint) for old in record.stints if old.from_line < first)
    return replace(
        record,
        stints=(*kept, stint),
        begins=start if not kept else record.begins if record.begins is not None else kept[0].from_word,
        ends=end,
        whole=entry.facts.get("whole") is True,
        placements=_fixed(record, entry),
        checked_by="",
        checked_at="",
        read_to=min(record.read_to, first - 1),
        transcription=record.transcription if first > record.written else None,
        written_again=record.written_again or bool(record.checked_by),
    )


def _before(old: Stint, new: Stint) -> Stint:
    """What is left of a stint above the lines written anew."""
    if old.to_line < new.from_line:
        return old
    return old._replace(to_line=new.from_line - 1, to_word=max(min(old.to_word, new.from_word), old.from_word))


def _checked(record: PageRecord, entry: Entry) -> PageRecord:
    return replace(record, checked_by=entry.hand, checked_at=entry.at, read_to=0, read_by="")


def _read_to(record: PageRecord, entry: Entry) -> PageRecord:
    return replace(record, read_to=_line(entry, "line", 0), read_by=entry.hand)


def _fault(record: PageRecord, entry: Entry) -> PageRecord:
    fault = Fault(
        id=entry.entry,
        page=entry.page,
        kind=entry.text("kind"),
        cause=entry.text("cause"),
        column=entry.number("column"),
        line=entry.number("line"),
        word=entry.number("word"),
        stands=entry.text("stands"),
        should=entry.text("should"),
        found_by=entry.hand,
        found_at=entry.at,
        remedy="",
        settled_by="",
        settled_at="",
    )
    return replace(record, faults=(*record.faults, fault))


def _settled(record: PageRecord, entry: Entry) -> PageRecord:
    wanted = entry.text("fault")
    faults = tuple(
        fault._replace(remedy=entry.text("remedy") or "settled", settled_by=entry.hand, settled_at=entry.at)
        if fault.id == wanted
        else fault
        for fault in record.faults
    )
    return replace(record, faults=faults)


def _held(record: PageRecord, entry: Entry) -> PageRecord:
    return replace(record, held=_word(entry, "from_word"))


def _transcribed(record: PageRecord, entry: Entry) -> PageRecord:
    return replace(record, transcription=entry.text("text"))


_STEPS: dict[str, Callable[[PageRecord, Entry], PageRecord]] = {
    "ruled": _ruled,
    "begun": _begun,
    "written": _written,
    "checked": _checked,
    "read-to": _read_to,
    "fault": _fault,
    "settled": _settled,
    "held": _held,
    "transcribed": _transcribed,
}

BLANK = PageRecord()
"""A page nothing has happened on."""


def fold_page(entries: Iterable[Entry]) -> PageRecord:
    """The page's record after these entries, oldest first; entries of other kinds change nothing."""
    record = BLANK
    for entry in entries:
        step = _STEPS.get(entry.what)
        if step is not None:
            record = step(record, entry)
    return record


def placements_from(facts: Mapping[str, object]) -> tuple[Placement, ...]:
    """Spaces fixed on a page, from the facts of the entry that ruled it: lists of id, column, line, lines, share.

    A row of another form (by another program, or by a slip) is passed over.
    """
    rows = facts.get("placements")
    found = map(_placement, rows) if isinstance(rows, list) else ()
    return tuple(placement for placement in found if placement is not None)


def _placement(row: object) -> Placement | None:
    if not isinstance(row, list | tuple) or len(row) != 5:
        return None
    name, *places, share = row
    sound = isinstance(name, str) and all(type(each) is int and 0 <= each <= _MOST_LINES for each in places)
    if not sound or type(share) not in (int, float) or not 0 <= share < 1:
        return None
    return Placement(name, places[0], places[1], places[2], float(share))
