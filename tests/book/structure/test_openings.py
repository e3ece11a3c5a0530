from __future__ import annotations

import json

import pytest

from copydesk.book.common.errors import CopydeskError
from copydesk.book.structure.collation import Collation
from copydesk.book.structure.leaf_additions import add_after
from copydesk.book.structure.leaf_changes import cancel, want
from copydesk.book.structure.openings import opening_at, openings, unlike_openings, why_unlike
from copydesk.book.structure.page import LeafId, Surface
from copydesk.book.structure.sheets import find_sheet
from copydesk.tracking.views.sheet_report import SHEETS

PAIR = Collation.regular(2, 2)


def why(collation: Collation) -> dict[str, str]:
    return {str(opening): why_unlike(collation, opening) for opening in unlike_openings(collation)}


def test_openings_of_a_book() -> None:
    assert [str(opening) for opening in openings(PAIR)] == [
        "1v|2r",
        "2v|3r",
        "3v|4r",
        "4v|5r",
        "5v|6r",
        "6v|7r",
        "7v|8r",
    ]
    assert [str(opening) for opening in openings(PAIR) if opening.across] == ["4v|5r"]


def test_each_break_is_given_its_reason() -> None:
    assert why(want(PAIR, LeafId("1.2"))) == {"1v|2r": "a leaf is wanting here"}
    assert why(cancel(PAIR, LeafId("2.3"))) == {"6v|7r": "a leaf is cancelled here"}
    assert why(add_after(PAIR, LeafId("1.2"))) == {"3v|4r": "leaf 3 is single"}
    assert why(Collation.regular(1, 2, Surface.HAIR, "same")) == {
        "1v|2r": "sheets 1 and 2 lie with the same surface outward",
        "3v|4r": "sheets 2 and 1 lie with the same surface outward",
    }
    mixed = Collation((PAIR.gatherings[0], Collation.regular(2, 2, Surface.FLESH).gatherings[1]))
    assert why(mixed) == {"4v|5r": "gathering 2 begins with flesh where gathering 1 ends with hair"}


def test_plain_data_of_the_sheets() -> None:
    data = SHEETS.data(cancel(Collation.regular(1, 2), LeafId("1.3")))
    assert json.loads(json.dumps(data)) == {
        "gatherings": [
            {
                "gathering": 1,
                "sheets": [
                    {
                        "sheet": 1,
                        "outer": {"left": "3v", "right": "1r", "surface": "hair"},
                        "inner": {"left": "1v", "right": "3r", "surface": "flesh"},
                    },
                    {
                        "sheet": 2,
                        "outer": {"left": None, "right": "2r", "surface": "flesh"},
                        "inner": {"left": "2v", "right": None, "surface": "hair"},
                    },
                ],
            }
        ],
        "unlike_openings": ["2v|3r"],
    }


def test_sheet_found_by_name() -> None:
    sheet = find_sheet(PAIR, " 2.1 ")
    assert (sheet.name, [str(page) for page in sheet.pages()]) == ("2.1", ["5r", "5v", "8r", "8v"])


@pytest.mark.parametrize(
    ("name", "sentence"),
    [
        ("2", "'2' does not name a sheet"),
        ("two.1", "does not name a sheet"),
        ("2.9", "there is no sheet 9 in gathering 2; it has 1, 2"),
        ("3.1", "there is no gathering 3"),
        ("2." + "1" * 40, "does not name a sheet"),
    ],
)
def test_sheet_not_there_is_refused(name: str, sentence: str) -> None:
    with pytest.raises(CopydeskError, match=sentence):
        find_sheet(PAIR, name)


@pytest.mark.parametrize("sizes", [(8, 8), (1,), (3, 2, 5)])
def test_the_opening_of_a_page_is_the_one_in_the_list(sizes: tuple[int, ...]) -> None:
    collation = Collation.of_sizes(sizes)
    listed = {page: opening for opening in openings(collation) for page in (opening.left, opening.right)}
    assert {page: opening_at(collation, page) for page in collation.all_pages()} == {
        page: listed.get(page) for page in collation.all_pages()
    }
