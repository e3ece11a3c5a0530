"""What a desk knows of a ledger on a server, without a server."""

from __future__ import annotations

from typing import Any

from copydesk.store.server.known_entries import KnownEntries
from copydesk.store.server.rows import EntryRow


def entry(name: str, tick: int = 1, note: str = "") -> dict[str, Any]:
    return {"entry": name, "tick": tick, "at": "2027-01-12T09:30:00+01:00", "note": note}


def row(number: int, name: str, entry_there: dict[str, Any] | None) -> EntryRow:
    return EntryRow(number, name, entry_there, "" if entry_there else "torn")


def test_every_entry_is_known_once_and_what_the_server_lacks_waits() -> None:
    known = KnownEntries([entry("a", 3)], [entry("a", 3), entry("b", 7)])
    assert list(known.known) == ["a", "b"]
    assert list(known.waiting) == ["b"]
    assert [each["entry"] for each in known.fresh] == ["a", "b"]
    assert (known.next_tick, known.count_on_server, known.last_on_server) == (8, 1, "a")


def test_own_entries_are_not_handed_out_again() -> None:
    known = KnownEntries([], [])
    known.add_unsent([entry("a")], fresh=False)
    known.add_sent([entry("a")], fresh=False)
    assert (known.fresh, known.waiting, list(known.known)) == ([], {}, ["a"])


def test_rows_of_the_server_end_the_waiting() -> None:
    known = KnownEntries([], [entry("a"), entry("b")])
    assert known.add_rows([row(4, "a", entry("a", 5)), row(2, "c", entry("c", 2))], 1) == 4
    assert known.add_rows([], 4) == 4
    assert list(known.waiting) == ["b"]
    assert known.last_on_server == "c"
    assert known.clashes == []


def test_another_entry_under_the_same_id_is_a_clash() -> None:
    known = KnownEntries([], [entry("a", note="mine")])
    known.add_rows([row(1, "a", entry("a", 9, note="theirs"))], 0)
    assert known.clashes == ["a"]


def test_a_row_that_cannot_be_read_is_damaged_and_is_there_where_it_is_known() -> None:
    known = KnownEntries([entry("a")], [])
    known.add_rows([row(1, "a", None), row(2, "never seen", None)], 0)
    assert known.damaged == {1: "torn", 2: "torn"}
    assert known.count_on_server == 1


def test_what_the_server_lost_is_sent_again() -> None:
    known = KnownEntries([entry("a"), entry("b")], [])
    before = known.forget_server()
    assert (before, known.count_on_server) == ({"a", "b"}, 0)
    known.add_sent([entry("b")])
    assert known.resend_lost(before) == 1
    assert list(known.waiting) == ["a"]
