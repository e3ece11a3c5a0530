"""Every fault of the book: on which page today, in whose writing, open or how mended; for lists and programs."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.columns import Cell, Column, Report, rows_of
from copydesk.book.common.errors import UnknownNameError
from copydesk.book.structure.page import Page, SkinPage
from copydesk.tracking.state.page_content import line_places

if TYPE_CHECKING:
    from collections.abc import Iterable

    from copydesk.tracking.ledger.page_record import Fault, PageRecord
    from copydesk.tracking.state.book_state import BookState


STATES = ("open", "settled", "gone")
"""How a fault may stand; ``gone`` is one whose leaf is no longer in the book."""


class FaultAccount(NamedTuple):
    """A fault and where it is: its page today, None where the leaf is gone; the hand that wrote there, if known.

    ``named`` is what the page is called where people read it, today or when the fault was found.
    """

    fault: Fault
    page: Page | None
    written_by: str
    named: str

    @property
    def label(self) -> str:
        """The page as other programs know it (``12r``), today or when the fault was found."""
        return str(self.page) if self.page is not None else self.fault.page

    @property
    def state(self) -> str:
        """One of ``STATES``."""
        if self.page is None:
            return "gone"
        return "settled" if self.fault.remedy else "open"


def fault_accounts(state: BookState) -> list[FaultAccount]:
    """Every fault in the order of pages, columns and lines; those whose leaf is gone at the end."""
    found = []
    for name in state.ledger.about("page"):
        skin = SkinPage.parse(name)
        record, page = state.record(skin), state.page_of(skin)
        for fault in record.faults:
            line = text_line(state, page, fault)
            named = state.book.named(page) if page is not None else state.book.renamed(fault.page)
            found.append(FaultAccount(fault, page, _writer(record, line), named))
    return sorted(found, key=_order)


def _order(account: FaultAccount) -> tuple[bool, int, int, int, str]:
    page, fault = account.page, account.fault
    return (page is None, page.index if page else 0, fault.column or 0, fault.line or 0, fault.found_at)


def text_line(state: BookState, page: Page | None, fault: Fault) -> int | None:
    """The text line, counted through the columns from 1, that a fault is on; None where it is not given."""
    if page is None or fault.line is None:
        return None
    place = (fault.column or 1, fault.line)
    places = line_places(state, page.index)
    return places.index(place) + 1 if place in places else None


def _writer(record: PageRecord, line: int | None) -> str:
    """The hand that wrote a line; where the line is not known, the only hand there is."""
    for stint in record.stints:
        if line is not None and stint.from_line <= line <= stint.to_line:
            return stint.hand
    hands = {stint.hand for stint in record.stints}
    return hands.pop() if len(hands) == 1 else ""


def fault_page(state: BookState, name: str) -> str:
    """The page of the fault that has this number or id, and what to do: ``1v; name that page``; empty where none has.

    Where several have it, an open one goes before others.
    """
    called = [each for each in fault_accounts(state) if name in (str(each.fault.number), each.fault.id)]
    found = min(called, key=lambda each: STATES.index(each.state), default=None)
    if found is None:
        return ""
    how = {"open": "; name that page", "settled": ", and mended already", "gone": ", and its leaf is gone"}
    return f"{found.named}{how[found.state]}"


def fault_numbered(state: BookState, number: str) -> tuple[Page, Fault]:
    """The open fault that people call by this number, and its page.

    Raises:
        UnknownNameError: where no open fault has it.
    """
    wanted = number.removeprefix("#").strip()
    for each in fault_accounts(state):
        if each.page is not None and wanted in (str(each.fault.number), each.fault.id) and each.state == "open":
            return each.page, each.fault
    raise UnknownNameError(f"no open fault has the number {number!r}; copydesk faults BOOK --open lists them")


def choose_faults(
    accounts: Iterable[FaultAccount], *, page: str = "", hand: str = "", kind: str = "", state: str = ""
) -> list[FaultAccount]:
    """Those that fit everything that is given; ``page`` is as in ``12r``, ``hand`` the hand that wrote.

    Raises:
        UnknownNameError: where ``state`` is no state.
    """
    if state and state not in STATES:
        raise UnknownNameError(f"{state!r} is not a state of a fault; give one of {', '.join(STATES)}")
    return [
        each
        for each in accounts
        if page in ("", str(each.page))
        and hand in ("", each.written_by)
        and kind.casefold() in ("", each.fault.kind.casefold())
        and state in ("", each.state)
    ]


def _state_words(account: FaultAccount) -> str:
    fault = account.fault
    return f"{fault.remedy} by {fault.mended_by}" if account.state == "settled" else account.state


FAULTS: Report[FaultAccount] = rows_of(
    "faults",
    "One row a fault, in the order of pages, columns and lines.",
    Column("fault", Cell.TEXT, "its name in the ledger", "fault.id"),
    Column("number", Cell.NUMBER, "the number people call it by; it never changes", "fault.number", "fault"),
    Column("page", Cell.PAGE, "its page today, or when it was found", "label", "page", lambda a, _: a.named),
    Column("kind", Cell.TEXT, "its kind, as omission", "fault.kind", "kind"),
    Column("cause", Cell.TEXT, "what led to it, as eye-skip; null where not known", lambda a: a.fault.cause or None),
    Column("column", Cell.NUMBER, "its column, from 1; null where nobody said", "fault.column", "column"),
    Column("line", Cell.NUMBER, "its line in the column, from 1; null where nobody said", "fault.line", "line"),
    Column("word", Cell.NUMBER, "the exemplar's word there; null where not known", "fault.word"),
    Column("stands", Cell.TEXT, "what stands on the page", "fault.stands", "stands"),
    Column("should", Cell.TEXT, "what should stand there", "fault.should", "should"),
    Column(
        "state",
        Cell.TEXT,
        "open, settled (mended), or gone with its leaf",
        "state",
        "state",
        lambda a, _: _state_words(a),
    ),
    Column(
        "written_by",
        Cell.TEXT,
        "the hand that wrote there; null where not known",
        lambda a: a.written_by or None,
        "hand",
    ),
    Column("found_by", Cell.TEXT, "who found it", "fault.found_by", "found by"),
    Column("found_at", Cell.MOMENT, "when", "fault.found_at"),
    Column("remedy", Cell.TEXT, "how it was corrected; null while open", lambda a: a.fault.remedy or None),
    Column("settled_by", Cell.TEXT, "who corrected it; null while open", lambda a: a.fault.mended_by or None),
    Column("settled_at", Cell.MOMENT, "when; null while open", lambda a: a.fault.mended_at or None),
)
