"""Mistakes of copydesk's own are written down without what they say, in files that stay small."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.store.files.mistake_log import log_mistake, mistake_log_file

if TYPE_CHECKING:
    from pathlib import Path

    import pytest


def mistake() -> KeyError:
    try:
        raise KeyError("words of the book")
    except KeyError as error:
        return error


def test_the_kind_and_the_place_are_written_and_not_what_the_error_says(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("COPYDESK_STATE", str(tmp_path / "state"))
    assert log_mistake(mistake()) == mistake_log_file() == tmp_path / "state" / "mistakes.log"
    (line,) = mistake_log_file().read_text("utf-8").splitlines()
    assert "KeyError: test_mistake_log.py:" in line
    assert line.endswith(" mistake")
    assert "words of the book" not in line


def test_old_files_are_dropped(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("COPYDESK_STATE", str(tmp_path))
    monkeypatch.setattr("copydesk.store.files.mistake_log._LARGEST_BYTES", 300)
    for _ in range(20):
        log_mistake(mistake())
    files = sorted(tmp_path.iterdir())
    assert [path.name for path in files] == ["mistakes.log", "mistakes.log.1", "mistakes.log.2"]
    assert all(path.stat().st_size <= 300 for path in files)


def test_a_log_that_cannot_be_written_is_done_without(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    (tmp_path / "taken").write_text("", "utf-8")
    monkeypatch.setenv("COPYDESK_STATE", str(tmp_path / "taken"))
    assert log_mistake(mistake()) is None
