"""The record of changes made on purpose, read back out of what was made."""

from __future__ import annotations

import io
from datetime import UTC, datetime
from types import SimpleNamespace
from typing import TYPE_CHECKING, cast

import pytest
from pypdf import PdfReader

from copydesk.book.plan import Change
from copydesk.papers.catalogue import CATALOGUE, PaperRequest, make
from copydesk.tracking.commands.change_commands import change_text
from text_book import TextBook, made_text

if TYPE_CHECKING:
    from copydesk.job import Job
    from copydesk.papers.catalogue import Form

TEXT = made_text(small="")
WORDS = TEXT.split()


def made(book: TextBook, form: Form) -> str:
    job = SimpleNamespace(state=book.state, clock=lambda: datetime(2026, 3, 2, tzinfo=UTC))
    data = make("changes", PaperRequest(cast("Job", job), form))
    if form == "text":
        return data.decode()
    return "\n".join(page.extract_text() for page in PdfReader(io.BytesIO(data)).pages)


def changed() -> TextBook:
    book = TextBook(f"{{7v}} {TEXT}", changes=(Change(40, 42, "", "a name left", "the owner"),))
    book.do(change_text(book.state, after=WORDS[7], write="put in", why="a gap"), "B")
    return book


@pytest.mark.parametrize("form", CATALOGUE["changes"].forms)
def test_every_change_is_there_with_its_reason_and_who_decided(form: Form) -> None:
    text = " ".join(made(changed(), form).split())
    assert text.startswith("A small book: changes made on purpose")
    for said in ("7v", "put in", "a gap", WORDS[40], WORDS[41], "a name left", "the owner"):
        assert said in text, said
    assert text.index("put in") < text.index(WORDS[40])
    assert text.count("2 March 2026") >= 2 if form == "pdf" else "B, 2 March" in text


@pytest.mark.parametrize("form", CATALOGUE["changes"].forms)
def test_a_book_that_changes_nothing_says_so(form: Form) -> None:
    assert "nothing is changed on purpose" in made(TextBook(TEXT), form)
