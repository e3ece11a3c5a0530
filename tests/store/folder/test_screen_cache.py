"""The desk's last picture: given as long as no file of the book has changed, and silent where it cannot be kept."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from copydesk.store.folder.screen_cache import keep_picture, read_picture

if TYPE_CHECKING:
    from pathlib import Path

PICTURE = {"rows": ["1r  write", "1v  rule"]}


@pytest.fixture
def book(tmp_path: Path) -> Path:
    folder = tmp_path / "book"
    folder.mkdir()
    (folder / "book.yaml").write_text("title: A book\n")
    (folder / "exemplar.txt").write_text("words\n")
    keep_picture(folder, "form 1", ["book.yaml", "exemplar.txt"], PICTURE)
    return folder


def test_a_picture_is_given_to_the_program_that_can_show_it(book: Path) -> None:
    assert read_picture(book, "form 1") == PICTURE
    assert read_picture(book, "form 2") is None
    assert read_picture(book / "nowhere", "form 1") is None


def test_a_picture_is_good_until_a_file_changes(book: Path) -> None:
    (book / "exemplar.txt").write_text("other words\n")
    assert read_picture(book, "form 1") is None


def test_a_picture_is_gone_with_a_file_it_rests_on(book: Path) -> None:
    (book / "exemplar.txt").unlink()
    assert read_picture(book, "form 1") is None


def test_a_picture_that_rests_on_a_file_elsewhere_is_not_given(book: Path) -> None:
    outside = book.parent / "outside.txt"
    outside.write_text("words\n")
    keep_picture(book, "form 1", ["book.yaml", "../outside.txt"], PICTURE)
    assert read_picture(book, "form 1") is None


@pytest.mark.parametrize("kept", [b"", b"[1]", b"{}", b'{"form": "form 1", "files": []}', b"\xff", b" " * 2_000_001])
def test_what_is_no_picture_is_passed_over(book: Path, kept: bytes) -> None:
    (book / ".copydesk" / "glance.json").write_bytes(kept)
    assert read_picture(book, "form 1") is None


def test_what_cannot_be_kept_is_not_kept(book: Path) -> None:
    (book / ".copydesk" / "glance.json").unlink()
    keep_picture(book, "form 1", ["no such file"], PICTURE)
    keep_picture(book, "form 1", ["book.yaml"], {"rows": object()})
    assert read_picture(book, "form 1") is None
