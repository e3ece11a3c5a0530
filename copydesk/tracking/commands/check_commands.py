"""What a check of a page records: the faults a transcription showed, the transcription, how far a reading came."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.checks import ANY, TYPED, PageReading, counted_readings, refusal, ways_in_words
from copydesk.book.common.errors import InvalidValueError, NotAllowedError
from copydesk.comparing.corrections import FROM_HERE, LEAF_CANCELLED, SCRAPED
from copydesk.tracking.checking.never_scraped import place_of, unscraped_at
from copydesk.tracking.commands.page_commands import Commands
from copydesk.tracking.ledger.entry import Act
from copydesk.tracking.views.page_view import page_account

if TYPE_CHECKING:
    from collections.abc import Iterable

    from copydesk.book.structure.page import Page
    from copydesk.comparing.faults import Difference
    from copydesk.tracking.checking.page_compare import PageComparison
    from copydesk.tracking.ledger.entry import Entry
    from copydesk.tracking.ledger.page_record import PageRecord
    from copydesk.tracking.state.book_state import BookState


class SortedFaults(NamedTuple):
    """Faults a comparison found: those to be noted, and those on record already."""

    new: tuple[Difference, ...]
    noted: tuple[Difference, ...]


def sort_faults(record: PageRecord, compared: PageComparison, text: str) -> SortedFaults:
    """Tell the new faults from those noted already.

    An open fault that is found again is the same fault. One that was mended is the same only where the very text
    is compared that is kept already; found in another text, it was not put right and is noted again.
    """
    known = record.faults if text == record.transcription else record.open_faults
    marks = {(fault.kind, fault.word, fault.stands, fault.should) for fault in known}
    new = [each for each in compared.comparison.faults if _mark(each) not in marks]
    noted = [each for each in compared.comparison.faults if _mark(each) in marks]
    return SortedFaults(tuple(new), tuple(noted))


def _mark(fault: Difference) -> tuple[str, int, str, str]:
    return (fault.kind, fault.word, fault.stands, fault.should)


def note_comparison(
    state: BookState,
    compared: PageComparison,
    text: str,
    faults: Iterable[Difference],
    *,
    checked: bool = False,
    hand: str = "",
) -> list[Act]:
    """Keep a page's transcription, note faults it shows, and record the check where it is one.

    Args:
        state: the book.
        compared: the comparison.
        text: the transcription it was made from.
        faults: those to be noted.
        checked: the page counts as read by this, by typing.
        hand: who typed it; empty where that is not known.

    Raises:
        CopydeskError: where nothing is written on the page, the text belongs elsewhere, or a check was made of less
            than
            the whole page.
    """
    comparison, named = compared.comparison, state.book.named(compared.page)
    if comparison.wrong_place is not None or not comparison.known:
        raise NotAllowedError(f"{named}: {comparison.sentence}; nothing was recorded")
    commands, record = Commands(state, hand), state.record(state.skin_at(compared.page.index))
    made = [fault_found(commands, compared.page, fault) for fault in faults]
    if not record.stints:
        raise NotAllowedError(f"{named} is not written yet; record it as written before its transcription is kept")
    if text != record.transcription:
        made.insert(0, Act("transcribed", str(state.skin_at(compared.page.index)), str(compared.page), {"text": text}))
    if checked:
        made.append(_check(commands, compared))
    return made


def keep_transcription(state: BookState, page: Page, text: str) -> Act:
    """Keep what was typed of a page, whole or in part."""
    return Act("transcribed", str(state.skin_at(page.index)), str(page), {"text": text})


def fault_found(commands: Commands, page: Page, fault: Difference) -> Act:
    """Note one fault that a comparison found."""
    facts = {name: getattr(fault, name) or None for name in ("column", "line", "stands", "should", "cause")}
    return commands.fault(page, fault.kind, word=fault.word, **facts)


def _check(commands: Commands, compared: PageComparison) -> Act:
    if not compared.whole and compared.comparison.reached < compared.recorded:
        missing = compared.recorded - compared.comparison.reached
        named = commands.state.book.named(compared.page)
        raise NotAllowedError(
            f"{named} is not typed to its end, {missing} words are still to come; type them, say that it is "
            "whole, or record what was found without the check"
        )
    return commands.check(compared.page, read=True, how=TYPED)


def read_to(state: BookState, page: Page, line: int) -> Act:
    """Record that a page was read against the exemplar up to a text line, so that a check can go on from there.

    Raises:
        InvalidValueError: where so many lines are not written on the page.
    """
    account = page_account(state, page.index)
    if not 1 <= line <= account.record.written:
        raise InvalidValueError(
            f"{account.label} has {account.record.written} lines written, so it cannot be read to line {line}"
        )
    return Act("read-to", str(account.place.skin), str(page), {"line": line})


def checker_words(state: BookState, page: Page, hand: str) -> str:
    """What to say before ``hand`` checks a page it wrote itself; empty where it did not write it, or not alone.

    Where the book names its readings, what ``hand`` may not read is said.
    """
    record, rules = state.record(state.skin_at(page.index)), state.book.readings
    if rules.ways:
        counted, _ = counted_readings(rules, record.readings, record.hands)
        why = refusal(rules, PageReading(hand, ANY, "", "", read=True, entry=""), counted, record.hands)
        return f"{state.book.named(page)} {why}." if why else ""
    writers = set(record.hands)
    if writers != {hand}:
        return ""
    others = [each.id for each in state.book.hands if each.id != hand]
    better = f"; {' or '.join(others)} would see more" if others else ""
    return f"{hand} wrote {state.book.named(page)}, so its check is marked as its own writer's{better}."


def remarks_on(state: BookState, entry: Entry) -> list[str]:
    """What to say after a check or a correction.

    A page checked by its own writer or still to be read, a knife where none may touch, a leaf that is still to be cut.
    """
    page = state.page_of(entry.skin) if entry.subject[0] == "page" else None
    if page is None:
        return []
    if entry.what == "checked":
        wanted = state.record(entry.skin).wanted
        if state.book.readings.ways:
            return [f"{state.book.named(page)} is still to be read {ways_in_words(wanted)}"] if wanted else []
        words = checker_words(state, page, entry.hand)
        return [words] if words else []
    if entry.what == "settled" and entry.text("remedy") == LEAF_CANCELLED:
        leaf = state.book.leaf_named(page.leaf)
        return [f"{leaf} still stands in the book until it is itself recorded as cancelled"]
    if entry.what == "settled" and entry.text("remedy") in (SCRAPED, FROM_HERE):
        faults = (each for each in state.record(entry.skin).faults if each.id == entry.text("fault"))
        return [
            f"{state.book.named(page)}: {why}" for each in faults for why in unscraped_at(state, place_of(page, each))
        ]
    return []
