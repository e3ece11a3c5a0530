"""Entries about pages and the desk in a sentence."""

from __future__ import annotations

import pytest

from copydesk.book.plan import Change
from copydesk.book.structure.page import Page
from copydesk.tracking.ledger.entry import Entry
from copydesk.tracking.log.entry_text import describe, entry_sentence, place_name
from small_book import SmallBook


def entry(what: str, about: str = "1.1:r", page: str = "1r", hand: str = "B", **facts: object) -> Entry:
    return Entry("5f0c", 1, "2026-11-25T10:00:00+00:00", hand, "window", what, about, page, facts)


@pytest.mark.parametrize(
    ("said", "says"),
    [
        (entry("ruled", note="two to a sheet"), '1r ruled by B, note "two to a sheet"'),
        (entry("begun", from_word=4), "1r begun by B"),
        (entry("written", from_line=1, to_line=9, minutes=12.0), "1r written by B, lines 1 to 9, 12 minutes"),
        (entry("written", from_line=1, to_line=9, lines=33), "1r written by B, lines 1 to 9"),
        (entry("written", from_line=9, to_line=9), "1r written by B, line 9"),
        (entry("ruled", lines=33), "1r ruled by B, lines 33"),
        (entry("checked", hand=""), "1r checked against the exemplar"),
        (
            entry("fault", kind="omission", column=1, line=7, should="the ford"),
            '1r fault noted by B, omission, column 1, line 7, should be "the ford"',
        ),
        (
            entry("fault", kind="omission", line=7, stands="", should="ford", note=""),
            '1r fault noted by B, omission, line 7, should be "ford"',
        ),
        (entry("settled", remedy="scraped"), "1r fault mended by B, scraped"),
        (entry("at-desk", "window", ""), "B sat down at the desk"),
        (entry("note", "colophon", "", text="B wrote it."), 'the colophon kept by B, "B wrote it."'),
        (entry("voided", "5f0c", ""), "an entry taken back by B"),
        (entry("sprinkled", "1.1:r", ""), "the book sprinkled by B"),
        (entry("ruled", "1.1:r", ""), "1.1:r ruled by B"),
        (entry("", "", "", ""), "the book "),
    ],
)
def test_an_entry_is_told(said: Entry, says: str) -> None:
    assert describe(said) == says


def test_last_words_are_told_as_they_were_written() -> None:
    book = SmallBook(changes=(Change(40, 42, "anno"),))
    written = book.do(book.commands.write(Page.parse("1r"), ends="w39 anno"))
    assert describe(written, book.state) == '1r written by A, lines 1 to 10, ends "w39 anno"'


@pytest.mark.parametrize(
    ("words", "told"), [("of feet.", '"w39 of feet."'), ("who goes?", '"w39 who goes?"'), ("of feet", '"w39 of feet".')]
)
def test_a_quotation_that_ends_a_sentence_brings_its_own_stop(words: str, told: str) -> None:
    book = SmallBook(changes=(Change(40, 42, words),))
    written = book.do(book.commands.write(Page.parse("1r"), ends=f"w39 {words}"))
    assert entry_sentence(written, book.state) == f"1r written by A, lines 1 to 10, ends {told}"


def test_a_beginning_is_told_in_its_words() -> None:
    book = SmallBook()
    held = book.do(book.commands.hold(Page.parse("2r"), "w120 w121"))
    assert describe(held, book.state) == '2r given its beginning by A, begins "w120 w121 w122"'
    begun = book.do(book.commands.begin(Page.parse("1r")))
    assert describe(begun, book.state) == '1r begun by A, begins "w0 w1 w2"'


@pytest.mark.parametrize("begins", [-5, 10**12, None, "x"])
def test_a_beginning_that_cannot_be_is_left_out_or_is_the_texts(begins: object) -> None:
    book = SmallBook(words=50)
    assert describe(entry("begun", from_word=begins), book.state).startswith("1r begun by B")


@pytest.mark.parametrize("ends", [-5, 0, 10**12, None, "x"])
def test_last_words_that_cannot_be_are_left_out_or_are_the_texts(ends: object) -> None:
    book = SmallBook(words=50)
    assert describe(entry("written", from_line=1, to_line=9, to_word=ends), book.state).startswith("1r written by B")


def test_nothing_that_was_typed_reaches_the_terminal_as_it_is() -> None:
    said = describe(entry("ruled", page="\x1b[2J", hand="[red]\u202eB", note="a\x07b\nc"))
    assert said == '▫[2J ruled by [red]B, note "a▫b c"'
    assert place_name(entry("ruled", page="12v")) == "12v"
