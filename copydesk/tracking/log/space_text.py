"""What was recorded of a space or a sheet, in words."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from copydesk.book.common.errors import InvalidValueError
from copydesk.book.common.phrases import count_of
from copydesk.book.text.anchors import read_anchor, show_anchor
from copydesk.tracking.ledger.entry_kinds import KINDS

if TYPE_CHECKING:
    from collections.abc import Callable

    from copydesk.book.plan import Book
    from copydesk.tracking.ledger.entry import Entry
    from copydesk.tracking.ledger.entry_kinds import SheetPlace
    from copydesk.tracking.ledger.sheet_record import SheetRecord


def describe_space(entry: Entry, book: Book | None = None) -> list[str]:
    """What an entry about a space says: ``space frost given 14 lines in place of 12``; then by whom, and the rest."""
    words = _WORDS.get(entry.what)
    said = words(entry, book) if words is not None else f"space {entry.about} {KINDS[entry.what].says}"
    return [f"{said} by {entry.hand}" if entry.hand else said, *_amiss(entry)]


def describe_sheet(entry: Entry, record: SheetRecord | None = None) -> list[str]:
    """What an entry about a sheet says: ``sheet 3.2 with the artist (Ines)``; then who noted it, and the rest.

    With ``record``, it also says when another person moved the sheet at the same time.
    """
    says = KINDS[entry.what].says
    who = entry.text("who")
    named = f" ({who})" if who else ""
    noted = f", noted by {entry.hand}" if entry.hand and entry.hand != who else ""
    said = [f"sheet {entry.about} {says}{named}{noted}", *_amiss(entry)]
    if record is not None and record.also is not None and record.moved_by == entry.entry:
        said.append(also_words(record.also))
    return said


def also_words(also: tuple[SheetPlace, str]) -> str:
    """What to say where two moved a sheet without knowing of each other."""
    place, who = also
    return f"{who} had it put down as {place.words} at the same time: see who has it"


def _amiss(entry: Entry) -> list[str]:
    return [text for name in ("note", "remark") if (text := entry.text(name))]


def _resized(entry: Entry, _book: Book | None) -> str:
    was = entry.number("was")
    before = f" in place of {was}" if was is not None else ""
    return f"space {entry.about} given {count_of(entry.number('lines') or 0, 'line')}{before}"


def _moved(entry: Entry, book: Book | None) -> str:
    return f"space {entry.about} moved to {_place(entry, book) or 'another place'}"


def _added(entry: Entry, book: Book | None) -> str:
    plan = entry.facts.get("plan")
    plan = plan if isinstance(plan, Mapping) else {}
    takes = plan.get("lines")
    lines = f" of {count_of(takes, 'line')}" if isinstance(takes, int) and takes else ""
    across = " across all columns" if plan.get("across") == "all" else ""
    at = f" at {_place(entry, book)}" if entry.text("to") else ""
    subject = f" ({plan['subject']})" if plan.get("subject") else ""
    kind = str(plan.get("kind", "space"))
    article = "an" if kind.startswith(("a", "e", "i", "o", "u")) else "a"
    return f"space {entry.about}, {article} {kind}{lines}{across}, added{at}{subject}"


def _place(entry: Entry, book: Book | None) -> str:
    """Where a space was put, its page called as the book counts."""
    said = entry.text("to")
    try:
        return show_anchor(read_anchor(said), book.signing.foliation) if book is not None else said
    except InvalidValueError:
        return said


_WORDS: dict[str, Callable[[Entry, Book | None], str]] = {"resized": _resized, "moved": _moved, "added": _added}
