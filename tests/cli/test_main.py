"""The command itself: help, version, the desk where there is a terminal, and how it ends."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

import copydesk
from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.main import VERBS, entry, main

ROOT = Path(__file__).parents[2]
SHIPPED = str(ROOT / "projects" / "twelve-waters")


def command(*arguments: str, environment: dict[str, str] | None = None) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "copydesk", *arguments],
        capture_output=True,
        text=True,
        check=False,
        cwd=ROOT,
        stdin=subprocess.DEVNULL,
        env={**os.environ, **(environment or {})},
    )


def test_a_page_of_help_is_told_without_marks(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["help", "pile"]) is ExitCode.DONE
    told = capsys.readouterr().out
    assert told.startswith("The pile\n\nEvery loose sheet")
    assert "\nt records a sheet as with the artist, b as back at the desk" in told
    assert not set("*`#") & set(told)


@pytest.mark.parametrize("asked", ["--help", "-h", "help"])
def test_help_names_every_verb(asked: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main([asked]) == ExitCode.DONE
    said = capsys.readouterr().out
    assert all(f"  {verb} " in said for verb in VERBS)
    assert said.startswith("copydesk: ")
    assert "0 done, 1 the answer is no, 2 refused" in said


def test_the_version(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--version"]) == ExitCode.DONE
    assert capsys.readouterr().out == f"copydesk {copydesk.__version__}\n"


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["--verison"], "'--verison' is not a verb and its arguments; see copydesk --help"),
        (["pagse", "book"], "is not a verb and its arguments"),
        (["pagse"], "'pagse' is neither a verb nor a folder that is there; see copydesk --help"),
        ([SHIPPED, "extra"], "is not a verb and its arguments"),
        (["pages"], "the following arguments are required: BOOK; see copydesk pages --help"),
        (["pages", SHIPPED, "--yaml"], "unrecognized arguments: --yaml"),
    ],
)
def test_wrong_usage_is_one_sentence(arguments: list[str], says: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(arguments) == ExitCode.REFUSED
    said = capsys.readouterr()
    assert says in said.err
    assert (said.out, said.err.count("\n")) == ("", 1)


@pytest.mark.parametrize("arguments", [[SHIPPED], []])
def test_the_desk_needs_a_terminal(arguments: list[str]) -> None:
    done = command(*arguments)
    assert (done.returncode, done.stdout) == (2, "")
    assert "the desk needs a terminal to be shown in; for figures use copydesk pages BOOK" in done.stderr


def test_the_program_ends_with_the_code_of_the_verb(tmp_path: Path) -> None:
    assert command("--version").returncode == 0
    done = command("pages", str(tmp_path / "nothing"))
    assert done.returncode == 2
    assert "Traceback" not in done.stderr


def test_a_reader_that_goes_away_is_no_error() -> None:
    pages = subprocess.Popen(
        [sys.executable, "-m", "copydesk", "log", SHIPPED, "--json"],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        cwd=ROOT,
    )
    assert pages.stdout is not None
    assert pages.stderr is not None
    pages.stdout.read(10)
    pages.stdout.close()
    said = pages.stderr.read()
    pages.stderr.close()
    assert pages.wait() == 0
    assert said == b""


def test_a_terminal_that_knows_few_letters_is_no_error() -> None:
    done = command("pages", SHIPPED, environment={"PYTHONIOENCODING": "ascii", "PYTHONUTF8": "0"})
    assert done.returncode == 0
    assert "Traceback" not in done.stderr


def test_a_mistake_of_its_own_is_a_sentence_with_a_place(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def stumble(_: object) -> None:
        raise KeyError("\x1b[2Jframe")

    for name in ("collect_rarely", "speak_as"):
        monkeypatch.setattr(f"copydesk.cli.main.{name}", lambda *_: None)
    monkeypatch.setattr("copydesk.cli.verbs.pages.open_book", stumble)
    monkeypatch.setattr(sys, "argv", ["copydesk", "pages", SHIPPED])
    monkeypatch.delenv("COPYDESK_TRACEBACK", raising=False)
    with pytest.raises(SystemExit) as ended:
        entry()
    assert ended.value.code == 70
    said = capsys.readouterr().err
    assert said.startswith(f"copydesk: {__file__}:")
    assert "a mistake in copydesk itself, KeyError: " in said
    assert said.count("\n") == 1
    assert "\x1b" not in said
    monkeypatch.setenv("COPYDESK_TRACEBACK", "1")
    with pytest.raises(KeyError):
        entry()


def test_an_interruption_ends_quietly(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    def interrupt(_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("copydesk.cli.verbs.pages.open_book", interrupt)
    assert main(["pages", SHIPPED]) == ExitCode.INTERRUPTED
    assert capsys.readouterr().err == ""


@pytest.mark.parametrize("verb", VERBS)
def test_the_help_of_a_verb_fits_a_screen(
    verb: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    assert main([verb, "--help"]) is ExitCode.DONE
    said = capsys.readouterr().out.splitlines()
    assert sum(max(-(-len(line) // 80), 1) for line in said) <= 24
    assert said[0].startswith(f"usage: copydesk {verb}")
    assert f"  copydesk {verb}" in "\n".join(said)


def test_every_option_of_record_stands_under_its_subject(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["help", "record"]) is ExitCode.DONE
    said = capsys.readouterr().out
    subjects = [
        "of a page:",
        "of a fault:",
        "of a change of the text:",
        "of a leaf or a flaw:",
        "of skins:",
        "of a space:",
    ]
    assert [each for each in said.splitlines() if each in subjects] == subjects


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish", "tcsh"])
def test_a_shell_completes_every_verb(shell: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["completion", shell]) is ExitCode.DONE
    said = capsys.readouterr().out
    assert all(verb in said for verb in VERBS)


def test_figures_are_told_as_the_locale_writes_them_and_json_keeps_the_point() -> None:
    told, kept = (
        [command(*asked, environment={"LC_ALL": locale}).stdout for locale in ("C.UTF-8", "de_DE.UTF-8")]
        for asked in (("hands", SHIPPED), ("pages", SHIPPED, "--json"))
    )
    assert kept[0] == kept[1] != ""
    assert "A writes 26.0 letters" in told[0]
    assert "A writes 26,0 letters" in told[1]
