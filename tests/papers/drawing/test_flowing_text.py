"""Papers that run on from sheet to sheet."""

from __future__ import annotations

import io
from typing import Any

import pdfplumber
import pytest

from copydesk.book.common.errors import CopydeskError
from copydesk.papers.drawing.flowing_text import MARGIN, FlowingPaper
from copydesk.papers.drawing.shapes import BLANK, BOX, TICKED, Box, SmallDrawing

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
        "Spaces to fill · 2 March 2027 page 1 of 1",
    ]


def test_a_long_table_runs_on_and_names_its_columns_again() -> None:
    sheets = texts(paper_with(120).finish())
    assert len(sheets) == 3
    assert [sheet.splitlines()[-1][-11:] for sheet in sheets] == ["page 1 of 3", "page 2 of 3", "page 3 of 3"]
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
            assert len(words) - len(body) == 11


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


def drawn(cells: list[str | SmallDrawing], *, names: list[str] | None = None) -> tuple[list[float], list[Any]]:
    """Where the words of a row begin, in mm, and the boxes on the sheet."""
    paper = FlowingPaper("x")
    paper.table(names or ["" for _ in cells], [cells])
    with pdfplumber.open(io.BytesIO(paper.finish())) as pdf:
        words = [word for word in pdf.pages[0].extract_words(keep_blank_chars=True) if word["top"] * MM > 27]
        return [word["x0"] * MM for word in words if word["bottom"] * MM < 280], pdf.pages[0].rects


def test_columns_get_the_widths_they_need() -> None:
    starts, _ = drawn(["12r", "a short cell", "reeds and water " * 30])
    # the long cell takes what the short ones leave, and these stand on one line
    assert starts[0] == pytest.approx(MARGIN, abs=0.1)
    assert starts[1] < MARGIN + 12
    assert starts[2] < MARGIN + 35


def test_two_long_cells_share_what_short_ones_leave() -> None:
    found, _ = drawn(["12r", "reeds and water " * 20, "mills and corn " * 30])
    first, second, third = sorted({round(start, 1) for start in found})
    assert second - first < 12
    assert third - second == pytest.approx(210 - MARGIN - third, abs=3)


def test_boxes_and_small_drawings_are_drawn_and_blanks_stay_blank() -> None:
    starts, boxes = drawn([BOX, TICKED, BLANK, SmallDrawing(10, 20, (Box(0, 0, 10, 20, "bar"),)), "a mill"])
    assert len(starts) == 1
    sizes = sorted((round(box["width"] * MM, 1), round(box["height"] * MM, 1)) for box in boxes)
    assert sizes == [(2.8, 2.8), (2.8, 2.8), (10.0, 20.0)]


def test_tables_measured_alike_have_the_same_columns() -> None:
    rows = [[["one", "a"]], [["a very much longer cell", "b"]]]
    paper = FlowingPaper("x")
    for each in rows:
        paper.table(["", "second"], each, alike=[row for table in rows for row in table])
    with pdfplumber.open(io.BytesIO(paper.finish())) as pdf:
        heads = pdf.pages[0].search("second")
    assert len({round(head["x0"], 2) for head in heads}) == 1
    assert len(heads) == 2


def test_what_leads_to_a_table_keeps_with_it() -> None:
    for rows in range(30, 50):
        paper = paper_with(rows)
        paper.heading("Sheet 1.2")
        paper.lead("waits for its check")
        paper.table(["Later"], [["gold"], ["azure"]])
        (sheet,) = (text for text in texts(paper.finish()) if "Sheet 1.2" in text)
        assert "waits for its check" in sheet
        assert "azure" in sheet
