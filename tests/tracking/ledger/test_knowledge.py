"""What entries knew of one another, against a plain walk along what each of them names."""

from __future__ import annotations

from itertools import product

from hypothesis import given
from hypothesis import strategies as st

from copydesk.tracking.ledger.entry import KNEW, NONE_SEEN, Entry
from copydesk.tracking.ledger.ledger import Ledger


def _entry(name: str, tick: int, knew: str | None) -> Entry:
    facts = {} if knew is None else {KNEW: knew}
    return Entry(name, tick, "2026-03-02T10:00:00+00:00", "A", "desk", "note", "", "", facts)


class _Copies:
    """Copies of one book that record and are merged, each with the whole set that every entry knew."""

    def __init__(self, copies: int) -> None:
        self.ledgers: list[dict[str, Entry]] = [{} for _ in range(copies)]
        self.known: dict[str, set[str]] = {}

    def record(self, at: int) -> None:
        here, ledger = self.ledgers[at], Ledger(self.ledgers[at].values())
        name = f"e{len(self.known)}"
        self.known[name] = set(here)
        here[name] = _entry(name, ledger.last_tick + 1, " ".join(ledger.newest) or NONE_SEEN)

    def merge(self, at: int, other: int) -> None:
        self.ledgers[at].update(self.ledgers[other])


@given(st.lists(st.tuples(st.integers(0, 3), st.integers(0, 3)), max_size=40))
def test_what_was_known_is_told_however_copies_are_written_and_merged(steps: list[tuple[int, int]]) -> None:
    copies = _Copies(4)
    for at, other in steps:
        if at == other:
            copies.record(at)
        else:
            copies.merge(at, other)
    for held in copies.ledgers:
        grown = Ledger()
        for entry in held.values():  # in the order they came here, not that of their ticks
            grown.add(entry)
            _ = grown.newest
        for ledger in (grown, Ledger(held.values())):
            for after, before in product(ledger, ledger):
                if after.entry != before.entry:
                    assert ledger.knew(after, before) == (before.entry in copies.known[after.entry])
            assert set(ledger.newest) == set(held) - {name for each in held for name in copies.known[each]}


def test_a_ledger_written_at_one_desk_names_one_entry_only() -> None:
    copies = _Copies(1)
    for _ in range(30):
        copies.record(0)
    assert [entry.text(KNEW) for entry in copies.ledgers[0].values()] == [NONE_SEEN, *(f"e{at}" for at in range(29))]


def test_entries_of_older_programs_know_one_another_in_their_order() -> None:
    ledger = Ledger([_entry("a", 1, None), _entry("b", 2, None), _entry("c", 3, "b"), _entry("d", 3, "a")])
    a, b, c, d = ledger
    assert ledger.knew(b, a)
    assert ledger.knew(c, a)
    assert ledger.knew(d, a)
    assert not ledger.knew(d, b)
    assert not ledger.knew(d, c)
    assert ledger.newest == ("c", "d")


def test_names_that_no_entry_bears_break_nothing() -> None:
    ledger = Ledger([_entry("a", 1, "gone none  "), _entry("b", 2, "b c a"), _entry("c", 3, "")])
    a, b, c = ledger
    assert ledger.knew(b, a)
    assert not ledger.knew(c, b)
