"""The panel beside the gatherings: each mark of the page's cell with what it means, then the text and what to watch.

Every group of lines has a short form, which takes a single row where the panel lies low.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.phrases import count_of
from copydesk.book.common.sanitize import sanitize
from copydesk.desk.wording.cell_words import ACT_TONES, CHECK_SIGNS, FLAWED, UNMET, cell_words, fault_marks, space_marks
from copydesk.desk.wording.lines import PanelLine
from copydesk.desk.wording.page_words import (
    knife_lines,
    leaf_lines,
    letter_lines,
    lines_left_out,
    next_words,
    place_line,
    readings_said,
    sheet_lines,
    space_place,
    text_words,
    unsettled_lines,
    watch_lines,
)
from copydesk.desk.wording.stretch_words import fit_lines
from copydesk.tracking.checking.open_faults import fault_words
from copydesk.tracking.ledger.timestamps import say_at
from copydesk.tracking.views.consequences import meeting_words
from copydesk.tracking.views.gathering_progress import WORK, page_glance
from copydesk.tracking.views.page_view import CheckState

if TYPE_CHECKING:
    from collections.abc import Iterator

    from copydesk.desk.wording.cell_words import CellWords
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.gathering_progress import BookGlance
    from copydesk.tracking.views.page_view import PageAccount
    from copydesk.tracking.views.space_view import SpaceAccount


class PanelGroup(NamedTuple):
    """Lines that belong together; ``head`` and ``short`` are what one row says of them, where not the lines do."""

    lines: tuple[PanelLine, ...]
    head: str = ""
    short: tuple[PanelLine, ...] = ()


def desk_panel(state: BookState, account: PageAccount) -> list[PanelGroup]:
    """The panel for one page."""
    words = cell_words(account)
    return [
        PanelGroup((_place(state, account), *sheet_lines(state, account))),
        PanelGroup((PanelLine("Next", next_words(state, account), tone="work"),)),
        PanelGroup((_figures(account, words),)),
        *_hands(account, words),
        *_amiss(state, account),
        *(PanelGroup((line,)) for line in (*lines_left_out(state, account), *fit_lines(state, account))),
        *_group(tuple(unsettled_lines(state))),
        PanelGroup((PanelLine("Text", text_words(state, account)),)),
        *_group(tuple(watch_lines(state, account))),
        *_group(tuple(leaf_lines(state, account))),
        *_group(tuple(letter_lines(state, account))),
        *_group(tuple(knife_lines(state, account))),
    ]


def _group(lines: tuple[PanelLine, ...]) -> Iterator[PanelGroup]:
    """One group where there are lines; the mark of a flaw stands in the place of the word."""
    if lines:
        shown = (line._replace(head=FLAWED) if line.head in ("Flaw", "Flaws") else line for line in lines)
        yield PanelGroup(tuple(shown))


def _place(state: BookState, account: PageAccount) -> PanelLine:
    line = place_line(state, account)
    beside = account.place.conjugate
    act = f" ({page_glance(state, beside.index).act})" if beside is not None else ""
    return line._replace(says=f"{line.says}{act}", tone="ink")


def _figures(account: PageAccount, words: CellWords) -> PanelLine:
    if not words.figures:
        return PanelLine("Lines", f"{count_of(account.budget.room, 'line')}; no text comes here", tone="quiet")
    budget, over = account.budget, account.over
    ruled = "ruled" if account.record.has_ruling else "to rule"
    said = f"{count_of(budget.room, 'line')} for text, {ruled}"
    if account.record.written:
        said += f", {account.record.written} written"
    if over:
        text = "the text is " if over > 0 else "the text leaves "
        said += f"; {text}{count_of(abs(over), 'line')}{' over' if over > 0 else ' empty'}"
    return PanelLine(f"{words.figures} {words.over}".strip(), said, over > 0, "wrong" if over > 0 else "ink")


def _hands(account: PageAccount, words: CellWords) -> Iterator[PanelGroup]:
    """Each hand with its lines, then the check; in one row the hands in short."""
    record = account.record
    lines, short = [], []
    for stint in record.stints:
        minutes = f", {count_of(stint.minutes, 'minute')}" if stint.minutes else ""
        where = (
            f"line {stint.to_line}"
            if stint.from_line == stint.to_line
            else f"lines {stint.from_line} to {stint.to_line}"
        )
        lines.append(PanelLine(sanitize(stint.hand), f"{where}, {sanitize(say_at(stint.at))}{minutes}", tone="soft"))
        short.append(f"{sanitize(stint.hand)} {stint.from_line}–{stint.to_line}")
    if not lines and record.ruled_by:
        lines.append(
            PanelLine("Ruled", f"by {sanitize(record.ruled_by)}, {sanitize(say_at(record.ruled_at))}", tone="soft")
        )
    check = _check(account)
    if not lines and not check:
        return
    said = (
        [PanelLine("", f"{', '.join(short)}{f', {words.day}' if words.day else ''}", tone="soft")] if short else lines
    )
    head = "+".join(words.hands) if len("+".join(words.hands)) <= 10 else str(len(words.hands)) + " hands"
    yield PanelGroup((*lines, *check), head if short else lines[0].head if lines else "", (*said, *check))


def _check(account: PageAccount) -> tuple[PanelLine, ...]:
    record, check = account.record, account.check
    by, sign = sanitize(record.checked_by), CHECK_SIGNS[check]
    match check:
        case CheckState.BY_ANOTHER:
            return (PanelLine(sign, f"checked by {by}, {sanitize(say_at(record.checked_at))}", tone="soft"),)
        case CheckState.BY_WRITER:
            at = sanitize(say_at(record.checked_at))
            return (PanelLine(sign, f"checked by {by}, who wrote it, {at}", tone="soft"),)
        case CheckState.BEGUN if record.wanted and record.readings:
            return (PanelLine(sign, readings_said(record), tone="ink"),)
        case CheckState.BEGUN:
            return (PanelLine(sign, f"read to line {record.read_to} by {sanitize(record.read_by)}", tone="ink"),)
        case CheckState.DUE if record.written_again:
            return (PanelLine(sign, "written over since it was checked; check it again", True, "wrong"),)
        case CheckState.DUE:
            return (PanelLine(sign, "not checked yet", tone="ink"),)
    return ()


def _amiss(state: BookState, account: PageAccount) -> Iterator[PanelGroup]:
    """Faults, what was skipped or doubled before the page, and its spaces; in one row, faults and spaces together."""
    lines = [*_faults(account), *_meeting(state, account), *_spaces(state, account)]
    if lines:
        heads = " ".join(line.head for line in lines if line.head)
        yield PanelGroup(tuple(lines), heads if len(heads) <= 10 else lines[0].head, tuple(lines))


def _meeting(state: BookState, account: PageAccount) -> Iterator[PanelLine]:
    if said := meeting_words(state, account.page.index):
        yield PanelLine(UNMET, said, True, "wrong")


def _faults(account: PageAccount) -> Iterator[PanelLine]:
    head, _ = fault_marks(account)
    for fault in account.record.open_faults:
        yield PanelLine(head, fault_words(fault), True, "wrong")
        head = ""
    if mended := account.faults_mended:
        yield PanelLine(head, f"{count_of(mended, 'fault')} mended", tone="quiet")


def _spaces(state: BookState, account: PageAccount) -> Iterator[PanelLine]:
    head, _ = space_marks(account)
    unit = state.book.unit
    for space in sorted(account.spaces, key=lambda each: not each.waiting):
        tone = "waits" if space.waiting else "quiet"
        subject = f": {space.plan.subject}" if space.plan.subject else ""
        says = f"{space.plan.id}, {space.plan.kind}, {_stage(space)}{space_place(space, unit)}{subject}"
        yield PanelLine(head, sanitize(says), tone=tone)
        head = ""


def _stage(space: SpaceAccount) -> str:
    return f"to be {space.next_stage}" if space.next_stage is not None else str(space.stage)


_MOST_PAGES = 60
"""Pages of one act that are named; a panel has room for no more."""


def waiting_lines(state: BookState, glance: BookGlance) -> list[PanelLine]:
    """What waits in the book: for each act how many pages, and which."""
    lines = []
    for act in WORK:
        pages = glance.waiting[act]
        if pages:
            head = f"{len(pages):>3} {act}"
            lines.append(PanelLine(head, state.book.listed(pages[:_MOST_PAGES]), tone=ACT_TONES[act]))
    return lines


def lately_lines(state: BookState, count: int) -> list[PanelLine]:
    """What was recorded lately, the newest first; what was taken back is left out."""
    from copydesk.tracking.log.entry_text import describe

    newest = state.ledger.last_standing(count)
    return [PanelLine(sanitize(say_at(entry.at, short=True)), describe(entry, state), tone="soft") for entry in newest]
