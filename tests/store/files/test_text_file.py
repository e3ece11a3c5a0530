import os

import pytest
from hypothesis import given
from hypothesis import strategies as st

from copydesk.book.common.errors import CopydeskError
from copydesk.store.files.text_file import controls_in, decode, harmless, holds_controls, place_of, read_bytes, shown


@pytest.mark.parametrize(
    ("data", "place"),
    [
        (b"\xff", "1:1"),
        (b"ab\xe9", "1:3"),
        (b"one\ntw\xf6", "2:3"),
        (b"one\r\ntwo\r\n\x80", "3:1"),
        (b"one\rtw\x80", "2:3"),
        ("öä\n".encode() + b"\xc3\xb6\xc3", "2:2"),
        (b"\xef\xbb\xbfa\xff", "1:2"),
        (b"\xed\xa0\x80", "1:1"),
        (b"\xc0\xaf", "1:1"),
    ],
)
def test_a_byte_that_is_not_utf_8_is_told_with_line_and_column(data, place):
    with pytest.raises(CopydeskError, match=rf"^x\.txt:{place}: the byte [0-9a-f]{{2}} here is not UTF-8; save"):
        decode(data, "x.txt")


@pytest.mark.parametrize("encoding", ["utf-16", "utf-32", "utf-16-le", "utf-16-be"])
def test_other_unicode_encodings_are_named(encoding):
    with pytest.raises(CopydeskError, match=r"UTF-16|not UTF-8"):
        decode(("\ufeff" if encoding.endswith("e") else "").encode(encoding) + "äx".encode(encoding), "x.txt")


def test_a_byte_order_mark_is_taken_off():
    assert decode(b"\xef\xbb\xbfabc", "x.txt") == "abc"


@given(st.text())
def test_any_text_comes_through_utf_8(text):
    assert decode(text.encode(errors="surrogatepass").decode(errors="replace").encode(), "x") is not None


@given(st.text(st.characters(exclude_categories=["Cs"])))
def test_bytes_and_text_agree_on_control_characters_and_made_harmless_there_are_none(text):
    assert holds_controls(text.encode()) == any(True for _ in controls_in(text))
    made = harmless(text)
    assert len(made) == len(text)
    assert not holds_controls(made.encode())


def test_what_lays_text_out_stays():
    assert harmless("a\tb\nc\r\nd\x0ce\x0b\x85") == "a\tb\nc\r\nd\x0ce\x0b\x85"
    assert harmless("\x1b[31m\x00\x7f\x9b") == "\u241b[31m\u2400\u2421\ufffd"


def test_places_count_lines_as_editors_do():
    text = "ab\r\ncd\ref\n\u2028g"
    assert [place_of(text, text.index(letter)) for letter in "adfg"] == [(1, 1), (2, 2), (3, 2), (4, 2)]


def test_what_is_shown_is_cut_and_harmless():
    assert shown("a\x1b\u202eb") == r"'a\x1b\u202eb'"
    assert len(shown("x" * 1000)) == 42


def test_what_is_no_ordinary_file_is_refused(tmp_path):
    os.mkfifo(tmp_path / "pipe")
    (tmp_path / "big").write_bytes(b"x" * 2_000_001)
    for name, told in {"pipe": "not an ordinary file", "": "not an ordinary file", "none": "no such file"}.items():
        with pytest.raises(CopydeskError, match=told):
            read_bytes(tmp_path / name, "it", 10)
    with pytest.raises(CopydeskError, match="larger than 1 MB"):
        read_bytes(tmp_path / "big", "it", 1_000_000)
    assert len(read_bytes(tmp_path / "big", "it", 3_000_000)) == 2_000_001


def test_a_file_that_may_not_be_read(tmp_path, monkeypatch):
    (tmp_path / "x").write_text("")

    def refuse(*_args, **_kwargs):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("pathlib.Path.open", refuse)
    with pytest.raises(CopydeskError, match="may not read it; ask for the right to"):
        read_bytes(tmp_path / "x", "it", 10)
