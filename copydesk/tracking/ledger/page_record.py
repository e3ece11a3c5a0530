"""What has happened on one page of skin: a fold over its entries."""

from __future__ import annotations

from enum import StrEnum
from typing import TYPE_CHECKING, Any, NamedTuple

from copydesk.book.checks import PageReading
from copydesk.tracking.ledger.space_record import MOST_LINES, placements_from
from copydesk.tracking.ledger.stint import Stint

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping

    from copydesk.book.layout.page_frame import Placement
    from copydesk.tracking.ledger.entry import Entry


SPACES = "spaces"
"""The part of a page's plan that tells of its spaces, each by its name."""

TICKED = "ticked, not read"
"""What is said of a check that was recorded though no line was read."""


_NO_PLAN: Mapping[str, Any] = {}
_NO_PASSES: Mapping[str, Any] = {}


class PageState(StrEnum):
    """How far a page has come; the value is the word that people and other programs read."""

    UNRULED = "unruled"
    RULED = "ruled"
    BEGUN = "begun"
    WRITTEN = "written"
    CHECKED = "checked"
    CORRECTED = "corrected"


class Fault(NamedTuple):
    """A fault found on a page, and its remedy; ``remedy`` is empty while the fault is open.

    ``number`` is what people call it by; it never changes.
    """

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
    mended_by: str
    mended_at: str
    number: int = 0


class PassDone(NamedTuple):
    """A later pass done on a page: by which hand, when; the words of the exemplar at which something is left open."""

    hand: str
    at: str
    left: tuple[int, ...] = ()
    minutes: float | None = None


class PageRecord(NamedTuple):
    """The page as it stands now.

    ``placements`` are the spaces fixed when it was ruled, None while it is not. ``begins`` and ``ends`` are
    words of the exemplar; ``written`` counts text lines written. ``read_to`` is the text line to which a check that
    is not finished came, by ``read_by``. ``written_again`` says that lines were written anew after a check.
    ``unread`` says that its check was only ticked, no line read; ``checked_text`` tells the words it was checked
    against from others. ``readings`` are all made since it was written, ``wanted`` the ways of those still to be made
    where the book names some. ``plan`` is what the plan had of the page and its spaces when each was fixed on it.
    ``pen`` is the hand that goes on here: the last that wrote, or one that took the desk over since; ``taken_by``
    the last that took it over on this page. ``passes`` are the later passes done on it, by name; lines written anew
    after them have to be gone over again.
    """

    ruled: bool = False
    ruled_by: str = ""
    ruled_at: str = ""
    placements: tuple[Placement, ...] | None = None
    lines: int | None = None
    held: int | None = None
    begins: int | None = None
    ends: int | None = None
    stints: tuple[Stint, ...] = ()
    whole: bool = False
    checked_by: str = ""
    checked_at: str = ""
    unread: bool = False
    checked_text: str = ""
    plan: Mapping[str, Any] = _NO_PLAN
    read_to: int = 0
    read_by: str = ""
    faults: tuple[Fault, ...] = ()
    readings: tuple[PageReading, ...] = ()
    wanted: tuple[str, ...] = ()
    transcription: str | None = None
    written_again: bool = False
    pen: str = ""
    taken_by: str = ""
    passes: Mapping[str, PassDone] = _NO_PASSES

    @property
    def has_ruling(self) -> bool:
        """Whether its lines are ruled: as recorded, or as it is begun, which nobody recorded the ruling of."""
        return self.ruled or bool(self.stints) or self.begins is not None

    @property
    def written(self) -> int:
        """Text lines filled; one that the pen stopped within is not among them."""
        return max((stint.ended for stint in self.stints), default=0)

    @property
    def within(self) -> Stint | None:
        """The stint that stopped within its last line, if the pen stands there; None where it ended its line."""
        last = self.stints[-1] if self.stints and not self.whole else None
        return last if last is not None and last.line_from is not None else None

    @property
    def open_faults(self) -> tuple[Fault, ...]:
        """Faults without a remedy yet."""
        return tuple(fault for fault in self.faults if not fault.remedy)

    @property
    def hands(self) -> tuple[str, ...]:
        """The hands that wrote it, each once, in the order of its lines."""
        return tuple(dict.fromkeys(stint.hand for stint in self.stints))

    @property
    def self_checked(self) -> bool:
        """Whether the checker is the only hand that wrote the page."""
        return bool(self.checked_by) and set(self.hands) == {self.checked_by}

    @property
    def start_word(self) -> int | None:
        """The word the page begins with, where that is fixed: it is begun, or held to its beginning."""
        return self.begins if self.begins is not None else self.held

    @property
    def budget_key(self) -> tuple[object, ...]:
        """What of the record the line budget rests on."""
        return (
            self.placements,
            self.held,
            self.begins,
            self.ends,
            self.written,
            self.whole,
            self.within,
            self.pen,
            self.taken_by,
        )

    @property
    def state(self) -> PageState:
        """How far the page has come."""
        if self.whole and self.checked_by:
            return PageState.CHECKED if self.open_faults else PageState.CORRECTED
        if self.whole:
            return PageState.WRITTEN
        if self.stints or self.begins is not None:
            return PageState.BEGUN
        return PageState.RULED if self.ruled else PageState.UNRULED


def _ruled(record: PageRecord, entry: Entry) -> PageRecord:
    return record._replace(
        ruled=True,
        ruled_by=entry.hand,
        ruled_at=entry.at,
        **_on_skin(record, entry),
    )


def _begun(record: PageRecord, entry: Entry) -> PageRecord:
    begins = record.begins if record.stints else _word(entry, "from_word")
    return record._replace(begins=begins, **_on_skin(record, entry))


def _on_skin(record: PageRecord, entry: Entry) -> dict[str, Any]:
    """What is fixed on the skin after an entry."""
    return {"placements": _fixed(record, entry), "lines": _lines(record, entry), "plan": _plan(record, entry)}


def _plan(record: PageRecord, entry: Entry) -> Mapping[str, Any]:
    """What the plan had when the page, and each of its spaces, was fixed; what was fixed first counts."""
    new = entry.facts.get("plan")
    if not isinstance(new, dict):
        return record.plan
    spaces = (each.get(SPACES) for each in (new, record.plan))
    return {
        **new,
        **record.plan,
        SPACES: {name: of for each in spaces if isinstance(each, dict) for name, of in each.items()},
    }


def _fixed(record: PageRecord, entry: Entry) -> tuple[Placement, ...]:
    """The spaces fixed on the page after an entry: those fixed before it, and those it adds."""
    before = record.placements or ()
    known = {placement.id for placement in before}
    return (*before, *(each for each in placements_from(entry.facts) if each.id not in known))


def _lines(record: PageRecord, entry: Entry) -> int | None:
    """Written lines a column on the page, fixed together with its spaces; None where they are as in the book."""
    if record.placements is not None:
        return record.lines
    return _line(entry, "lines", 1) if entry.number("lines") is not None else None


def _word(entry: Entry, name: str) -> int | None:
    word = entry.number(name)
    return None if word is None else max(word, 0)


def _line(entry: Entry, name: str, least: int) -> int:
    line = entry.number(name)
    return least if line is None else min(max(line, least), MOST_LINES)


def _written(record: PageRecord, entry: Entry) -> PageRecord:
    """Lines written anew take the place of what was recorded for them; a check made before no longer holds."""
    first = _line(entry, "from_line", 1)
    last = _line(entry, "to_line", first)
    start = _word(entry, "from_word") or 0
    end = max(_word(entry, "to_word") or start, start)
    stint = Stint(entry.hand, first, last, start, end, entry.at, entry.amount("minutes"), entry.entry)
    stint = stint._replace(text=entry.text("text"), asked=entry.amount("asked"), usual=entry.amount("usual"))
    kept = tuple(_before(old, stint) for old in record.stints if old.from_line < first or old.shares_line(stint))
    begins = start if not kept else record.begins if record.begins is not None else kept[0].from_word
    stint = stint._replace(line_from=_line_from(entry, begins, end), letters=entry.amount("letters"))
    if kept and kept[-1].shares_line(stint):
        stint = stint._replace(goes_on=kept[-1].line_from)
    return record._replace(
        stints=(*kept, stint),
        begins=begins,
        ends=end,
        whole=entry.facts.get("whole") is True,
        pen=entry.hand,
        **_on_skin(record, entry),
        checked_by="",
        checked_at="",
        unread=False,
        checked_text="",
        readings=(),
        read_to=min(record.read_to, first - 1),
        transcription=record.transcription if first > record.written else None,
        written_again=record.written_again or bool(record.checked_by),
        passes=_NO_PASSES,
    )


def _line_from(entry: Entry, begins: int, end: int) -> int | None:
    """The word the last line begins with, where the hand stopped within that line; one of the page's own words."""
    word = _word(entry, "line_from_word")
    return None if word is None or entry.facts.get("whole") is True else min(max(word, begins), end)


def _before(old: Stint, new: Stint) -> Stint:
    """What is left of a stint above the lines written anew."""
    if old.to_line < new.from_line or old.shares_line(new):
        return old
    to_word = max(min(old.to_word, new.from_word), old.from_word)
    return old._replace(to_line=new.from_line - 1, to_word=to_word, line_from=None, text="")


def _checked(record: PageRecord, entry: Entry) -> PageRecord:
    unread = entry.facts.get("read") is False
    how, beside = entry.text("how"), entry.text("beside")
    return record._replace(
        checked_by=entry.hand,
        checked_at=entry.at,
        unread=unread,
        checked_text=entry.text("text"),
        readings=(*record.readings, PageReading(entry.hand, how, beside, entry.at, not unread, entry.entry)),
        read_to=0,
        read_by="",
    )


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
        mended_by="",
        mended_at="",
    )
    return record._replace(faults=(*record.faults, fault))


def _mended(record: PageRecord, entry: Entry) -> PageRecord:
    wanted = entry.text("fault")
    faults = tuple(
        fault._replace(remedy=entry.text("remedy") or "settled", mended_by=entry.hand, mended_at=entry.at)
        if fault.id == wanted
        else fault
        for fault in record.faults
    )
    return record._replace(faults=faults)


def _gone_over(record: PageRecord, entry: Entry) -> PageRecord:
    """A later pass is done; done once more, it leaves open what is named now."""
    found = entry.facts.get("left")
    left = tuple(word for word in found if type(word) is int) if isinstance(found, list) else ()
    done = PassDone(entry.hand, entry.at, left, entry.amount("minutes"))
    return record._replace(passes={**record.passes, entry.text("pass"): done})


def _handed_over(record: PageRecord, entry: Entry) -> PageRecord:
    """A hand-over that names nobody only leaves a note for whoever comes next."""
    to = entry.text("to")
    return record._replace(pen=to, taken_by=to) if to else record


_STEPS: dict[str, Callable[[PageRecord, Entry], PageRecord]] = {
    "ruled": _ruled,
    "begun": _begun,
    "written": _written,
    "checked": _checked,
    "read-to": lambda record, entry: record._replace(read_to=_line(entry, "line", 0), read_by=entry.hand),
    "fault": _fault,
    "settled": _mended,
    "held": lambda record, entry: record._replace(held=_word(entry, "from_word")),
    "released": lambda record, _: record._replace(held=None),
    "transcribed": lambda record, entry: record._replace(transcription=entry.text("text")),
    "handover": _handed_over,
    "gone-over": _gone_over,
}

_NO_NUMBERS: Mapping[str, int] = {}

BLANK = PageRecord()
"""A page nothing has happened on."""


def fold_page(entries: Iterable[Entry], numbers: Mapping[str, int] = _NO_NUMBERS) -> PageRecord:
    """The page's record after these entries, oldest first; entries of other kinds change nothing.

    ``numbers`` are those of the book's faults, by their entries.
    """
    record = BLANK
    for entry in entries:
        step = _STEPS.get(entry.what)
        if step is not None:
            record = step(record, entry)
    if record.faults and numbers:
        record = record._replace(faults=tuple(each._replace(number=numbers.get(each.id, 0)) for each in record.faults))
    return record
