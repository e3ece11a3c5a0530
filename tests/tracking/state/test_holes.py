"""Text around a hole in the middle of a line: on both sides, or on the larger one, as the book says."""

from __future__ import annotations

from copydesk.book.flow import Flow
from copydesk.book.layout.page_frame import SplitLine
from copydesk.book.plan import Anchor, Flaw, SpacePlan
from copydesk.tracking.state.first_plan import first_ends
from text_book import TextBook

# the first two lines of leaf 1: 70 mm from 10, a hole of 7 mm after 28 mm of them
HOLE = (Flaw(leaf=1, from_head=11.0, from_fold=38.0, width=7.0, height=15.0),)
VERSES = "\n".join(f"| verse {at} abcd efgh" for at in range(10, 50))


def test_a_verse_goes_on_beyond_a_hole() -> None:
    whole = TextBook(VERSES, flaws=HOLE)
    assert whole.lines("1r")[:2] == ["verse 10 abcd efgh", "verse 11 abcd efgh"]
    broken = TextBook(VERSES, flaws=HOLE, flow=Flow(holes="one side"))
    assert broken.lines("1r")[:3] == ["verse 10", "abcd efgh", "verse 11 abcd efgh"]


def test_both_sides_of_the_leaf_know_the_hole() -> None:
    frames = TextBook(VERSES, flaws=HOLE).state.frames
    recto, verso = (frames[index].flaws[0][2] for index in (0, 1))
    assert isinstance(recto, SplitLine) and isinstance(verso, SplitLine)
    assert recto.stretches == verso.stretches[::-1]


def test_what_is_written_around_it_ends_as_planned() -> None:
    book = TextBook(flaws=HOLE)
    planned = [(page.start, page.end) for page in book.state.budget.pages]
    for page in ("1r", "1v", "2r"):
        book.write(page)
    assert [(page.start, page.end) for page in book.state.budget.pages] == planned
    assert first_ends(book.state, 2) == [book.state.copy.word(end) for _, end in planned[:2]]
    book.state.refit()
    assert abs(book.state.measures["A"] - 20.0) < 0.5


def test_a_line_that_an_initial_narrows_too_has_one_side() -> None:
    book = TextBook(VERSES, flaws=HOLE, spaces=(SpacePlan("i", "initial", Anchor(word=0), 2, width=35.0),))
    assert book.lines("1r")[:3] == ["verse 10", "abcd efgh", "verse 11 abcd efgh"]
