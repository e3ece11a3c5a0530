from pathlib import Path

import pytest

from copydesk.book.common.errors import CopydeskError
from copydesk.store.files.book_folder import BookFolder, printable


@pytest.fixture
def home(tmp_path):
    (tmp_path / "book").mkdir()
    (tmp_path / "book" / "book.yaml").write_text("")
    (tmp_path / "outside.txt").write_text("secret")
    return BookFolder.at(tmp_path / "book")


def test_a_file_within_is_found_where_it_truly_lies(home):
    assert home.path("samples/b.txt") == home.root / "samples" / "b.txt"
    assert home.path("samples/../b.txt") == home.root / "b.txt"
    assert home.name("b.txt") == f"{home.named}/b.txt"


@pytest.mark.parametrize(
    "name",
    [
        "../outside.txt",
        "a/../../outside.txt",
        "/etc/passwd",
        "..",
        ".",
        "",
        "C:/x",
        "C:x",
        "..\\x",
        "\\\\host\\x",
        "a\0b",
    ],
)
def test_a_path_that_leaves_the_folder_is_refused(home, name):
    with pytest.raises(CopydeskError, match=r"the book's folder|no file's name"):
        home.path(name)


def test_links_that_leave_the_folder_are_refused_and_those_within_followed(home):
    (home.root / "out.txt").symlink_to("../outside.txt")
    (home.root / "up").symlink_to("..")
    (home.root / "round").symlink_to("round")
    (home.root / "real.txt").write_text("")
    (home.root / "within.txt").symlink_to("real.txt")
    for name in ("out.txt", "up/outside.txt", "round/x"):
        with pytest.raises(CopydeskError):
            home.path(name)
    assert home.path("within.txt") == home.root / "real.txt"


def test_a_folder_reached_by_a_link_is_the_folder(home, tmp_path):
    (tmp_path / "link").symlink_to("book")
    linked = BookFolder.at(tmp_path / "link")
    assert linked.root == home.root
    assert linked.name("book.yaml").endswith("/link/book.yaml")


def test_a_folder_that_is_none(home, tmp_path):
    (tmp_path / "empty").mkdir()
    (tmp_path / "round").symlink_to("round")
    cases = {
        "nowhere": "there is no such folder",
        "outside.txt": "is a file; name the folder that holds book.yaml",
        "empty": "holds no book.yaml",
        "round": "no folder can bear this name|there is no such folder",
        "x" * 5000: "no folder can bear this name",
        "a\0b": "no folder can bear this name",
    }
    for name, told in cases.items():
        with pytest.raises(CopydeskError, match=told) as caught:
            BookFolder.at(tmp_path / name)
        assert str(caught.value).isprintable()


def test_a_name_that_a_terminal_would_obey_is_shown_as_its_code():
    assert printable(Path("a\x1b[2Jb")) == "a\\x1b[2Jb"
    assert printable(Path("plain/ä")) == "plain/ä"
