"""What the panel says of a page, in the sentences of a scribe. Pure: an account in, lines of text out."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.checks import ways_in_words
from copydesk.book.common.phrases import count_of, decimal
from copydesk.book.common.sanitize import sanitize
from copydesk.book.common.units import AS_MEASURED, Unit, show_length, show_size
from copydesk.book.structure.openings import opening_at, why_unlike
from copydesk.book.text.counted_places import first_place, last_place
from copydesk.desk.wording.lines import PanelLine, under_one_head
from copydesk.desk.wording.stretch_words import stretch_lines
from copydesk.tracking.checking.never_scraped import WrittenPlace, unscraped_at
from copydesk.tracking.checking.open_faults import fault_words
from copydesk.tracking.fit.line_ends import filler_words, fillers, in_hand_words, line_ends, too_full_words
from copydesk.tracking.ledger.entry_kinds import SheetPlace
from copydesk.tracking.ledger.page_record import TICKED
from copydesk.tracking.ledger.timestamps import say_at
from copydesk.tracking.log.space_text import also_words
from copydesk.tracking.scribes.hands_now import set_words
from copydesk.tracking.scribes.stopping_point import words_from
from copydesk.tracking.state.plan_conflicts import plan_conflicts
from copydesk.tracking.state.strange_pages import open_strange, strange_words
from copydesk.tracking.views.narrow_lines import narrow_sentences
from copydesk.tracking.views.page_marks import page_marks
from copydesk.tracking.views.page_view import ActKind, page_account
from copydesk.tracking.views.sheet_pile import whereabouts
from copydesk.tracking.views.sheet_view import instead_of_page
from copydesk.tracking.views.space_homes import open_spaces

if TYPE_CHECKING:
    from collections.abc import Iterator

    from copydesk.book.layout.page_frame import Frame
    from copydesk.book.plan import Flaw
    from copydesk.tracking.ledger.entry import Act
    from copydesk.tracking.ledger.page_record import PageRecord
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.page_view import PageAccount
    from copydesk.tracking.views.space_view import SpaceAccount


def page_lines(state: BookState, account: PageAccount) -> list[PanelLine]:
    """The panel for one page."""
    return [
        place_line(state, account),
        *sheet_lines(state, account),
        PanelLine("Text", text_words(state, account)),
        *_lines(account),
        *lines_left_out(state, account),
        *end_lines(state, account),
        *stretch_lines(state, account),
        *_hands(account),
        *_beside(state, account),
        *under_one_head("Spaces", (_space(space, state.book.unit) for space in account.spaces)),
        *unsettled_lines(state),
        *_faults(account),
        *watch_lines(state, account),
        *leaf_lines(state, account),
        PanelLine("Next", next_words(state, account)),
        *letter_lines(state, account),
        *knife_lines(state, account),
    ]


def place_line(state: BookState, account: PageAccount) -> PanelLine:
    """What a page is called, where it stands, and what lies beside it."""
    place = account.place
    if place.conjugate:
        beside = f"beside it lies {state.book.named(place.conjugate)}"
    else:
        beside = f"beside it {instead_of_page(state.collation.gathering(place.gathering), place.sheet)}"
    return PanelLine(
        account.label, f"gathering {place.gathering}, sheet {place.sheet}, {place.side} side, {place.surface}; {beside}"
    )


def sheet_lines(state: BookState, account: PageAccount) -> Iterator[PanelLine]:
    """Where its sheet is, unless that is at the desk."""
    record = state.sheet_record(account.place.sheet_name)
    if record.place is not SheetPlace.DESK:
        yield PanelLine("Sheet", sanitize(whereabouts(record)))
    if record.also is not None:
        yield PanelLine("", sanitize(also_words(record.also)), wrong=True)


def text_words(state: BookState, account: PageAccount) -> str:
    """From where to where the text of a page goes, in its words and in the exemplar."""
    if account.budget.start >= account.budget.end:
        return "none"
    if state.exemplar is None:
        return f"{starts_at(state, account.from_word)} to {ends_at(state, account)}, by the count"
    said = f'"{account.first_words}" to "{account.last_words}"'
    first = state.exemplar.place_of(account.from_word)
    last = state.exemplar.place_of(max(account.to_word - 1, 0))
    if first is None:
        return said
    where = f"{first}" if first == last or last is None else f"{first} to {last}"
    return f"{said}, exemplar {where}"


def _lines(account: PageAccount) -> Iterator[PanelLine]:
    budget, record = account.budget, account.record
    ruled = "ruled" if record.has_ruling else "to rule"
    said = f"{account.ruled_lines} {ruled}, {budget.room} for text, {budget.planned} planned"
    if record.written:
        said += f", {record.written} written"
    over = account.over
    if over > 0:
        yield PanelLine("Lines", f"{said}: {count_of(over, 'line')} over", wrong=True)
    elif over < 0 and budget.planned:
        yield PanelLine("Lines", f"{said}: {count_of(-over, 'line')} left")
    else:
        yield PanelLine("Lines", said)


def lines_left_out(state: BookState, account: PageAccount) -> Iterator[PanelLine]:
    """Lines planned to stay without text: too narrow for a word, or left as what follows has no room there."""
    yield from under_one_head("Narrow", narrow_sentences(state, account.page.index), wrong=True)
    if kept := account.budget.kept:
        why = "the heading, initial or division that follows has no room there"
        yield PanelLine("Blank", f"{count_of(kept, 'line')} without text: {why}")


def end_lines(state: BookState, account: PageAccount) -> Iterator[PanelLine]:
    """Lines too full for what they must hold, line fillers, and what the line next to be written asks for.

    The last where the ends of lines matter: they are even, filled, or the exemplar's.
    """
    flow = state.book.flow
    if flow.line_ends == "as they come" and not flow.line_fillers and not flow.by_line:
        return
    ends = line_ends(state, account.page.index)
    ahead = [each for each in ends if not each.written]
    if ahead:
        yield PanelLine("Ends", sanitize(in_hand_words(ahead[0], state.book)), wrong=ahead[0].is_over)
    if flow.by_line and (full := too_full_words([each for each in ahead if each.is_over], state.book)):
        yield PanelLine("Too full", sanitize(full), wrong=True)
    if wanted := filler_words(fillers(ends, state.book), state.book):
        yield PanelLine("Fillers", wanted)


def letter_lines(state: BookState, account: PageAccount) -> Iterator[PanelLine]:
    """How close the hand writes that is expected on a page still open, and whether that is a guess."""
    if account.budget.planned and not account.record.whole:
        hand = state.hand_on(account.page.index)
        if hand in state.sets:
            yield PanelLine("Letters", set_words(hand, state.set_shown(hand)))


def _hands(account: PageAccount) -> Iterator[PanelLine]:
    record = account.record
    for at, stint in enumerate(record.stints):
        minutes = f", {decimal(stint.minutes)} minutes" if stint.minutes else ""
        said = f"{stint.hand}, lines {stint.from_line} to {stint.to_line}, {sanitize(say_at(stint.at))}{minutes}"
        yield PanelLine("Hand" if not at else "", said)
    if record.checked_by:
        own = ", its own writer" if record.self_checked else ""
        own += f", {TICKED}" if record.unread else ""
        yield PanelLine("Checked", f"by {record.checked_by}{own}, {sanitize(say_at(record.checked_at))}")
    elif record.wanted and record.readings:
        yield PanelLine("Checked", readings_said(record))
    elif record.written_again:
        yield PanelLine("Checked", "not since lines were written over; check it again", wrong=True)
    elif record.read_to:
        yield PanelLine("Checked", f"to line {record.read_to} by {record.read_by}; not to the end")
    elif record.ruled_by and not record.stints:
        yield PanelLine("Ruled", f"by {record.ruled_by}, {sanitize(say_at(record.ruled_at))}")


def knife_lines(state: BookState, account: PageAccount) -> Iterator[PanelLine]:
    """What of a page no knife may touch, and why."""
    here = WrittenPlace(account.page, None, None, range(account.from_word, account.to_word))
    yield from under_one_head("Knife", map(sanitize, unscraped_at(state, here)))


def readings_said(record: PageRecord) -> str:
    """The readings of a page made so far, and those still to be made, where the book names its readings."""
    made = (f"{each.by}{f' with {each.beside}' if each.beside else ''}" for each in record.readings if each.read)
    begun = f"; line {record.read_to} reached by {record.read_by}" if record.read_to else ""
    return sanitize(f"read by {', '.join(made) or 'nobody'}, still to be read {ways_in_words(record.wanted)}{begun}")


def _beside(state: BookState, account: PageAccount) -> Iterator[PanelLine]:
    """What stands on the page beside it on the same side of the sheet."""
    beside = account.place.conjugate
    if beside is None:
        return
    other = page_account(state, beside.index)
    words = f'"{other.first_words}" to "{other.last_words}"' if other.first_words else text_words(state, other)
    yield PanelLine("Beside", f"{other.label}: {'no text' if words == 'none' else words} ({other.next_act})")


def _space(space: SpaceAccount, unit: Unit) -> str:
    plan = space.plan
    subject = f": {plan.subject}" if plan.subject else ""
    return sanitize(f"{plan.id}, {plan.kind}{space_place(space, unit)}, {space.stage}{subject}")


def space_place(space: SpaceAccount, unit: Unit) -> str:
    """Where a space stands on its page and how large it is, after a comma; empty where it takes no lines."""
    placement = space.placement
    if placement is None or not placement.lines:
        return ""
    column = "all columns" if placement.column == 0 else f"column {placement.column}"
    last = placement.from_line + placement.lines - 1
    size = show_size(space.width, space.height, unit, AS_MEASURED[unit])
    return f", {column}, lines {placement.from_line} to {last}, {size}"


def unsettled_lines(state: BookState) -> Iterator[PanelLine]:
    """What the plan says otherwise than the skin, spaces without a place or room, strange pages: until settled."""
    for head, said, what in (
        ("Plan", plan_conflicts(state), "more difference"),
        ("Room", open_spaces(state), "more space"),
        ("Strange", [strange_words(state, each) for each in open_strange(state)], "more page"),
    ):
        more = [f"and {count_of(len(said) - SHOWN, what)} like this"] if len(said) > SHOWN else []
        yield from under_one_head(head, [*said[:SHOWN], *more], wrong=True)


def _faults(account: PageAccount) -> Iterator[PanelLine]:
    yield from under_one_head("Faults", map(fault_words, account.record.open_faults), wrong=True)
    mended = len(account.record.faults) - len(account.record.open_faults)
    if mended:
        yield PanelLine("" if account.record.open_faults else "Faults", f"{mended} mended")


def _ruling(state: BookState, account: PageAccount) -> str:
    """The lines to rule on a page: those of one column, which run through all."""
    columns = state.frame_of(account.page.index).columns
    lines = count_of(account.ruled_lines // columns, "line")
    return lines if columns == 1 else f"{lines} across {columns} columns"


def next_words(state: BookState, account: PageAccount) -> str:
    """What comes next on a page, in words."""
    act = account.next_act.kind
    if act is ActKind.WRITE and account.record.stints:
        words = _words_from(state, account.record.ends or 0)
        start = "go on within" if account.record.within is not None else "write from"
        return f"{start} line {account.record.written + 1}: {words}"
    if act is ActKind.WRITE:
        words = f'"{account.first_words}"' if state.exemplar else starts_at(state, account.from_word)
        return f"write {count_of(account.budget.planned, 'line')}: {words}"
    return {
        ActKind.RULE: f"rule {_ruling(state, account)}; the spaces on it are fixed then",
        ActKind.CHECK: "check it against the exemplar",
        ActKind.INK: f"{account.next_act}; the list of passes has every word of them",
        ActKind.DONE: "nothing: the page is done",
        ActKind.BLANK: "nothing: no text comes here",
    }.get(act, str(account.next_act))


def _words_from(state: BookState, word: int) -> str:
    """The next words of the text, or their place where it is known by its counts only."""
    if state.exemplar is None:
        return starts_at(state, word)
    return f'"{words_from(state, state.copy.piece(word), 5)}"'


SHOWN = 2
"""Places shown in the panel; nobody keeps more in mind at once."""


def watch_lines(state: BookState, account: PageAccount) -> Iterator[PanelLine]:
    """The likeliest places on a page that is still to be written, or written further."""
    if account.record.whole or state.exemplar is None or not account.budget.planned:
        return
    from copydesk.tracking.checking.eye_skip_watch import watch_for

    watched = watch_for(state, account.page.index, SHOWN)
    yield from under_one_head("Watch", (sanitize(each.sentence) for each in watched))


def leaf_lines(state: BookState, account: PageAccount) -> list[PanelLine]:
    """The panel's lines on flaws, opening and marks; only what there is to say."""
    return [*_flaws(state, account), *_opening(state, account), *_marks(state, account)]


def _flaws(state: BookState, account: PageAccount) -> Iterator[PanelLine]:
    head = "Flaws" if len(account.flaws) > 1 else "Flaw"
    yield from under_one_head(head, (_flaw(state, flaw) for flaw in account.flaws))
    if account.flaws:
        yield PanelLine("", lines_taken(state.frame_of(account.page.index)))


def _flaw(state: BookState, flaw: Flaw) -> str:
    unit = state.book.unit
    size, head = show_size(flaw.width, flaw.height, unit), show_length(flaw.from_head, unit)
    return f"{size}, {head} from the head, {show_length(flaw.from_fold, unit)} from the fold"


def lines_taken(frame: Frame) -> str:
    """Which lines flaws take, column by column: ``takes lines 3 to 5, part of line 6, of column 1``."""
    said = []
    for number in range(1, frame.columns + 1):
        whole, part = (
            _ranges(sorted(line for column, line in found if column == number))
            for found in (frame.lost, frame.shortened)
        )
        parts = ", ".join([each for each in (whole, f"part of {part}" if part else "") if each])
        if parts:
            said.append(f"{parts} of column {number}" if frame.columns > 1 else parts)
    return f"takes {'; '.join(said)}" if said else "takes no line"


def _ranges(lines: list[int]) -> str:
    """``line 3``; ``lines 3 to 5, 9``; empty where there are none."""
    runs: list[list[int]] = []
    for line in lines:
        if runs and line == runs[-1][-1] + 1:
            runs[-1].append(line)
        else:
            runs.append([line])
    said = ", ".join(f"{run[0]} to {run[-1]}" if len(run) > 1 else str(run[0]) for run in runs)
    return f"{'line' if len(lines) == 1 else 'lines'} {said}" if said else ""


def _opening(state: BookState, account: PageAccount) -> Iterator[PanelLine]:
    opening = opening_at(state.collation, account.page)
    if opening is not None and not opening.like:
        why = why_unlike(state.collation, opening, state.book.signing.foliation)
        facing = opening.right if account.page == opening.left else opening.left
        yield PanelLine("Opening", f"hair faces flesh across from {state.book.named(facing)}: {why}", True)


def _marks(state: BookState, account: PageAccount) -> Iterator[PanelLine]:
    marks = page_marks(state, account.page)
    said = [
        f"signature {marks.signature}" if marks.signature else "",
        f'catchword "{marks.catchword}"' if marks.catchword else "",
    ]
    if any(said):
        yield PanelLine("Marks", ", ".join(each for each in said if each))


class PlaceQuestion(NamedTuple):
    """What a person is asked for, and what the plan would answer."""

    label: str
    hint: str


def end_asked(state: BookState, account: PageAccount) -> PlaceQuestion:
    """How to ask where the text of a page really ended."""
    if state.exemplar is not None:
        return PlaceQuestion("Last words written", account.last_words)
    return PlaceQuestion("Where its text ended, by the count", ends_at(state, account))


def end_after(state: BookState, act: Act) -> str:
    """Where the text ends once an act of writing is recorded: its last words, or the place by the count."""
    end = act.facts.get("to_word")
    if not isinstance(end, int):
        return ""
    if state.exemplar is None:
        return last_place(state.copy, state.book.divisions, end)
    return sanitize(" ".join(state.exemplar.words[max(end - 3, 0) : end]))


def beginning_asked(state: BookState, account: PageAccount) -> PlaceQuestion:
    """How to ask where a page really began."""
    if state.exemplar is not None:
        return PlaceQuestion("First words, if it did not begin as planned", account.first_words)
    return PlaceQuestion("Where it began by the count, if not as planned", starts_at(state, account.from_word))


def beginning_held(state: BookState, account: PageAccount) -> PlaceQuestion:
    """How to ask where a page must begin."""
    if state.exemplar is not None:
        return PlaceQuestion(f"{account.label} must begin with these words of the exemplar", account.first_words)
    return PlaceQuestion(f"{account.label} must begin at this place of the count", starts_at(state, account.from_word))


def starts_at(state: BookState, word: int) -> str:
    """The place of a counted text at which a word stands."""
    return first_place(state.copy, state.book.divisions, word)


def ends_at(state: BookState, account: PageAccount) -> str:
    """The place of a counted text at which a page ends."""
    return last_place(state.copy, state.book.divisions, account.to_word)
