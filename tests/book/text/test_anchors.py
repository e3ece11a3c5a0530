"""What a space is tied to, read as people write it."""

from __future__ import annotations

from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from copydesk.book.common.errors import CopydeskError
from copydesk.book.plan import Anchor
from copydesk.book.structure.foliation import Numbering
from copydesk.book.text.anchors import read_anchor, show_anchor, unnoted
from copydesk.book.text.exemplar import Place, read_exemplar, read_place


@pytest.mark.parametrize(
    ("text", "anchor"),
    [
        ("division 3 paragraph 2", Anchor(division=3, paragraph=2)),
        ("Division 3", Anchor(division=3)),
        ("word 0", Anchor(word=0)),
        ("exemplar 12r 14", Anchor(exemplar="12r 14")),
        ("exemplar xiv v", Anchor(exemplar="xivv")),
        ("page 12r, column 2, line 5", Anchor(page="12r", column=2, line=5)),
        ("12V line 5", Anchor(page="12v", line=5)),
        ("  page   3r ", Anchor(page="3r")),
    ],
)
def test_the_forms_people_write(text: str, anchor: Anchor) -> None:
    assert read_anchor(text) == anchor


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "a space needs a place; write"),
        ("beside the mill", "is not a place for a space; write"),
        ("paragraph 2", "is not a place for a space; write"),
        ("division 0", "names a division 0; divisions count from 1"),
        ("12r line 0", "names a line 0; lines count from 1"),
        ("exemplar the mill", "'the mill' is not a place of the exemplar"),
        ("0r", "is not a place for a space"),
        ("word ²", "is not a place for a space"),
    ],
)
def test_what_is_no_place_is_refused(text: str, says: str) -> None:
    with pytest.raises(CopydeskError, match=says):
        read_anchor(text)


numbers = st.integers(1, 9_999)
pages = st.builds("{}{}".format, numbers, st.sampled_from("rv"))
anchors = st.one_of(
    st.tuples(numbers, st.none() | numbers).map(lambda two: Anchor(division=two[0], paragraph=two[1])),
    st.integers(0, 99_999).map(lambda word: Anchor(word=word)),
    st.builds("{} {}".format, pages, numbers).map(lambda place: Anchor(exemplar=place)),
    st.tuples(pages, st.none() | st.integers(1, 99), st.none() | numbers).map(
        lambda three: Anchor(page=three[0], column=three[1], line=three[2])
    ),
)


@given(anchors, st.sampled_from(get_args(Numbering)))
def test_what_is_shown_reads_back(anchor: Anchor, numbering: Numbering) -> None:
    assert read_anchor(show_anchor(anchor, numbering), numbering) == anchor


@pytest.mark.parametrize(("numbering", "shown"), [("arabic", "12r"), ("roman", "xii r"), ("pages", "23")])
def test_a_page_is_shown_as_the_book_counts(numbering: Numbering, shown: str) -> None:
    assert show_anchor(Anchor(page="12r", line=3), numbering) == f"page {shown} line 3"


@given(st.text(max_size=40))
def test_any_text_is_read_or_refused(text: str) -> None:
    try:
        anchor = read_anchor(text)
    except CopydeskError:
        return
    assert any(value is not None for value in anchor)


TEXT = read_exemplar("{1r} one two\n\n{1r 11} three four {1v} five\n\n# {2r 3} a heading\n\nsix")


@pytest.mark.parametrize(
    ("place", "word"), [("1r", 0), ("1r 1", 0), ("1r 11", 2), ("1v", 4), ("1v 1", 4), ("2r 3", 5), ("2r", None)]
)
def test_a_place_leads_to_the_word_noted_there(place: str, word: int | None) -> None:
    read = read_place(place)
    assert read is not None
    assert TEXT.word_at(read) == word


def test_a_place_that_is_not_noted_is_told_with_those_that_are() -> None:
    assert unnoted("1r 11", TEXT) == ""
    assert unnoted("1r 12", TEXT) == (
        "is 1r 12, and the text notes only these lines of 1r: 1, 11; write {1r 12} in the text before the word that "
        "stands there"
    )
    assert "does not note 9v; write {9v}" in unnoted("9v", TEXT)
    assert "known only from a typed text" in unnoted("1r", None)


def test_places_are_read_in_either_numeral() -> None:
    assert read_place(" xiv r 3 ") == Place(-1, "xivr", 3)
    assert read_place("12r 14") == Place(-1, "12r", 14)
    assert read_place("12") is None
    assert read_place("12r} {13r") is None
