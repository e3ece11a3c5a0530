"""The handover in sentences, under a heading each: for the next hand's screen, for paper and for the command line."""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.phrases import count_of, decimal
from copydesk.book.common.sanitize import sanitize
from copydesk.book.common.units import show_length
from copydesk.tracking.checking.open_faults import fault_words
from copydesk.tracking.decoration.space_report import place_words
from copydesk.tracking.fit.stretches import asked_words
from copydesk.tracking.ledger.timestamps import say_at
from copydesk.tracking.scribes.stopping_point import ends_sentence
from copydesk.tracking.state.writing_tools import tools_words
from copydesk.tracking.views.narrow_lines import narrow_sentences

if TYPE_CHECKING:
    from collections.abc import Iterator

    from copydesk.book.plan import Book
    from copydesk.tracking.checking.fault_report import FaultAccount
    from copydesk.tracking.fit.stretches import Room
    from copydesk.tracking.ledger.entry import Entry
    from copydesk.tracking.scribes.handover import Handover
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.space_view import SpaceAccount


class HandoverLine(NamedTuple):
    """A sentence under its heading, which is empty in a further line of the same heading; ``wrong`` marks a problem."""

    head: str
    says: str
    wrong: bool = False


def handover_lines(state: BookState, given: Handover) -> list[HandoverLine]:
    """Everything of a handover but how the lines ran."""
    return [
        HandoverLine("Stopped", _stopped(state, given)),
        HandoverLine("Go on", _go_on(state.book, given)),
        *([HandoverLine("Note", sanitize(given.note))] if given.note else []),
        HandoverLine("Room", _room(state.book, given.room), given.room.over > 0),
        *_listed("Narrow", narrow_sentences(state, given.goes_on.page.index), wrong=True),
        HandoverLine("Hands", _hands(state)),
        *_listed("Watch", given.watch or ("no words recur close together here",)),
        *_listed("Faults", [fault_line(each) for each in given.faults] or ("none open",), wrong=bool(given.faults)),
        *_listed(
            "Spaces",
            [space_line(each, state.book) for each in given.spaces] or ("none on this page or the next two",),
        ),
        *(_listed("Keep", given.keep, wrong=True) if given.keep else ()),
        *_listed("Leave", given.later),
        HandoverLine("Sheets", _sheets(state, given)),
        HandoverLine("Pen", _pen(state)),
        *(
            [HandoverLine("Tools", words)]
            if (words := tools_words(each for each in given.tools if any(each.tools)))
            else []
        ),
        HandoverLine("Ruling", _ruling(state, given.goes_on.page.index)),
        *_listed("Notes", [_note(entry, state.book) for entry in given.notes]),
        *_also(given, state.book),
    ]


def _listed(head: str, lines: list[str] | tuple[str, ...], *, wrong: bool = False) -> Iterator[HandoverLine]:
    for at, line in enumerate(lines):
        yield HandoverLine(head if not at else "", sanitize(line), wrong)


def _stopped(state: BookState, given: Handover) -> str:
    stop = given.point.stop
    if not stop.line:
        return f"nothing is written on {state.book.named(stop.page)} yet"
    stint = state.record(state.skin_at(stop.page.index)).stints[-1]
    how = "within" if given.point.within else "at the end of"
    words = f', after "{given.last_words}"' if given.last_words else ""
    place = f"{state.book.named(stop.page)}, column {stop.column}, {how} line {stop.line}"
    return f"{place}{words}; {stint.hand}, {say_at(stint.at)}"


def _go_on(book: Book, given: Handover) -> str:
    words = f': "{next_shown(given)}"' if given.next_words and given.point.goes_on is not None else ""
    exemplar = in_exemplar(given) if given.point.goes_on is not None else ""
    return f"{where_to_go_on(book, given)}{words}" + (f"; exemplar {exemplar}" if exemplar else "")


def next_shown(given: Handover) -> str:
    """The words to write next, with points after them where their sentence goes on."""
    words = given.next_words
    return words if not words or ends_sentence(words) else f"{words} …"


def where_to_go_on(book: Book, given: Handover) -> str:
    """Page, column and line to go on at; or that the text is written to its end."""
    where = given.point.goes_on
    if where is None:
        return "nothing: the text is written to its end"
    within = given.point.within and where.page == given.point.stop.page
    after = ", after the words already there" if within else ""
    return f"{book.named(where.page)}, column {where.column}, line {where.line}{after}"


def in_exemplar(given: Handover) -> str:
    """``14v 6``; or how many words after the place that is noted; empty where the exemplar has no such place."""
    place = given.place
    if place is None:
        return ""
    after = given.next_word - place.word
    return f"{place}" if not after else f"{count_of(after, 'word')} after {place}"


def _room(book: Book, room: Room) -> str:
    usual, word = f"{decimal(room.usual, 1)} letters a line", "agreed" if room.agreed else "usual"
    if room.last is None:
        return f"no later page has a fixed beginning: write as {word}, {usual}"
    last = book.named(room.last)
    if not room.over:
        return f"the text fits to the end of {last}: write as {word}, {usual}"
    lines = f"{count_of(abs(room.over), 'line')} {'over' if room.over > 0 else 'left'}"
    if room.needed is None:
        return f"{lines} to the end of {last}, and no number of letters a line makes it fit: choose a remedy first"
    said = f"{lines} to the end of {last}: write"
    if room.need is not None and len(room.need.targets) > 1:
        return f"{said} {asked_words(room.need)}"
    if decimal(room.needed, 1) == decimal(room.usual, 1):
        return f"{said} {f'slightly closer than {word}' if room.over > 0 else f'as {word}'}, {usual}"
    closer = room.needed > room.usual
    way = ("closer, " if closer else "wider, ") if closer == (room.over > 0) else ""
    needed, often = decimal(room.needed, 1), word if room.agreed else "usually"
    return f"{said} {way}{needed} letters a line; {often} {decimal(room.usual, 1)}"


def _hands(state: BookState) -> str:
    said = (f"{hand.id} writes {decimal(state.letters_of(hand.id), 1)} letters a line" for hand in state.book.hands)
    return ", ".join(said)


def fault_line(account: FaultAccount) -> str:
    """An open fault: ``9v, fault 3, eye-skip, column 2, line 6: "the lock" is missing``."""
    return f"{sanitize(account.named)}, {fault_words(account.fault)}"


def space_line(account: SpaceAccount, book: Book) -> str:
    """A space to leave room for: ``frost, miniature, 3v, column 1, lines 5 to 16: a frozen mill``."""
    plan = account.plan
    said = f"{plan.id}, {plan.kind}, {place_words(account, book)}"
    return sanitize(said + (f": {plan.subject}" if plan.subject else ""))


def _sheets(state: BookState, given: Handover) -> str:
    here = state.sheet_record(given.sheet)
    said = [f"{state.book.named(given.goes_on.page)} is on sheet {given.sheet}, {here.place.words}"]
    away = sorted(given.away, key=lambda each: (each.place, each.who))
    for (place, who), sheets in groupby(away, key=lambda each: (each.place, each.who)):
        named = f" ({who})" if who else ""
        said.append(f"{', '.join(each.sheet for each in sheets)} {place.words}{named}")
    return sanitize("; ".join(said))


def _pen(state: BookState) -> str:
    script, unit = state.book.script, state.book.unit
    said = [script.name] if script.name else []
    if script.nib:
        said.append(f"nib {show_length(script.nib, unit)}")
    given = {name: value for name, value in script._asdict().items() if name in _HEIGHTS and value}
    told = ", ".join(f"{name.replace('_', '-')} {decimal(value)}" for name, value in given.items())
    said.append(f"in nib widths: {told}" if told else "usual heights of letters")
    return sanitize(", ".join(said))


_HEIGHTS = ("x_height", "ascender", "descender", "interline")


def _ruling(state: BookState, index: int) -> str:
    layout, unit = state.layout_on(index), state.book.unit
    columns = "one column" if layout.columns == 1 else f"{layout.columns} columns"
    first = state.book.ruling.first_line
    return (
        f"{layout.lines} written lines, {show_length(layout.line_height, unit)} each, in {columns} of "
        f"{show_length(layout.measure, unit)}; writing begins {first} the top ruled line"
    )


def _note(entry: Entry, book: Book) -> str:
    where = f"{book.renamed(entry.page)}, " if entry.page else ""
    return f'{where}{entry.hand}, {say_at(entry.at)}: "{entry.text("note")}"'


def _also(given: Handover, book: Book) -> Iterator[HandoverLine]:
    if given.point.also:
        yield HandoverLine("Begun", f"also begun and not whole: {', '.join(map(book.named, given.point.also))}")
