"""The handover: all the next hand needs to go on where the pen stopped, and the entries by which it takes the desk."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

from copydesk.book.columns import Cell, Column, Report, given, one_of, page_or_none
from copydesk.book.common.errors import InvalidValueError, UnknownNameError
from copydesk.book.layout.passes import OF_TEXT
from copydesk.book.structure.page import Page
from copydesk.tracking.checking.eye_skip_watch import watch_for
from copydesk.tracking.checking.fault_report import FaultAccount, fault_accounts
from copydesk.tracking.fit.stretches import TARGETS, Room, room_ahead
from copydesk.tracking.later.later_work import passes_on
from copydesk.tracking.ledger.entry import Act
from copydesk.tracking.ledger.entry_kinds import SheetPlace
from copydesk.tracking.passes.pass_items import left_out_words, pass_items
from copydesk.tracking.scribes.stopping_point import (
    LinePlace,
    RunLine,
    StoppingPoint,
    lines_ran,
    lines_to_run,
    sentences_from,
    stopping_point,
    words_before,
    words_from,
)
from copydesk.tracking.state.writing_tools import TOOLS, HandTools, tools_of
from copydesk.tracking.views.space_homes import open_spaces
from copydesk.tracking.views.space_view import SpaceAccount, spaces_on

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from copydesk.book.text.exemplar import Place
    from copydesk.tracking.ledger.entry import Entry
    from copydesk.tracking.state.book_state import BookState


LAST_WORDS, NEXT_WORDS = 6, 30

PAGES_AHEAD = 3
"""Pages looked through for spaces the pen will come to."""

NOTES = 5
"""Notes shown, the newest of those left with any entry."""


_NOTED = ("ruled", "begun", "written", "ruling", "checked")
"""Entries whose notes may be about pen, ink, skin and ruling."""


class Away(NamedTuple):
    """A sheet that is not at the desk: its name, its place, who has it."""

    sheet: str
    place: str
    who: str


class Handover(NamedTuple):
    """The stopping point and what there is to know there.

    ``next_word`` is the exemplar's position of the word written next, ``place`` the exemplar's own leaf and line there.
    ``keep`` tells what spaces have no place yet, or only on a page still to be ruled; ``later`` what the pen leaves out
    on this page, since a later pass writes it.
    ``note`` is what the leaving hand wrote for the next; ``notes`` are the newest left with other entries.
    """

    point: StoppingPoint
    hand: str
    last_words: str
    next_words: str
    next_word: int
    place: Place | None
    room: Room
    watch: tuple[str, ...]
    faults: tuple[FaultAccount, ...]
    spaces: tuple[SpaceAccount, ...]
    sheet: str
    away: tuple[Away, ...]
    before: tuple[RunLine, ...]
    after: tuple[RunLine, ...]
    note: str
    notes: tuple[Entry, ...]
    tools: tuple[HandTools, ...] = ()
    keep: tuple[str, ...] = ()
    later: tuple[str, ...] = ()

    @property
    def goes_on(self) -> LinePlace:
        """The line in which work goes on, or where it ended."""
        return self.point.goes_on or self.point.stop


def handover(state: BookState, page: Page | None = None) -> Handover:
    """The handover on ``page``; where none is named, where the pen stopped last.

    Raises:
        CopydeskError: where the book has no such page.
    """
    point = stopping_point(state, page)
    at, ahead = point.stop.page.index, point.ahead
    next_word = state.copy.word(point.piece)
    place = state.collation.place(Page.at(ahead))
    noted = state.exemplar.place_of(next_word) if state.exemplar is not None else None
    # A leaf and line lead to the place; where none is noted, the next words must, so they are whole sentences.
    next_words = words_from if noted is not None else sentences_from
    return Handover(
        point=point,
        hand=state.hand_on(at),
        last_words=words_before(state, point.piece if at == ahead else _end_of(state, at), LAST_WORDS),
        next_words=next_words(state, point.piece, NEXT_WORDS),
        next_word=next_word,
        place=noted,
        room=room_ahead(state, ahead),
        watch=tuple(each.sentence for each in watch_for(state, ahead)),
        faults=_open_faults(state, Page.at(at)),
        spaces=_spaces_ahead(state, point),
        sheet=place.sheet_name,
        away=_away(state),
        before=lines_ran(state, at),
        after=lines_to_run(state, ahead) if point.goes_on is not None else (),
        note=_note(state, Page.at(ahead)),
        notes=_notes(state),
        tools=tuple(HandTools(hand.id, tools_of(state, hand.id)) for hand in state.book.hands),
        keep=tuple(open_spaces(state)),
        later=tuple(_left_to_later(state, ahead, point.piece)),
    )


def _left_to_later(state: BookState, index: int, piece: int) -> Iterator[str]:
    """What of a page's text from ``piece`` on is left to each later pass, with its place."""
    for work in passes_on(state, index):
        items = (item for item in pass_items(state, index, work) if item.sort in OF_TEXT)
        ahead = [item for item in items if state.copy.piece(item.word) >= piece]
        if ahead:
            yield f"{work.plan.name}: {'; '.join(left_out_words(item) for item in ahead)}"


def _end_of(state: BookState, index: int) -> int:
    return state.budget.pages[index].end


def _open_faults(state: BookState, here: Page) -> tuple[FaultAccount, ...]:
    """The faults open in the whole book, those of this page first."""
    found = [each for each in fault_accounts(state) if each.state == "open"]
    return tuple(sorted(found, key=lambda each: each.page != here))


def _spaces_ahead(state: BookState, point: StoppingPoint) -> tuple[SpaceAccount, ...]:
    """Spaces for which the pen must leave room: on this page from its line on, and on the next pages."""
    pages = range(point.ahead, min(point.ahead + PAGES_AHEAD, state.collation.pages))
    found = [space for index in pages for space in spaces_on(state, index)]
    return tuple(space for space in found if not space.record.ended and not _passed(space, point.goes_on))


def _passed(space: SpaceAccount, goes_on: LinePlace | None) -> bool:
    """Whether the pen is past a space's last line; a space across all columns is passed with the first."""
    where = space.placement
    if goes_on is None or where is None or space.page != goes_on.page or not where.lines:
        return False
    return (where.column or 1, where.from_line + where.lines - 1) < (goes_on.column, goes_on.line)


def _away(state: BookState) -> tuple[Away, ...]:
    """Sheets that are anywhere but at the desk, in the order of the book."""
    records = ((name, state.sheet_record(name)) for name in state.collation.sheet_names)
    away = ((name, record) for name, record in records if record.place is not SheetPlace.DESK)
    return tuple(Away(name, record.place, record.who) for name, record in away)


def _note(state: BookState, page: Page) -> str:
    """The note left for the hand that goes on with a page, if nothing was written there since."""
    entries = state.ledger.live("page", str(state.collation.skin_page(page)))
    since = [entry for entry in entries if entry.what == "written" or (entry.what == "handover" and entry.text("note"))]
    return since[-1].text("note") if since and since[-1].what == "handover" else ""


def _notes(state: BookState) -> tuple[Entry, ...]:
    """The newest entries that carry a note on the work, the newest first; a colophon kept is none."""
    found: list[Entry] = []
    for entry in reversed(list(state.ledger)):
        if len(found) == NOTES:
            break
        if entry.what in _NOTED and entry.text("note") and not state.ledger.is_void(entry.entry):
            found.append(entry)
    return tuple(found)


def leave_note(state: BookState, page: Page | None, note: str) -> Act:
    """Leave a note for the next hand.

    Raises:
        InvalidValueError: where there is nothing in it.
    """
    if not note.strip():
        raise InvalidValueError("a note for the next hand needs its words; nothing was recorded")
    return _act(state, page, note=note.strip())


def take_desk(state: BookState, to: str, desk: str, *, page: Page | None = None, note: str = "") -> list[Act]:
    """What is recorded, together, when the hand ``to`` takes over at ``desk``.

    Raises:
        UnknownNameError: where the book has no such hand.
    """
    if state.book.hand(to) is None:
        known = ", ".join(hand.id for hand in state.book.hands)
        raise UnknownNameError(f"there is no hand {to!r} in this book; its hands are {known}")
    point = stopping_point(state, page)
    giver = state.hand_on(point.stop.page.index)
    taken = _act(state, page, to=to, note=note.strip(), **{"from": giver})
    return [Act("at-desk", desk, "", {}), taken]


def _act(state: BookState, page: Page | None, **facts: str) -> Act:
    """A handover at the line where work goes on; facts that say nothing are left out."""
    point = stopping_point(state, page)
    where = point.goes_on or point.stop
    kept: dict[str, object] = {name: value for name, value in facts.items() if value}
    kept |= {"column": where.column, "line": where.line, "word": state.copy.word(point.piece)}
    return Act("handover", str(state.collation.skin_page(where.page)), str(where.page), kept)


def _next_line(given: Handover) -> dict[str, object] | None:
    goes_on = given.point.goes_on
    return {"page": str(goes_on.page), "column": goes_on.column, "line": goes_on.line} if goes_on else None


def _faults(given: Handover) -> list[dict[str, object]]:
    return [
        {"page": each.label, "fault": each.fault.id, "kind": each.fault.kind, "number": each.fault.number}
        for each in given.faults
    ]


HANDOVER: Report[Handover] = one_of(
    "handover",
    "Where the pen stopped, and what the next hand needs there.",
    Column("page", Cell.PAGE, "the page it stopped on", lambda h: str(h.point.stop.page)),
    Column("column", Cell.NUMBER, "the column", "point.stop.column"),
    Column("line", Cell.NUMBER, "the last line written in it; 0 where none is", "point.stop.line"),
    Column("text_line", Cell.NUMBER, "the same line counted through all columns", "point.stop.text_line"),
    Column("in_line", Cell.YES_NO, "whether it stopped within the line", "point.within"),
    Column("last_words", Cell.TEXT, "the last words written"),
    Column("next_words", Cell.TEXT, "the words to write next"),
    Column("next_word", Cell.NUMBER, "the exemplar's word to write next, from 0"),
    Column("goes_on", Cell.OBJECT, "page, column and line to write next; null where the text has ended", _next_line),
    Column(
        "exemplar",
        Cell.OBJECT,
        "the exemplar's own leaf and line there; null where not noted",
        lambda h: {"leaf": h.place.leaf, "line": h.place.line} if h.place else None,
    ),
    Column("hand", Cell.TEXT, "the hand that stopped"),
    Column("faults_open", Cell.NUMBER, "faults not yet corrected", lambda h: len(h.faults)),
    Column("faults", Cell.ROWS, "page, fault and kind of each", _faults),
    Column(
        "lines_over",
        Cell.NUMBER,
        "lines by which the text ahead passes its room; negative where room is left",
        "room.over",
    ),
    Column(
        "letters_needed",
        Cell.NUMBER,
        "letters a line that would land right; null where none would",
        lambda h: round(h.room.needed, 1) if h.room.needed is not None else None,
    ),
    Column("letters_usual", Cell.NUMBER, "letters a line the next hand writes", lambda h: round(h.room.usual, 1)),
    Column(
        "hands",
        Cell.ROWS,
        "what is needed of every hand that writes up to there; none where the text may run on",
        lambda h: h.room.need.targets if h.room.need is not None else (),
        of=TARGETS,
    ),
    Column("until", Cell.PAGE, "the last page of the text ahead that is counted", lambda h: page_or_none(h.room.last)),
    Column("watch", Cell.TEXTS, "words that recur nearby and may lead the eye astray", lambda h: list(h.watch)),
    Column(
        "spaces",
        Cell.ROWS,
        "space and page of each space near",
        lambda h: [{"space": each.plan.id, "page": str(each.page)} for each in h.spaces],
    ),
    Column("keep", Cell.TEXTS, "room still to be kept for spaces, and spaces without a place", lambda h: list(h.keep)),
    Column("later", Cell.TEXTS, "what is left out there, since a later pass writes it", lambda h: list(h.later)),
    Column("sheet", Cell.TEXT, "the loose sheet to take, as 3.2"),
    Column(
        "away",
        Cell.ROWS,
        "sheet, place and who of each sheet not at the desk",
        lambda h: [{"sheet": each.sheet, "place": each.place, "who": each.who} for each in h.away],
    ),
    Column("tools", Cell.ROWS, "ink, pen and pounce of each hand now", lambda h: h.tools, of=TOOLS),
    Column("note", Cell.TEXT, "what the leaving hand noted"),
    Column(
        "also_begun", Cell.TEXTS, "other pages begun and not finished", lambda h: [str(page) for page in h.point.also]
    ),
)
TAKEN: Report[Mapping[str, Any]] = one_of(
    "handover --to, --note",
    "What is added where a handover or a note was recorded.",
    given("note", Cell.TEXT, "the note recorded"),
    given("to", Cell.TEXT, "the hand that took the desk over; null with a note alone"),
    given("entry", Cell.TEXT, "the entry made"),
)
