"""The book as it would stand after acts that are not done: as it does stand once they are, and unharmed before."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from copydesk.book.common.errors import CopydeskError
from copydesk.book.plan import Anchor, SpacePlan
from copydesk.book.structure.page import Page
from copydesk.tracking.commands.leaf_commands import add_leaf, cancel_leaf
from copydesk.tracking.commands.page_commands import Commands, agree_letters, agree_lines
from copydesk.tracking.ledger.entry import Act
from text_book import TextBook, made_text

if TYPE_CHECKING:
    from collections.abc import Callable

    from copydesk.tracking.state.book_state import BookState


def a_book() -> TextBook:
    spaces = (
        SpacePlan("mill", "miniature", Anchor(word=70), 4),
        SpacePlan("ford", "initial", Anchor(word=120), 3, width=15.0),
    )
    book = TextBook(made_text(500), spaces=spaces)
    book.do(book.commands.rule(Page.parse("1r")))
    book.write("1r")
    word = book.state.copy.word(book.state.budget.pages[8].start) + 5
    book.do(book.commands.hold(Page.parse("5r"), " ".join(book.exemplar.words[word : word + 4])))
    return book


def _written(state: BookState) -> Act:
    return Commands(state).write(Page.parse("1v"))


ACTS: dict[str, Callable[[BookState], Act]] = {
    "a page written": _written,
    "a smaller initial": lambda _: Act("resized", "ford", "", {"lines": 2}),
    "a space given up": lambda _: Act("given-up", "mill", "", {}),
    "a leaf added": lambda state: add_leaf(state, 3),
    "a leaf cancelled": lambda state: cancel_leaf(state, 4),
    "closer writing": lambda state: agree_letters(state, 1, 4, 23.0),
    "a line more": lambda state: agree_lines(state, 11),
}


@pytest.mark.parametrize("name", ACTS)
def test_what_is_supposed_is_what_would_come(name: str) -> None:
    book = a_book()
    before = book.state.budget
    act = ACTS[name](book.state)
    supposed = book.state.supposing([act])
    assert book.state.budget is before
    assert len(book.ledger) == len(book.state.ledger) < len(supposed.ledger)
    entry = book.do(act)
    for state in (book.state, book.afresh()):
        assert supposed.budget.pages == state.budget.pages
        assert supposed.budget.stretches == state.budget.stretches
        assert supposed.frames == state.frames
    book.undo(entry)
    assert book.state.budget.pages == before.pages


def test_one_may_suppose_upon_supposing() -> None:
    book = a_book()
    one = book.state.supposing([ACTS["a smaller initial"](book.state)])
    two = one.supposing([ACTS["a space given up"](one)])
    assert [plan.id for plan in two.plans] == ["ford"]
    assert [plan.lines for plan in one.plans] == [4, 2]
    assert [plan.lines for plan in book.state.plans] == [4, 3]


def test_a_line_more_holds_for_pages_not_ruled_only() -> None:
    book = a_book()
    book.do(agree_lines(book.state, 11))
    rooms = [page.room for page in book.state.budget.pages]
    assert rooms[0] == 10
    assert rooms[2] == 11
    book.do(book.commands.rule(Page.parse("2r")))
    book.do(agree_lines(book.state, 12))
    assert [book.state.frame_of(index).lines for index in (0, 2, 4)] == [10, 11, 12]
    assert book.afresh().budget.pages == book.state.budget.pages


def test_a_page_keeps_the_lines_it_was_ruled_with_when_the_ruling_is_taken_back() -> None:
    book = a_book()
    entry = book.do(agree_lines(book.state, 11))
    book.do(book.commands.rule(Page.parse("2r")))
    book.undo(entry)
    assert [book.state.frame_of(index).lines for index in (2, 4)] == [11, 10]


@pytest.mark.parametrize(
    ("lines", "why"),
    [
        (0, "a column cannot have"),
        (500, "a column cannot have"),
        (40, "has room"),
        (3, "space mill needs a column of 4"),
    ],
)
def test_no_ruling_has_such_lines(lines: int, why: str) -> None:
    with pytest.raises(CopydeskError, match=why):
        agree_lines(a_book().state, lines)


def test_the_lines_stay_as_high_and_the_foot_margin_gives_the_room() -> None:
    layout = a_book().state.layout
    longer = layout.with_lines(layout.lines + 1)
    assert longer.line_height == layout.line_height
    assert longer.baselines[:-1] == layout.baselines
    assert longer.margins.foot == pytest.approx(layout.margins.foot - layout.line_height)
    assert layout.with_lines(layout.lines) == layout


def test_flaws_take_lines_of_the_longer_pages_too() -> None:
    from copydesk.tracking.commands.leaf_commands import note_flaw

    book = a_book()
    foot = book.state.layout.baselines[-1]
    sizes = {"from_head": foot + 1, "from_fold": 15.0, "width": 20.0, "height": 2.0}
    book.do(note_flaw(book.state, 3, sizes))
    assert book.state.budget.pages[4].room == 10
    book.do(agree_lines(book.state, 11))
    assert [line for _, line, _ in book.state.frame_of(4).flaws] == [11]


def test_letters_that_cannot_be_are_refused() -> None:
    with pytest.raises(CopydeskError, match="cannot stand on a line"):
        agree_letters(a_book().state, 0, 1, 0.2)


def test_letters_agreed_go_with_their_leaves() -> None:
    book = a_book()
    book.do(agree_letters(book.state, 4, 5, 23.0))
    book.do(add_leaf(book.state, 2))
    assert dict(book.state.agreed) == {6: 23.0, 7: 23.0}
