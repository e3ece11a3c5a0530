"""A transcription's words, and their places by the lines typed."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.structure.page import Page
from copydesk.tracking.checking.transcription import places_by_line, read_transcription
from copydesk.tracking.state.page_lines import lines_of_page
from text_book import TextBook


def places(book: TextBook, page: str, text: str) -> list[tuple[int, int]]:
    lines = lines_of_page(book.state, Page.parse(page).index)
    return places_by_line(read_transcription(text), lines, book.state.copy)


def test_words_and_lines_blank_ones_left_out() -> None:
    typed = read_transcription("\n  in the\n\nmill\tpond \n")
    assert typed == (["in", "the", "mill", "pond"], [0, 0, 1, 1], 2)
    assert read_transcription(" \n ") == ([], [], 0)


@pytest.mark.parametrize("typed", [1, 4, 10])
def test_lines_as_they_stand_on_the_page_give_the_places(typed: int) -> None:
    book = TextBook()
    book.write("2r")
    lines = book.lines("2r")[:typed]
    wanted = [(1, number) for number, line in enumerate(lines, start=1) for _ in line.split()]
    assert places(book, "2r", "\n".join(lines)) == wanted
    assert places(book, "2r", "\n\n".join(lines)) == wanted


def test_a_line_lost_or_a_word_too_many_does_not_hide_the_lines() -> None:
    book = TextBook()
    lines = book.lines("1r")
    assert places(book, "1r", "\n".join(lines[:3] + lines[4:]))[-1] == (1, 9)
    assert places(book, "1r", "\n".join(["and again", *lines[1:]]))[-1] == (1, 10)


@pytest.mark.parametrize("words_a_line", [1, 6, 200])
def test_text_broken_at_another_width_gives_none(words_a_line: int) -> None:
    book = TextBook()
    words = " ".join(book.lines("1r")).split()
    broken = [" ".join(words[at : at + words_a_line]) for at in range(0, len(words), words_a_line)]
    assert places(book, "1r", "\n".join(broken)) == []


@settings(max_examples=60, deadline=None)
@given(st.text(alphabet="ab \n\t", max_size=200))
def test_every_word_has_one_line_and_lines_count_up(text: str) -> None:
    typed = read_transcription(text)
    assert typed.words == text.split()
    assert typed.line_of == sorted(typed.line_of)
    assert set(typed.line_of) == set(range(typed.lines))
