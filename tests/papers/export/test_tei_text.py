"""The text as TEI, and read back from it."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given, settings

from copydesk.book.common.errors import NotAllowedError
from copydesk.book.flow import CountedDivision, Flow
from copydesk.book.plan import Change
from copydesk.book.text.exemplar import Exemplar, read_exemplar
from copydesk.papers.export.tei_text import text_document
from copydesk.store.files.tei_exemplar import read_tei
from copydesk.tracking.state.book_state import BookState
from small_book import SmallBook
from texts import poems

if TYPE_CHECKING:
    from copydesk.book.text.exemplar import Block

POEM = """# Of the ford

The snow {1r 2} came.

| {1r 3} The snow came down
|   and the ford lay under it
|
| {hanging 3} answer

| Four & <four>
"""


def state_of(text: str, **changes: Any) -> BookState:
    book = SmallBook(1, **changes)
    return BookState(book.plan, read_exemplar(text), book.ledger)


def again(state: BookState) -> Exemplar:
    return read_exemplar(read_tei(text_document(state, "1"), "x.xml"))


def test_a_poem_comes_back_as_it_was() -> None:
    state = state_of(POEM)
    assert state.exemplar is not None
    found = again(state)
    assert found.words == state.exemplar.words
    assert found.blocks == state.exemplar.blocks
    assert [part.title for part in found.divisions] == ["Of the ford"]


@given(poems)
@settings(max_examples=60, deadline=None)
def test_any_text_comes_back_as_it_was(text: str) -> None:
    state = state_of(text)
    assert state.exemplar is not None
    found = again(state)
    assert found.words == state.exemplar.words

    def spaced(blocks: tuple[Block, ...]) -> list[tuple[int, str, int, int, int]]:
        return [(each.start, each.kind, each.indent, each.hang, each.blank) for each in blocks]

    assert spaced(found.blocks) == spaced(state.exemplar.blocks)


def test_the_pages_and_lines_of_this_book_stand_in_it() -> None:
    found = again(state_of(" ".join(["aaa"] * 120)))
    assert [(str(place), place.word) for place in found.places[:3]] == [("1r", 0), ("1r 1", 0), ("1r 2", 5)]
    assert ("1v", 50) in [(str(place), place.word) for place in found.places]


def test_a_word_broken_at_a_lines_end_stays_one_word() -> None:
    text = " ".join(["abcdefg"] * 60)
    state = state_of(text, line_breaks="anywhere")
    assert re.search(r"[a-g]<[lp]b n=\"[0-9rv]+\" break=\"no\" />[a-g]", text_document(state, "1"))
    assert again(state).words == text.split()


def test_changes_made_on_purpose_are_in_it() -> None:
    state = state_of("one two three", changes=(Change(1, 2, "2"),))
    assert again(state).words == ["one", "2", "three"]


def test_a_book_known_by_counts_has_no_text_to_give() -> None:
    book = SmallBook(1, divisions=(CountedDivision("a", words=50),), flow=Flow())
    with pytest.raises(NotAllowedError):
        text_document(BookState(book.plan, None, book.ledger), "1")
