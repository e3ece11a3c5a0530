"""Entries in their order, and which of them stand."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.tracking.ledger.entry import Entry
from copydesk.tracking.ledger.ledger import Ledger


def entry(name: str, tick: int, what: str = "checked", about: str = "1.1:r", desk: str = "north") -> Entry:
    return Entry(name, tick, "", "A", desk, what, about, "", {})


def names(entries: list[Entry]) -> str:
    return " ".join(each.entry for each in entries)


def test_entries_stand_in_the_order_of_their_ticks() -> None:
    ledger = Ledger([entry("b", 2), entry("c", 3), entry("a", 1)])
    assert names(list(ledger)) == "a b c"
    assert ledger.last_tick == 3
    assert ledger.add(entry("ab", 1, desk="south")) == ("page", "1.1:r")
    assert names(list(ledger)) == "a ab b c"
    assert names(ledger.live("page", "1.1:r")) == "a ab b c"
    assert len(ledger) == 4


def test_the_same_entry_is_taken_in_once() -> None:
    ledger = Ledger([entry("a", 1)])
    assert ledger.add(entry("a", 1)) is None
    assert len(ledger) == 1


def test_an_entry_taken_back_does_not_stand() -> None:
    ledger = Ledger([entry("a", 1), entry("b", 2)])
    assert ledger.add(entry("v", 3, "voided", "a")) == ("page", "1.1:r")
    assert names(ledger.live("page", "1.1:r")) == "b"
    assert (ledger.is_void("a"), ledger.is_void("b"), ledger.is_void("v")) == (True, False, False)


def test_a_taking_back_taken_back_lets_the_entry_stand_again() -> None:
    ledger = Ledger([entry("a", 1), entry("v", 2, "voided", "a")])
    assert ledger.add(entry("w", 3, "voided", "v")) == ("page", "1.1:r")
    assert names(ledger.live("page", "1.1:r")) == "a"
    ledger.add(entry("x", 4, "voided", "w"))
    assert ledger.live("page", "1.1:r") == []


def test_taken_back_twice_it_stands_only_when_both_are_taken_back() -> None:
    ledger = Ledger([entry("a", 1), entry("v", 2, "voided", "a"), entry("w", 3, "voided", "a")])
    ledger.add(entry("x", 4, "voided", "v"))
    assert ledger.is_void("a")
    ledger.add(entry("y", 5, "voided", "w"))
    assert not ledger.is_void("a")


def test_what_comes_late_is_void_from_the_first_if_taken_back() -> None:
    ledger = Ledger([entry("v", 9, "voided", "a")])
    ledger.add(entry("a", 1))
    assert ledger.live("page", "1.1:r") == []


def test_an_entry_cannot_take_back_itself_or_what_is_newer() -> None:
    ledger = Ledger([entry("v", 1, "voided", "v"), entry("a", 2, "voided", "b"), entry("b", 3, "voided", "a")])
    assert [ledger.is_void(name) for name in "vab"] == [False, True, False]
    ledger.add(entry("c", 4, "voided", "nobody"))
    assert not ledger.is_void("nobody")


def test_a_long_chain_of_taking_back_has_an_end() -> None:
    ledger = Ledger([entry("e0", 0)])
    for at in range(1, 3001):
        ledger.add(entry(f"e{at}", at, "voided", f"e{at - 1}"))
    assert [ledger.is_void(f"e{at}") for at in (0, 1, 2999, 3000)] == [False, True, True, False]


def test_undo_takes_the_newest_that_stands_at_this_desk() -> None:
    ledger = Ledger([entry("a", 1), entry("b", 2, desk="south"), entry("c", 3)])
    newest = ledger.newest_standing("north")
    assert newest is not None
    assert newest.entry == "c"
    ledger.add(entry("v", 4, "voided", "c"))
    assert getattr(ledger.newest_standing("north"), "entry", None) == "a"
    assert getattr(ledger.newest_standing(), "entry", None) == "b"
    assert ledger.newest_standing("east") is None


def test_redo_goes_as_far_as_nothing_was_done_since() -> None:
    ledger = Ledger([entry("a", 1), entry("b", 2), entry("vb", 3, "voided", "b"), entry("va", 4, "voided", "a")])
    assert getattr(ledger.newest_taken_back("north"), "entry", None) == "va"
    ledger.add(entry("ra", 5, "voided", "va"))
    assert getattr(ledger.newest_taken_back("north"), "entry", None) == "vb"
    ledger.add(entry("c", 6))
    assert ledger.newest_taken_back("north") is None


def test_things_of_a_kind() -> None:
    ledger = Ledger([entry("a", 1), entry("s", 2, "gilded", "frost"), entry("t", 3, "drawn", "ford")])
    assert ledger.about("space") == ["frost", "ford"]
    assert names(ledger.live_of("space")) == "s t"
    assert getattr(ledger.find("s"), "what", None) == "gilded"
    assert ledger.find("none") is None


@st.composite
def ledgers(draw: st.DrawFn) -> list[Entry]:
    """Entries of several desks, some taking back others, in any order of ticks."""
    found: list[Entry] = []
    for at in range(draw(st.integers(0, 14))):
        about = draw(st.sampled_from([f"e{number}" for number in range(14)]))
        voids = draw(st.booleans())
        subject = about if voids else draw(st.sampled_from(["1.1:r", "1.1:v"]))
        what, desk = "voided" if voids else "checked", draw(st.sampled_from("ab"))
        found.append(entry(f"e{at}", draw(st.integers(0, 6)), what, subject, desk))
    return found


def stands(target: Entry, entries: list[Entry]) -> bool:
    """The rule itself, written down as it is told."""
    order = (target.tick, target.desk, target.entry)
    takers = [each for each in entries if each.what == "voided" and each.about == target.entry]
    return not any((each.tick, each.desk, each.entry) > order and stands(each, entries) for each in takers)


@given(ledgers(), st.randoms(use_true_random=False))
@settings(max_examples=200)
def test_entries_come_in_in_any_order_to_the_same_end(entries: list[Entry], shuffler: object) -> None:
    mixed = entries.copy()
    shuffler.shuffle(mixed)  # type: ignore[attr-defined]
    at_once, one_by_one = Ledger(entries), Ledger()
    for each in mixed:
        one_by_one.add(each)
    assert list(at_once) == list(one_by_one)
    for each in entries:
        assert at_once.is_void(each.entry) == one_by_one.is_void(each.entry) == (not stands(each, entries))
    for name in ("1.1:r", "1.1:v"):
        assert at_once.live("page", name) == one_by_one.live("page", name)


@given(ledgers(), st.randoms(use_true_random=False))
@settings(max_examples=100)
def test_what_an_entry_changes_is_what_it_names(entries: list[Entry], shuffler: object) -> None:
    shuffler.shuffle(entries)  # type: ignore[attr-defined]
    ledger = Ledger()
    pages = ("1.1:r", "1.1:v")
    for each in entries:
        before = [ledger.live("page", name) for name in pages]
        changed = ledger.add(each)
        for name, was in zip(pages, before, strict=True):
            if ledger.live("page", name) != was:
                assert changed == ("page", name)


def fault_entry(name: str, tick: int, **facts: object) -> Entry:
    return Entry(name, tick, "", "A", "window", "fault", "1.1:r", "1r", {"kind": "letter", **facts})


def test_faults_keep_the_number_they_were_noted_with_and_older_ones_are_counted() -> None:
    ledger = Ledger([fault_entry("a", 1), fault_entry("b", 2), fault_entry("c", 3, number=7)])
    assert dict(ledger.fault_numbers) == {"a": 1, "b": 2, "c": 7}
    assert [each.facts.get("number") for each in ledger.numbered([fault_entry("x", 4), fault_entry("y", 5)])] == [8, 9]
    ledger.add(Entry("v", 4, "", "A", "window", "voided", "a", "", {}))
    ledger.add(fault_entry("d", 5, number=8))
    assert (ledger.fault_numbers["b"], ledger.fault_numbers["d"]) == (2, 8)
    assert ledger.supposing([fault_entry("e", 6)]).fault_numbers["e"] == 9
    assert "e" not in ledger.fault_numbers


def test_a_number_that_is_no_number_is_counted_anew() -> None:
    ledger = Ledger([fault_entry("a", 1, number="seven"), fault_entry("b", 2, number=-3)])
    assert dict(ledger.fault_numbers) == {"a": 1, "b": 2}
