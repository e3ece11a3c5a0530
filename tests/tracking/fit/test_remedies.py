"""What would make a stretch fit: each way as it really comes out, and none done before it is chosen."""

from __future__ import annotations

import pytest

from copydesk.book.common.errors import CopydeskError
from copydesk.book.plan import Anchor, SpacePlan
from copydesk.book.structure.page import Page
from copydesk.tracking.fit.remedies import Remedy, fit_words, need_for, need_in_short, remedies_for
from copydesk.tracking.fit.stretches import need_at, need_to_the_end
from copydesk.tracking.ledger.entry import Act
from text_book import TextBook, made_text


def a_book(later: int, words: int = 420) -> TextBook:
    """1r written, 5r held so many words later than planned; a picture and an initial between."""
    spaces = (
        SpacePlan("mill", "miniature", Anchor(word=70), 4),
        SpacePlan("ford", "initial", Anchor(word=120), 6, width=40.0),
    )
    book = TextBook(made_text(words), spaces=spaces)
    book.write("1r")
    word = book.state.copy.word(book.state.budget.pages[8].start) + later
    book.do(book.commands.hold(Page.parse("5r"), " ".join(book.exemplar.words[word : word + 4])))
    return book


def remedies(book: TextBook, page: str = "2r") -> dict[str, Remedy]:
    found: dict[str, Remedy] = {}
    for remedy in remedies_for(book.state, need_for(book.state, Page.parse(page))):
        found.setdefault(remedy.name, remedy)
    return found


def test_a_tight_stretch_has_its_ways() -> None:
    found = remedies(a_book(6))
    assert list(found) == [
        *("closer", "abbreviate", "a smaller space", "a smaller initial", "a space given up", "a line more"),
        "a leaf more",
    ]
    assert found["closer"].over <= 0
    assert found["a smaller space"].over == 0
    assert found["a leaf more"].over < 0


def test_a_loose_stretch_has_its_ways() -> None:
    found = remedies(a_book(-6))
    assert set(found) == {"wider", "a larger space", "a larger initial", "a line fewer"}
    assert found["a larger space"].over == 0


@pytest.mark.parametrize("later", [-9, -4, 3, 6, 11])
def test_every_remedy_comes_out_as_it_was_told_and_can_be_taken_back(later: int) -> None:
    book = a_book(later)
    before = book.state.budget.pages
    need = need_for(book.state, Page.parse("2r"))
    last = book.state.skin_at(need.last)
    for remedy in remedies_for(book.state, need):
        entries = [book.do(act) for act in remedy.acts]
        page = book.state.page_of(last)
        assert page is not None
        after = need_at(book.afresh(), page.index)
        assert after is not None
        assert after.over == remedy.over, remedy.says
        for entry in reversed(entries):
            book.undo(entry)
        assert book.state.budget.pages == before


def test_working_them_out_does_nothing() -> None:
    book = a_book(6)
    entries, budget = len(book.ledger), book.state.budget
    assert remedies(book)
    assert len(book.ledger) == entries
    assert book.state.budget is budget


def test_what_stands_on_a_ruled_page_is_not_touched() -> None:
    book = a_book(6)
    for index in range(1, 8):
        book.do(book.commands.rule(Page.at(index)))
    assert set(remedies(book)) == {"closer", "abbreviate", "a leaf more"}


def test_nothing_is_offered_where_the_text_fits() -> None:
    book = a_book(6)
    book.do(remedies(book)["a smaller initial"].acts[0])
    need = need_for(book.state, Page.parse("2r"))
    assert need.over == 0
    assert remedies_for(book.state, need) == []


def test_text_that_may_run_on_needs_none() -> None:
    with pytest.raises(CopydeskError, match="need not end at a given place, so it needs no remedy"):
        need_for(a_book(6).state, Page.parse("6r"))
    with pytest.raises(CopydeskError, match="there is no page 99r"):
        need_for(a_book(6).state, Page.parse("99r"))


def test_a_book_too_short_may_have_a_gathering_more() -> None:
    book = TextBook(made_text(1000))
    book.write("1r")
    assert need_to_the_end(book.state) is not None
    found = remedies(book, "2r")
    assert found["a gathering more"].over < found["a leaf more"].over
    assert found["closer"].over <= 0


def test_the_more_words_to_abbreviate_the_harder() -> None:
    found = [remedies(a_book(later))["abbreviate"] for later in (4, 12)]
    words = [remedy.acts[0].facts["words"] for remedy in found]
    assert words == sorted(words, key=str)
    assert found[1].verdict != "easy"


def test_in_short() -> None:
    book = a_book(6)
    plan, need = book.state.book, need_for(book.state, Page.parse("2r"))
    assert need_in_short(need, plan).startswith(f"1v to 4v: {need.over} lines over; ")
    as_ever = need._replace(over=-3, needed=30.99, letters=31.0, verdict="easy")
    assert need_in_short(as_ever, plan) == "1v to 4v: 3 lines left; write as A does, 31.0 letters a line (easy)"
    closer = as_ever._replace(over=1, needed=31.02)
    said = "1v to 4v: 1 line over; write slightly closer than A does, 31.0 letters a line (easy)"
    assert need_in_short(closer, plan) == said
    act = (Act("note", "book", "", {}),)
    assert fit_words(Remedy("closer", "", act, 0, 21.0, "hard")) == "it fits (hard)"
    assert fit_words(Remedy("a line more", "", act, -3, 19.0, "easy")) == "3 lines left"
    assert fit_words(Remedy("a smaller initial", "", act, 2, 21.0, "hard")) == "2 lines over still"
