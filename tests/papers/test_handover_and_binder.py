"""The handover and the binder's order on paper, read back from the files they make."""

from __future__ import annotations

import io
import shutil
from datetime import UTC, datetime
from pathlib import Path

import pdfplumber
import pytest

from copydesk.book.structure.page import Page
from copydesk.job import Job
from copydesk.papers.binders_order import COVERS
from copydesk.papers.catalogue import Form, PaperRequest, make
from copydesk.papers.drawing.shapes import LOOKS
from copydesk.tracking.binding.assembly import assembly
from copydesk.tracking.binding.binding_walk import walk_sheet
from copydesk.tracking.binding.flyleaf_walk import walk_flyleaf
from copydesk.tracking.commands import leaf_commands as leaf_acts
from copydesk.tracking.scribes.handover import handover, leave_note

SHIPPED = Path(__file__).parents[2] / "projects" / "twelve-waters"
NOON = datetime(2026, 11, 25, 12, 0, tzinfo=UTC)


@pytest.fixture
def job(tmp_path: Path) -> Job:
    """The shipped book, to be written in."""
    folder = shutil.copytree(SHIPPED, tmp_path / "book", ignore=shutil.ignore_patterns(".*"))
    return Job.open(Path(folder), desk="window", clock=lambda: NOON)


def text_of(job: Job, name: str, form: Form, page: str = "") -> str:
    """A paper's words, each parted by one space."""
    made = make(name, PaperRequest(job, form, Page.parse(page) if page else None))
    if form == "text":
        return " ".join(made.decode().split())
    with pdfplumber.open(io.BytesIO(made)) as pdf:
        return " ".join(" ".join(page.extract_text() for page in pdf.pages).split())


def ticks(job: Job, name: str, form: Form) -> int:
    """Boxes on a paper that are ticked: on a PDF by their drawn ticks, of two strokes each."""
    if form == "text":
        return text_of(job, name, form).count("[x]")
    with pdfplumber.open(io.BytesIO(make(name, PaperRequest(job, form)))) as pdf:
        width = LOOKS["edge"].width * 72 / 25.4
        return sum(abs(line["linewidth"] - width) < 1e-3 for page in pdf.pages for line in page.lines) // 2


@pytest.mark.parametrize("form", ["pdf", "text"])
def test_the_handover_holds_what_the_screen_does(job: Job, form: Form) -> None:
    found, text = handover(job.state), text_of(job, "handover", form)
    assert text.startswith("The Twelve Waters: handover")
    for words in ("25 November 2026", found.last_words, found.next_words, "12v, 1.24", "eye-skip", "the lock of the"):
        assert words in text
    assert "Left by ____" in text
    assert all(line.written in text for line in found.before)


@pytest.mark.parametrize("form", ["pdf", "text"])
def test_a_note_stands_on_it_and_the_line_shows_where_the_pen_stopped(job: Job, form: Form) -> None:
    act = job.commands.write(Page.parse("12v"), to_line=24, ends="bird carry moss", within=True)
    job.record(act, hand="B")
    job.record(leave_note(job.state, None, "stir the ink <first>"), hand="B")
    text = text_of(job, "handover", form)
    assert "stir the ink <first>" in text
    assert "bird carry moss | until the" in text
    assert "in part" in text


def test_a_handover_is_of_the_page_asked_for(job: Job) -> None:
    assert "12v, column 1, at the end of line 23" in text_of(job, "handover", "text")
    assert "16v, column 2, at the end of line 24" in text_of(job, "handover", "text", "16v")


def test_a_page_in_roman_numerals_keeps_its_small_letters(job: Job, tmp_path: Path) -> None:
    plan = tmp_path / "book" / "book.yaml"
    plan.write_text(plan.read_text() + "signing: {foliation: roman}\n")
    job.refresh()
    text = text_of(job, "handover", "text")
    assert "xii v is on sheet" in text
    assert "Xii v" not in text


@pytest.mark.parametrize("form", ["pdf", "text"])
def test_the_binder_is_told_every_sheet_mark_and_cover(job: Job, form: Form) -> None:
    job.record(walk_sheet(job.state, "1.4"))
    found, text = assembly(job.state), text_of(job, "binder", form)
    assert text.startswith("The Twelve Waters: binder's order")
    assert "Not ready to sew" in text
    for gathering in job.state.collation.gatherings:
        before = "] " if form == "text" else " "  # on paper the boxes are drawn
        assert all(f"{before}{gathering.number}.{sheet} " in text for sheet in gathering.sheet_numbers())
    assert ticks(job, "binder", form) == 1
    for check in found.catchwords:
        assert f"{check.gathering} {check.catchword} {check.next_begins} yes" in text
    for words in (
        "a b c d",
        "a iiij",
        "flyleaf v",
        "Pastedowns",
        "safety data sheet",
        "Press: ",
        *(name for name, _ in COVERS),
    ):
        assert words in text


@pytest.mark.parametrize("form", ["pdf", "text"])
def test_the_binder_sees_which_flyleaves_are_ticked(job: Job, form: Form) -> None:
    for flyleaf in ("ii", "v"):
        job.record(walk_flyleaf(job.state, flyleaf))
    text = text_of(job, "binder", form)
    assert ticks(job, "binder", form) == 2
    if form == "text":
        assert [number for number in ("i", "ii", "iii", "iv", "v") if f"[x] flyleaf {number} " in text] == ["ii", "v"]
    assert "the front flyleaf i not yet found in place" in text
    assert "the back flyleaves iii and iv not yet found in place" in text


def test_a_stub_is_told_where_a_leaf_was_cancelled(job: Job) -> None:
    job.record(leaf_acts.cancel_leaf(job.state, 20))
    text = text_of(job, "binder", "text")
    assert "3.4 20 " in text
    assert "a stub: the leaf was cancelled" in text
    assert "c 7 leaves" not in text  # the register says it in columns
    assert "7 leaves" in text


def test_the_order_says_ready_once_nothing_is_in_the_way(job: Job) -> None:
    state = job.state
    for index in range(state.collation.pages):
        page = Page.at(index)
        budget, record = state.budget.pages[index], state.record(state.skin_at(index))
        if budget.start < budget.end:
            acts = [] if record.whole else [job.commands.write(page)]
            for act in acts:
                job.record(act)
            for fault in state.record(state.skin_at(index)).open_faults:
                job.record(job.commands.mend(page, fault.id, "scraped"))
            if not state.record(state.skin_at(index)).checked_by:
                job.record(job.commands.check(page), hand="B")
    for plan in state.plans:
        if state.space_record(plan.id).ended is None:
            job.record(job.commands.space(plan.id, "left-empty"))
    for flyleaf in ("i", "ii", "iii", "iv", "v"):
        job.record(walk_flyleaf(state, flyleaf))
    for sheet in ("1.1", "1.2", "1.3", "2.1"):
        job.record(job.commands.sheet(sheet, "desk"))
    assert assembly(state).obstacles == ()
    assert "Ready to sew." in text_of(job, "binder", "text")
