"""Hair and flesh at each page and opening, against printed cases, a catalogue's code and every way of laying sheets."""

from __future__ import annotations

from itertools import product

import pytest

from copydesk.book.structure.collation import Collation
from copydesk.book.structure.gathering import Gathering
from copydesk.book.structure.leaf_changes import turn, want
from copydesk.book.structure.openings import openings, pattern, unlike_openings
from copydesk.book.structure.page import LeafId, Page, Surface
from copydesk.book.structure.sheets import open_sheets

# A folding simulator tried all 2^n ways of laying n nested sheets; these two alone keep like to like.
FACES = {
    1: ("HFFH", "FHHF"),
    2: ("HFFHHFFH", "FHHFFHHF"),
    3: ("HFFHHFFHHFFH", "FHHFFHHFFHHF"),
    4: ("HFFHHFFHHFFHHFFH", "FHHFFHHFFHHFFHHF"),
    5: ("HFFHHFFHHFFHHFFHHFFH", "FHHFFHHFFHHFFHHFFHHF"),
    6: ("HFFHHFFHHFFHHFFHHFFHHFFH", "FHHFFHHFFHHFFHHFFHHFFHHF"),
}
BY_LETTER = {"H": Surface.HAIR, "F": Surface.FLESH}


def faces(collation: Collation) -> str:
    return "".join(collation.place(page).surface[0].upper() for page in collation.all_pages())


@pytest.mark.parametrize("sheets", FACES)
@pytest.mark.parametrize("outside", [Surface.HAIR, Surface.FLESH])
def test_surface_of_every_page(sheets: int, outside: Surface) -> None:
    expected = next(shown for shown in FACES[sheets] if BY_LETTER[shown[0]] is outside)
    collation = Collation.regular(1, sheets, outside)
    assert faces(collation) == expected
    assert unlike_openings(collation) == ()


@pytest.mark.parametrize("sheets", range(1, 6))
def test_no_other_lay_keeps_like_to_like(sheets: int) -> None:
    # C. R. Gregory, CRAI 1885, p. 261: like faces like just when the sheets lie alternately.
    kept = set()
    for lay in product("HF", repeat=sheets):
        gathering = laid(lay)
        if not unlike_openings(Collation((gathering,))):
            kept.add("".join(lay))
    assert kept == {("HF" * sheets)[:sheets], ("FH" * sheets)[:sheets]}


def laid(lay: tuple[str, ...]) -> Gathering:
    """A gathering whose sheets, from the outermost, lie with these surfaces outward."""
    gathering = Collation.regular(1, len(lay)).gatherings[0]
    count = len(gathering.halves)
    halves = tuple(
        half._replace(recto=BY_LETTER[lay[half.sheet - 1]] if at < count // 2 else BY_LETTER[lay[half.sheet - 1]].other)
        for at, half in enumerate(gathering.halves)
    )
    return Gathering(1, halves)


def test_a_ternion_as_published() -> None:
    # E. A. Lowe and E. K. Rand, A Sixth-Century Fragment of the Letters of Pliny the Younger, 1922: leaves 48-53.
    collation = Collation.regular(1, 3, Surface.HAIR)
    shown = {leaf + 47: opening.left_surface for leaf, opening in enumerate(openings(collation), 1)}
    assert shown == {48: "flesh", 49: "hair", 50: "flesh", 51: "hair", 52: "flesh"}
    assert all(opening.like for opening in openings(collation))
    assert collation.place(Page.parse("1r")).surface == "hair"
    assert collation.place(Page.parse("6v")).surface == "hair"


def test_a_ternion_is_ruled_on_the_flesh_side() -> None:
    # The same: ruled on the flesh side of each open sheet, 48v with 53r, 49r with 52v, 50v with 51r.
    collation = Collation.regular(1, 3, Surface.HAIR)
    flesh = [s for sheet in open_sheets(collation, 1) for s in (sheet.outer, sheet.inner) if s.surface == "flesh"]
    assert [{str(side.left), str(side.right)} for side in flesh] == [{"1v", "6r"}, {"2r", "5v"}, {"3v", "4r"}]


@pytest.mark.parametrize(
    ("code", "outside", "habit"),
    # The code of the Bodleian's catalogue of western medieval manuscripts: leaf 1 recto, verso, leaf 2 recto, verso.
    # FHHF in 147 records, HFFH in 100, HFHF in 3 (Auct. F. 4. 32, Tanner 10, Hatton 38). The reading is ours.
    [("FHHF", Surface.FLESH, "alternate"), ("HFFH", Surface.HAIR, "alternate"), ("HFHF", Surface.HAIR, "same")],
)
def test_the_catalogue_code(code: str, outside: Surface, habit: str) -> None:
    collation = Collation.regular(2, 4, outside, "same" if habit == "same" else "alternate")
    assert [pattern(gathering) for gathering in collation.gatherings] == [code, code]


def test_all_sheets_hair_outward() -> None:
    # From memory (E. A. Lowe, Codices Latini Antiquiores II, on insular books): openings are hair to flesh but for
    # the middle of a gathering, flesh to flesh, and between gatherings, hair to hair.
    collation = Collation.regular(2, 4, Surface.HAIR, "same")
    like = {str(opening): opening.left_surface for opening in openings(collation) if opening.like}
    assert like == {"4v|5r": "flesh", "8v|9r": "hair", "12v|13r": "flesh"}
    assert len(unlike_openings(collation)) == 12


@pytest.mark.parametrize("outside", [Surface.HAIR, Surface.FLESH])
def test_the_same_outside_keeps_the_rule_between_gatherings(outside: Surface) -> None:
    assert unlike_openings(Collation.of_sizes([8, 6, 10, 2, 4], outside)) == ()


def test_a_missing_leaf_shows_as_a_break() -> None:
    # M. R. James, Catalogue of the Manuscripts in the Fitzwilliam Museum, 1895, "Points to be observed".
    for place in range(2, 8):
        broken = unlike_openings(want(Collation.regular(1, 4), LeafId(f"1.{place}")))
        assert [str(opening) for opening in broken] == [f"{place - 1}v|{place}r"]


def test_a_single_leaf_is_turned_to_keep_the_rule() -> None:
    # From the same rule: two leaves of three keep it whichever way the single one lies, and turning it mends one side.
    collation = Collation.of_sizes([3])
    assert [str(opening) for opening in unlike_openings(collation)] == ["2v|3r"]
    assert [str(opening) for opening in unlike_openings(turn(collation, LeafId("1.2"), Surface.HAIR))] == ["1v|2r"]
