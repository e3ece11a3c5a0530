"""The text as it is to be written: what is allowed, letters left to the artist."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from copydesk.book.common.errors import CopydeskError
from copydesk.book.plan import Anchor, SpacePlan
from copydesk.book.structure.page import Page
from copydesk.tracking.checking.page_compare import PageComparison, compare_page
from copydesk.tracking.checking.text_to_write import allowed_too
from text_book import TextBook, made_text

if TYPE_CHECKING:
    from copydesk.comparing.faults import Difference


def compare(book: TextBook, page: str, lines: list[str], *, whole: bool = False) -> PageComparison:
    return compare_page(book.state, Page.parse(page).index, "\n".join(lines), whole=whole)


def only(compared: PageComparison) -> Difference:
    (fault,) = compared.comparison.faults
    return fault


def test_a_letter_left_to_the_artist_is_no_fault_but_the_next_one_is() -> None:
    space = SpacePlan("first", "flourished initial", Anchor(division=1, paragraph=1), 2, guide_letter="I")
    book = TextBook(f"In {made_text()}", spaces=(space,))
    lines = book.lines("1r")
    assert compare(book, "1r", lines).comparison.clean
    compared = compare(book, "1r", [lines[0].removeprefix("I"), *lines[1:]])
    assert compared.comparison.clean
    assert compared.comparison.sentence.startswith("no fault in ")
    assert only(compare(book, "1r", [lines[0].removeprefix("In "), *lines[1:]])).should == "In"
    lines[2] = lines[2][1:]
    assert only(compare(book, "1r", lines)).line == 3


def test_what_the_workshop_allows_and_what_is_allowed_besides() -> None:
    book = TextBook(f"{made_text(40)} une vigne et colour été", allow={"spellings": {"colour": "color"}})
    text = f"{made_text(40)} vne uigne & color ete"
    allow = allowed_too(book.plan, ["accents"])
    assert compare_page(book.state, 0, text, allow=allow).comparison.clean
    assert only(compare_page(book.state, 0, text)).stands == "ete"
    strict = allowed_too(book.plan, ["accents", "u/v=no"])
    stand = [fault.stands for fault in compare_page(book.state, 0, text, allow=strict).comparison.faults]
    assert " ".join(stand) == "vne uigne"
    with pytest.raises(CopydeskError, match="not a difference that can be allowed"):
        allowed_too(book.plan, ["spelling"])
