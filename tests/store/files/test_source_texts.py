"""The texts in a book folder: exemplar, samples, transcriptions; each with the size it may have."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from copydesk.book.common.errors import CopydeskError
from copydesk.store.files.source_texts import (
    LARGEST_SAMPLE,
    LARGEST_TRANSCRIPTION,
    read_exemplar_file,
    read_sample_file,
    read_transcription_file,
    transcription_from,
)

if TYPE_CHECKING:
    from pathlib import Path


def test_an_exemplar_may_be_much_longer_than_a_sample(tmp_path: Path) -> None:
    path = tmp_path / "long.txt"
    path.write_bytes(b"a " * (LARGEST_SAMPLE // 2 + 1))
    assert len(read_exemplar_file(path, "long.txt")) > LARGEST_SAMPLE
    with pytest.raises(CopydeskError, match="is larger than 4 MB"):
        read_sample_file(path, "long.txt")


def test_a_sample_has_lines_and_their_lengths(tmp_path: Path) -> None:
    (tmp_path / "b.txt").write_bytes("\ufeffsome wörds\t52,5\r\nand more\n".replace(",", ".").encode())
    found = read_sample_file(tmp_path / "b.txt", "b.txt")
    assert [(line.words, line.length) for line in found] == [(("some", "wörds"), 52.5), (("and", "more"), None)]


def test_control_characters_in_a_sample_are_harmless(tmp_path: Path) -> None:
    (tmp_path / "b.txt").write_bytes(b"a\x1b[2Jb\n")
    assert read_sample_file(tmp_path / "b.txt", "b.txt")[0].words == ("a\u241b[2Jb",)


@pytest.mark.parametrize(
    ("data", "told"),
    [
        (b"caf\xe9\n", r"b\.txt:1:4: the byte e9"),
        (b"a\tlong\n", r"b\.txt:1:3: "),
        (b"\n", "no lines"),
        (None, "no such file"),
    ],
)
def test_mistakes_in_a_sample_name_their_place(tmp_path: Path, data: bytes | None, told: str) -> None:
    if data is not None:
        (tmp_path / "b.txt").write_bytes(data)
    with pytest.raises(CopydeskError, match=told):
        read_sample_file(tmp_path / "b.txt", "b.txt")


def test_text_as_it_stands_with_no_byte_order_mark(tmp_path: Path) -> None:
    path = tmp_path / "page.txt"
    path.write_bytes("\ufeffthe ford\r\nand þe mill\n".encode())
    assert read_transcription_file(path, "page.txt").split() == ["the", "ford", "and", "þe", "mill"]


def test_what_a_terminal_would_obey_is_made_harmless() -> None:
    assert "\x1b" not in transcription_from(b"the \x1b[2J ford", "page.txt")


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b" \n", "page.txt: holds no word"),
        (b"the f\xf6rd", r"page.txt:1:6: the byte f6 here is not UTF-8"),
        (b"a " * (LARGEST_TRANSCRIPTION // 2 + 1), "far longer than a page"),
    ],
)
def test_what_cannot_be_used_is_refused_with_its_place(data: bytes, said: str) -> None:
    with pytest.raises(CopydeskError, match=said):
        transcription_from(data, "page.txt")


def test_a_missing_file_is_said(tmp_path: Path) -> None:
    with pytest.raises(CopydeskError, match="there is no such file"):
        read_transcription_file(tmp_path / "none.txt", "none.txt")


def test_an_exemplar_with_control_characters_is_harmless(tmp_path):
    (tmp_path / "x.txt").write_bytes("# Öne\nred \x1b[31mink\x0c\n".encode())
    assert read_exemplar_file(tmp_path / "x.txt", "x.txt") == "# Öne\nred \u241b[31mink\x0c\n"


def test_a_plain_exemplar_is_as_it_stands(tmp_path):
    (tmp_path / "x.txt").write_bytes("a\r\nb\tc » \u00a0".encode())
    assert read_exemplar_file(tmp_path / "x.txt", "x.txt") == "a\r\nb\tc » \u00a0"
