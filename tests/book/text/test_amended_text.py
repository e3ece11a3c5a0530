"""Positions in the exemplar and in the text as it is written, where the two depart."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.plan import Change
from copydesk.book.text.amended_text import Amended
from copydesk.book.text.exemplar import Block, read_exemplar

EXEMPLAR = read_exemplar("# One\nthe mill stood still\n\nall the week\n# Two\nwater ran")


def amended(*changes: Change) -> Amended:
    return Amended(EXEMPLAR.words, EXEMPLAR.blocks, changes)


def test_without_changes_the_text_is_the_exemplar() -> None:
    text = amended()
    assert text.words == EXEMPLAR.words
    assert [text.written(word) for word in range(12)] == list(range(12))


def test_words_left_out() -> None:
    text = amended(Change(3, 5, ""))
    assert " ".join(text.words) == "One the mill all the week Two water ran"
    assert [text.written(word) for word in (2, 3, 4, 5)] == [2, 3, 3, 3]
    assert [text.exemplar(written) for written in (2, 3)] == [2, 5]


def test_words_written_otherwise() -> None:
    text = amended(Change(2, 3, "old water mill"))
    assert " ".join(text.words[:6]) == "One the old water mill stood"
    assert [text.written(word) for word in (2, 3)] == [2, 5]
    assert [text.exemplar(written) for written in range(6)] == [0, 1, 2, 2, 2, 3]


def test_words_added() -> None:
    text = amended(Change(5, 5, "and quiet"))
    assert " ".join(text.words[3:8]) == "stood still and quiet all"
    assert text.blocks[1:3] == [Block(1, 5, "prose", 1, 1), Block(5, 10, "prose", 1, 2)]
    assert [text.exemplar(written) for written in (4, 5, 6, 7)] == [4, 5, 5, 5]
    assert [text.written(word) for word in (4, 5, 6)] == [4, 5, 8]


def test_words_added_at_either_end_belong_to_the_nearest_block() -> None:
    text = amended(Change(0, 0, "Incipit"), Change(11, 11, "the end"))
    assert (text.blocks[0], text.blocks[-1].end) == (Block(0, 2, "rubric", 1, 0), 14)
    assert text.written(11) == 14


def test_words_added_where_the_exemplar_has_none_are_a_paragraph() -> None:
    text = Amended([], [], [Change(0, 0, "a new text")])
    assert text.blocks == [Block(0, 3, "prose", 1, 1)]


def test_a_paragraph_left_out_whole_leaves_no_block() -> None:
    text = amended(Change(5, 8, ""))
    assert [(block.division, block.paragraph) for block in text.blocks] == [(1, 0), (1, 1), (2, 0), (2, 1)]


def test_everything_left_out() -> None:
    text = amended(Change(0, 99, ""))
    assert (list(text.words), list(text.blocks)) == ([], [])
    assert text.written(5) == 0
    assert text.exemplar(0) == len(EXEMPLAR.words)


def test_figures_that_cannot_be_are_brought_within_the_text() -> None:
    text = amended(Change(-5, 1, "Uno"), Change(10**9, 10**12, "end"), Change(7, 3, "x"))
    assert " ".join(text.words) == "Uno the mill stood still all the x week Two water ran end"


changes = st.builds(
    Change, st.integers(-2, 14), st.integers(-2, 14), st.lists(st.sampled_from("xyz"), max_size=3).map(" ".join)
)


@given(st.lists(changes, max_size=4))
@settings(max_examples=200)
def test_positions_rise_both_ways_and_the_blocks_tile(given_changes: list[Change]) -> None:
    text = amended(*given_changes)
    words, length = len(EXEMPLAR.words), len(text.words)
    there = [text.written(word) for word in range(words + 1)]
    back = [text.exemplar(written) for written in range(length + 1)]
    assert there == sorted(there)
    assert back == sorted(back)
    assert there[-1] == length
    assert back[-1] == words
    assert all(0 <= each <= length for each in there)
    assert all(0 <= each <= words for each in back)
    edges = [0, *(block.end for block in text.blocks)]
    assert [block.start for block in text.blocks] == edges[:-1]
    assert edges[-1] == length


@st.composite
def apart(draw: st.DrawFn) -> list[Change]:
    """Changes that do not meet."""
    edges = sorted(draw(st.lists(st.integers(0, 11), unique=True, max_size=6)))
    new = st.lists(st.sampled_from("xyz"), max_size=3).map(" ".join)
    return [Change(start, end, draw(new)) for start, end in zip(edges[::2], edges[1::2], strict=False)]


@given(apart())
def test_an_unchanged_word_is_found_again(given_changes: list[Change]) -> None:
    text = amended(*given_changes)
    touched = {word for change in given_changes for word in range(change.from_word, change.to_word)}
    for word in range(len(EXEMPLAR.words)):
        if word not in touched:
            assert text.words[text.written(word)] == EXEMPLAR.words[word]
            assert text.exemplar(text.written(word)) == word
