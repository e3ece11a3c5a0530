"""What would make a stretch fit: each way as it really comes out, and none done before it is chosen."""

from __future__ import annotations

import pytest

from copydesk.book.common.errors import CopydeskError
from copydesk.book.flow import Flow
from copydesk.book.plan import Anchor, Hand, SpacePlan
from copydesk.book.structure.page import Page
from copydesk.desk.wording.page_words import page_lines
from copydesk.tracking.fit.landing import landing_of
from copydesk.tracking.fit.remedies import (
    REMEDIES,
    NumberedRemedy,
    Remedy,
    fit_words,
    need_for,
    need_in_short,
    remedies_for,
)
from copydesk.tracking.fit.stretches import TARGETS, need_at, need_to_the_end
from copydesk.tracking.ledger.entry import Act
from copydesk.tracking.scribes.handover import HANDOVER, handover
from copydesk.tracking.scribes.handover_text import handover_lines
from copydesk.tracking.views.page_view import page_account
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


def test_a_tight_stretch_has_its_ways_those_that_fit_first() -> None:
    found = remedies(a_book(6))
    assert list(found) == [
        *("a smaller initial", "a space given up", "a line more", "a leaf more"),
        *("closer", "abbreviate"),  # more than a hand can do
    ]
    assert found["a smaller initial"].over == -1  # four lines saved; no word has room beside it at the foot of 3r
    assert found["a leaf more"].over < 0
    assert [each.fits for each in found.values()] == [True] * 4 + [False] * 2


def test_a_loose_stretch_has_its_ways() -> None:
    assert set(remedies(a_book(-6))) == {"wider", "a larger space", "a larger initial"}
    assert remedies(a_book(-6))["wider"].over == -1
    assert remedies(a_book(-9))["a larger space"].over == -2


def a_plain_book(later: int) -> TextBook:
    """1r written, 5r held so many words later than planned, and no spaces."""
    book = TextBook(made_text(260))
    book.write("1r")
    word = book.state.copy.word(book.state.budget.pages[8].start) + later
    book.do(book.commands.hold(Page.parse("5r"), " ".join(book.exemplar.words[word : word + 4])))
    return book


@pytest.mark.parametrize("later", [-20, -34, -44])
def test_as_few_lines_are_ruled_as_leave_the_text_its_room(later: int) -> None:
    found = [remedy for name, remedy in remedies(a_plain_book(later)).items() if name.endswith("fewer")]
    assert [remedy.fits for remedy in found] == [True]


@pytest.mark.parametrize("later", [-9, -4, 3, 6, 11])
def test_none_makes_matters_worse_and_each_says_its_chance_cost_and_ground(later: int) -> None:
    book = a_book(later)
    need = need_for(book.state, Page.parse("2r"))
    found = remedies_for(book.state, need)
    assert found
    fit = [remedy.fits for remedy in found]
    assert fit == sorted(fit, reverse=True)
    for number, remedy in enumerate(found, 1):
        row = REMEDIES.data(NumberedRemedy(number, remedy, need.over))
        assert 0 <= row["chance_to_fit"] <= 1
        assert 0 <= row["chance_within_a_line"] <= 1
        assert row["cost"] and row["assumes"]
        assert remedy.over < need.over if need.over > 0 else need.over < remedy.over <= 0


def test_lines_over_have_a_small_chance_and_lines_left_a_great_one() -> None:
    found = remedies_for((book := a_book(11)).state, need_for(book.state, Page.parse("2r")))
    assert all((each.landing.fits > 0.5) == (each.over <= 0 and each.verdict != "impossible") for each in found)
    tight = [each for each in found if each.landing.with_margin is not None]
    assert tight
    assert all(each.landing.fits < 0.9 for each in tight)


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
    book = a_book(-21)
    book.do(remedies(book)["wider"].acts[0])
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
    assert next(iter(found)) == "4 gatherings more"
    assert found["4 gatherings more"].over <= 0 < found["a leaf more"].over
    assert found["closer"].over <= 0
    assert not found["closer"].fits
    assert found["a leaf more"].landing.within_a_line is None


def two_hands(words: int = 800, count: int = 2) -> TextBook:
    hands = (Hand("A", "first", 20.0), Hand("B", "second", 16.0, gatherings=(2, 3)))
    book = TextBook(made_text(words), sheets=4, count=count, hands=hands)
    book.write("1r")
    return book


@pytest.mark.parametrize("words", [650, 700, 800, 1100])
def test_two_hands_by_gathering_each_have_their_target_and_all_say_the_same(words: int) -> None:
    state = two_hands(words).state
    need = need_for(state, Page.parse("3r"))
    assert need.over == state.budget.lines_without_room > 0
    asked = {each.hand: each.needed for each in need.targets}
    assert set(asked) == {"A", "B"}
    assert asked["A"] is not None and asked["B"] is not None
    assert asked["A"] > 20.0
    assert asked["B"] == pytest.approx(asked["A"] * 0.8)
    told = [f"A {asked['A']:.1f} letters a line instead of 20.0", f"B {asked['B']:.1f} instead of 16.0"]
    given = handover(state)
    room = next(line.says for line in handover_lines(state, given) if line.head == "Room")
    panel = next(line.says for line in page_lines(state, page_account(state, 4)) if line.head == "End")
    closer = next(remedy for remedy in remedies_for(state, need) if remedy.name == "closer")
    for said in (room, panel, need_in_short(need, state.book), closer.says):
        assert "wider" not in said
        assert ", ".join(told) in said
    assert HANDOVER.data(given)["hands"] == TARGETS.all_data(need.targets)
    assert closer.over <= 0


def test_an_agreement_of_two_hands_is_one_act_each_and_taken_back_as_one() -> None:
    book = two_hands()
    closer = next(each for each in remedies_for(book.state, need_for(book.state, Page.at(3))) if each.name == "closer")
    assert [(act.facts["from_page"], act.facts["to_page"]) for act in closer.acts] == [("1v", "8v"), ("9r", "16v")]
    for act in closer.acts:
        book.do(act)
    assert book.state.budget.lines_without_room == 0
    assert need_to_the_end(book.state) is None


def test_blank_lines_before_a_page_that_a_division_begins_are_no_room() -> None:
    """Lines that stay empty in the middle hide none that are over at the end."""
    text = "\n\n".join(f"# {number}\n\n{made_text(103, seed=number)}" for number in (3, 4))
    book = TextBook(text, flow=Flow(divisions="page"))
    book.write("1r")
    pages, index = book.state.budget.pages, 8
    assert sum(page.room - page.planned for page in pages[1 : index - 1]) > 1
    word = book.state.copy.word(book.state.budget.pages[index].start) + 4
    book.do(book.commands.hold(Page.at(index), " ".join(book.exemplar.words[word : word + 5])))
    need = need_for(book.state, Page.at(index - 1))
    assert need.over == book.state.budget.pages[index - 1].planned - 10 > 0


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


def test_text_left_over_after_a_written_last_page_asks_for_leaves() -> None:
    book = TextBook(made_text(420))
    last, words = book.state.collation.pages - 1, book.exemplar.words
    begins, ends = " ".join(words[380:386]), " ".join(words[400:406])
    book.do(book.commands.write(Page.at(last), begins=begins, ends=ends))
    need = need_for(book.state, Page.at(last))
    assert need.over == book.state.budget.lines_without_room > 0
    assert (need.needed, need.verdict, need.held) == (None, "impossible", False)
    assert "no number of letters" in need_in_short(need, book.state.book)
    found = remedies_for(book.state, need)
    assert "a gathering more" in {remedy.name for remedy in found if remedy.fits}


def test_the_margin_is_for_a_hand_that_aims_at_it_whatever_its_mean() -> None:
    state = a_book(11).state
    need = need_for(state, Page.parse("2r"))
    (agreed,) = remedies(a_book(11))["closer"].acts
    aimed = state.supposing((agreed._replace(facts={**agreed.facts, "letters": need.letters}),))
    again = need_for(aimed, Page.parse("2r"))
    unsure, sure = landing_of(state, need), landing_of(aimed, again)
    assert again.over == need.over
    assert unsure.fits > sure.fits
    assert unsure.with_margin == sure.with_margin is not None
