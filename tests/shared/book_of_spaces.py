"""A small book with three spaces, and what is asked of them."""

from __future__ import annotations

from typing import Any

from copydesk.book.plan import Anchor, SpacePlan
from copydesk.book.structure.page import Page
from copydesk.tracking.views.space_view import SpaceAccount, find_space
from small_book import SmallBook

FROST = SpacePlan("frost", "miniature", Anchor(word=130), 4, subject="a frozen mill")
ROSE = SpacePlan("rose", "initial", Anchor(division=1, paragraph=1), 2, guide_letter="w")
VINE = SpacePlan("vine", "border", Anchor(page="1r"))


def book(*spaces: SpacePlan, **changes: Any) -> SmallBook:
    return SmallBook(spaces=spaces or (ROSE, FROST, VINE), **changes)


def space(book: SmallBook, name: str) -> SpaceAccount:
    found = find_space(book.state, name)
    assert found is not None
    return found


def page_of(book: SmallBook, name: str) -> str:
    return str(space(book, name).page)


def rule(book: SmallBook, *pages: str) -> None:
    for page in pages:
        book.do(book.commands.rule(Page.parse(page)))
