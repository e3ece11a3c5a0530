import pytest

from copydesk.book.common.errors import Refused
from copydesk.store.files.source_texts import read_sample_file


def test_lines_and_their_lengths(tmp_path):
    (tmp_path / "b.txt").write_bytes("\ufeffsome wörds\t52,5\r\nand more\n".replace(",", ".").encode())
    found = read_sample_file(tmp_path / "b.txt", "b.txt")
    assert [(line.words, line.length) for line in found] == [(("some", "wörds"), 52.5), (("and", "more"), None)]


def test_control_characters_are_harmless(tmp_path):
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
def test_mistakes_name_their_place(tmp_path, data, told):
    if data is not None:
        (tmp_path / "b.txt").write_bytes(data)
    with pytest.raises(Refused, match=told):
        read_sample_file(tmp_path / "b.txt", "b.txt")
