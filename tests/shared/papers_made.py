"""Papers of a small book, made on a certain day, and read back."""

from __future__ import annotations

import io
from datetime import UTC, datetime
from types import SimpleNamespace
from typing import TYPE_CHECKING, Any, cast

from pypdf import PdfReader

from copydesk.book.structure.page import Page
from copydesk.papers.catalogue import PaperRequest, make

if TYPE_CHECKING:
    from copydesk.job import Job
    from copydesk.papers.catalogue import Form
    from small_book import SmallBook


def ordered(book: SmallBook, form: Form, page: str = "", **more: Any) -> PaperRequest:
    """A paper asked for on 2 March 2026."""
    job = SimpleNamespace(state=book.state, clock=lambda: datetime(2026, 3, 2, tzinfo=UTC))
    return PaperRequest(cast("Job", job), form, Page.parse(page) if page else None, **more)


def made(book: SmallBook, name: str, form: Form = "pdf", page: str = "", **more: Any) -> bytes:
    """The paper of that name."""
    return make(name, ordered(book, form, page, **more))


def pages(data: bytes) -> list[str]:
    """The words of each page of a PDF."""
    return [page.extract_text() for page in PdfReader(io.BytesIO(data)).pages]
