"""The artist's list, read back from the files it is made as."""

from __future__ import annotations

import io
import re
import shutil
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from types import SimpleNamespace
from typing import TYPE_CHECKING, cast

import pdfplumber
import pytest

from copydesk.book.plan import Anchor, Columns, SpacePlan
from copydesk.job import Job
from copydesk.papers.catalogue import Form, PaperRequest, make
from copydesk.papers.drawing.flowing_text import MARGIN
from copydesk.papers.drawing.shapes import LOOKS
from copydesk.tracking.decoration.space_report import space_reports
from small_book import SmallBook

if TYPE_CHECKING:
    from collections.abc import Iterator

SHIPPED = Path(__file__).parents[2] / "projects" / "twelve-waters"
NOON = datetime(2026, 11, 25, 12, 0, tzinfo=UTC)
MM = 25.4 / 72


@pytest.fixture(scope="module")
def job(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Job]:
    """The shipped book."""
    folder = tmp_path_factory.mktemp("list") / "book"
    shutil.copytree(SHIPPED, folder, ignore=shutil.ignore_patterns(".*"))
    opened = Job.open(folder, desk="window", clock=lambda: NOON)
    yield opened
    opened.close()


def words_of(job: Job, form: Form) -> str:
    """The list's words, each parted by one space."""
    made = make("spaces", PaperRequest(job, form))
    if form == "text":
        return " ".join(made.decode().split())
    with pdfplumber.open(io.BytesIO(made)) as pdf:
        return " ".join(" ".join(page.extract_text() for page in pdf.pages).split())


def small(*spaces: SpacePlan) -> tuple[SmallBook, Job]:
    book = SmallBook(spaces=spaces)
    return book, cast("Job", SimpleNamespace(state=book.state, clock=lambda: NOON))


@pytest.mark.parametrize("form", ["pdf", "text"])
def test_it_says_what_an_artist_needs(job: Job, form: Form) -> None:
    text = words_of(job, form)
    assert text.startswith("The Twelve Waters: spaces to fill")
    for words in (
        "25 November 2026",
        "Sheet 1.2: 2r 2v 7r 7v",
        "with the artist (Ines Calloway) since 9 October 15:19",
        "Filled already, or left empty: way-in (done).",
        "Small work in colour",
        "Caution: ",
        "Lead: builds up in the body",
        "read each maker's safety data sheet, keep your local rules, and work as you were trained to.",
    ):
        assert words in text


def test_every_space_to_fill_has_a_row_with_its_box(job: Job) -> None:
    text = make("spaces", PaperRequest(job, "text")).decode()
    waiting = [report for report in space_reports(job.state, NOON) if report.waiting]
    rows = re.findall(r"^\[ \] ([\w-]+), ([^:\n]+): (.+)$", text, flags=re.MULTILINE)
    assert sorted(name for name, _, _ in rows if not name.startswith("gathering")) == sorted(
        report.account.plan.id for report in waiting
    )
    assert "[ ] weir, miniature: 2v, all columns, lines 1 to 11; 11 lines; 113 × 70 mm;" in text
    assert "its text on 2r, 13 lines before it" in " ".join(text.split())
    assert '[ ] key, historiated initial for "I": ' in text
    assert "subject the bronze key upright" in text
    assert "made with azurite, chalk, yellow ochre, burnt umber, lead white" in text
    assert "    draw [x]   colour [x]   gild [x]   outline [ ]\n" in text


def test_no_line_of_the_text_is_too_long(job: Job) -> None:
    assert max(map(len, make("spaces", PaperRequest(job, "text")).decode().splitlines())) <= 78


def test_nothing_stands_in_the_margins_of_the_paper(job: Job) -> None:
    with pdfplumber.open(io.BytesIO(make("spaces", PaperRequest(job, "pdf")))) as pdf:
        for page in pdf.pages:
            words = page.extract_words()
            assert min(word["x0"] for word in words) * MM >= MARGIN - 0.3
            assert max(word["x1"] for word in words) * MM <= 210 - MARGIN + 0.3


def test_the_heads_of_the_stages_are_whole_and_in_the_workshops_order(job: Job) -> None:
    assert "draw gild colour outline" in words_of(job, "pdf")
    state = job.state
    plan = replace(state.book, workshop=state.book.workshop._replace(colour_first=True))
    book = SmallBook(spaces=(SpacePlan("x", "miniature", Anchor(word=0), 3),), workshop=plan.workshop)
    other = cast("Job", SimpleNamespace(state=book.state, clock=lambda: NOON))
    assert "draw colour gild outline" in words_of(other, "pdf")
    assert "draw [ ] colour [ ] gild [ ] outline [ ]" in words_of(other, "text")


@pytest.mark.parametrize("colour_first", [False, True])
def test_each_space_has_its_boxes_in_the_order_of_its_own_stages(*, colour_first: bool) -> None:
    spaces = (
        SpacePlan("leafy", "miniature", Anchor(word=0), 3, materials=("gold leaf", "azurite")),
        SpacePlan("shelly", "miniature", Anchor(word=1), 3, materials=("shell gold", "azurite")),
        SpacePlan("plain", "initial", Anchor(word=2), 2),
    )
    workshop = SmallBook().state.book.workshop._replace(colour_first=colour_first)
    book = SmallBook(spaces=spaces, workshop=workshop)
    job = cast("Job", SimpleNamespace(state=book.state, clock=lambda: NOON))
    text = make("spaces", PaperRequest(job, "text")).decode()
    parts = dict(
        re.findall(r"^\[ \] (leafy|shelly|plain), [a-z ]+:(.*?)(?=^\[ \]|^Small|^\S+\n-)", text, flags=re.M | re.S)
    )
    painted = ["draw", "colour", "gild", "outline"]
    laid = painted if colour_first else ["draw", "gild", "colour", "outline"]
    for name, order in (("leafy", laid), ("shelly", painted), ("plain", ["draw", "colour"])):
        assert re.findall(r"(\w+) \[ \]", parts[name]) == order
    assert list(parts) == sorted(parts, key=text.index)


@pytest.mark.parametrize("form", ["pdf", "text"])
def test_a_book_with_nothing_to_fill_says_so_and_cautions_of_nothing(form: Form) -> None:
    _, job = small()
    text = words_of(job, form)
    assert "No space is to be filled." in text
    assert "Cautions" not in text


@pytest.mark.parametrize("form", ["pdf", "text"])
def test_a_space_without_a_place_is_told_apart(form: Form) -> None:
    book = SmallBook(spaces=(SpacePlan("owl", "miniature", Anchor(word=890), 3, subject="an <owl>"),), count=1)
    text = words_of(cast("Job", SimpleNamespace(state=book.state, clock=lambda: NOON)), form)
    assert "Without a place" in text
    assert "no page has room for these" in text
    assert "an <owl>" in text


def test_the_same_list_gives_the_same_bytes(job: Job) -> None:
    assert make("spaces", PaperRequest(job, "pdf")) == make("spaces", PaperRequest(job, "pdf"))


def test_each_space_stands_beside_a_drawing_of_its_page(job: Job) -> None:
    waiting = [report for report in space_reports(job.state, NOON) if report.waiting]
    layout, look = job.state.layout, LOOKS["here"]
    colour = tuple(round(int(str(look.fill)[at : at + 2], 16) / 255, 3) for at in (1, 3, 5))
    with pdfplumber.open(io.BytesIO(make("spaces", PaperRequest(job, "pdf")))) as pdf:
        drawn = [
            (box["width"] * MM, box["height"] * MM)
            for page in pdf.pages
            for box in page.rects
            if box["fill"] and tuple(round(part, 3) for part in box["non_stroking_color"] or ()) == colour
        ]
    assert len(drawn) == len(waiting)
    scale = 18 / layout.height
    sizes = sorted((report.account.width * scale, report.account.height * scale) for report in waiting)
    for found, wanted in zip(sorted(drawn), sizes, strict=True):
        assert found == pytest.approx(wanted, abs=0.05)


def test_a_space_in_the_second_column_of_a_verso_lies_there_on_its_drawing() -> None:
    space = SpacePlan("mill", "miniature", Anchor(page="1v", column=2, line=3), 4)
    book = SmallBook(spaces=(space,), columns=Columns(2, 6.0))
    job = cast("Job", SimpleNamespace(state=book.state, clock=lambda: NOON))
    with pdfplumber.open(io.BytesIO(make("spaces", PaperRequest(job, "pdf")))) as pdf:
        boxes = pdf.pages[0].rects
    page = next(box for box in boxes if abs(box["height"] * MM - 18) < 0.05)
    here = next(box for box in boxes if abs(box["height"] * MM - 40 * 18 / 140) < 0.05 and box["x0"] > page["x0"])
    # the outer margin of 20 mm, a column of 32 and the gap of 6 lie before it; two lines of 10 below the head of 10
    assert (here["x0"] - page["x0"]) * MM == pytest.approx((20 + 32 + 6) * 18 / 140, abs=0.05)
    assert (here["top"] - page["top"]) * MM == pytest.approx((10 + 20) * 18 / 140, abs=0.05)
