"""Faults as people name them: in words, by their number, and found by what somebody calls them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.errors import AlreadyDoneError, AmbiguousError, NotAllowedError, UnknownNameError
from copydesk.book.common.sanitize import sanitize

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from copydesk.tracking.ledger.page_record import Fault, PageRecord


def fault_words(fault: Fault) -> str:
    """A fault in a line: number, kind, place, what stands and what should."""
    said = f"fault {fault.number}, {fault.kind}" if fault.number else fault.kind
    said += f", column {fault.column}" if fault.column else ""
    said += f", line {fault.line}" if fault.line else ""
    said += f': "{fault.stands}"' if fault.stands else ""
    if fault.should:
        said += f' should be "{fault.should}"' if fault.stands else f': "{fault.should}" is missing'
    return sanitize(said)


def fault_called(record: PageRecord, page: str, name: str, elsewhere: Callable[[str], str]) -> Fault:
    """The open fault of a page that somebody calls by its number or its id; the only one where no name is given.

    Args:
        record: the page.
        page: what people call it.
        name: a fault's number or its id, empty for the only one.
        elsewhere: says of a name on which page of the book its fault is, and what to do; empty where it is on none.

    Raises:
        CopydeskError: where there is no such open fault, or more than one.
    """
    wanted = name.removeprefix("#").strip()
    found = [each for each in record.faults if wanted in ("", str(each.number), each.id)]
    still_open = [each for each in found if not each.remedy]
    if len(still_open) == 1:
        return still_open[0]
    if still_open:
        how = "number" if not wanted else "id"
        listed = _listed(still_open, ids=bool(wanted))
        raise AmbiguousError(f"{page} has {len(still_open)} such faults open: {listed}; give the {how} of one")
    if found and wanted:
        raise AlreadyDoneError(f"fault {wanted} on {page} is mended already; nothing was recorded")
    if wanted and (there := elsewhere(wanted)):
        raise UnknownNameError(f"fault {wanted} is not on {page} but on {there}")
    if not record.open_faults:
        raise NotAllowedError(f"{page} has no open fault")
    raise UnknownNameError(f"{page} has no open fault {wanted!r}; open there: {_listed(record.open_faults)}")


def _listed(faults: Iterable[Fault], *, ids: bool = False) -> str:
    return "; ".join(f"{fault_words(each)} ({each.id})" if ids else fault_words(each) for each in faults)
