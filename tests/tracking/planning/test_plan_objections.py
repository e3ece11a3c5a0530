"""What stands against a changed plan once pages are ruled or written."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import pytest

from copydesk.book.plan import Anchor, Columns, GatheringPlan, Hand, Margins, Ruling, SpacePlan, Workshop
from copydesk.book.structure.page import Page
from copydesk.tracking.planning.plan_objections import objections
from copydesk.tracking.state.book_state import BookState
from small_book import SmallBook

if TYPE_CHECKING:
    from collections.abc import Callable

    from copydesk.book.plan import Book

FROST = SpacePlan("frost", "miniature", Anchor(page="1v"), 3)


def said(work: SmallBook, change: Callable[[Book], Book]) -> list[str]:
    after = BookState(change(work.plan), work.exemplar, work.ledger)
    return objections(work.state, after)


def begun() -> SmallBook:
    """Pages 1r to 2r written by B, 1v among them with a space fixed on it."""
    work = SmallBook(spaces=(FROST,))
    for page in ("1r", "1v", "2r"):
        work.do(work.commands.rule(Page.parse(page)))
        work.write(page, hand="B")
    return work


def changed(**values: Any) -> Callable[[Book], Book]:
    return lambda book: replace(book, **values)


@pytest.mark.parametrize(
    ("change", "why"),
    [
        (
            changed(ruling=Ruling(lines=11)),
            "3 pages from 1r to 2r were ruled with 10 lines; the plan has 11 lines now",
        ),
        (changed(columns=Columns(2, 5.0)), "were ruled in 1 column; the plan has 2 columns now"),
        (
            lambda book: replace(book, page=book.page._replace(width=101.0)),
            "were cut to a width of 100 mm; the plan has 101 mm now",
        ),
        (
            changed(hands=(Hand("A", "first", 20.0),)),
            "hand B wrote 3 pages from 1r to 2r, and the plan has no such hand now",
        ),
        (changed(spaces=()), "space frost stands on 1v as it was ruled, and the plan has it no more"),
        (changed(spaces=(FROST._replace(lines=5),)), "the plan gives it 5 lines now"),
        (
            changed(gatherings=GatheringPlan(sheets=3, count=2)),
            "were made for a gathering of 4 leaves; the plan has 6 leaves now",
        ),
        (
            lambda book: replace(book, page=book.page._replace(margins=Margins(10.0, 12.0, 20.0, 28.0))),
            "the page and its margins cannot change any more: 3 pages ruled or written so, the first 1r; leave them",
        ),
        (changed(gatherings=GatheringPlan(2, 3, outside="flesh")), "the leaf of 1r would be another"),
    ],
)
def test_what_pages_begun_need_stays(change: Callable[[Book], Book], why: str) -> None:
    assert why in " ".join(said(begun(), change))
    assert said(SmallBook(spaces=(FROST,)), change) == []


@pytest.mark.parametrize(
    "change",
    [
        lambda book: book,
        changed(hands=(Hand("A", "first", 25.0), Hand("B", "Bea", 16.0), Hand("C", "Cy", 20.0))),
        changed(gatherings=GatheringPlan(sheets=2, count=4)),
        changed(spaces=(FROST._replace(subject="a mill"), SpacePlan("owl", "miniature", Anchor(page="4r"), 3))),
        changed(workshop=Workshop(artist="Ines")),
    ],
)
def test_all_else_can_still_change(change: Callable[[Book], Book]) -> None:
    assert said(begun(), change) == []
