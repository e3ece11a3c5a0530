"""What every store of a book's entries promises, whichever it is."""

from __future__ import annotations

import itertools
import threading
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from copydesk.book.common.errors import CopydeskError
from ledger_trials import draft, names, refreshed

if TYPE_CHECKING:
    from collections.abc import Callable

    from copydesk.store.journal.ledger_store import LedgerStore

    Opener = Callable[[str], LedgerStore]

_fresh_ids = map("id{}".format, itertools.count())


def test_a_new_ledger_is_empty_and_silent(open_store: Opener) -> None:
    store = open_store("window")
    assert store.entries() == []
    assert store.refresh() == []
    assert (store.notes, store.why_read_only, store.desk) == ((), "", "window")


def test_an_entry_comes_back_with_its_tick_and_desk(open_store: Opener) -> None:
    kept = open_store("window").append(draft("a"))
    assert kept == {**draft("a"), "tick": 1, "desk": "window"}
    assert open_store("door").entries() == [kept]


def test_a_desk_named_in_the_entry_stays(open_store: Opener) -> None:
    assert open_store("window").append(draft("a", desk="door"))["desk"] == "door"


def test_ticks_pass_every_tick_seen_at_any_desk(open_store: Opener) -> None:
    one, other = open_store("one"), open_store("other")
    ticks = [store.append(draft(f"e{number}"))["tick"] for number, store in enumerate([one, other, other, one, other])]
    assert ticks == [1, 2, 3, 4, 5]


def test_other_desks_entries_arrive_once_and_in_order(open_store: Opener) -> None:
    writer, reader = open_store("writer"), open_store("reader")
    writer.append(draft("a"))
    writer.append_many([draft("b"), draft("c")])
    assert refreshed(reader, 3) == ["a", "b", "c"]
    assert reader.refresh() == []
    assert writer.refresh() == []
    assert names(reader.entries()) == names(writer.entries()) == ["a", "b", "c"]


def test_what_entries_gave_is_not_given_again(open_store: Opener) -> None:
    writer, reader = open_store("writer"), open_store("reader")
    writer.append(draft("a"))
    reader.append(draft("b"))
    assert names(reader.entries()) == ["a", "b"]
    assert reader.refresh() == []


def test_a_draft_is_made_when_the_others_entries_are_in(open_store: Opener) -> None:
    one, other = open_store("one"), open_store("other")
    other.append(draft("theirs"))
    seen: list[str] = []

    def make(tick: int) -> dict[str, Any]:
        seen.extend(names(one.refresh()))
        return draft("ours", tick=tick, desk="one")

    assert one.append(make)["tick"] == 2
    assert seen == ["theirs"]
    assert one.refresh() == []


def test_a_draft_that_fails_leaves_nothing(open_store: Opener) -> None:
    store = open_store("one")

    def make(tick: int) -> dict[str, Any]:
        raise CopydeskError(f"no entry {tick}")

    with pytest.raises(CopydeskError, match="no entry 2"):
        store.append_many([draft("a"), make])
    assert open_store("other").entries() == []
    assert store.append(draft("b"))["tick"] == 1


def test_several_entries_stand_together(open_store: Opener) -> None:
    store = open_store("one")
    kept = store.append_many([draft("a"), lambda tick: draft("b", tick=tick, desk="two"), draft("c")])
    assert [(entry["entry"], entry["tick"], entry["desk"]) for entry in kept] == [
        ("a", 1, "one"),
        ("b", 2, "two"),
        ("c", 3, "one"),
    ]
    assert store.append_many([]) == []
    assert open_store("two").entries() == kept


def test_an_entry_asked_for_again_is_kept_once(open_store: Opener) -> None:
    one, other = open_store("one"), open_store("other")
    kept = one.append(draft("a"))
    again = draft("a", desk="one", at="2027-01-12T09:31:00+01:00")
    assert other.append(again) == kept
    assert one.append_many([again, draft("b"), draft("b")]) == [kept, one.entries()[1], one.entries()[1]]
    assert names(open_store("third").entries()) == ["a", "b"]


def test_an_id_means_one_entry(open_store: Opener) -> None:
    store = open_store("one")
    store.append(draft("a"))
    for drafts in ([draft("b"), draft("a", what="checked")], [draft("b"), draft("b", page="3.5:v")]):
        with pytest.raises(CopydeskError, match="belongs to another entry"):
            store.append_many(drafts)
    assert names(open_store("other").entries()) == ["a"]


@pytest.mark.parametrize(
    ("field", "said"),
    [
        (float("nan"), "finite number"),
        (float("inf"), "finite number"),
        ("half a \ud83d", "half a character"),
        ([{"deep": "\udc80"}], "half a character"),
    ],
)
def test_what_cannot_be_kept_is_refused_before_anything_is_written(open_store: Opener, field: Any, said: str) -> None:
    store = open_store("one")
    store.append(draft("a"))
    with pytest.raises(CopydeskError, match=said):
        store.append(draft("b", note=field))
    assert names(open_store("other").entries()) == ["a"]


@pytest.mark.parametrize("broken", [{}, {"entry": 7}, {"entry": "x", "tick": "soon"}, {"entry": "x", "tick": -1}])
def test_an_entry_without_id_or_tick_is_refused(open_store: Opener, broken: dict[str, Any]) -> None:
    store = open_store("one")
    with pytest.raises(CopydeskError, match="needs an id"):
        store.append(lambda tick: {"tick": tick, **broken})
    assert open_store("other").entries() == []


def test_a_very_long_entry_is_kept_whole(open_store: Opener) -> None:
    note = "the ford \u202e[bold]\x1b[2J ﬃ 漢字 " * 100_000
    open_store("one").append(draft("a", note=note))
    assert open_store("two").entries()[0]["note"] == note


_values = st.recursive(
    st.none()
    | st.booleans()
    | st.integers(-(2**53), 2**53)
    | st.floats(allow_nan=False, allow_infinity=False)
    | st.text(st.characters(exclude_categories=["Cs"])),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=3),
    max_leaves=8,
)


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(more=st.dictionaries(st.text(max_size=6).filter(lambda key: key not in ("entry", "tick", "desk")), _values))
def test_fields_unknown_to_this_program_are_carried_along(open_store: Opener, more: dict[str, Any]) -> None:
    store = open_store("one")
    kept = store.append({"entry": next(_fresh_ids), **more})
    assert {key: value for key, value in kept.items() if key not in ("entry", "tick", "desk")} == more
    assert open_store("two").entries()[-1] == kept


@settings(max_examples=30, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    steps=st.lists(st.tuples(st.integers(0, 2), st.sampled_from(["append", "many", "refresh", "entries"])), max_size=25)
)
def test_every_desk_is_given_every_entry_once(open_store: Opener, steps: list[tuple[int, str]]) -> None:
    desks = [open_store(f"desk{number}") for number in range(3)]
    given_out = [names(desk.entries()) for desk in desks]
    model = list(given_out[0])
    for at, step in steps:
        new = [next(_fresh_ids) for _ in range({"append": 1, "many": 2}.get(step, 0))]
        if step == "append":
            given_out[at].append(str(desks[at].append(draft(new[0]))["entry"]))
        elif step == "many":
            given_out[at] += names(desks[at].append_many([draft(name) for name in new]))
        elif step == "refresh":
            given_out[at] += names(desks[at].refresh())
        else:
            refreshed(desks[at], len(model) - len(given_out[at]))
            given_out[at] = names(desks[at].entries())
            assert given_out[at] == model
        model += new
    for desk, out in zip(desks, given_out, strict=True):
        assert sorted([*out, *refreshed(desk, len(model) - len(out))]) == sorted(model)
        assert names(desk.entries()) == model
        assert [entry["tick"] for entry in desk.entries()] == list(range(1, len(model) + 1))


def test_threads_may_share_a_store_or_a_ledger(open_store: Opener) -> None:
    shared = open_store("shared")
    stores = [shared, shared, open_store("own")]

    def write(number: int) -> None:
        for entry in range(20):
            stores[number].append(draft(f"{number}-{entry}"))
            stores[number].refresh()

    threads = [threading.Thread(target=write, args=(number,)) for number in range(3)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    entries = open_store("reader").entries()
    for number in range(3):
        assert [name for name in names(entries) if name.startswith(f"{number}-")] == [
            f"{number}-{n}" for n in range(20)
        ]
    assert [entry["tick"] for entry in entries] == list(range(1, 61))
