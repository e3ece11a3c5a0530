"""Changing the text on purpose: finding the passage, what is refused, what follows for casting and comparing."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.common.errors import CopydeskError
from copydesk.book.plan import Change, Columns
from copydesk.book.structure.page import Page
from copydesk.tracking.checking.page_compare import compare_page
from copydesk.tracking.commands.change_commands import change_text
from copydesk.tracking.log.entry_text import describe
from copydesk.tracking.state.page_content import lines_of_page
from copydesk.tracking.views.change_report import CHANGES, change_accounts
from text_book import TextBook, made_text

TEXT = made_text(small="")
WORDS = TEXT.split()


def between(words: int) -> tuple[str, str]:
    """A short passage: its first and its last two words."""
    return " ".join(WORDS[words : words + 2]), " ".join(WORDS[words + 4 : words + 6])


def test_a_passage_by_its_first_and_last_words() -> None:
    book = TextBook(TEXT)
    first, last = between(20)
    act = change_text(book.state, first=first, last=last, write="two words", why=" as asked ", who="the owner")
    assert act.facts == {"from_word": 20, "to_word": 26, "write": "two words", "why": "as asked", "who": "the owner"}


def test_a_short_passage_and_words_added() -> None:
    book = TextBook(TEXT)
    assert change_text(book.state, first=WORDS[8], why="x").facts == {
        "from_word": 8,
        "to_word": 9,
        "write": "",
        "why": "x",
    }
    act = change_text(book.state, after=WORDS[8], write="put  in", why="x")
    assert (act.facts["from_word"], act.facts["to_word"], act.facts["write"]) == (9, 9, "put in")


def test_words_that_stand_in_several_places_need_a_page_near_them() -> None:
    book = TextBook(f"the fen {made_text(200)} the fen {made_text(100, 9)}")
    with pytest.raises(CopydeskError, match="more than once"):
        change_text(book.state, first="the fen", why="x")
    assert change_text(book.state, first="the fen", why="x", near=190).facts["from_word"] == 202


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({"first": "no such words", "why": "x"}, "does not stand in the exemplar"),
        ({"first": WORDS[3]}, "needs its reason"),
        ({"first": WORDS[3], "write": WORDS[3], "why": "x"}, "nothing is changed"),
        ({"after": WORDS[3], "why": "x"}, "nothing is added"),
        ({"first": WORDS[30], "last": WORDS[8], "why": "x"}, "stands before"),
        ({"first": WORDS[41], "why": "x"}, "changed on purpose already, words 40 to 44"),
        ({"first": WORDS[38], "last": WORDS[40], "why": "x"}, "changed on purpose already"),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence(given: dict[str, Any], said: str) -> None:
    book = TextBook(TEXT, changes=(Change(40, 44, "", "planned"),))
    with pytest.raises(CopydeskError, match=said):
        change_text(book.state, **given)


def test_a_second_addition_at_one_place_is_refused_and_taking_back_makes_room() -> None:
    book = TextBook(TEXT)
    first = book.do(change_text(book.state, after=WORDS[9], write="put in", why="x"))
    with pytest.raises(CopydeskError, match="changed on purpose already"):
        change_text(book.state, after=WORDS[9], write="more", why="x")
    book.undo(first)
    assert change_text(book.state, after=WORDS[9], write="more", why="x").facts["write"] == "more"


def test_the_text_is_cast_as_it_is_to_be_written_before_and_after_writing() -> None:
    book = TextBook(TEXT)
    before = book.state.budget.pages[2].start
    book.do(change_text(book.state, first=WORDS[4], last=WORDS[12], why="x"))
    assert WORDS[6] not in " ".join(book.lines("1r"))
    assert book.state.copy.word(book.state.budget.pages[2].start) > before
    book.write("1r")
    ends = book.state.record(book.state.skin_at(0)).ends
    book.do(change_text(book.state, after=WORDS[14], write="put in later", why="x"))
    assert "put in later" in " ".join(book.lines("1r"))
    assert book.state.record(book.state.skin_at(0)).ends == ends
    assert compare_page(book.state, 0, "\n".join(book.lines("1r"))).comparison.clean
    assert book.state.budget.pages == book.afresh().budget.pages


@settings(max_examples=25, deadline=None)
@given(
    st.lists(st.tuples(st.integers(0, 110), st.integers(0, 6), st.sampled_from(["", "put in", "a b c d"])), max_size=4),
    st.booleans(),
)
def test_casting_after_changes_is_as_if_worked_out_afresh(asked: list[tuple[int, int, str]], write: bool) -> None:
    book = TextBook(TEXT)
    for start, length, new in asked:
        given = {"first": WORDS[start], "last": WORDS[start + length]} if length else {"after": WORDS[start]}
        try:
            act = change_text(book.state, **given, write=new, why="x", near=start)
        except CopydeskError:
            continue
        book.do(act)
        if write:
            book.write("1v")
            write = False
    fresh = book.afresh()
    assert book.state.copy.written is not None
    assert list(book.state.copy.written.words) == list(fresh.copy.written.words)  # type: ignore[union-attr]
    assert book.state.budget.pages == fresh.budget.pages
    assert book.state.collation == fresh.collation


def test_the_list_has_those_planned_and_those_recorded_in_the_order_of_the_text() -> None:
    book = TextBook(TEXT, changes=(Change(40, 44, "", "planned so", "the owner"),))
    book.write("1r")
    entry = book.do(change_text(book.state, after=WORDS[7], write="put in", why="a gap"), "B")
    book.do(change_text(book.state, first=WORDS[90], write="else", why="reads better"))
    found = change_accounts(book.state)
    assert [(each.sort, str(each.page), each.written) for each in found] == [
        ("added", "1r", True),
        ("left out", "2r", False),
        ("put differently", "3r", False),
    ]
    for each in found:
        assert each.page is not None
        page = book.state.budget.pages[each.page.index]
        assert page.start <= book.state.copy.piece(each.change.from_word) < page.end
    assert found[0].sentence() == f'"put in" added after "{" ".join(WORDS[4:8])}"'
    data = CHANGES.data(found[0])
    assert (data["entry"], data["who"], data["why"]) == (entry.entry, "B", "a gap")
    assert "put" in book.lines("1r")[found[0].line - 1]
    assert (CHANGES.data(found[1])["entry"], found[1].change.who) == (None, "the owner")
    assert describe(entry, book.state) == f"{found[0].sentence()} on purpose by B, a gap"


def test_the_line_of_a_change_is_the_one_its_first_word_stands_on() -> None:
    book = TextBook(TEXT, columns=Columns(2, 5.0))
    lines = [line for index in range(4) for line in lines_of_page(book.state, index)]
    for line in lines[1:-1]:
        for word in {line.start, line.end - 1}:
            asked = TextBook(TEXT, columns=Columns(2, 5.0), changes=(Change(word, word + 1, "in", "why"),))
            [found] = change_accounts(asked.state)
            shown = lines_of_page(asked.state, found.page.index if found.page else 0)
            [on] = [each for each in shown if each.start <= word < each.end]
            assert (found.column, found.line) == (on.column, on.line)
            assert (CHANGES.data(found)["column"], CHANGES.data(found)["line"]) == (on.column, on.line)


def test_a_book_of_counts_is_changed_in_its_plan() -> None:
    book = TextBook(TEXT)
    book.state.exemplar = None
    with pytest.raises(CopydeskError, match=r"noted in book\.yaml"):
        change_text(book.state, first="a", why="x")
    assert Page.parse("1r").index == 0
