"""The passes from the command line: told, recorded for several pages at once, refused in a sentence."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import pytest

from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.main import main
from plan_words import TWO_HANDS

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

PASSES = "passes: [text, {name: rubrics, ink: vermilion, hand: B}, {name: capitals, ink: red ochre}]\n"
TEXT = "\n\n".join(f"# Part {number}\n\n" + "Snow lies deep. " * 60 for number in range(6))


@pytest.fixture
def run(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> Callable[..., tuple[ExitCode, str, str]]:
    monkeypatch.setenv("COPYDESK_DESK", "window")
    (tmp_path / "book.yaml").write_text(f"{TWO_HANDS}{PASSES}workshop: {{drying_days: 0}}\n", "utf-8")
    (tmp_path / "exemplar.txt").write_text(TEXT, "utf-8")

    def run_verb(verb: str, *arguments: str) -> tuple[ExitCode, str, str]:
        code = main([verb, str(tmp_path), *arguments])
        said = capsys.readouterr()
        return code, said.out, said.err

    return run_verb


def test_a_page_is_told_word_for_word_and_recorded(run: Callable[..., tuple[ExitCode, str, str]]) -> None:
    run("record", "1r", "written")
    said = run("passes", "--page", "1r")[1]
    assert "1r rubrics (vermilion): may begin" in said
    assert '"Part 0"' in said
    assert "Mercury" in said
    code, out, err = run("record", "1r", "rubrics", "--minutes", "20")
    assert code == ExitCode.DONE
    assert "1r rubrics done by" in out
    assert "Mercury" in out + err
    rows = json.loads(run("passes", "--page", "1r", "--json")[1])
    assert [(row["pass"], row["state"]) for row in rows] == [
        ("text", "done"),
        ("rubrics", "done"),
        ("capitals", "may begin"),
    ]
    run("undo")
    rows = json.loads(run("passes", "--page", "1r", "--pass", "rubrics", "--json")[1])
    assert [row["state"] for row in rows] == ["may begin"]


def test_an_ink_leads_to_the_sheets_that_may_take_it(run: Callable[..., tuple[ExitCode, str, str]]) -> None:
    assert "No sheet may be taken up now." in run("passes", "--ready", "--ink", "vermilion")[1]
    run("record", "1r", "written")
    assert "sheet 1.1: rubrics on 1r" in run("passes", "--ready", "--ink", "Vermilion")[1]
    rows = json.loads(run("passes", "--ready", "--json", "--ink", "vermilion")[1])
    assert [row["page"] for row in rows] == ["1r"]


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (("passes", "--ink", "woad"), "no pass is done with 'woad'; the inks are vermilion and red ochre"),
        (("passes", "--pass", "penwork"), "this book has no pass penwork; it has text, rubrics and capitals"),
        (("passes", "--page", "99r"), "99r"),
        (("record", "1r", "rubrics"), "1r is unruled, not written whole"),
        (("record", "1r", "capitals", "--left", "x"), "--left is 'x', which is not a whole number"),
        (("record", "1r", "rubrics", "--to-line", "3"), "--to-line says nothing of a page rubrics; leave it out"),
        (("record", "1r", "penwork"), "this book has no pass penwork; it has rubrics and capitals"),
    ],
)
def test_what_cannot_be_is_refused(
    run: Callable[..., tuple[ExitCode, str, str]], arguments: tuple[str, ...], says: str
) -> None:
    code, _, err = run(*arguments)
    assert code == ExitCode.REFUSED
    assert says in err


def test_before_its_turn_it_is_questioned_and_sure_records_it(run: Callable[..., tuple[ExitCode, str, str]]) -> None:
    run("record", "1r", "written")
    code, _, err = run("record", "1r", "capitals")
    assert code == ExitCode.REFUSED
    assert "waits for 1r rubrics. Nothing was recorded; --sure records it" in err
    assert run("record", "1r", "capitals", "--sure")[0] == ExitCode.DONE


def test_several_pages_are_recorded_at_once_or_none(run: Callable[..., tuple[ExitCode, str, str]]) -> None:
    run("record", "1r", "written")
    assert run("record", "1r,1v", "capitals", "--sure")[0] == ExitCode.REFUSED
    assert "capitals done" not in run("log")[1]
