"""Reading the plain text of an exemplar."""

from __future__ import annotations

import tracemalloc

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.text.exemplar import Block, Exemplar, Place, read_exemplar

TEXT = """\
# Of frost {12r}
The mill stood still
all the week.

{12r 14} A second paragraph {12v}here.
| first line
| second line

| another stanza
# {13r 2} Of thaw
Water ran.
"""


def test_divisions_paragraphs_verse_and_rubrics() -> None:
    read = read_exemplar(TEXT)
    assert [(division.title, division.start, division.paragraphs) for division in read.divisions] == [
        ("Of frost", 0, 4),
        ("Of thaw", 19, 1),
    ]
    assert read.blocks == (
        Block(0, 2, "rubric", 1, 0),
        Block(2, 9, "prose", 1, 1),
        Block(9, 13, "prose", 1, 2),
        Block(13, 15, "verse", 1, 3),
        Block(15, 17, "verse", 1, 3),
        Block(17, 19, "verse", 1, 4),
        Block(19, 21, "rubric", 2, 0),
        Block(21, 23, "prose", 2, 1),
    )
    assert " ".join(read.words[9:15]) == "A second paragraph here. first line"


def test_places_of_the_exemplar_are_no_words() -> None:
    read = read_exemplar(TEXT)
    assert read.places == (
        Place(2, "12r", None),
        Place(9, "12r", 14),
        Place(12, "12v", None),
        Place(19, "13r", 2),
    )
    assert read.place_of(1) is None
    assert str(read.place_of(11)) == "12r 14"
    assert str(read.place_of(500)) == "13r 2"


def test_a_place_inside_a_word_is_that_words() -> None:
    read = read_exemplar("# Wa{3r}ter\nthe mill{3v 1}stone stood")
    assert read.words == ["Water", "the", "millstone", "stood"]
    assert read.divisions[0].title == "Water"
    assert read.places == (Place(0, "3r", None), Place(2, "3v", 1))


def test_places_in_roman_numerals_and_what_only_looks_like_one() -> None:
    read = read_exemplar("{ix v} begun {no place} {12x} {12} [12r]")
    assert read.places == (Place(0, "ixv", None),)
    assert read.words == ["begun", "{no", "place}", "{12x}", "{12}", "[12r]"]


@pytest.mark.parametrize("alone", ["{12r}", "\n{12r}\n", "| {12r}", "|\n| {12r}\n|"])
def test_a_place_alone_begins_no_paragraph(alone: str) -> None:
    read = read_exemplar(f"# One\n{alone}\n\nText here.")
    assert read.divisions[0].paragraphs == 1
    assert read.blocks[-1].paragraph == 1
    assert read.places == (Place(1, "12r", None),)


def test_a_place_between_lines_does_not_part_a_stanza() -> None:
    read = read_exemplar("| one\n{4v}\n| two")
    assert [block.paragraph for block in read.blocks] == [1, 1]
    assert read.places == (Place(1, "4v", None),)


def test_a_place_may_stand_before_the_mark() -> None:
    read = read_exemplar("{5r 3} # Of rain\n{5v} | a verse line")
    assert [block.kind for block in read.blocks] == ["rubric", "verse"]
    assert read.places == (Place(0, "5r", 3), Place(2, "5v", None))


@pytest.mark.parametrize("text", ["", "\n\n", "   \n\t", "\ufeff", "{1r}"])
def test_an_empty_text_is_an_exemplar_of_no_words(text: str) -> None:
    read = read_exemplar(text)
    assert (read.words, read.blocks) == ([], ())


def test_text_before_the_first_rubric_is_a_division_without_title() -> None:
    read = read_exemplar("some words\n\n# Title\nmore")
    assert [(division.title, division.start) for division in read.divisions] == [("", 0), ("Title", 2)]


def test_what_is_not_quite_a_mark_is_prose() -> None:
    read = read_exemplar("#hash\n|bar\n ## x")
    assert [block.kind for block in read.blocks] == ["prose"]
    assert read.words == ["#hash", "|bar", "##", "x"]


def test_a_division_without_rubric_and_one_without_text() -> None:
    read = read_exemplar("#\nfirst words\n# Empty\n# Last\nend")
    assert [division.title for division in read.divisions] == ["", "Empty", "Last"]
    assert [read.paragraph_start(number, None) for number in (1, 2, 3)] == [0, 2, 3]
    assert [read.paragraph_start(number, 1) for number in (1, 2, 3)] == [0, None, 4]


def test_where_blocks_begin() -> None:
    read = read_exemplar(TEXT)
    assert [word for word in range(-1, 30) if read.begins_block(word)] == [block.start for block in read.blocks]


@pytest.mark.parametrize(("division", "paragraph"), [(0, None), (9, None), (1, 9), (0, 0), (-1, 1)])
def test_paragraphs_that_are_not_there(division: int, paragraph: int | None) -> None:
    assert read_exemplar(TEXT).paragraph_start(division, paragraph) is None


def test_square_brackets_and_control_characters_are_text() -> None:
    read = read_exemplar("[bold]word[/bold] be\x07ll \x1b[2J {12r} na\x00me")
    assert read.words == ["[bold]word[/bold]", "be\x07ll", "\x1b[2J", "na\x00me"]


LINES = st.lists(
    st.one_of(
        st.sampled_from(["", "# ", "#", "| ", "|", "{12r}", "{3v 4} ", "# {1r} T", "| {2v} verse", "a {9r} b{9v}c"]),
        st.text(st.characters(codec="utf-8"), max_size=20),
    ),
    max_size=12,
)


def _holds_together(read: Exemplar) -> None:
    edges = [0, *(block.end for block in read.blocks)]
    assert [block.start for block in read.blocks] == edges[:-1]
    assert edges[-1] == len(read.words)
    assert all(word and not any(letter.isspace() for letter in word) for word in read.words)
    assert [place.word for place in read.places] == sorted(place.word for place in read.places)


@given(LINES)
@settings(max_examples=150)
def test_blocks_tile_the_words_of_any_text(lines: list[str]) -> None:
    read = read_exemplar("\n".join(lines))
    _holds_together(read)
    for number, division in enumerate(read.divisions, 1):
        blocks = [block for block in read.blocks if block.division == number]
        assert max((block.paragraph for block in blocks), default=0) == division.paragraphs
        starts = {block.paragraph: block.start for block in reversed(blocks)}
        assert {paragraph: read.paragraph_start(number, paragraph) for paragraph in starts} == starts


@given(
    st.lists(st.text(st.characters(exclude_categories=["Z", "C"], exclude_characters="{}#|"), min_size=1), max_size=9)
)
def test_plain_prose_is_what_white_space_parts(words: list[str]) -> None:
    assert read_exemplar("\n".join(words)).words == " ".join(words).split()


def test_glosses_are_noted_beside_their_word_and_are_no_text() -> None:
    found = read_exemplar(
        "# On {gloss: or Of} mills\n\nthe old {gloss: now\n  the smithy} mill st{gloss: sic}ands {2r 3}\n\n| one\n"
        "{gloss: alone on a line}\n| two {gloss: } {gloss:}\n"
    )
    assert found.words == ["On", "mills", "the", "old", "mill", "stands", "one", "two"]
    assert found.glosses == ((1, "or Of"), (4, "now the smithy"), (5, "sic"), (7, "alone on a line"))
    assert found.divisions[0].title == "On mills"
    assert found.places[0].word == 6
    assert [block.kind for block in found.blocks[-2:]] == ["verse", "verse"]


def test_a_word_that_comes_again_takes_no_more_room_than_its_place() -> None:
    text = " ".join(f"word{at % 500}ending" for at in range(100_000))
    tracemalloc.start()
    try:
        exemplar = read_exemplar(text)
        held, _ = tracemalloc.get_traced_memory()
    finally:
        tracemalloc.stop()
    assert len(exemplar.words) == 100_000
    assert exemplar.words[0] is exemplar.words[500]
    assert held < 100_000 * 16, "a place in the list, and nothing else of each"
