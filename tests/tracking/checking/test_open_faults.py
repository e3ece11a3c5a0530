"""A fault called by its number: found, mended already, on no such page, or one of two with one number."""

from __future__ import annotations

from typing import Any

import pytest

from copydesk.book.common.errors import AlreadyDoneError, AmbiguousError, NotAllowedError, UnknownNameError
from copydesk.tracking.checking.open_faults import fault_called, fault_words
from copydesk.tracking.ledger.page_record import Fault, PageRecord


def fault(name: str, number: int, **facts: Any) -> Fault:
    blank: dict[str, Any] = dict.fromkeys(("cause", "stands", "should", "found_by", "found_at"), "")
    blank |= dict.fromkeys(("remedy", "mended_by", "mended_at"), "") | dict.fromkeys(("column", "line", "word"))
    return Fault(**{"id": name, "page": "1r", "kind": "letter", "number": number, **blank, **facts})


def test_a_fault_is_found_by_its_number_or_id_and_the_only_one_without() -> None:
    record = PageRecord(faults=(fault("a", 3), fault("b", 4)))
    assert fault_called(record, "1r", "4", lambda _: "").id == fault_called(record, "1r", "b", lambda _: "").id == "b"
    mended = PageRecord(faults=(fault("a", 3, remedy="scraped"), fault("b", 4)))
    assert fault_called(mended, "1r", "", lambda _: "").id == "b"


@pytest.mark.parametrize(
    ("faults", "name", "error", "says"),
    [
        ((), "", NotAllowedError, "1r has no open fault"),
        ((fault("a", 3),), "1", UnknownNameError, "no open fault '1'; open there: fault 3, letter"),
        ((fault("a", 3, remedy="scraped"),), "3", AlreadyDoneError, "fault 3 on 1r is mended already"),
        ((fault("a", 3), fault("b", 4)), "", AmbiguousError, "give the number of one"),
        ((fault("a", 3), fault("b", 3)), "3", AmbiguousError, r"letter \(b\); give the id of one"),
    ],
)
def test_no_fault_is_guessed(faults: tuple[Fault, ...], name: str, error: type[Exception], says: str) -> None:
    with pytest.raises(error, match=says):
        fault_called(PageRecord(faults=faults), "1r", name, lambda _: "")


def test_its_words_begin_with_its_number() -> None:
    told = fault_words(fault("a", 3, column=1, line=5, stands="ba\x1bd", should="bad"))
    assert told.startswith("fault 3, letter, column 1, line 5: ")
    assert "\x1b" not in told
