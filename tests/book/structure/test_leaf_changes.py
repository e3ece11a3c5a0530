from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.common.errors import CopydeskError
from copydesk.book.structure.collation import Collation
from copydesk.book.structure.gathering import Gathering, HalfState
from copydesk.book.structure.leaf_additions import add_after, add_gathering, add_sheet
from copydesk.book.structure.leaf_changes import cancel, make_single, replace, replace_sheet, turn, want
from copydesk.book.structure.openings import openings, unlike_openings
from copydesk.book.structure.page import LeafId, Page, Side, SkinPage, Surface
from copydesk.book.structure.sheets import open_sheets, pile

if TYPE_CHECKING:
    from collections.abc import Callable

EIGHTS = Collation.regular(3, 4)


def row(collation: Collation, gathering: int) -> str:
    """The halves of a gathering in brief: ids, with what is not a leaf in brackets."""
    halves = collation.gathering(gathering).halves
    return " ".join(half.id if half.stands else f"({half.id})" for half in halves)


def test_cancelled_leaf_leaves_its_stub_and_shifts_the_numbers() -> None:
    after = cancel(EIGHTS, LeafId("2.3"))
    assert after.leaves == 23
    assert row(after, 2) == "2.1 2.2 (2.3) 2.4 2.5 2.6 2.7 2.8"
    assert after.gathering(2).halves[2].state is HalfState.CANCELLED
    assert after.number_of(LeafId("2.3")) is None
    assert after.number_of(LeafId("2.4")) == 11
    assert after.place(Page.parse("13r")).conjugate is None
    assert after.half(13).id == "2.6"


def test_written_page_keeps_its_skin_when_numbers_shift() -> None:
    skin = EIGHTS.skin_page(Page.parse("17v"))
    after = cancel(EIGHTS, LeafId("2.3"))
    assert after.page_of(skin) == Page.parse("16v")
    assert after.skin_page(Page.parse("16v")) == skin == SkinPage(LeafId("3.1"), Side.VERSO)


def test_replacement_bears_the_same_number() -> None:
    after = replace(EIGHTS, LeafId("2.5"))
    assert row(after, 2) == "2.1 2.2 2.3 2.4 (2.5) 2.5r1 2.6 2.7 2.8"
    assert after.number_of(LeafId("2.5r1")) == EIGHTS.number_of(LeafId("2.5")) == 13
    place = after.place(Page.parse("13r"))
    assert (place.sheet, place.side, place.lies, place.conjugate) == (5, "inner", "right", None)
    assert place.surface == EIGHTS.place(Page.parse("13r")).surface
    assert unlike_openings(after) == ()


def test_replacement_of_a_replacement() -> None:
    after = replace(replace(EIGHTS, LeafId("2.5")), LeafId("2.5r1"))
    assert row(after, 2) == "2.1 2.2 2.3 2.4 (2.5) (2.5r1) 2.5r2 2.6 2.7 2.8"


def test_cancelled_leaf_can_be_replaced_later_and_a_named_one_again() -> None:
    after = replace(cancel(EIGHTS, LeafId("2.5")), LeafId("2.5"), LeafId("2.5r7"))
    assert after.half(13).id == "2.5r7"
    again = replace(cancel(after, LeafId("2.5r7")), LeafId("2.5"))
    assert again.half(13).id == "2.5r1"


def test_whole_sheet_changed_before_sewing() -> None:
    after = replace_sheet(EIGHTS, 2, 2)
    assert row(after, 2) == "2.1 (2.2) 2.2r1 2.3 2.4 2.5 2.6 2.7r1 (2.7) 2.8"
    assert after.conjugate_of(10) == 15
    assert [sheet.sheet for sheet in open_sheets(after, 2)] == [1, 3, 4, 5]
    assert [sheet.sheet for sheet in pile(after, 2)] == [4, 3, 5, 1]
    assert unlike_openings(after) == ()


def test_single_leaf_changed_with_its_stub() -> None:
    hooked = add_after(EIGHTS, LeafId("2.2"))
    after = replace_sheet(hooked, 2, 5)
    assert row(after, 2) == "2.1 2.2 (2.2a1) 2.2a1r1 2.3 2.4 2.5 2.6 (2.2a1r1s) (2.2a1s) 2.7 2.8"


def test_leaf_added_with_its_stub_hooked_at_the_mirrored_place() -> None:
    after = add_after(EIGHTS, LeafId("2.2"))
    assert row(after, 2) == "2.1 2.2 2.2a1 2.3 2.4 2.5 2.6 (2.2a1s) 2.7 2.8"
    assert row(add_after(EIGHTS, LeafId("2.7")), 2) == "2.1 (2.7a1s) 2.2 2.3 2.4 2.5 2.6 2.7 2.7a1 2.8"
    assert row(add_after(EIGHTS, LeafId("2.4")), 2) == "2.1 2.2 2.3 2.4 2.4a1 (2.4a1s) 2.5 2.6 2.7 2.8"
    assert row(add_after(EIGHTS, LeafId("2.0")), 2) == "2.0a1 2.1 2.2 2.3 2.4 2.5 2.6 2.7 2.8 (2.0a1s)"


def test_leaf_tipped_in_follows_what_replaced_its_neighbour() -> None:
    after = add_after(replace(EIGHTS, LeafId("2.5")), LeafId("2.5"), tipped=True)
    assert row(after, 2) == "2.1 2.2 2.3 2.4 (2.5) 2.5r1 2.5a1 2.6 2.7 2.8"


def test_added_leaf_keeps_one_of_its_openings_alike_unless_told_otherwise() -> None:
    after = add_after(EIGHTS, LeafId("2.2"))
    assert [str(opening) for opening in unlike_openings(after)] == ["11v|12r"]
    other = after.place(Page.parse("11r")).surface.other
    turned = turn(after, LeafId("2.2a1"), other)
    assert turned == add_after(EIGHTS, LeafId("2.2"), recto=other)
    assert [str(opening) for opening in unlike_openings(turned)] == ["10v|11r"]


def test_first_leaf_added_lets_the_next_opening_be_alike() -> None:
    assert [str(o) for o in unlike_openings(add_after(EIGHTS, LeafId("2.0")))] == ["8v|9r"]


def test_sheet_added_inside_between_and_around() -> None:
    assert row(add_sheet(EIGHTS, 2, 4), 2) == "2.1 2.2 2.3 2.4 2.4a1 2.4a2 2.5 2.6 2.7 2.8"
    assert row(add_sheet(EIGHTS, 2, 2), 2) == "2.1 2.2 2.2a1 2.3 2.4 2.5 2.6 2.6a1 2.7 2.8"
    assert row(add_sheet(EIGHTS, 2), 2) == "2.0a1 2.1 2.2 2.3 2.4 2.5 2.6 2.7 2.8 2.8a1"
    assert unlike_openings(add_sheet(EIGHTS, 2, 4)) == ()
    assert add_sheet(EIGHTS, 2, 4).conjugate_of(13) == 14


def test_sheet_parted_into_two_single_leaves() -> None:
    after = make_single(EIGHTS, LeafId("2.6"))
    assert row(after, 2) == "2.1 2.2 2.3 (2.6s) 2.4 2.5 2.6 (2.3s) 2.7 2.8"
    assert [(half.id, half.sheet) for half in after.gathering(2).halves if half.id in ("2.3", "2.6")] == [
        ("2.3", 5),
        ("2.6", 3),
    ]
    assert unlike_openings(after) == ()


def test_sheet_with_a_half_gone_lies_open_with_one_page_a_side() -> None:
    after = cancel(EIGHTS, LeafId("1.8"))
    sheet = open_sheets(after, 1)[0]
    assert sheet.outer == (None, Page.parse("1r"), Surface.HAIR)
    assert sheet.inner == (Page.parse("1v"), None, Surface.FLESH)
    assert sheet.pages() == (Page.parse("1r"), Page.parse("1v"))


def test_gathering_added_at_the_end() -> None:
    after = add_gathering(EIGHTS, 6)
    assert (after.leaves, after.gatherings[-1].number) == (30, 4)
    assert unlike_openings(after) == ()


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        (lambda c: cancel(cancel(c, LeafId("2.3")), LeafId("2.3")), "leaf 2.3 is cut away; name a leaf that stands"),
        (lambda c: want(c, LeafId("2.9")), "there is no leaf 2.9 in this book; name one that gathering 2 has"),
        (lambda c: want(c, LeafId("9.1")), "there is no gathering 9 in this book; it has 3"),
        (
            lambda c: want(c, LeafId("leaf")),
            "'leaf' does not name a leaf; write its gathering and its place in it, as in 3.5",
        ),
        (lambda c: want(c, LeafId("2.0")), "there is no leaf 2.0 in this book; name one that gathering 2 has"),
        (lambda c: replace(replace(c, LeafId("2.3")), LeafId("2.3")), "has been replaced already; replace 2.3r1"),
        (lambda c: replace(replace_sheet(c, 2, 1), LeafId("2.1")), "2.1 is taken out with its sheet"),
        (lambda c: replace(c, LeafId("2.3"), LeafId("2.4")), "cannot be called 2.4; give it an unused name"),
        (lambda c: replace(c, LeafId("2.3"), LeafId("1.3r1")), "cannot be called 1.3r1; give it an unused name"),
        (lambda c: replace_sheet(c, 2, 9), "gathering 2 has no sheet 9 to replace"),
        (lambda c: replace_sheet(cancel(c, LeafId("2.3")), 2, 3), "sheet 2.3 is no longer whole"),
        (lambda c: make_single(cancel(c, LeafId("2.3")), LeafId("2.6")), "leaf 2.6 is single already"),
        (lambda c: turn(c, LeafId("2.3"), Surface.HAIR), "leaf 2.3 is one sheet with 2.6"),
        (lambda c: add_sheet(c, 2, 7), "gathering 2 has no folded sheet 7"),
    ],
)
def test_what_cannot_be_done_is_refused_in_a_sentence(change: Callable[[Collation], Collation], sentence: str) -> None:
    with pytest.raises(CopydeskError, match=sentence.replace("(", "\\(")):
        change(EIGHTS)


# What may befall a book: an operation, and which of the leaves or sheets there are it befalls.
BLOWS = (
    "cancel",
    "want",
    "replace",
    "replace_sheet",
    "add_after",
    "tip_in",
    "add_sheet",
    "make_single",
    "add_gathering",
)


def struck(collation: Collation, blow: str, at: int) -> Collation:
    """The book after one blow, or as it was where that is refused."""
    gathering = collation.gatherings[at % len(collation.gatherings)]
    leaf = collation.half(at % collation.leaves + 1).id if collation.leaves else LeafId("1.0")
    sheets = gathering.sheet_numbers() or (1,)
    changes: dict[str, Callable[[], Collation]] = {
        "cancel": lambda: cancel(collation, leaf),
        "want": lambda: want(collation, leaf),
        "replace": lambda: replace(collation, gathering.halves[at % len(gathering.halves)].id),
        "replace_sheet": lambda: replace_sheet(collation, gathering.number, sheets[at % len(sheets)]),
        "add_after": lambda: add_after(collation, leaf),
        "tip_in": lambda: add_after(collation, LeafId(f"{gathering.number}.0"), tipped=True),
        "add_sheet": lambda: add_sheet(collation, gathering.number, at % (len(sheets) + 1)),
        "make_single": lambda: make_single(collation, leaf),
        "add_gathering": lambda: add_gathering(collation, at % 9 + 1),
    }
    try:
        return changes[blow]()
    except CopydeskError:
        return collation


blows = st.lists(st.tuples(st.sampled_from(BLOWS), st.integers(0, 999)), max_size=12)
sizes = st.lists(st.integers(1, 12), min_size=1, max_size=3)


@settings(max_examples=150, deadline=None)
@given(sizes, blows)
def test_whatever_befalls_a_book_its_sheets_stay_sheets(leaves: list[int], befallen: list[tuple[str, int]]) -> None:
    collation = Collation.of_sizes(leaves)
    seen: dict[LeafId, Surface] = {}
    for blow, at in befallen:
        before, collation = collation, struck(collation, blow, at)
        ids = [half.id for gathering in collation.gatherings for half in gathering.halves]
        assert len(set(ids)) == len(ids)
        assert {half.id for g in before.gatherings for half in g.halves} <= set(ids)
        assert seen.items() <= {h.id: h.recto for g in collation.gatherings for h in g.halves}.items()
        seen = {h.id: h.recto for g in collation.gatherings for h in g.halves}
    for gathering in collation.gatherings:
        check_nest(gathering)
    check_pages(collation)


def check_nest(gathering: Gathering) -> None:
    """Halves pair from front and back, a pair is one sheet, and it shows the two surfaces of one skin."""
    folded = [half for half in gathering.halves if half.folded]
    assert len(folded) % 2 == 0
    for half, mate in zip(folded, reversed(folded), strict=True):
        assert (half.conjugate, half.sheet, half.recto) == (mate.id, mate.sheet, mate.recto.other)
    assert all(half.conjugate is None for half in gathering.halves if not half.folded)


def check_pages(collation: Collation) -> None:
    """Each page is on one sheet, at the place it says, and its skin leads back to it."""
    pages = list(collation.all_pages())
    on_sheets = [
        page for g in collation.gatherings for sheet in open_sheets(collation, g.number) for page in sheet.pages()
    ]
    assert sorted(on_sheets) == pages
    for page in pages:
        place = collation.place(page)
        sheet = next(s for s in open_sheets(collation, place.gathering) if s.sheet == place.sheet)
        side = sheet.outer if place.side == "outer" else sheet.inner
        lying, beside = (side.left, side.right) if place.lies == "left" else (side.right, side.left)
        assert (lying, beside, side.surface) == (page, place.conjugate, place.surface)
        assert collation.page_of(place.skin) == page
        assert collation.leaf_numbers(place.gathering)[place.leaf - 1] == page.leaf
    assert len(openings(collation)) == max(collation.leaves - 1, 0)
