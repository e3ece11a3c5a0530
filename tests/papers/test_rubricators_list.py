"""The rubricator's list, read back from the files it is made as."""

from __future__ import annotations

import io
from datetime import UTC, datetime
from types import SimpleNamespace
from typing import TYPE_CHECKING, cast

import pdfplumber
import pytest

from copydesk.book.plan import PassPlan, Workshop
from copydesk.book.structure.page import Page
from copydesk.papers.catalogue import Form, PaperRequest, make
from text_book import TextBook

if TYPE_CHECKING:
    from copydesk.job import Job

NOON = datetime(2026, 11, 25, 12, 0, tzinfo=UTC)
PASSES = (PassPlan("text"), PassPlan("rubrics", "vermilion", "B"), PassPlan("capitals"))
PARTS = "\n\n".join(f"# Part {number}\n\n" + "Snow lies deep. " * 12 for number in range(12))


def words_of(book: TextBook, form: Form = "text") -> str:
    job = cast("Job", SimpleNamespace(state=book.state, clock=lambda: NOON))
    made = make("rubrics", PaperRequest(job, form))
    if form == "text":
        return " ".join(made.decode().split())
    with pdfplumber.open(io.BytesIO(made)) as pdf:
        return " ".join(" ".join(page.extract_text() for page in pdf.pages).split())


@pytest.mark.parametrize("form", ["pdf", "text"])
def test_it_lists_every_word_by_loose_sheets_with_the_tally(form: Form) -> None:
    book = TextBook(PARTS, passes=PASSES, workshop=Workshop(drying_days=0))
    book.write("1r")
    said = words_of(book, form)
    assert said.startswith("A small book: later passes")
    assert all(f"Part {number}" in said for number in range(12))
    assert "Sheet 1.1: " in said
    assert "rubrics, vermilion, by B" in said
    assert "1r may begin" in said
    assert "waits for" in said
    assert "Tally of gathering 1, at the foot of 4v: " in said
    assert "Mercury" in said


def test_what_is_done_stands_there_no_more_and_what_is_left_open_does() -> None:
    book = TextBook("# One\n\nalpha\n\n# Two\n\nbeta\n", passes=PASSES[:2], workshop=Workshop(drying_days=0))
    book.write("1r")
    book.do(book.commands.go_over(Page.parse("1r"), "rubrics", left=(2,)))
    said = words_of(book)
    assert "Two" in said
    assert "One" not in said
    assert "1 left open" in said
    book.do(book.commands.go_over(Page.parse("1r"), "rubrics"))
    assert "all of it is done" in words_of(book)


def test_a_book_without_passes_says_so() -> None:
    assert "all is written with the text" in words_of(TextBook("# One\n\nalpha\n"))
