"""A plan changed from the command line: shown, written where asked, put back, refused where pages stand against it."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import pytest

from copydesk.book.formula.formatter import on_a_typewriter
from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.main import main

if TYPE_CHECKING:
    from pathlib import Path

PLAN = """\
# the small book
title: A small book
exemplar: {text: exemplar.txt}   # typed by hand
page: {width: 100, height: 140, margins: ninths}
ruling: {lines: 10}   # counted
hands: {A: {name: first, letters_per_line: 20}}
"""


@pytest.fixture
def file(tmp_path: Path) -> Path:
    (tmp_path / "book.yaml").write_text(PLAN, "utf-8")
    (tmp_path / "exemplar.txt").write_text(" ".join(f"w{number}" for number in range(900)), "utf-8")
    return tmp_path / "book.yaml"


def told(capsys: pytest.CaptureFixture[str], file: Path, *arguments: str) -> str:
    assert main(["plan", str(file.parent), *arguments]) is ExitCode.DONE
    return capsys.readouterr().out


def refused(capsys: pytest.CaptureFixture[str], file: Path, *arguments: str) -> str:
    before = file.read_bytes()
    assert main(["plan", str(file.parent), *arguments]) is ExitCode.REFUSED
    assert file.read_bytes() == before
    return capsys.readouterr().err


def test_what_is_tried_is_kept_and_put_back(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    said = told(capsys, file, "--try", "lines=12", "--keep")
    assert said.splitlines()[:2] == ["-ruling: {lines: 10}   # counted", "+ruling: {lines: 12}   # counted"]
    assert file.read_text("utf-8") == PLAN.replace("lines: 10", "lines: 12")
    told(capsys, file, "--put-back")
    assert file.read_text("utf-8") == PLAN
    told(capsys, file, "--put-back")
    assert "lines: 12" in file.read_text("utf-8")


def test_a_way_is_kept_by_its_number(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    listed = told(capsys, file, "--ways")
    formula = next(line for line in listed.splitlines() if line.strip().startswith("2 ")).split()[1]
    told(capsys, file, "--ways", "2", "--keep")
    assert on_a_typewriter(formula).split("^")[0] in file.read_text("utf-8") or "count:" in file.read_text("utf-8")
    assert "no way 99" in refused(capsys, file, "--ways", "99", "--keep")


def test_keys_are_set_as_people_type_them(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    given = ("--set", "exemplar.due=2027-03-31", "--set", "script.nib=0,8", "--set", "hands.A.gatherings=1, 2-2")
    assert "--keep writes it" in told(capsys, file, *given)
    assert file.read_text("utf-8") == PLAN
    kept = json.loads(told(capsys, file, *given, "--keep", "--json"))
    assert kept["written"]
    text = file.read_text("utf-8")
    assert "exemplar: {text: exemplar.txt, due: 2027-03-31}   # typed by hand" in text
    assert "script: {nib: 0.8}" in text
    assert "gatherings: [1, 2-2]" in text


@pytest.mark.parametrize(
    ("given", "sentence"),
    [
        (("--set", "page.width=wide"), "width under page cannot be 'wide'; write a length above 0"),
        (("--set", "hands.A.hours=5"), "give one as hands.A.hours_a_week"),
        (("--set", "page.widht=20"), "there is no key 'page.widht' in book.yaml; give one as page.width"),
        (("--set", "exemplar.text=other.txt"), "names 'other.txt', and there is no such file"),
        (("--set", "title"), "says no value"),
        (("--keep",), "nothing to keep"),
        (("--put-back",), "none to take back"),
        (("--try", "lines=12", "--set", "title=A", "--keep"), "--set goes by itself"),
    ],
)
def test_what_cannot_be_is_refused(
    file: Path, capsys: pytest.CaptureFixture[str], given: tuple[str, ...], sentence: str
) -> None:
    assert sentence in refused(capsys, file, *given)


def test_pages_written_stand_against_a_change(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = str(file.parent)
    assert main(["record", folder, "1r", "written"]) is ExitCode.DONE
    capsys.readouterr()
    said = refused(capsys, file, "--try", "lines=12", "--keep")
    assert "this cannot be kept: 1r was ruled with 10 lines; the plan has 12 lines now" in said
    assert "hand A wrote 1r, and the plan has no such hand" in refused(
        capsys, file, "--set", "hands.A=", "--set", "hands.B.name=Bea", "--keep"
    )
    told(capsys, file, "--set", "hands.A.hours_a_week=9", "--keep")
    assert "hours_a_week: 9" in file.read_text("utf-8")


def test_a_file_changed_since_is_not_put_back(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    told(capsys, file, "--set", "title=Other", "--keep")
    file.write_text(file.read_text("utf-8") + "unit: in\n", "utf-8")
    assert "was changed since" in refused(capsys, file, "--put-back")
