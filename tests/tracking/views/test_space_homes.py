"""Spaces stay where they are when what was planned is recorded; whatever moves one, or leaves it homeless, says so."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.flow import Flow
from copydesk.book.plan import Anchor, Columns, Hand, Ruling, SpacePlan
from copydesk.book.structure.page import Page
from copydesk.tracking.commands.leaf_commands import add_gathering, add_leaf, cancel_leaf
from copydesk.tracking.ledger.entry import Act
from copydesk.tracking.scribes.handover import HANDOVER, handover
from copydesk.tracking.state.book_state import BookState
from copydesk.tracking.views.consequences import consequences, in_short, standing
from copydesk.tracking.views.space_homes import open_spaces, space_homes, text_page
from small_book import SmallBook
from text_book import TextBook, made_text

if TYPE_CHECKING:
    from collections.abc import Callable

    from copydesk.book.plan import SpaceKind

P1, P2, P3 = Page.parse("1r"), Page.parse("1v"), Page.parse("2r")


def headed_text(before: int, after: int = 400) -> str:
    """Words in one paragraph, then a division with a heading; its miniature stands at the second division."""
    words = made_text(before + after, small="").split()
    return f"{' '.join(words[:before])}\n\n# Heading\n\n{' '.join(words[before:])}"


def pictured(columns: int = 1, across: str = "column") -> TextBook:
    """A book whose second division's heading stands on the last line of 1r, with a picture of 8 lines before it."""
    picture = SpacePlan("mill", "miniature", Anchor(division=2), 8, across)  # type: ignore[arg-type]
    found = None
    for words in range(20, 200):
        book = TextBook(
            headed_text(words),
            spaces=(picture,),
            columns=Columns(columns),
            ruling=Ruling(lines=20),
            hands=(Hand("A", "first", 34.0),),
        )
        if text_page(book.state, picture) == 0:
            found = book
    assert found is not None
    assert home(found) == 1
    return found


def home(book: TextBook, space: str = "mill") -> int:
    return space_homes(book.state)[space].page


@pytest.mark.parametrize(("columns", "across"), [(1, "column"), (2, "column"), (2, "all")])
def test_a_picture_planned_at_the_head_of_the_next_page_stays_there_when_its_page_is_written(
    columns: int, across: str
) -> None:
    book = pictured(columns=columns, across=across)
    before = standing(book.state)
    planned = [(page.start, page.end) for page in book.state.budget.pages]
    book.write("1r")
    assert home(book) == 1
    assert consequences(before, book.state) == []
    assert [(page.start, page.end) for page in book.state.budget.pages] == planned
    assert open_spaces(book.state) == ["keep 8 lines on 1v for space mill; its text stands on 1r"]
    book.do(book.commands.rule(P2))
    assert (home(book), open_spaces(book.state)) == (1, [])


def test_three_words_closer_leave_the_picture_its_place() -> None:
    book = pictured()
    end = book.state.budget.pages[0].end
    words = book.exemplar.words[end : end + 3]
    book.do(book.commands.write(P1, ends=" ".join(words)))
    assert home(book) == 1
    assert book.state.budget.homeless == ()


def test_a_picture_goes_on_past_pages_that_are_ruled_and_says_so() -> None:
    book = pictured()
    give_up = {"kind": "miniature", "at": {"division": 2}, "lines": 8}
    book.do(book.commands.space("mill", "given-up"))
    book.do(book.commands.rule(P1))
    book.do(book.commands.rule(P2))
    before = standing(book.state)
    book.do(Act("added", "mill", "", {"plan": give_up}))
    assert home(book) == 2
    assert consequences(before, book.state) == []  # what the entry itself says is not said twice
    before = standing(book.state)
    book.do(book.commands.rule(P3))
    assert consequences(before, book.state) == []
    assert open_spaces(book.state) == []


def test_an_earlier_end_moves_a_picture_and_undoing_brings_it_back() -> None:
    book = pictured()
    before = standing(book.state)
    entry = book.do(book.commands.write(P1, to_line=20, ends=" ".join(book.exemplar.words[4:7]), sure=True))
    assert home(book) == 2
    assert consequences(before, book.state) == ["Space mill moves from 1v to 2r; its text stands on 1v."]
    before = standing(book.state)
    book.undo(entry)
    assert consequences(before, book.state) == ["Space mill moves from 2r to 1v; its text stands on 1r."]


def test_a_space_without_any_page_left_says_so_at_once_and_stays_in_sight() -> None:
    book = pictured()
    for index in range(1, book.state.collation.pages):
        before = standing(book.state)
        act = book.commands.rule(Page.at(index))
        book.do(act._replace(facts={**act.facts, "placements": []}))  # ruled at another desk, which knew no picture
        said = consequences(before, book.state)
        if book.state.budget.homeless:
            break
        assert said == [f"Space mill moves from {Page.at(index)} to {Page.at(index + 1)}; its text stands on 1r."]
    assert said == [
        "Space mill has no place now: its text stands on 1r, and no page after it has room that is not ruled."
    ]
    assert open_spaces(book.state) == [
        "space mill has no place: its text stands on 1r, and no page after it has room that is not ruled; "
        "move it, give it up or leave it empty"
    ]
    book.do(book.commands.space("mill", "left-empty"))
    assert open_spaces(book.state) == []


def test_room_on_a_leaf_that_is_lost_is_to_be_made_anew() -> None:
    book = pictured()
    book.write("1r")
    book.do(book.commands.rule(P2))
    before = standing(book.state)
    book.do(cancel_leaf(book.state, 1, ""))
    assert consequences(before, book.state) == ["Space mill is to be made anew on 1v: the room kept for it is gone."]


def test_an_initial_written_past_is_told() -> None:
    initial = SpacePlan("i", "initial", Anchor(division=2), 3)
    book = TextBook(headed_text(8), spaces=(initial,))
    before = standing(book.state)
    act = book.commands.write(P1)
    book.do(act._replace(facts={**act.facts, "placements": []}))
    assert consequences(before, book.state) == ["Space i has no place now: its text stands on 1r, ruled without it."]


@pytest.mark.parametrize(("kind", "lines"), [("initial", 2), ("miniature", 3)])
def test_a_ruled_space_that_its_text_no_longer_reaches_is_told_until_it_does(kind: SpaceKind, lines: int) -> None:
    book = TextBook(made_text(300), spaces=(SpacePlan("ford", kind, Anchor(word=55), lines),))
    for page in (P1, P2, P3):
        book.do(book.commands.rule(page))
    assert (home(book, "ford"), open_spaces(book.state)) == (2, [])
    before = standing(book.state)
    short = book.do(book.commands.write(P1, ends=" ".join(book.exemplar.words[9:13]), sure=True))
    assert consequences(before, book.state) == ["Space ford is ruled on 2r, and its text stands on 2v now."]
    kept = "space ford is ruled on 2r, and its text stands on 2v; leave it empty, or bring the text there"
    assert open_spaces(book.state) == [kept]
    before = standing(book.state)
    book.undo(short)
    assert consequences(before, book.state) == ["Space ford on 2r has its text there again."]
    assert open_spaces(book.state) == []


def test_only_the_first_sentences_stand_on_a_narrow_line() -> None:
    assert in_short(["One.", "Two."]) == "One. Two."
    assert in_short(["One.", "Two.", "Three.", "Four."]) == "One. Two. And 2 more things; see log."


@st.composite
def planned_books(draw: st.DrawFn) -> TextBook:
    """Books of paragraphs and divisions with pictures and initials, some larger than what is left of a page."""
    parts = draw(st.lists(st.integers(5, 60), min_size=2, max_size=6))
    words = iter(made_text(sum(parts), seed=draw(st.integers(0, 9))).split())
    divisions = (" ".join(next(words) for _ in range(part)) for part in parts)
    text = "\n\n".join(f"# Part {at}\n\n{said}" for at, said in enumerate(divisions, 1))
    kinds: st.SearchStrategy[SpaceKind] = st.sampled_from(("miniature", "initial"))
    spaces = [
        SpacePlan(f"s{at}", draw(kinds), Anchor(division=at), draw(st.integers(1, 7)))
        for at in draw(st.sets(st.integers(1, len(parts)), max_size=4))
    ]
    columns = draw(st.integers(1, 2))
    wide = [
        each._replace(across="all") if columns > 1 and each.kind == "miniature" and draw(st.booleans()) else each
        for each in spaces
    ]
    flow = Flow(draw(st.sampled_from(("line", "column", "page", "recto"))))
    hands = (Hand("A", "first", 30.0 / columns),)
    return TextBook(text, spaces=tuple(wide), columns=Columns(columns, 2.0), flow=flow, hands=hands)


@given(planned_books(), st.data())
@settings(max_examples=60, deadline=None)
def test_recording_any_page_as_planned_moves_no_space_and_no_text(book: TextBook, data: st.DataObject) -> None:
    planned = space_homes(book.state)
    spans = [(page.start, page.end) for page in book.state.budget.pages]
    last = book.state.budget.last_page
    pages = data.draw(st.permutations(range(last + 1))) if data.draw(st.booleans()) else range(last + 1)
    for index in list(pages)[: data.draw(st.integers(1, last + 1))]:
        step: Callable[[Page], Act] = getattr(book.commands, data.draw(st.sampled_from(("rule", "begin", "write"))))
        if not book.state.budget.pages[index].planned:
            continue
        before = standing(book.state)
        book.do(step(Page.at(index)))
        assert consequences(before, book.state) == [], index
        assert {name: each.page for name, each in space_homes(book.state).items()} == {
            name: each.page for name, each in planned.items()
        }
        assert [(page.start, page.end) for page in book.state.budget.pages] == spans
    assert space_homes(book.afresh()) == space_homes(book.state)


def test_a_changed_plan_that_takes_a_page_from_a_space_says_so() -> None:
    book = pictured()
    book.write("1r")
    fewer = replace(book.plan, ruling=Ruling(lines=7))
    after = BookState(fewer, book.exemplar, book.ledger)
    said = consequences(standing(book.state), after)
    assert all("mill" in each or "ruled with 20 lines" in each for each in said)


def test_the_handover_lists_the_room_still_to_be_kept() -> None:
    book = pictured()
    assert handover(book.state).keep == ()
    book.write("1r")
    kept = open_spaces(book.state)
    assert kept == ["keep 8 lines on 1v for space mill; its text stands on 1r"]
    assert HANDOVER.data(handover(book.state))["keep"] == kept


@pytest.mark.parametrize(
    "added", [lambda state: add_gathering(state, 4), lambda state: add_leaf(state, state.collation.leaves)]
)
def test_a_space_moved_to_a_leaf_that_was_added_has_no_place_once_that_is_taken_back(added: Callable[..., Act]) -> None:
    book = SmallBook(200, spaces=(SpacePlan("mill", "miniature", Anchor(page="1v"), lines=3),))
    entry = book.do(added(book.state))
    last = Page.at(book.state.collation.pages - 1)
    book.do(book.commands.space("mill", "moved", at=str(last)))
    assert space_homes(book.state)["mill"].page == last.index
    book.undo(entry)
    assert book.state.budget.homeless == ("mill",)


def initial_on_the_second_page() -> TextBook:
    """A book whose second division begins low on 1v, with an initial; the page is ruled."""
    owl = SpacePlan("owl", "initial", Anchor(division=2, paragraph=1), 2, width=20.0)
    book = TextBook(f"# One\n\n{made_text(30)}\n\n# Two\n\n{made_text(400, seed=8)}", spaces=(owl,))
    assert home(book, "owl") == 1
    book.do(book.commands.rule(P2))
    return book


def ends(book: TextBook, later: int) -> Act:
    """1r written to so many words after its planned end."""
    last = book.state.copy.word(book.state.budget.pages[0].end) + later
    return book.commands.write(P1, ends=" ".join(book.exemplar.words[last - 3 : last]))


@pytest.mark.parametrize(("later", "where"), [(6, "begins 3 lines above it"), (-3, "begins 1 line below it")])
def test_an_initial_whose_text_shifts_on_its_own_ruled_page_is_told(later: int, where: str) -> None:
    book = initial_on_the_second_page()
    before = standing(book.state)
    entry = book.do(ends(book, later))
    assert consequences(before, book.state) == [f"Space owl is ruled on 1v, and its text {where} now."]
    said = f"space owl is ruled on 1v, and its text {where}; leave it empty, or bring the text there"
    assert open_spaces(book.state) == [said]
    before = standing(book.state)
    book.undo(entry)
    assert consequences(before, book.state) == ["Space owl on 1v has its text there again."]
    assert open_spaces(book.state) == []


def test_an_initial_whose_text_comes_as_planned_is_not_told_of() -> None:
    book = initial_on_the_second_page()
    before = standing(book.state)
    book.do(ends(book, 0))
    for line in (4, 9, 10):
        book.do(book.commands.write(P2, to_line=line))
    assert consequences(before, book.state) == []
    assert open_spaces(book.state) == []
