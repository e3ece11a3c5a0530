from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.common.errors import CopydeskError
from copydesk.book.plan import Anchor, GatheringPlan, LeafException, SpacePlan
from copydesk.book.structure.openings import unlike_openings
from copydesk.book.structure.page import Page, Surface
from copydesk.book.structure.sheets import open_sheets
from copydesk.tracking.commands import leaf_commands as leaf_acts
from copydesk.tracking.log.contradictions import contradictions
from small_book import SmallBook

if TYPE_CHECKING:
    from copydesk.tracking.ledger.entry import Act
    from copydesk.tracking.state.book_state import BookState

SIZES = {"from_head": 0.0, "from_fold": 0.0, "width": 20.0, "height": 8.0}


def ids(state: BookState) -> list[str]:
    collation = state.collation
    return [collation.half(number).id for number in range(1, collation.leaves + 1)]


def test_a_cancelled_leaf_takes_its_pages_out_and_what_others_bear_stays_on_its_skin() -> None:
    book = SmallBook()
    for page in ("1r", "1v", "2r", "2v", "3r"):
        book.write(page)
    ends = book.state.record(book.state.skin_at(Page.parse("3r").index)).ends
    book.do(leaf_acts.cancel_leaf(book.state, 2, "ink spilt"))
    state = book.state
    assert ids(state)[:4] == ["1.1", "1.3", "1.4", "2.1"]
    assert state.collation.leaves == 11
    assert state.record(state.skin_at(Page.parse("2r").index)).ends == ends
    assert state.budget.pages[Page.parse("2r").index].gap > 0
    assert str(state.collation.place(Page.parse("2r")).skin) == "1.3:r"


def test_a_replaced_leaf_is_blank_and_its_text_is_planned_on_it_anew() -> None:
    book = SmallBook()
    for page in ("1r", "1v", "2r", "2v", "3r"):
        book.write(page)
    before = book.state.budget.pages[2]
    entry = book.do(leaf_acts.replace_leaf(book.state, 2))
    state = book.state
    assert entry.facts["new"] == ["1.2r1"]
    assert ids(state)[1] == "1.2r1"
    assert state.record(state.skin_at(2)).state == "unruled"
    assert (state.budget.pages[2].start, state.budget.pages[2].written) == (before.start, 0)
    assert not state.budget.pages[4].gap
    assert state.collation.place(Page.parse("2r")).conjugate is None


@pytest.mark.parametrize("recto", [None, Surface.HAIR, Surface.FLESH])
@pytest.mark.parametrize("tipped", [False, True])
def test_an_added_leaf_shows_the_surface_chosen_else_that_which_it_faces(
    recto: Surface | None, *, tipped: bool
) -> None:
    book = SmallBook()
    act = leaf_acts.add_leaf(book.state, 3, tipped=tipped, recto=recto)
    book.do(act)
    collation = book.state.collation
    assert collation.half(4).recto is (recto or collation.half(3).recto.other)
    assert collation.half(4).folded is not tipped
    assert act.facts["recto"] == collation.half(4).recto.value


def test_a_leaf_before_the_first_of_a_gathering_belongs_to_that_gathering() -> None:
    book = SmallBook()
    book.do(leaf_acts.add_leaf(book.state, 5, before=True))
    assert ids(book.state)[4] == "2.0a1"
    assert book.state.collation.place(Page.parse("5r")).gathering == 2
    assert leaf_acts.add_leaf(book.state, 3, before=True).about == "1.2"


def test_a_whole_sheet_is_changed_for_a_blank_one() -> None:
    book = SmallBook()
    book.write("1r")
    book.do(leaf_acts.replace_sheet(book.state, "1.1"))
    assert [ids(book.state)[at] for at in (0, 3)] == ["1.1r1", "1.4r1"]
    assert book.state.record(book.state.skin_at(0)).state == "unruled"
    sheet = next(each for each in open_sheets(book.state.collation, 1) if each.sheet == 3)
    assert sheet.outer == (Page.parse("4v"), Page.parse("1r"), Surface.HAIR)
    book.do(leaf_acts.replace_sheet(book.state, "1.3"))
    assert ids(book.state)[0] == "1.1r2"


def test_a_sheet_of_a_single_leaf_and_its_stub_is_changed_too() -> None:
    book = SmallBook(gatherings=GatheringPlan(2, 3, exceptions=(LeafException(2, "singleton"),)))
    book.do(leaf_acts.replace_sheet(book.state, f"1.{book.state.collation.half(2).sheet}"))
    assert "1.2r1" in ids(book.state)


def test_sheets_are_laid_inside_and_round() -> None:
    book = SmallBook()
    book.do(leaf_acts.add_sheet(book.state, "2.1"))
    assert ids(book.state)[4:10] == ["2.1", "2.1a1", "2.2", "2.3", "2.3a1", "2.4"]
    book.do(leaf_acts.add_sheet(book.state, "1.0", Surface.FLESH))
    assert ids(book.state)[:6] == ["1.0a1", "1.1", "1.2", "1.3", "1.4", "1.4a1"]
    assert book.state.collation.place(Page.parse("1r")).surface is Surface.FLESH


def test_a_gathering_is_added_at_the_end_and_gives_room() -> None:
    book = SmallBook(words=2000)
    without = book.state.budget.lines_without_room
    assert without > 0
    book.do(leaf_acts.add_gathering(book.state, 6))
    assert book.state.collation.leaves == 18
    assert book.state.budget.lines_without_room == max(without - 120, 0)
    assert ids(book.state)[12] == "4.1"


def test_a_name_once_given_is_never_given_again() -> None:
    book = SmallBook()
    first = book.do(leaf_acts.add_leaf(book.state, 3))
    book.write("4r")
    book.undo(first)
    second = book.do(leaf_acts.add_leaf(book.state, 3))
    assert first.facts["new"] != second.facts["new"]
    assert book.state.record(book.state.skin_at(Page.parse("4r").index)).state == "unruled"


def test_taking_back_one_change_leaves_the_names_of_later_ones() -> None:
    book = SmallBook()
    first = book.do(leaf_acts.add_leaf(book.state, 3))
    book.do(leaf_acts.add_leaf(book.state, 4))
    book.write("5r")
    later = book.state.skin_at(Page.parse("5r").index)
    book.undo(first)
    assert book.state.page_of(later) == Page.parse("4r")
    assert book.state.record(later).whole


def test_a_leaf_replaced_twice_still_stands_when_the_first_replacing_is_taken_back() -> None:
    book = SmallBook()
    first = book.do(leaf_acts.replace_leaf(book.state, 2))
    book.do(leaf_acts.replace_leaf(book.state, 2))
    book.undo(first)
    assert ids(book.state)[1] == "1.2r2"


def test_a_space_tied_to_a_page_goes_to_the_leaf_that_replaced_its_leaf() -> None:
    book = SmallBook(spaces=(SpacePlan("mill", "miniature", Anchor(page="2r"), 4),))
    book.do(book.commands.rule(Page.parse("2r")))
    book.do(leaf_acts.replace_leaf(book.state, 2))
    assert [each.id for each in book.state.frames[2].fixed] == ["mill"]
    assert book.state.budget.pages[2].room == 6


def test_a_space_ruled_on_a_lost_leaf_finds_another_place_in_the_text() -> None:
    book = SmallBook(spaces=(SpacePlan("mill", "miniature", Anchor(word=45), 4),))
    at = next(at for at, page in enumerate(book.state.budget.pages) if page.placed)
    book.do(book.commands.rule(Page.at(at)))
    assert at in book.state.frames
    book.do(leaf_acts.cancel_leaf(book.state, at // 2 + 1))
    assert [placed.id for page in book.state.budget.pages for placed in page.placed] == ["mill"]


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda s: leaf_acts.cancel_leaf(s, 99), "no leaf 99"),
        (lambda s: leaf_acts.replace_sheet(s, "1.7"), "no sheet 7 in gathering 1"),
        (lambda s: leaf_acts.add_sheet(s, "9.0"), "no gathering 9"),
        (lambda s: leaf_acts.add_sheet(s, "x.0"), "does not name a sheet"),
        (lambda s: leaf_acts.add_gathering(s, 0), "cannot have 0 leaves"),
        (lambda s: leaf_acts.note_flaw(s, 1, {"width": 4.0}), "needs four lengths"),
        (lambda s: leaf_acts.note_flaw(s, 1, SIZES | {"from_fold": 95.0}), "beyond a leaf of 100 × 140 mm"),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence(make: object, says: str) -> None:
    with pytest.raises(CopydeskError, match=says):
        make(SmallBook().state)  # type: ignore[operator]


def test_the_last_leaf_is_not_to_be_lost() -> None:
    book = SmallBook(gatherings=GatheringPlan(1, 1))
    book.do(leaf_acts.cancel_leaf(book.state, 1))
    with pytest.raises(CopydeskError, match="only one the book has left"):
        leaf_acts.cancel_leaf(book.state, 1)
    assert leaf_acts.replace_leaf(book.state, 1).what == "replaced"


def test_a_flaw_at_the_very_edges_keeps_its_noughts() -> None:
    act = leaf_acts.note_flaw(SmallBook().state, 1, SIZES)
    assert (act.facts["from_head"], act.facts["from_fold"]) == (0.0, 0.0)


@pytest.mark.parametrize("habit", ["alternate", "same"])
def test_both_habits_of_laying_sheets_can_be_planned(habit: str) -> None:
    book = SmallBook(gatherings=GatheringPlan(2, 3, habit=habit))  # type: ignore[arg-type]
    broken = [str(opening) for opening in unlike_openings(book.state.collation)]
    inside = ["1v|2r", "3v|4r", "5v|6r", "7v|8r", "9v|10r", "11v|12r"]
    assert broken == ([] if habit == "alternate" else inside)


def test_a_single_leaf_planned_with_the_other_surface_breaks_the_openings_on_both_its_sides() -> None:
    plan = GatheringPlan(2, 3, exceptions=(LeafException(6, "singleton", "hair"),))
    regular = SmallBook().state.collation
    assert regular.half(6).recto is Surface.FLESH
    assert [str(each) for each in unlike_openings(SmallBook(gatherings=plan).state.collation)] == ["5v|6r", "6v|7r"]


CHOICES = st.tuples(st.integers(0, 8), st.integers(1, 14), st.sampled_from([None, *Surface]), st.booleans())


def chosen(book: SmallBook, kind: int, at: int, surface: Surface | None, *, yes: bool) -> Act:
    state = book.state
    leaf = (at - 1) % state.collation.leaves + 1
    place = state.collation.place(Page(leaf, Page.parse("1r").side))
    sheet = f"{place.gathering}.{place.sheet}"
    makers = (
        lambda: leaf_acts.cancel_leaf(state, leaf),
        lambda: leaf_acts.replace_leaf(state, leaf),
        lambda: leaf_acts.add_leaf(state, leaf, before=at % 2 == 0, tipped=yes, recto=surface),
        lambda: leaf_acts.replace_sheet(state, sheet),
        lambda: leaf_acts.add_sheet(state, sheet if yes else f"{place.gathering}.0", surface),
        lambda: leaf_acts.add_gathering(state, at, surface),
        lambda: leaf_acts.note_flaw(state, leaf, SIZES | {"from_head": 8.0 * at, "height": 14.0}),
        lambda: book.commands.write(Page.at(2 * leaf - 2 + yes), to_line=1 + at % 9),
        lambda: leaf_acts.lose_leaf(state, leaf),
    )
    return makers[kind]()


@settings(max_examples=60, deadline=None)
@given(st.lists(CHOICES, max_size=9), st.lists(st.integers(0, 8), max_size=3))
def test_whatever_befalls_leaves_nothing_written_is_lost_and_all_can_be_taken_back(
    choices: list[tuple[int, int, Surface | None, bool]], taken_back: list[int]
) -> None:
    book = SmallBook(words=600)
    untouched = book.state.collation
    done = []
    for kind, at, surface, yes in choices:
        try:
            act = chosen(book, kind, at, surface, yes=yes)
        except CopydeskError:
            continue
        done.append(book.do(act))
        expect_sound(book)
    for at in taken_back:
        if at < len(done):
            book.undo(done[at])
            expect_sound(book)
    for entry in reversed(done):
        if not book.ledger.is_void(entry.entry):
            book.undo(entry)
    assert book.state.collation == untouched
    expect_sound(book)


def expect_sound(book: SmallBook) -> None:
    """What was kept step by step is what comes of all the entries at once; every record is where its skin is."""
    kept, afresh = book.state, book.afresh()
    assert kept.collation == afresh.collation
    assert kept.frames == afresh.frames
    assert kept.budget._replace(keys=(), casts=()) == afresh.budget._replace(keys=(), casts=())
    names = [half.id for gathering in kept.collation.gatherings for half in gathering.halves]
    assert len(names) == len(set(names))
    for index in range(kept.collation.pages):
        record = kept.record(kept.skin_at(index))
        assert kept.budget.pages[index].written == record.written


def test_leaves_added_apart_under_one_name_are_told_and_one_of_them_stands() -> None:
    book = SmallBook()
    act = leaf_acts.add_leaf(book.state, 3)
    book.do(act)
    assert contradictions(book.ledger) == ()
    second = book.do(act)
    assert book.state.collation.leaves == 13
    added = "a leaf added after leaf 3, hooked on a stub, flesh on its recto at desk"
    assert tuple(map(str, contradictions(book.ledger))) == (
        f"{added}, and {added}, under one name, 1.3a1; only the first counts: undo {second.entry} and record it again",
    )
    book.undo(second)
    assert contradictions(book.ledger) == ()
