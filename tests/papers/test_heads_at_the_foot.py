"""No heading and no head of a table stands alone at the foot of a sheet: every paper that runs on, read back."""

from __future__ import annotations

import io
import shutil
from datetime import UTC, datetime
from itertools import groupby
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

import pdfplumber
import pytest

from copydesk.job import Job
from copydesk.papers.catalogue import PaperRequest, make
from copydesk.papers.drawing.flowing_text import MARGIN, FlowingPaper

if TYPE_CHECKING:
    from collections.abc import Iterator

SHIPPED = Path(__file__).parents[2] / "projects" / "twelve-waters"
NOON = datetime(2026, 11, 25, 12, 0, tzinfo=UTC)
MM = 25.4 / 72
KINDS = ("miniature", "historiated initial", "border", "initial")


class Line(NamedTuple):
    """A line of a sheet: its words, whether all of it is bold, the size of its letters in mm."""

    text: str
    bold: bool
    size: float


def sheets(made: bytes) -> Iterator[list[Line]]:
    """The lines of each sheet from the top, without its foot."""
    with pdfplumber.open(io.BytesIO(made)) as pdf:
        for page in pdf.pages:
            low = page.height - MARGIN / MM + 3
            chars = sorted(
                (char for char in page.chars if char["bottom"] < low), key=lambda char: round(char["bottom"])
            )
            rows = [list(row) for _, row in groupby(chars, key=lambda char: round(char["bottom"]))]
            yield [_line(row) for row in rows]


def _line(row: list[dict[str, object]]) -> Line:
    seen = [char for char in row if str(char["text"]).strip()]
    return Line(
        "".join(str(char["text"]) for char in row),
        all("bold" in str(char["fontname"]).casefold() for char in seen),
        max(float(str(char["size"])) for char in row) * MM,
    )


ROOM = "Note for the next hand"
"""The heading of empty lines to write on, which are drawn: no words stand below it."""


def alone_at_the_foot(made: bytes) -> list[str]:
    """Headings and heads of tables that stand last on a sheet."""
    found = [lines[-1].text for lines in sheets(made) if lines and lines[-1].bold]
    return [text for text in found if text != ROOM or not _has_room(made)]


def _has_room(made: bytes) -> bool:
    """Whether all four lines to write on are drawn on the sheet of their heading, below it."""
    with pdfplumber.open(io.BytesIO(made)) as pdf:
        (page,) = (page for page in pdf.pages if ROOM in page.extract_text())
        (heading,) = page.search(ROOM)
        return sum(line["top"] > heading["bottom"] for line in page.lines) >= 5


def large_book(folder: Path) -> Path:
    """A book of many sheets, many spaces and text changed in many places."""
    folder.mkdir()
    spaces = "".join(
        f"  - {{id: s{number}, kind: {KINDS[number % 4]}, at: {{page: {2 * number + 1}r}}, lines: 5, "
        f"materials: [red lead, orpiment, gold leaf], subject: {'a mill by a river with reeds ' * (1 + number % 5)}}}\n"
        for number in range(60)
    )
    changes = "".join(
        f"  - {{from_word: {number * 40}, to_word: {number * 40 + 3}, write: one, "
        f"why: {'so the elders ask ' * (1 + number % 4)}}}\n"
        for number in range(70)
    )
    (folder / "book.yaml").write_text(
        "title: A long river\nexemplar: {text: exemplar.txt}\nhands: {A: {name: first, letters_per_line: 30}}\n"
        "page: {width: 150, height: 210, margins: {inner: 15, head: 20, outer: 30, foot: 40}}\nruling: {lines: 22}\n"
        f"gatherings: {{sheets: 8, count: 8}}\nflyleaves: {{front: 2, back: 2}}\nspaces:\n{spaces}changes:\n{changes}",
        "utf-8",
    )
    (folder / "exemplar.txt").write_text(" ".join(f"w{number}" for number in range(9000)), "utf-8")
    return folder


@pytest.fixture(scope="module", params=["shipped", "large"])
def job(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Job]:
    """The shipped book, and a large one."""
    folder = tmp_path_factory.mktemp("books") / "book"
    if request.param == "shipped":
        shutil.copytree(SHIPPED, folder, ignore=shutil.ignore_patterns(".*"))
    else:
        large_book(folder)
    job = Job.open(folder, clock=lambda: NOON)
    yield job
    job.close()


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("name", ["changes", "handover", "spaces", "binder"])
def test_no_paper_has_one(job: Job, name: str, paper: str) -> None:
    made = make(name, PaperRequest(job, "pdf", None, paper))
    assert alone_at_the_foot(made) == []
    assert any(line.bold and line.size > 3.8 for lines in sheets(made) for line in lines)


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("tall", [1, 9])
@pytest.mark.parametrize("before", range(30, 54))
def test_wherever_the_foot_falls(before: int, tall: int, paper: str) -> None:
    written = FlowingPaper("Spaces to fill", paper)
    for number in range(before):
        written.paragraph(f"line {number}", size=2.0 + number % 3 / 3)
    written.heading("Waiting " * 14)
    written.heading("The first gathering")
    written.table(["Space", "Subject"], [["one", "reeds and water " * 4 * tall], ["two", "a mill"]], [1, 3])
    written.heading("After")
    written.paragraph("So it ends, and nothing more is to be done before the skins are dry. " * 3)
    made = written.finish()
    assert alone_at_the_foot(made) == []
    said = ["".join(line.text for line in lines) for lines in sheets(made)]
    assert sum(text.count("The first gathering") for text in said) == 1
    (sheet,) = (text for text in said if "The first gathering" in text)
    assert "SpaceSubject" in sheet.replace(" ", "")
    assert "one" in sheet
