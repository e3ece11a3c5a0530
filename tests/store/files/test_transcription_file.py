"""A transcription's file: UTF-8 text of one page."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from copydesk.book.common.errors import Refused
from copydesk.store.files.source_texts import MOST_BYTES, read_transcription_file, transcription_from

if TYPE_CHECKING:
    from pathlib import Path


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
        (b"a " * (MOST_BYTES // 2 + 1), "far longer than a page"),
    ],
)
def test_what_cannot_be_used_is_refused_with_its_place(data: bytes, said: str) -> None:
    with pytest.raises(Refused, match=said):
        transcription_from(data, "page.txt")


def test_a_missing_file_is_said(tmp_path: Path) -> None:
    with pytest.raises(Refused, match="there is no such file"):
        read_transcription_file(tmp_path / "none.txt", "none.txt")
