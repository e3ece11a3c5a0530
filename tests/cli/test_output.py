"""What goes to standard output and standard error."""

from __future__ import annotations

import contextlib
import io
import json
import sys
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from copydesk.book.common.errors import CopydeskError, Problem
from copydesk.book.common.sanitize import sanitize
from copydesk.book.common.text_table import width_of
from copydesk.book.materials.skin_cutting import cutting_of
from copydesk.book.plan import SkinPlan
from copydesk.cli.exit_codes import ExitCode, refuse, remark
from copydesk.cli.output import give_json, give_text, in_sentences, say, table
from copydesk.papers.cutting import cutting_text
from copydesk.papers.drawing.box_picture import _JOINTS, PLAIN

if TYPE_CHECKING:
    from pathlib import Path


def test_lines_are_made_harmless(capsys: pytest.CaptureFixture[str]) -> None:
    say("[red]the ford[/red]", "\x1b[31mbell\x07")
    give_text("one\ntwo\x9b")
    assert capsys.readouterr().out == "[red]the ford[/red]\n▫[31mbell▫\none\ntwo▫\n"


def _shown(monkeypatch: pytest.MonkeyPatch, encoding: str, *lines: str) -> bytes:
    """What a terminal of that encoding is given."""
    raw = io.BytesIO()
    monkeypatch.setattr("sys.stdout", io.TextIOWrapper(raw, encoding=encoding, errors="replace", newline="\n"))
    say(*lines)
    sys.stdout.flush()
    return raw.getvalue()


def test_a_picture_is_drawn_plainly_where_its_characters_are_wanting(monkeypatch: pytest.MonkeyPatch) -> None:
    rows = cutting_text(cutting_of(SkinPlan(700, 500), 340, 240), 24)
    shown = _shown(monkeypatch, "ascii", *rows).decode("ascii").splitlines()
    assert [len(row) for row in shown] == [len(row) for row in rows]
    assert (shown[0][0], shown[0][1], shown[1][0]) == ("+", "-", "|")
    assert "?" not in "".join(shown)
    assert _shown(monkeypatch, "utf-8", *rows).decode("utf-8").splitlines() == rows
    assert _shown(monkeypatch, "ascii", "321 × 217 mm") == b"321 x 217 mm\n"
    assert _shown(monkeypatch, "latin-1", "café · thé") == "café · thé\n".encode("latin-1")


def test_every_character_of_a_picture_has_a_plain_one() -> None:
    assert set(map(ord, _JOINTS.strip())) < set(PLAIN)
    assert all(each < 128 for each in PLAIN.values())


def test_a_table_stands_in_columns(capsys: pytest.CaptureFixture[str]) -> None:
    table(("page", "lines", "words"), [("1r", 9, "漢字 x"), ("12v", 118, "e\u0301te\u0301"), ("2r", "", "")])
    assert capsys.readouterr().out.splitlines() == [
        "page  lines  words",
        "1r        9  漢字 x",
        "12v     118  e\u0301te\u0301",
        "2r",
    ]


def test_a_table_without_rows_has_its_heads(capsys: pytest.CaptureFixture[str]) -> None:
    table(("page", "lines"), [])
    assert capsys.readouterr().out.split() == ["page", "lines"]


@pytest.mark.parametrize(
    ("text", "width"), [("ford", 4), ("漢字", 4), ("e\u0301", 1), ("a\u200bb", 2), ("", 0), ("ﬁ", 1)]
)
def test_cells_of_a_terminal(text: str, width: int) -> None:
    assert width_of(text) == width


@pytest.mark.parametrize("encoding", ["utf-8", "ascii", "latin-1"])
def test_json_can_be_read_whatever_the_terminal_writes(
    encoding: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "out"
    with path.open("w", encoding=encoding) as out:
        monkeypatch.setattr("sys.stdout", out)
        give_json({"ford": "Łódź 漢", "n": [1, None]})
    assert json.loads(path.read_text(encoding)) == {"ford": "Łódź 漢", "n": [1, None]}


def test_json_where_the_output_has_no_encoding(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sys.stdout", out := io.StringIO())
    give_json(["ß"])
    assert json.loads(out.getvalue()) == ["ß"]


def test_every_problem_is_one_line_of_standard_error(capsys: pytest.CaptureFixture[str]) -> None:
    assert refuse(CopydeskError(Problem("book.yaml", 3, 1, "is wrong"), "second\nline")) is ExitCode.REFUSED
    remark("by the way")
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.splitlines() == [
        "copydesk: book.yaml:3:1: is wrong",
        "copydesk: second line",
        "copydesk: by the way",
    ]


@given(st.recursive(st.text(), lambda inner: st.lists(inner) | st.dictionaries(st.text(), inner), max_leaves=6))
def test_json_means_the_same_and_shows_nothing_a_terminal_would_obey(value: object) -> None:
    told = io.TextIOWrapper(io.BytesIO(), encoding="utf-8")
    with contextlib.redirect_stdout(told):
        give_json([value, "\x7f\x9b\u202e\u200b\x1b", "漢字 é"])
    text = told.detach().getvalue().decode("utf-8", "surrogatepass")  # type: ignore[union-attr]
    assert json.loads(text) == [value, "\x7f\x9b\u202e\u200b\x1b", "漢字 é"]
    assert "漢字 é" in text
    assert all(sanitize(line) == line for line in text.splitlines())


def test_in_sentences_nothing_is_aligned(capsys: pytest.CaptureFixture[str]) -> None:
    heads, rows = ("page", "lines", "", "note"), [("1r", 24, "hair", ""), ("1v", 1063, "", "torn")]
    with in_sentences():
        table(heads, rows)
        say("Written   about 8 December   (4 to 14)", "  one fact")
    assert capsys.readouterr().out.splitlines() == [
        "page 1r, lines 24, hair.",
        "page 1v, lines 1063, note torn.",
        "Written: about 8 December, (4 to 14)",
        "one fact",
    ]
    table(heads, rows)
    assert "  " in capsys.readouterr().out
