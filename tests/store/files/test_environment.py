"""What the computer and the person at it say: names of desks and copies, own keys, the look chosen last."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from copydesk.book.common.errors import CopydeskError
from copydesk.store.files import environment

if TYPE_CHECKING:
    from pathlib import Path


@pytest.fixture
def keys_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    path = tmp_path / "own" / "keys.toml"
    monkeypatch.setenv("COPYDESK_KEYS", str(path))
    return path


def test_a_desk_is_called_as_the_environment_says_else_as_its_machine(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COPYDESK_DESK", "window")
    assert environment.desk_name() == "window"
    monkeypatch.delenv("COPYDESK_DESK")
    monkeypatch.setattr(environment, "_machine_name", lambda: "loft")
    assert environment.desk_name() == "loft"
    monkeypatch.setattr(environment, "_machine_name", lambda: "")
    assert environment.desk_name() == "desk"


def test_a_copied_folder_has_a_name_of_its_own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    one, other = tmp_path / "one", tmp_path / "other"
    one.mkdir()
    other.mkdir()
    name = environment.copy_name(one)
    assert name == environment.copy_name(tmp_path / "other" / ".." / "one")
    assert len(name) == 8
    assert name != environment.copy_name(other)
    monkeypatch.setattr(environment, "_machine_name", lambda: "another machine")
    assert name != environment.copy_name(one)


def test_the_time_has_its_zone() -> None:
    assert environment.now().tzinfo is not None


def test_what_is_kept_beside_the_books_has_the_place_it_is_given(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COPYDESK_STATE", str(tmp_path / "state"))
    assert environment.state_folder() == tmp_path / "state"
    monkeypatch.delenv("COPYDESK_STATE")
    assert environment.state_folder().name == "copydesk"


def test_own_keys_are_read(keys_file: Path) -> None:
    assert environment.read_own_keys() == {}
    keys_file.parent.mkdir()
    keys_file.write_text('[keys]\n"grid.write" = "W"\n', "utf-8")
    assert environment.read_own_keys() == {"grid.write": "W"}


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (b"[keys\n", "is not TOML: .*line 1"),
        (b"[others]\n", r"must hold one table, \[keys\]"),
        (b"keys = 3\n", r"must hold one table, \[keys\]"),
        (b"\xff", "cannot be read"),
        (b"#" * 200_001, "is too long to be a list of keys"),
    ],
)
def test_a_file_of_keys_that_cannot_be_is_refused(keys_file: Path, text: bytes, told: str) -> None:
    keys_file.parent.mkdir()
    keys_file.write_bytes(text)
    with pytest.raises(CopydeskError, match=told):
        environment.read_own_keys()


def test_a_look_is_kept_where_it_can_be(keys_file: Path) -> None:
    assert environment.read_look() == ""
    environment.keep_look("ink on vellum")
    assert environment.read_look() == "ink on vellum"
    environment.look_file().write_text("x" * 100, "utf-8")
    assert environment.read_look() == "x" * 40
    environment.look_file().unlink()
    environment.look_file().mkdir()
    environment.keep_look("lost")
    assert environment.read_look() == ""
