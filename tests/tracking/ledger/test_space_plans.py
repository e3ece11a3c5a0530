"""Plans of spaces kept as facts of entries: they read back, and no facts whatever break a book."""

from __future__ import annotations

from typing import Any, get_args

from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.plan import Anchor, SpaceKind, SpacePlan
from copydesk.tracking.ledger.entry import Act, Entry
from copydesk.tracking.ledger.space_plans import anchor_facts, anchor_from, plan_facts, plan_from
from copydesk.tracking.views.space_view import space_accounts
from small_book import SmallBook

numbers = st.integers(1, 500)
texts = st.text(max_size=12)
anchors = st.one_of(
    numbers.map(lambda number: Anchor(division=number, paragraph=number)),
    st.integers(0, 900).map(lambda number: Anchor(word=number)),
    st.sampled_from(["1r", "12r 14"]).map(lambda place: Anchor(exemplar=place)),
    numbers.map(lambda number: Anchor(page="3.5:r", column=number, line=number)),
)
plans = st.builds(
    SpacePlan,
    id=st.just("x"),
    kind=st.sampled_from(get_args(SpaceKind)),
    at=anchors,
    lines=st.integers(0, 40),
    across=st.sampled_from(["column", "all"]),
    width=st.none() | st.just(4.5),
    subject=texts,
    instruction=texts,
    guide_letter=texts,
    materials=st.lists(texts, max_size=3).map(tuple),
    artist=texts,
    hours=st.none() | st.just(2.0),
    stages=st.none() | st.just(("drawn",)),
)


@given(plans)
def test_a_plan_reads_back_from_its_facts(plan: SpacePlan) -> None:
    assert plan_from("x", plan_facts(plan)) == plan


@given(anchors)
def test_an_anchor_reads_back_from_its_facts(at: Anchor) -> None:
    assert anchor_from(anchor_facts(at)) == at


junk = st.recursive(
    st.none() | st.booleans() | st.integers(-5, 10**12) | st.floats() | st.text(max_size=8),
    lambda inner: st.lists(inner, max_size=2) | st.dictionaries(st.text(max_size=5), inner, max_size=2),
    max_leaves=4,
)
names = st.sampled_from(
    ["kind", "at", "lines", "across", "width", "materials", "hours", "stages", "page", "line", "word"]
)
facts = st.dictionaries(names, junk | st.dictionaries(names, junk, max_size=3), max_size=5)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(st.sampled_from(["added", "moved", "resized", "drawn"]), facts, junk), max_size=4))
def test_no_facts_whatever_break_the_book(entries: list[tuple[str, Any, Any]]) -> None:
    book = SmallBook(words=200, spaces=(SpacePlan("frost", "miniature", Anchor(word=60), 3),))
    for what, given_facts, lines in entries:
        act = Act(
            what,
            "frost" if what != "added" else "owl",
            "",
            {"plan": given_facts, "anchor": given_facts, "lines": lines},
        )
        _do(book, act)
    assert space_accounts(book.state) == space_accounts(book.afresh())


def _do(book: SmallBook, act: Act) -> None:
    """As the book does it, but for the facts being looked at first: a ledger may hold any."""
    tick = book.ledger.last_tick + 1
    entry = Entry(f"e{tick}", tick, "2026-03-02T10:00:00+00:00", "A", "desk", act.what, act.about, "", act.facts)
    subject = book.ledger.add(entry)
    assert subject is not None
    book.state.touch(subject)
