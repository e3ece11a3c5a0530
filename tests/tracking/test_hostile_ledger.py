"""No entry, whatever it says, breaks the book: by another program, by a slip, or by ill will."""

from __future__ import annotations

from typing import TYPE_CHECKING

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from copydesk.book.plan import Anchor, Flaw, SpacePlan
from copydesk.tracking.ledger.entry import Entry
from copydesk.tracking.ledger.entry_kinds import KINDS
from copydesk.tracking.ledger.ledger import Ledger
from copydesk.tracking.log.entry_text import describe
from copydesk.tracking.state.book_state import BookState
from copydesk.tracking.state.page_content import line_places, lines_of_page
from copydesk.tracking.views.gathering_progress import gathering_reports
from copydesk.tracking.views.page_report import page_as_data
from copydesk.tracking.views.page_view import page_account
from copydesk.tracking.views.space_view import space_accounts
from small_book import SmallBook

if TYPE_CHECKING:
    from collections.abc import Mapping

FACTS = sorted({name for kind in KINDS.values() for name in kind.facts} | {"colour", "place"})
PLANS = (
    SpacePlan(id="frost", kind="miniature", at=Anchor(word=30), lines=3),
    SpacePlan(id="ford", kind="initial", at=Anchor(division=1, paragraph=1), lines=2),
    SpacePlan(id="rim", kind="border", at=Anchor(page="1r")),
)
NAMES = {
    "page": ["1.1:r", "1.1:v", "1.4:r", "2.2:v", "2.2r1:r", "9.9:r", "x:r", ":v", "1.1", ""],
    "space": ["frost", "ford", "rim", "owl", ""],
    "sheet": ["1.1", "2.2", "9.9", "1", "x", ""],
    "leaf": ["1.1", "1.4", "2.2", "2.2r1", "1.0", "0.0", "9.1", "4.0", "1.1s", "x", ""],
    "entry": [f"e{at}" for at in range(8)],
}

numbers = st.integers(-3, 60) | st.sampled_from([10**4, 10**9, 10**30, -(10**30)])
words = st.sampled_from(["", "A", "frost", "1.1", "hair", "5r", "page", "all", "miniature", "\x1b[31m", "1.1:r"])
INNER = ["kind", "at", "lines", "page", "word", "division", "id", "x"]
values = st.recursive(
    st.none() | st.booleans() | numbers | st.floats() | words,
    lambda inside: st.lists(inside, max_size=5) | st.dictionaries(st.sampled_from(INNER), inside, max_size=4),
    max_leaves=8,
)
rows = st.lists(st.tuples(words, numbers, numbers, numbers, st.floats(0, 2)).map(list), max_size=3)


PLAUSIBLE: dict[type, st.SearchStrategy[object]] = {
    int: st.integers(0, 60),
    float: st.floats(0, 60),
    bool: st.booleans(),
    str: words,
    list: rows,
    dict: st.fixed_dictionaries({"word": st.integers(0, 160)}, optional={"kind": words, "lines": st.integers(0, 20)}),
}
WHATS = [*KINDS, *["ruled", "begun", "written", "written", "held", "checked"] * 6, "sprinkled"]


@st.composite
def facts_of(draw: st.DrawFn, what: str) -> Mapping[str, object]:
    """The facts of a kind as they should be, but for some; or any facts whatever."""
    kind = KINDS.get(what)
    if kind is None or draw(st.integers(0, 4)) == 0:
        return draw(st.dictionaries(st.sampled_from(FACTS), values | rows, max_size=6))
    facts = {name: draw(PLAUSIBLE[wanted]) for name, wanted in kind.facts.items() if draw(st.integers(0, 4))}
    if facts and draw(st.integers(0, 3)) == 0:
        facts[draw(st.sampled_from(sorted(facts)))] = draw(values)
    return facts


@st.composite
def entries(draw: st.DrawFn) -> list[Entry]:
    """Entries of every kind about everything, with any facts."""
    found = []
    for at in range(draw(st.integers(1, 8))):
        what = draw(st.sampled_from(WHATS))
        kind = KINDS.get(what)
        about = draw(st.sampled_from(NAMES.get(kind.about if kind else "", ["", "north", "ruling", "agreed"])))
        stamp = draw(st.sampled_from(["2026-03-02T10:00:00+00:00", "", "yesterday", "2026-99-99T99:99"]))
        hand, page = draw(st.sampled_from(["A", "B", "", "Zoë"])), draw(words)
        found.append(Entry(f"e{at}", at, stamp, hand, "north", what, about, page, draw(facts_of(what))))
    return found


def look_at_everything(state: BookState) -> list[object]:
    """All that is told of a book; it must be sensible, and the same however it was come by."""
    seen: list[object] = []
    for index in range(state.collation.pages):
        account = page_account(state, index)
        data = page_as_data(account)
        assert 0 <= account.from_word <= account.to_word <= state.copy.words
        assert account.budget.planned >= 0
        assert 0 <= account.lines_in_spaces <= account.ruled_lines
        assert str(account.next_act)
        seen.append(data)
        seen.append([(line.column, line.line, line.start, line.end) for line in lines_of_page(state, index)])
        seen.append(line_places(state, index))
    seen += [(account.plan.id, account.page, account.stage) for account in space_accounts(state)]
    seen += gathering_reports(state)
    for entry in state.ledger:
        assert describe(entry, state).isprintable()
    return seen


@given(entries())
@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_no_ledger_breaks_the_book(given_entries: list[Entry]) -> None:
    book = SmallBook(
        words=150, count=2, spaces=PLANS, flaws=(Flaw(leaf=2, from_head=40, from_fold=20, width=15, height=9),)
    )
    look_at_everything(book.state)
    for entry in given_entries:
        subject = book.ledger.add(entry)
        assert subject is not None
        book.state.touch(subject)
    touched = look_at_everything(book.state)
    assert touched == look_at_everything(BookState(book.plan, book.exemplar, Ledger(given_entries)))
