"""The reading copy: every line of a page as it is written, and nothing else."""

from __future__ import annotations

import re
from types import SimpleNamespace
from typing import TYPE_CHECKING, Any

import pytest

from copydesk.book.checks import NeverScraped, ReadingRules
from copydesk.book.common.errors import CopydeskError
from copydesk.book.structure.page import Page
from copydesk.papers.catalogue import PaperRequest, make
from copydesk.tracking.commands.page_commands import Commands
from copydesk.tracking.ledger.timestamps import moment
from text_book import TextBook

if TYPE_CHECKING:
    from copydesk.papers.catalogue import Form


def made(book: TextBook, page: str = "", form: Form = "text") -> bytes:
    job: Any = SimpleNamespace(state=book.state, book=book.plan, clock=lambda: moment("2026-03-02T10:00:00+00:00"))
    return make("reading", PaperRequest(job, form, Page.parse(page) if page else None))


def lines_in(text: str) -> list[str]:
    """The words of each numbered line."""
    return [found[1].strip() for found in re.finditer(r"^\d+\.\d+ +\[ \] +(.*?)(?:  .*)?$", text, re.M)]


def test_all_its_lines_joined_are_the_words_of_the_page() -> None:
    book = TextBook()
    book.write("1r")
    text = made(book, "1r").decode()
    assert lines_in(text) == book.lines("1r")
    record = book.state.record(book.state.skin_at(0))
    assert " ".join(lines_in(text)).split() == list(book.exemplar.words[record.begins or 0 : record.ends])
    assert made(book, "1r", "pdf").startswith(b"%PDF")


def test_without_a_page_it_has_those_that_wait_and_the_readings_still_to_be_made() -> None:
    rules = ReadingRules(("silently", "aloud by two"), "not a writer")
    book = TextBook(readings=rules, never_scraped=(NeverScraped(page="1v", line=3, why="in gold"),))
    for page in ("1r", "1v", "2r"):
        book.write(page)
    for how, beside in (("silently", ""), ("aloud by two", "A")):
        book.do(Commands(book.state, "B").check(Page.parse("1r"), how=how, beside=beside), "B")
    book.do(Commands(book.state, "B").check(Page.parse("1v"), how="silently"), "B")
    text = made(book).decode()
    assert re.findall(r"^(\d[rv]), written by A", text, re.M) == ["1v", "2r"]
    assert text.count("To be read silently") == 1
    assert text.count("To be read aloud by two") == 2
    assert text.count("no knife") == 1
    assert "this page may never be scraped: in gold" not in text
    assert "this line may never be scraped: in gold" in text


def test_what_cannot_be_read_is_said() -> None:
    book = TextBook()
    with pytest.raises(CopydeskError, match="no page waits to be read; name one with --page"):
        made(book)
    with pytest.raises(CopydeskError, match="nothing is written on 1r that could be read"):
        made(book, "1r")
