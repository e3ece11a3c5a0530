import csv
import shutil
from datetime import UTC, datetime
from io import StringIO

import pytest
from hypothesis import given
from hypothesis import strategies as st

from copydesk.book.common.errors import CopydeskError
from copydesk.book.structure.page import Page
from copydesk.job import Job
from copydesk.papers.export.csv_lists import LISTS, cell, csv_list
from copydesk.store.folder.new_book import shipped_book
from copydesk.tracking.views.page_report import page_reports

NOW = datetime(2026, 11, 25, tzinfo=UTC)


@pytest.fixture
def job(tmp_path):
    shutil.copytree(shipped_book(), tmp_path / "book")
    return Job.open(tmp_path / "book")


def rows(job, what):
    text = csv_list(job.state, what, NOW).decode()
    assert text.count("\r\n") == text.count("\n")
    return list(csv.DictReader(StringIO(text, newline=""), strict=True))


def test_a_row_a_page_with_the_figures_of_the_report(job):
    found = rows(job, "pages")
    reports = page_reports(job.state)
    assert [row["page"] for row in found] == [str(report.page) for report in reports]
    assert [int(row["written"]) for row in found] == [report.record.written for report in reports]
    assert [row["over"] for row in found] == [str(report.over) for report in reports]
    assert found[0]["hands"] == "A 1-48"
    assert found[0]["self_checked"] in ("yes", "no")


@pytest.mark.parametrize("what", LISTS)
def test_the_heads_and_cells_are_those_of_the_json(job, what):
    job.record(job.commands.fault(Page.parse("1r"), "omission", column=1, line=2))
    report, things = LISTS[what](job.state, NOW)
    data = report.all_data(things)
    found = rows(job, what)
    assert len(found) == len(data)
    for row, expected in zip(found, data, strict=True):
        assert list(row) == list(report.keys)
        assert all(str(cell(expected.get(key))) == row[key] for key in report.keys if key not in ("hands", "readings"))


def test_a_stretch_has_its_cell(job):
    open_pages = [at for at in range(job.state.collation.pages) if job.state.budget.pages[at].written == 0]
    held = job.state.budget.pages[open_pages[4]]
    words = " ".join(job.state.copy.text(held.start, held.end)[:8])
    job.record(job.commands.hold(Page.at(open_pages[4]), words))
    found = {row["page"]: row["stretch"] for row in rows(job, "pages")}
    assert found[str(Page.at(open_pages[2]))].startswith("from ")
    assert not found["1r"]


def test_spaces_with_their_materials_in_one_cell(job):
    found = {row["space"]: row for row in rows(job, "spaces")}
    assert found["weir"]["materials"] == "azurite; chalk; yellow ochre; burnt umber; lead white"
    assert found["weir"]["stages"] == "drawn yes; coloured no; outlined no"
    assert len(found) == len(job.book.spaces)


def test_a_fault_that_looks_like_a_formula_is_made_harmless(job):
    stands = '=HYPERLINK("http://nowhere.invalid";"a, b")'
    job.record(job.commands.fault(Page.parse("1r"), "addition", column=1, line=2, stands=stands, should="\t@x\x1b[31m"))
    row = next(row for row in rows(job, "faults") if row["kind"] == "addition")
    assert row["stands"] == f"'{stands}"
    assert row["should"] == "' @x▫[31m"


def test_stints_add_up_to_what_is_written(job):
    found = rows(job, "stints")
    written = sum(stint.lines for report in page_reports(job.state) for stint in report.record.stints)
    assert sum(int(row["lines"]) for row in found) == written
    assert {(row["hand"], row["name"]) for row in found} == {("A", "Agnes Orrin"), ("B", "Bea Lindqvist")}
    assert (found[0]["from"], found[0]["from_column"], found[0]["from_line"]) == ("1r", "1", "1")


def test_a_book_nothing_has_happened_in_has_heads_all_the_same(job, tmp_path):
    (tmp_path / "book" / "ledger.jsonl").unlink()
    fresh = Job.open(tmp_path / "book")
    for what in ("faults", "stints"):
        assert csv_list(fresh.state, what, NOW).decode() == ",".join(LISTS[what](fresh.state, NOW)[0].keys) + "\r\n"


def test_a_list_there_is_not_is_refused(job):
    with pytest.raises(CopydeskError, match="there is no list of 'skins'; there are pages, spaces, faults, stints"):
        csv_list(job.state, "skins", NOW)


@given(st.text(), st.sampled_from(["", " ", "\t", "\r\n", "\u200b", "\u3000"]), st.sampled_from("=+-@＝＋－＠"))
def test_no_text_begins_as_a_formula_does(text, before, sign):
    for whole in (text, before + sign + text):
        made = str(cell(whole))
        assert made.strip()[:1] not in tuple("=+-@＝＋－＠")
        assert made.isprintable()


@pytest.mark.parametrize(
    ("value", "shown"),
    [
        (None, ""),
        (True, "yes"),
        (-3, -3),
        (-0.5, -0.5),
        ({"from": "1r", "to": None}, "from 1r; to "),
        ([], ""),
        ("a\nb", "a b"),
    ],
)
def test_what_a_value_is_in_a_cell(value, shown):
    assert cell(value) == shown
    assert type(cell(value)) is type(shown)
