"""A page stays as it was ruled and written: where the plan or the text is changed afterwards, that is said."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import pytest

from copydesk.book.plan import Anchor, Columns, GatheringPlan, Hand, Margins, PageSize, Ruling, SpacePlan
from copydesk.book.structure.page import Page
from copydesk.book.text.exemplar import read_exemplar
from copydesk.tracking.commands.leaf_commands import add_gathering, cancel_leaf
from copydesk.tracking.ledger.entry import Act
from copydesk.tracking.state.book_state import BookState
from copydesk.tracking.state.plan_conflicts import plan_conflicts
from copydesk.tracking.views.consequences import consequences, standing
from small_book import SmallBook

if TYPE_CHECKING:
    from collections.abc import Callable

    from copydesk.book.plan import Book

OWL = SpacePlan("owl", "miniature", Anchor(word=20), lines=4, subject="an owl")


def worked() -> SmallBook:
    """A book of which 1r to 2r are written, and a picture on them is drawn."""
    book = SmallBook(spaces=(OWL,))
    for page in ("1r", "1v", "2r"):
        book.write(page)
    book.do(book.commands.space("owl", "drawn"))
    return book


def under(book: SmallBook, plan: Book) -> BookState:
    return BookState(plan, book.exemplar, book.ledger)


def with_owl(**changes: Any) -> Callable[[Book], Book]:
    return lambda plan: replace(plan, spaces=(OWL._replace(**changes),))


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (with_owl(lines=6), ["space owl stands on 1r with 4 lines as it was ruled; the plan gives it 6 lines now"]),
        (
            with_owl(at=Anchor(word=300)),
            [
                "space owl stands on 1r with 4 lines as it was ruled; it was tied to word 20, and is tied to word 300 "
                "now"
            ],
        ),
        (
            lambda plan: replace(plan, spaces=()),
            ["space owl stands on 1r as it was ruled, and the plan has it no more"],
        ),
        (with_owl(subject="a fox"), ['space owl is drawn as "an owl"; the plan says "a fox" now']),
        (
            with_owl(kind="diagram"),
            ["space owl stands on 1r with 4 lines as it was ruled; it was miniature, and is diagram now"],
        ),
        (
            lambda plan: replace(plan, ruling=Ruling(lines=9)),
            ["3 pages from 1r to 2r were ruled with 10 lines; the plan has 9 lines now"],
        ),
        (
            lambda plan: replace(plan, columns=Columns(2, 4.0)),
            [
                "3 pages from 1r to 2r were ruled in 1 column; the plan has 2 columns now",
                "3 pages from 1r to 2r were ruled to a line's length of 70 mm; the plan has 33 mm now",
            ],
        ),
        (
            lambda plan: replace(plan, page=PageSize(110.0, 140.0, Margins(10.0, 10.0, 30.0, 30.0))),
            ["3 pages from 1r to 2r were cut to a width of 100 mm; the plan has 110 mm now"],
        ),
        (
            lambda plan: replace(plan, gatherings=GatheringPlan(sheets=3, count=2)),
            ["3 pages from 1r to 2r were made for a gathering of 4 leaves; the plan has 6 leaves now"],
        ),
        (
            lambda plan: replace(plan, hands=(Hand("C", "third", 20.0),)),
            ["hand A wrote 3 pages from 1r to 2r, and the plan has no such hand now"],
        ),
    ],
)
def test_a_plan_changed_after_pages_were_written_is_told(change: Callable[[Book], Book], said: list[str]) -> None:
    book = worked()
    assert plan_conflicts(book.state) == ()
    after = under(book, change(book.plan))
    assert list(plan_conflicts(after)) == said
    assert consequences(standing(book.state), after)[: len(said)] == [f"Plan and skin differ: {each}." for each in said]


@pytest.mark.parametrize(
    "change",
    [
        lambda plan: replace(plan, title="Another title", spaces=(*plan.spaces, OWL._replace(id="fox", lines=2))),
        with_owl(hours=3.0, artist="Ines", instruction="with a red cap"),
    ],
)
def test_a_change_that_contradicts_nothing_on_the_skin_is_not_told(change: Callable[[Book], Book]) -> None:
    book = worked()
    assert plan_conflicts(under(book, change(book.plan))) == ()


def test_a_page_on_a_leaf_the_plan_has_no_more_is_told() -> None:
    book = SmallBook()
    book.write("4r")
    assert plan_conflicts(under(book, replace(book.plan, gatherings=GatheringPlan(sheets=1, count=6)))) == (
        "the plan has no leaf now for what is recorded of 4r",
    )
    book.do(cancel_leaf(book.state, 4))
    assert plan_conflicts(book.state) == ()


def other_words(book: SmallBook, old: str, new: str) -> BookState:

    return BookState(book.plan, read_exemplar(" ".join(book.exemplar.words).replace(old, new, 1)), book.ledger)


def test_other_words_in_the_text_are_told_until_the_page_is_checked_again() -> None:
    book = worked()
    assert plan_conflicts(other_words(book, "w500 ", "x ")) == ()
    (said,) = plan_conflicts(other_words(book, "w3 ", "w3 and more "))
    assert said.startswith("the text has other words now than 3 pages from 1r to 2r were written from")
    changed = other_words(book, "w3 ", "mole ")
    (said,) = plan_conflicts(changed)
    assert said.startswith("the text has other words now than 1r was written from")
    assert changed.exemplar is not None
    book.exemplar, book.state = changed.exemplar, changed
    book.do(book.commands.check(Page.parse("1r"), read=True), "B")
    assert plan_conflicts(book.state) == ()


def test_going_on_with_a_page_does_not_settle_what_was_told_of_it() -> None:
    book = SmallBook(spaces=(OWL,))
    book.do(book.commands.rule(Page.parse("1r")))
    book.plan = replace(book.plan, spaces=(OWL._replace(lines=6),))
    book.state = under(book, book.plan)
    told = plan_conflicts(book.state)
    assert len(told) == 1
    book.write("1r")
    assert plan_conflicts(book.state) == told


def test_a_leaf_made_anew_settles_it() -> None:
    book = worked()
    book.state = under(book, replace(book.plan, spaces=(OWL._replace(lines=6),)))
    assert plan_conflicts(book.state) != ()
    book.do(cancel_leaf(book.state, 1))
    assert plan_conflicts(book.state) == ()


def test_a_ledger_that_kept_no_plan_tells_of_sizes_all_the_same() -> None:
    book = SmallBook(spaces=(OWL,))
    act = book.commands.rule(Page.parse("1r"))
    book.do(Act(act.what, act.about, act.page, {name: of for name, of in act.facts.items() if name != "plan"}))
    assert plan_conflicts(book.state) == ()
    assert len(plan_conflicts(under(book, replace(book.plan, spaces=(OWL._replace(lines=6),))))) == 1


def test_a_size_changed_by_an_act_before_ruling_is_no_difference() -> None:
    book = SmallBook(spaces=(OWL,))
    book.do(book.commands.space("owl", "resized", lines=5))
    book.write("1r")
    assert plan_conflicts(book.state) == ()


def test_a_gathering_added_and_taken_out_hides_no_page_the_plan_has_lost() -> None:
    book = SmallBook()
    book.write("9r")
    fewer = replace(book.plan, gatherings=GatheringPlan(sheets=2, count=2))
    after = under(book, fewer)
    said = plan_conflicts(after)
    assert said == ("the plan has no leaf now for what is recorded of 9r",)
    added = book.do(add_gathering(after, 4))
    assert plan_conflicts(under(book, fewer)) == ()
    book.undo(added)
    assert plan_conflicts(under(book, fewer)) == said
