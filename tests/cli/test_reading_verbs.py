"""What the verbs that only read give: the promised keys, and words for people."""

from __future__ import annotations

import json
import re
import shlex
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.main import VERBS, load, main, parser_of
from copydesk.help.topics import read_topic, topics, without_marks

if TYPE_CHECKING:
    from collections.abc import Callable

SHIPPED = str(Path(__file__).parents[2] / "projects" / "twelve-waters")

# The keys that the README promises to other programs.
PLAN_KEYS = {
    *("title", "words", "letters", "lines", "pages_needed", "pages", "leaves", "gatherings", "sheets"),
    *("sheets_per_skin", "skins", "lines_left_over", "lines_without_room", "formula", "page"),
}
PLAN_PAGE_KEYS = {"written_width", "written_height", "line_height", "measure", "prickings"}
PAGE_KEYS = {
    *("page", "gathering", "leaf", "sheet", "side", "surface", "conjugate", "ruled_lines", "lines_in_spaces"),
    *("budget", "planned", "written", "over", "from_word", "to_word", "first_words", "last_words", "state", "hands"),
    *("spaces_waiting", "faults_open"),
}
LOG_KEYS = {"entry", "at", "hand", "desk", "what", "void"}
STATES = {"unruled", "ruled", "begun", "written", "checked", "corrected"}


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Callable[..., str]:
    def run_verb(*arguments: str) -> str:
        code = main(arguments)
        said = capsys.readouterr()
        assert code == ExitCode.DONE, said.err
        return said.out

    return run_verb


def test_the_plan_in_figures(run: Callable[..., str]) -> None:
    data = json.loads(run("plan", SHIPPED, "--json"))
    assert set(data) >= PLAN_KEYS
    assert set(data["page"]) >= PLAN_PAGE_KEYS
    assert set(data["page"]["prickings"]) == {"horizontal", "vertical"}
    assert data["pages"] == 2 * data["leaves"]
    assert data["pages_needed"] <= data["pages"]


def test_a_formula_of_the_book_that_cannot_be_right_is_told(run: Callable[..., str], tmp_path: Path) -> None:
    book = make_book(tmp_path, "word\n", 'gatherings: {formula: "1-2^8 4^7"}\n')
    doubts = [
        "one gathering is left out between 2 and 4",
        "gathering 4 has 7 leaves, an odd number; leaf 4 is taken to be single",
    ]
    assert json.loads(run("plan", book, "--json"))["formula_warnings"] == doubts
    assert all(f"Look at   the formula: {doubt}\n" in run("plan", book) for doubt in doubts)
    assert json.loads(run("plan", SHIPPED, "--json"))["formula_warnings"] == []


@pytest.mark.parametrize("topic", topics())
def test_every_page_of_help_can_be_read_also_where_a_verb_is_called_so(run: Callable[..., str], topic: str) -> None:
    said = run("help", topic)
    assert without_marks(read_topic(topic)).strip() in said
    assert said.startswith("usage: ") == (topic in VERBS)


def test_one_of_a_thing_is_told_as_one(run: Callable[..., str], tmp_path: Path) -> None:
    remarked = run("formula", "1^8 (3 blank; 6 half gone). No catchwords.")
    assert "Look at it: '6 half gone' on gathering 1 is not understood; no leaf is added or taken away" in remarked
    assert "Remark: gathering 1: 3 blank\nRemark: gathering 1: 6 half gone\nRemark: No catchwords\n" in remarked
    assert json.loads(run("formula", "1^8 (3 blank)", "--json"))["remarks"] == ["gathering 1: 3 blank"]
    assert run("formula", "1^1 (1 single)") == "1¹ (1 single): 1 gathering, 1 leaf\n"
    told = run("plan", make_book(tmp_path, "word\n", 'gatherings: {formula: "1^1 (1 single)"}\n'))
    assert "1 word, 5 letters and word-spaces, 1 line\n" in told
    assert "on 1 leaf\n" in told
    assert "1 in 1 gathering: " in told
    assert not re.search(r"\b1 (words|lines|leaves|gatherings|columns|sheets)\b", told)


def test_every_page_in_reading_order(run: Callable[..., str]) -> None:
    pages = json.loads(run("pages", SHIPPED, "--json"))
    labels = [f"{leaf}{side}" for leaf in range(1, len(pages) // 2 + 1) for side in "rv"]
    assert [page["page"] for page in pages] == labels
    for page in pages:
        assert set(page) >= PAGE_KEYS
        assert page["state"] in STATES
        assert all(set(hand) == {"hand", "from_line", "to_line"} for hand in page["hands"])
        assert set(page) & {"gap_words", "overlap_words"} <= {"gap_words", "overlap_words"}
        if "stretch" in page:
            assert set(page["stretch"]) >= {"from", "to", "lines_over", "letters_needed", "verdict"}
            assert page["stretch"]["verdict"] in ("easy", "hard", "impossible")
    conjugates = {page["page"]: page["conjugate"] for page in pages}
    assert all(conjugates[beside] == label for label, beside in conjugates.items() if beside is not None)


def test_the_sheets(run: Callable[..., str]) -> None:
    data = json.loads(run("sheets", SHIPPED, "--json"))
    assert set(data) >= {"gatherings", "unlike_openings"}
    pages = []
    for gathering in data["gatherings"]:
        assert set(gathering) >= {"gathering", "sheets"}
        for sheet in gathering["sheets"]:
            assert set(sheet) >= {"sheet", "outer", "inner"}
            for side in (sheet["outer"], sheet["inner"]):
                assert set(side) >= {"left", "right", "surface"}
                pages += [side["left"], side["right"]]
    assert len(set(pages)) == len(pages) == len(json.loads(run("pages", SHIPPED, "--json")))


def test_the_log(run: Callable[..., str]) -> None:
    entries = json.loads(run("log", SHIPPED, "--json"))
    assert all(set(entry) >= LOG_KEYS for entry in entries)
    ticks = [entry["tick"] for entry in entries]
    assert ticks == sorted(ticks)
    assert len(run("log", SHIPPED).splitlines()) == len(entries)


@pytest.mark.parametrize(
    ("verb", "words"), [("plan", "Pages"), ("pages", "page"), ("sheets", "sheet"), ("log", "ruled")]
)
def test_words_for_people(run: Callable[..., str], verb: str, words: str) -> None:
    said = run(verb, SHIPPED)
    assert words in said
    assert "{" not in said


@pytest.mark.parametrize("verb", VERBS)
def test_every_verb_has_help_that_begins_with_examples(verb: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main([verb, "--help"]) == ExitCode.DONE
    said = capsys.readouterr().out
    assert said.startswith(f"usage: copydesk {verb}")
    module = load(verb)
    assert module.EXAMPLES[0].startswith(f"copydesk {verb}")
    assert "examples:" in said
    assert module.SAYS.splitlines()[0][:40] in said
    assert parser_of(verb, module).prog == f"copydesk {verb}"


@pytest.mark.parametrize("verb", VERBS)
def test_every_example_can_be_typed(verb: str) -> None:
    for example in load(verb).EXAMPLES:
        commands = [shlex.split(re.sub(r"\s[<>]\s*\S+", "", part)) for part in re.split(r"\s(?:\||&&)\s", example)]
        ours = [command[1:] for command in commands if command[0] == "copydesk"]
        assert ours
        for named, *arguments in ours:
            parser_of(named, load(named)).parse_args(arguments)


READERS = ["plan", "pages", "sheets", "log"]


@pytest.mark.parametrize("verb", READERS)
def test_a_folder_that_is_not_there(verb: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main([verb, str(tmp_path / "nothing")]) == ExitCode.REFUSED
    assert "there is no such folder" in capsys.readouterr().err
    assert main([verb, str(tmp_path)]) == ExitCode.REFUSED
    assert "holds no book.yaml" in capsys.readouterr().err
    (tmp_path / "file").write_text("x")
    assert main([verb, str(tmp_path / "file")]) == ExitCode.REFUSED
    assert "is a file; name the folder" in capsys.readouterr().err


def test_a_plan_with_mistakes_is_refused_with_all_of_them(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "book.yaml").write_text("titel: x\npage: {width: -4}\n", "utf-8")
    assert main(["pages", str(tmp_path)]) == ExitCode.REFUSED
    said = capsys.readouterr()
    assert said.out == ""
    lines = said.err.splitlines()
    assert len(lines) > 1
    assert all(line.startswith("copydesk: ") and "book.yaml" in line for line in lines)
    assert any(":1:1:" in line for line in lines)


def make_book(folder: Path, text: str, said: str = "") -> str:
    (folder / "exemplar.txt").write_text(text, "utf-8")
    (folder / "book.yaml").write_text(
        "title: '[red]x[/red]'\nexemplar: {text: exemplar.txt}\n"
        "page: {width: 100, height: 140, margins: {inner: 10, head: 10, outer: 20, foot: 30}}\n"
        f"ruling: {{lines: 10}}\nhands: {{A: {{letters_per_line: 20}}}}\n{said}",
        "utf-8",
    )
    return str(folder)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "one",
        "extraordinarily" * 30,
        "[red]markup[/red] \x1b[31m control\x07 characters",
        "שלום עולם والسلام",
        "漢字 " * 50,
        "e\u0301te\u0301 " * 40 + "\u200b \u202e",
        "# \n\n| \n#\n|",
    ],
)
def test_any_text_has_a_sensible_result(run: Callable[..., str], tmp_path: Path, text: str) -> None:
    book = make_book(tmp_path, text)
    pages = json.loads(run("pages", book, "--json"))
    assert pages[-1]["to_word"] == len(text.replace("#", "").replace("|", "").split())
    assert sum(page["planned"] for page in pages) == json.loads(run("plan", book, "--json"))["lines"]
    for verb in READERS:
        assert "\x1b" not in run(verb, book)
        assert "\u202e" not in run(verb, book)


def test_a_text_longer_than_the_book(run: Callable[..., str], tmp_path: Path) -> None:
    book = make_book(tmp_path, "word " * 900, "gatherings: {sheets: 1, count: 1}\n")
    plan = json.loads(run("plan", book, "--json"))
    assert (plan["pages"], plan["lines_left_over"]) == (4, 0)
    assert plan["lines_without_room"] == 900 // 4 - 40
    assert plan["pages_needed"] == 23


def test_a_book_of_one_leaf(run: Callable[..., str], tmp_path: Path) -> None:
    book = make_book(tmp_path, "word " * 30, 'gatherings: {formula: "1^1"}\n')
    pages = json.loads(run("pages", book, "--json"))
    assert [(page["page"], page["conjugate"], page["planned"]) for page in pages] == [("1r", None, 8), ("1v", None, 0)]
    (gathering,) = json.loads(run("sheets", book, "--json"))["gatherings"]
    assert gathering["sheets"][0]["outer"] == {**gathering["sheets"][0]["outer"], "left": None, "right": "1r"}


def test_a_book_known_by_counts(run: Callable[..., str], tmp_path: Path) -> None:
    counts = "divisions:\n  - {title: On frost, words: 400}\n  - {title: On thaw, letters: 900}\n"
    book = make_book(tmp_path, "", counts)
    plan_file = tmp_path / "book.yaml"
    plan_file.write_text(plan_file.read_text("utf-8").replace("exemplar: {text: exemplar.txt}\n", ""), "utf-8")
    pages = json.loads(run("pages", book, "--json"))
    assert (pages[0]["first_words"], pages[0]["planned"]) == ("", 10)
    assert pages[-1]["to_word"] == 400 + round(900 / 5.7)
    assert json.loads(run("record", book, "1r", "written", "--json"))["page"] == "1r"
