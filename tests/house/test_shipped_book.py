"""The shipped book is whole: enough text, regular places, spaces that stand in the text, counted words right."""

from __future__ import annotations

import re
from itertools import pairwise
from pathlib import Path

import pytest

from copydesk.book.hands.hand_sample import read_sample
from copydesk.book.materials.material_table import material_named
from copydesk.book.structure.page import Page
from copydesk.book.text.exemplar import Exemplar, read_exemplar
from copydesk.book.text.letter_widths import RELATIVE, WordWidths, natural_width
from copydesk.store.plan_file.book_file import read_book

FOLDER = Path(__file__).parents[2] / "projects" / "twelve-waters"
BOOK = read_book(FOLDER)
TEXT = (FOLDER / "exemplar.txt").read_text("utf-8")
MEASURE = 52.0


@pytest.fixture(scope="module")
def exemplar() -> Exemplar:
    return read_exemplar(TEXT)


def test_there_is_enough_to_copy(exemplar: Exemplar) -> None:
    assert len(exemplar.words) >= 7_000
    assert len(exemplar.divisions) >= 9
    assert sum(block.kind == "verse" for block in exemplar.blocks) >= 40
    assert all(division.title for division in exemplar.divisions)


def test_no_paragraph_stands_twice(exemplar: Exemplar) -> None:
    prose = [" ".join(exemplar.words[each.start : each.end]) for each in exemplar.blocks if each.kind == "prose"]
    assert len(set(prose)) == len(prose)


def test_words_are_what_white_space_parts_when_marks_and_places_are_left_out(exemplar: Exemplar) -> None:
    bare = re.sub(r"\{[^}]*\}", "", TEXT)
    bare = re.sub(r"^[#|] ", "", bare, flags=re.MULTILINE)
    assert bare.split() == exemplar.words


def test_the_places_go_forward_and_every_page_of_the_exemplar_is_noted(exemplar: Exemplar) -> None:
    where = [(Page.parse(place.leaf).index, place.line or 1) for place in exemplar.places]
    assert where == sorted(set(where))
    assert all(earlier.word < later.word for earlier, later in pairwise(exemplar.places))
    assert exemplar.places[0].word == 0
    pages = {index for index, line in where if line == 1}
    assert pages == set(range(max(pages) + 1))
    lines = BOOK.exemplar.lines_per_page
    assert lines is not None
    assert max(line for _, line in where) <= lines


def test_lines_of_the_exemplar_are_about_as_long_as_the_book_says(exemplar: Exemplar) -> None:
    length = BOOK.exemplar.letters_per_line
    assert length is not None
    for earlier, later in pairwise(exemplar.places):
        if earlier.leaf != later.leaf:
            continue
        text = " ".join(exemplar.words[earlier.word : later.word])
        assert len(text) <= length * ((later.line or 1) - (earlier.line or 1))


def test_ruling_and_script_agree() -> None:
    page, margins, script = BOOK.page, BOOK.page.margins, BOOK.script
    assert script.nib is not None
    assert BOOK.ruling.lines is not None
    written = page.height - margins.head - margins.foot
    needed = script.nib * sum(script.heights)
    assert needed <= written / BOOK.ruling.lines < needed * 1.02
    measure = (page.width - margins.inner - margins.outer - BOOK.columns.gap) / 2
    assert measure == pytest.approx(MEASURE)


def test_every_space_tied_to_the_text_has_its_place_there(exemplar: Exemplar) -> None:
    tied = [space for space in BOOK.spaces if space.at.division]
    assert len(tied) >= 12
    assert {space.kind for space in BOOK.spaces} >= {"miniature", "border", "initial", "decorated initial"}
    for space in tied:
        assert space.at.division is not None
        start = exemplar.paragraph_start(space.at.division, space.at.paragraph)
        assert start is not None, space.id
        if space.guide_letter:
            assert exemplar.words[start].startswith(space.guide_letter), space.id


def test_every_material_is_one_we_can_caution_about() -> None:
    for space in BOOK.spaces:
        for name in space.materials:
            assert material_named(name), name


def test_the_change_leaves_out_a_whole_sentence(exemplar: Exemplar) -> None:
    (change,) = BOOK.changes
    left_out = exemplar.words[change.from_word : change.to_word]
    assert left_out[0].istitle()
    assert left_out[-1].endswith(".")
    assert exemplar.words[change.from_word - 1].endswith(".")
    assert " ".join(left_out) in (FOLDER / "book.yaml").read_text(encoding="utf-8")


def test_the_sample_is_one_hand_at_the_measure() -> None:
    lines = read_sample((FOLDER / "samples" / "b.txt").read_text(encoding="utf-8"), "b.txt")
    widths = WordWidths(RELATIVE)
    assert len(lines) >= 25
    for line in lines:
        assert line.length is not None
        assert line.length <= MEASURE + 1
        scale = line.length / natural_width(line.words, widths)
        assert scale == pytest.approx(MEASURE / 24.5, rel=0.06), line.words
