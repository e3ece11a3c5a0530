"""Papers that run on from sheet to sheet."""

from __future__ import annotations

import io

import pdfplumber
import pytest

from copydesk.book.common.errors import CopydeskError
from copydesk.papers.drawing.flowing_text import MARGIN, FlowingPaper

MM = 25.4 / 72


def texts(made: bytes) -> list[str]:
    with pdfplumber.open(io.BytesIO(made)) as pdf:
        return [page.extract_text() for page in pdf.pages]


def paper_with(rows: int, words: str = "a frozen mill") -> FlowingPaper:
    paper = FlowingPaper("Spaces to fill", note="2 March 2027")
    paper.heading("Waiting")
    paper.paragraph("The gold is laid first.")
    paper.table(["Space", "Subject"], [[f"space {row}", words] for row in range(rows)], [1, 3])
    return paper


def test_what_is_written_stands_in_its_order() -> None:
    (text,) = texts(paper_with(2).finish())
    assert text.splitlines() == [
        "Spaces to fill",
        "Waiting",
        "The gold is laid first.",
        "Space Subject",
        "space 0 a frozen mill",
        "space 1 a frozen mill",
        "Spaces to fill · 2 March 2027 1",
    ]


def test_a_long_table_runs_on_and_names_its_columns_again() -> None:
    sheets = texts(paper_with(120).finish())
    assert len(sheets) == 3
    assert [sheet.splitlines()[-1][-1] for sheet in sheets] == ["1", "2", "3"]
    assert all(sheet.splitlines()[0] == "Space Subject" for sheet in sheets[1:])
    assert [row for sheet in sheets for row in sheet.splitlines() if row.startswith("space ")] == [
        f"space {row} a frozen mill" for row in range(120)
    ]


def test_nothing_is_written_in_the_margins() -> None:
    with pdfplumber.open(io.BytesIO(paper_with(90, "reeds and water " * 12).finish())) as pdf:
        for page in pdf.pages:
            words = page.extract_words()
            assert min(word["x0"] for word in words) * MM >= MARGIN - 0.3
            assert max(word["x1"] for word in words) * MM <= 210 - MARGIN + 0.3
            body = [word for word in words if word["bottom"] * MM < 297 - MARGIN + 1]
            assert max(word["bottom"] for word in body) * MM <= 297 - MARGIN + 1
            assert len(words) - len(body) == 8


def test_a_heading_keeps_with_what_follows() -> None:
    for rows in range(30, 50):
        paper = paper_with(rows)
        paper.heading("After")
        paper.paragraph("So it ends.")
        sheet = next(text for text in texts(paper.finish()) if "After" in text)
        assert "So it ends." in sheet


def test_a_cell_taller_than_a_sheet_is_cut_short() -> None:
    sheets = texts(paper_with(1, "reeds " * 2000).finish())
    assert "…" in sheets[-1]


def test_the_same_words_give_the_same_bytes() -> None:
    assert paper_with(5).finish() == paper_with(5).finish()


def test_an_unknown_paper_is_refused() -> None:
    with pytest.raises(CopydeskError, match="choose A4 or Letter"):
        FlowingPaper("x", "foolscap")
