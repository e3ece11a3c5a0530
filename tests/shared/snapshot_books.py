"""A small book to take a snapshot of, and all that it tells."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.job import Job
from copydesk.store.folder.snapshot import take_snapshot
from copydesk.store.folder.snapshot_json import snapshot_as_json
from copydesk.tracking.views.page_report import page_as_data, page_reports

if TYPE_CHECKING:
    from pathlib import Path

PLAN = """\
# A remark that people want to keep.
title: A small book
exemplar: {text: texts/words.txt}
page: {width: 100, height: 140, margins: {inner: 10, head: 10, outer: 20, foot: 30}}
ruling: {lines: 10}
hands:
  A: {name: first, letters_per_line: 20}
  B: {name: second, sample: b.txt}
letter_widths: equal
gatherings: {sheets: 2, count: 3}
spaces:
  - {id: pond, kind: miniature, at: {word: 40}, lines: 4}
  - {id: first, kind: initial, at: {word: 0}, lines: 2}
"""

TEXT = "# A title\r\n" + " ".join(f"w{number}" for number in range(900)) + "\n\n| verse é\n"

MARKED = TEXT + "\x9b31m \u202e\u200b\x7f"


def a_book(folder: Path, text: str = TEXT) -> Path:
    """The folder of a small book with its texts."""
    (folder / "texts").mkdir(parents=True)
    (folder / "book.yaml").write_text(PLAN, "utf-8")
    (folder / "texts" / "words.txt").write_bytes(text.encode())
    (folder / "b.txt").write_text("some words of hers\nand more of them\n")
    return folder


def document(folder: Path, job: Job | None = None) -> str:
    """The whole book as one JSON document."""
    return snapshot_as_json(take_snapshot(folder, (job or Job.open(folder)).store), "0.1.0")


def told(job: Job) -> list[object]:
    """Everything the book and the ledger tell."""
    pages = [page_as_data(report) for report in page_reports(job.state)]
    log = [(entry.as_document(), job.ledger.is_void(entry.entry)) for entry in job.ledger]
    return [job.book, job.exemplar, pages, log]
