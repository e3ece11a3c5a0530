"""Whether a correction fits: the room at a fault in millimetres, the skin there, and the ways of mending it, ranked.

The ways are those of ``comparing/corrections.py``. A flesh side suffers more from the knife than a hair side: E.
Johnston, *Writing and Illuminating, and Lettering* (1906), p. 174. Our own judgement: words written between the lines
or in a margin stand at ``SMALL`` of their usual size; a hand that puts right words in the room of wrong ones writes
as much closer as is hard for it elsewhere, and no more; skin scraped once is not scraped again while another way fits.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.columns import Cell, Column, Report, one_of, rows_of
from copydesk.book.common.phrases import capital, count_of, decimal
from copydesk.book.structure.page import Surface
from copydesk.comparing.corrections import (
    EXPUNGED,
    FROM_HERE,
    IN_MARGIN,
    INTERLINED,
    LEAF_CANCELLED,
    REMEDIES,
    SCRAPED,
    STRUCK,
    remedy,
)
from copydesk.tracking.fit.fault_room import FaultRoom, room_at
from copydesk.tracking.fit.stretches import HARD_SHARE
from copydesk.tracking.views.page_view import page_account

if TYPE_CHECKING:
    from collections.abc import Iterator

    from copydesk.book.structure.page import Page
    from copydesk.tracking.ledger.page_record import Fault
    from copydesk.tracking.state.book_state import BookState


SMALL = 0.6
"""The share of their usual size at which words are written between the lines or in a margin."""

MARGIN_KEPT = 6.0
"""Millimetres of a margin that stay clear: at the fold or the edge, and beside the text."""

MOST_MARGIN_LINES = 8
"""Lines of small writing that a correction in a margin may take before it is no correction but a page."""


class CorrectionWay(NamedTuple):
    """A way of mending a fault: the remedy's name, whether it fits, what it comes to and costs, what is against it.

    ``barred`` says that no knife may touch the place, which the way would need.
    """

    name: str
    fits: bool
    says: str
    cost: str
    against: tuple[str, ...] = ()
    barred: bool = False


class CorrectionFit(NamedTuple):
    """A fault with the room and the skin about it, and the ways of mending it, the best first."""

    page: Page
    fault: Fault
    room: FaultRoom
    ways: tuple[CorrectionWay, ...]


def correction_fit(state: BookState, page: Page, fault: Fault) -> CorrectionFit:
    """What is to be known before a fault of a page is mended."""
    room = room_at(state, page, fault)
    ways = [*_without_knife(state, fault, room), *_by_knife(room), _new_leaf(state, page)]
    order = {way.name: at for at, way in enumerate(_preferred(fault, room, ways))}
    return CorrectionFit(page, fault, room, tuple(sorted(ways, key=lambda way: (not way.fits, order[way.name]))))


def _preferred(fault: Fault, room: FaultRoom, ways: list[CorrectionWay]) -> list[CorrectionWay]:
    """The ways in the order in which they are gentler, all of them fitting alike."""
    if not fault.should:
        order = (SCRAPED, EXPUNGED, STRUCK, FROM_HERE, LEAF_CANCELLED)
    elif not fault.stands:
        order = (INTERLINED, IN_MARGIN, SCRAPED, FROM_HERE, LEAF_CANCELLED)
    else:
        order = (SCRAPED, INTERLINED, IN_MARGIN, FROM_HERE, LEAF_CANCELLED)
    tired = bool(room.scraped_here or room.scraped_behind)
    return sorted(ways, key=lambda way: (tired and way.name in (SCRAPED, FROM_HERE), order.index(way.name)))


def _by_knife(room: FaultRoom) -> Iterator[CorrectionWay]:
    against = tuple(_against_knife(room))
    may = not room.never
    fits, says, cost = _in_place(room)
    yield CorrectionWay(SCRAPED, fits and may, says, cost, against, not may)
    if room.change > 0 and room.slacks:
        lines = room.lines_again
        says = (
            f"{count_of(lines, 'line')} from here {'takes' if lines == 1 else 'take'} it up"
            if lines
            else "the paragraph cannot take it up"
        )
        scraped = lines or len(room.slacks)
        cost = f"{count_of(scraped, 'line')} scraped and written again"
        yield CorrectionWay(FROM_HERE, bool(lines) and may, says, cost, against, not may)


def _in_place(room: FaultRoom) -> tuple[bool, str, str]:
    """Whether the right words go where the wrong ones stand, or else into the rest of the line."""
    close = 1 + HARD_SHARE
    spot = f"{_mm(room.wrong)} scraped"
    if not room.right:
        return True, f"{_mm(room.wrong)} left blank; a line filler or wider letters take it up", spot
    if room.right <= room.wrong * close:
        closer = room.right - room.wrong
        how = f"{_mm(closer)} closer" if closer > 0 else f"{_mm(-closer)} left over" if closer < 0 else "just so"
        return True, f"{_mm(room.right)} in the room of {_mm(room.wrong)}: {how}", spot
    if not room.slacks:
        return False, "its line is not known, nor what is free there", spot
    rest = room.rest + room.wrong
    fits = room.right + room.rest <= (rest + max(room.slack, 0.0)) * close
    said = f"the line from here to its end: {_mm(room.change)} more, {_mm(max(room.slack, 0.0))} free"
    return fits, said, f"{_mm(rest)} scraped and written again"


def _against_knife(room: FaultRoom) -> Iterator[str]:
    yield from room.never
    if room.scraped_here:
        yield f"scraped here before ({_faults(room.scraped_here)}): the skin may not bear it again"
    if room.scraped_behind:
        yield f"scraped on the other side of it ({_faults(room.scraped_behind)}): the skin is thin there"
    if room.behind:
        yield f"on the other side of it: {room.behind}"
    if room.surface is Surface.FLESH:
        yield "flesh side: it suffers more from the knife than hair"


def _without_knife(state: BookState, fault: Fault, room: FaultRoom) -> Iterator[CorrectionWay]:
    small = room.right * SMALL
    away = f"; dots go under the {_mm(room.wrong)} that stand wrong" if fault.stands else ""
    if not fault.should:
        yield CorrectionWay(EXPUNGED, True, f"dots under {_mm(room.wrong)}", "nothing is taken off; it stays in sight")
        yield CorrectionWay(STRUCK, True, f"a stroke through {_mm(room.wrong)}", "it stays in sight")
        return
    above = room.measure - room.offset
    says = f"{_mm(small)} written small, {_mm(above)} from here to the line's end{away}"
    yield CorrectionWay(INTERLINED, small <= above, says, "it stays in sight, with its mark")
    margins = state.layout.margins
    wide = max(margins.outer, margins.inner) - MARGIN_KEPT
    lines = math.ceil(small / wide) if wide > 0 else 0
    says = (
        f"{count_of(lines, 'short line')} of {_mm(wide)} in the margin{away}" if lines else "no margin is wide enough"
    )
    if lines > MOST_MARGIN_LINES and margins.foot > state.layout.line_height * 2:
        lines = math.ceil(small / room.measure)
        says = f"{count_of(lines, 'line')} in the top or bottom margin{away}"
    yield CorrectionWay(IN_MARGIN, 0 < lines <= MOST_MARGIN_LINES, says, "it stays in sight, with its mark")


def _new_leaf(state: BookState, page: Page) -> CorrectionWay:
    both = [page_account(state, each) for each in (page.index, page.index ^ 1) if each < state.collation.pages]
    lines = sum(account.record.written for account in both)
    begun = [space.plan.id for account in both for space in account.spaces if space.record.stages]
    lost = f", and what was done in {count_of(len(begun), 'space')} ({', '.join(begun)})" if begun else ""
    cost = f"{count_of(lines, 'written line')} of both its pages again{lost}"
    return CorrectionWay(LEAF_CANCELLED, True, "its text is written again on another leaf", cost)


def _mm(length: float) -> str:
    return f"{decimal(length, 1)} mm"


def _faults(numbers: tuple[int, ...]) -> str:
    return ", ".join(f"fault {number}" for number in numbers)


def room_lines(found: CorrectionFit) -> list[str]:
    """The widths at a fault, the side of the skin and what is free there, in sentences."""
    room = found.room
    widths = (("wrong", room.wrong), ("right", room.right))
    told = "; ".join(f"{head}: {_mm(width)}" for head, width in widths if width)
    letters = f"{told}, in {room.hand}'s letters; " if told else ""
    said = [capital(f"{letters}{room.surface} side.")]
    if room.slacks:
        free = f"{_mm(room.slack)} free in the line" if room.slack >= 0 else f"the line is {_mm(-room.slack)} over"
        lines = len(room.slacks)
        more = f"{_mm(room.paragraph_slack)} in the {lines} lines to where its paragraph ends on this page"
        said.append(f"About {free}, {more if lines > 1 else 'and its paragraph ends with it on this page'}.")
    return said


def skin_lines(found: CorrectionFit) -> list[str]:
    """What there is against a knife at a fault, in sentences."""
    return [f"{capital(each)}." for each in _against_knife(found.room)]


class ToldWay(NamedTuple):
    """A way as people choose among them: the remedy's name, the way in a line, and sentences to be minded with it."""

    name: str
    head: str
    note: tuple[str, ...]


def ways_told(found: CorrectionFit) -> list[ToldWay]:
    """Every remedy: the ways that fit first, and last those that are none for such a fault, by their names alone."""
    told = [_told(way) for way in found.ways]
    known = {way.name for way in told}
    return told + [ToldWay(each.name, each.name, (each.how,)) for each in REMEDIES if each.name not in known]


def _told(way: CorrectionWay) -> ToldWay:
    why = "" if way.fits else " (never to be scraped)" if way.barred else " (does not fit)"
    against = (f"Against it: {each}." for each in way.against)
    return ToldWay(way.name, f"{way.name}: {way.says}{why}", (remedy(way.name).how, f"Costs: {way.cost}.", *against))


WAYS: Report[CorrectionWay] = rows_of(
    "faults --fit, a way",
    "One way of mending the fault.",
    Column("remedy", Cell.TEXT, "its name, for record ... settled --remedy", "name", "remedy"),
    Column("fits", Cell.YES_NO, "whether it fits there", "fits", "fits", lambda way, _: "yes" if way.fits else "no"),
    Column("says", Cell.TEXT, "what it comes to", "says", "what it comes to"),
    Column("cost", Cell.TEXT, "what it costs", "cost", "costs"),
    Column("against", Cell.TEXTS, "what is against it", lambda way: list(way.against)),
    Column("never_scraped", Cell.YES_NO, "whether it needs a knife where none may touch", "barred"),
)
FIT: Report[CorrectionFit] = one_of(
    "faults --fit",
    "Whether the correction of a fault fits; lengths in mm.",
    Column("page", Cell.PAGE, "the page", lambda of: str(of.page)),
    Column("number", Cell.NUMBER, "the fault's number", "fault.number"),
    Column("hand", Cell.TEXT, "the hand in whose letters it is measured", "room.hand"),
    Column("wrong", Cell.NUMBER, "width of the words that stand", lambda of: round(of.room.wrong, 2)),
    Column("right", Cell.NUMBER, "width of the words that should stand", lambda of: round(of.room.right, 2)),
    Column(
        "line_slack",
        Cell.NUMBER,
        "what is free on the line; null where the line is not known",
        lambda of: round(of.room.slack, 2) if of.room.slacks else None,
    ),
    Column(
        "paragraph_slack",
        Cell.NUMBER,
        "what is free from there to the paragraph's end on the page; null where the line is not known",
        lambda of: round(of.room.paragraph_slack, 2) if of.room.slacks else None,
    ),
    Column("surface", Cell.TEXT, "hair or flesh", lambda of: of.room.surface.value),
    Column(
        "scraped_here",
        Cell.OBJECT,
        "faults scraped on that line before, by number",
        lambda of: list(of.room.scraped_here),
    ),
    Column("scraped_behind", Cell.OBJECT, "the same on the other side", lambda of: list(of.room.scraped_behind)),
    Column(
        "behind",
        Cell.TEXT,
        "what stands on the other side; null where nothing is known to",
        lambda of: of.room.behind or None,
    ),
    Column("ways", Cell.ROWS, "the ways of mending it, the best first", "ways", of=WAYS),
)
