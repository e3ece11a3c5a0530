"""The colophon: what the plan and the ledger say, and blanks for the rest."""

from __future__ import annotations

import json
from datetime import date

import pytest

from copydesk.book.common.errors import CopydeskError
from copydesk.book.flow import ExemplarLoan
from copydesk.book.plan import Anchor, Hand, SpacePlan, Workshop
from copydesk.book.structure.page import Page
from copydesk.tracking.binding.binding_walk import walk_sheet
from copydesk.tracking.binding.colophon import BLANK, COLOPHON, colophon, keep_colophon, kept_colophon
from copydesk.tracking.commands.leaf_commands import cancel_leaf
from copydesk.tracking.log.entry_text import describe
from small_book import SmallBook

BOTH = (Hand("A", "Agnes Orrin", 20.0), Hand("B", "", 16.0))


def test_a_book_not_begun_names_nobody() -> None:
    found = colophon(SmallBook().state)
    assert found.sentences == (
        "A small book was copied by hand.",
        "Nothing is written yet.",
        f"Sewn and bound by {BLANK}.",
    )
    assert (found.wrote, found.first, found.leaves, found.finished) == ((), None, 0, False)


def test_the_binder_of_the_plan_stands_in_the_colophon() -> None:
    book = SmallBook(workshop=Workshop(binder="Odo Marl\x1b"))
    assert colophon(book.state).sentences[-1] == "Sewn and bound by Odo Marl\u25ab."


def test_whoever_worked_is_named_with_what_they_did() -> None:
    book = SmallBook(
        words=100,
        sheets=1,
        count=2,
        hands=BOTH,
        exemplar=ExemplarLoan("exemplar.txt", lent_by="the Mill House"),
        workshop=Workshop(artist="Ines"),
        spaces=(SpacePlan("owl", "miniature", Anchor(page="1r"), 2), SpacePlan("rim", "border", Anchor(page="1v"))),
    )
    book.write("1r", to_line=3)
    for page in ("1r", "1v", "2r"):
        book.write(page, hand="B" if page == "1r" else "A")
        book.do(book.commands.check(Page.parse(page), read=True), "B")
    book.do(book.commands.space("owl", "drawn"), "Ines")
    book.do(book.commands.space("rim", "done"), "Ines")
    for sheet in ("1.1", "2.1"):
        book.do(walk_sheet(book.state, sheet), "B")
    assert colophon(book.state).sentences == (
        "A small book was copied from an exemplar lent by the Mill House.",
        "Agnes Orrin wrote 1v to 2r and part of 1r.",
        "Hand B wrote part of 1r.",
        "Hand B checked 1r to 2r against the exemplar.",
        "Ines decorated one miniature and one border.",
        "Hand B laid two sheets in order for sewing.",
        "So far the work was done on 2 March 2026, on two leaves in one gathering.",
        f"Sewn and bound by {BLANK}.",
    )


def test_a_page_only_ticked_is_not_said_to_be_checked_against_the_exemplar() -> None:
    book = SmallBook(words=100, sheets=1, count=2, hands=BOTH)
    for page in ("1r", "1v"):
        book.write(page)
        book.do(book.commands.check(Page.parse(page), read=page == "1v"), "B")
    assert [(work.name, work.where) for work in colophon(book.state).checked] == [("Hand B", "1v")]


def test_only_a_book_with_nothing_open_is_finished() -> None:
    book = SmallBook(words=100, sheets=1, count=2, spaces=(SpacePlan("owl", "miniature", Anchor(page="1r"), 2),))
    for page in ("1r", "1v", "2r"):
        book.write(page)
        book.do(book.commands.check(Page.parse(page)), "B")
    assert not colophon(book.state).finished
    book.do(book.commands.space("owl", "left-empty"))
    found = colophon(book.state)
    assert found.finished
    assert any(sentence.startswith("The work was done on 2 March 2026") for sentence in found.sentences)
    assert not any("decorated" in sentence for sentence in found.sentences)


def test_a_book_with_words_on_no_page_is_not_finished() -> None:
    book = SmallBook(words=200, sheets=2, count=1)
    for page in ("1r", "1v", "2r", "2v", "3r"):
        book.write(page)
        book.do(book.commands.check(Page.parse(page)), "B")
    assert colophon(book.state).finished
    book.do(cancel_leaf(book.state, 2))
    assert not colophon(book.state).finished


@pytest.mark.parametrize(("words", "page"), [(100, "2v"), (180, "3v"), (290, None)])
def test_a_blank_page_is_left_before_it(words: int, page: str | None) -> None:
    found = colophon(SmallBook(words=words, sheets=2, count=1).state)
    assert (str(found.page) if found.page else None) == page


def test_the_data_goes_through_json() -> None:
    book = SmallBook()
    book.write("1r")
    data = COLOPHON.data((colophon(book.state), kept_colophon(book.state)))
    assert json.loads(json.dumps(data)) == data
    assert (data["from"], data["to"], data["leaves"], data["kept"]) == ("2026-03-02", "2026-03-02", 1, None)
    assert colophon(book.state).last == date(2026, 3, 2)


def test_it_is_kept_as_drafted_or_in_other_words_and_the_newest_counts() -> None:
    book = SmallBook()
    first = book.do(keep_colophon(colophon(book.state).text))
    book.do(keep_colophon("  Written by the river. "))
    assert kept_colophon(book.state) == "Written by the river."
    assert describe(first).startswith('the colophon kept by A, "A small book was copied by hand. ')
    with pytest.raises(CopydeskError, match="needs its words"):
        keep_colophon(" ")
