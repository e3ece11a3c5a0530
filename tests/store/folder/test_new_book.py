import stat
import tomllib
from pathlib import Path

import pytest

from copydesk.book.common.errors import CopydeskError
from copydesk.store.files.book_folder import BookFolder
from copydesk.store.folder import new_book as new_folder
from copydesk.store.folder.new_book import VERSION_CONTROL, copy_demo, new_book, shipped_book
from copydesk.store.folder.read_book import read_all
from copydesk.store.plan_file.book_file import read_book
from copydesk.store.plan_file.plan_data import book_from_answers
from faulty_disk import FullDisk

PROJECT = Path(__file__).parents[3]


ANSWERS = {
    "title": "NO",
    "exemplar.text": "exemplar.txt",
    "page.width": "7 in",
    "page.height": "240",
    "page.margins": "ninths",
    "columns": "2",
    "ruling.lines": "30",
    "hands.A.name": "Agnes",
    "hands.A.letters_per_line": "34",
    "hands.B.sample": "samples/b.txt",
    "gatherings.sheets": "4",
}


FILES = {"exemplar.txt": "# One\nsome wörds\n", "samples/b.txt": "hers\t20\n"}


def test_a_new_book_reads_as_it_was_answered(tmp_path):
    made = new_book(tmp_path / "book", book_from_answers(ANSWERS), FILES)
    written = read_all(BookFolder.at(tmp_path / "book"))
    assert written.book == book_from_answers(ANSWERS)
    assert written.exemplar.words == ["One", "some", "wörds"]
    assert made == tmp_path / "book"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["book"]


def test_new_files_have_their_folders_rights_and_nobody_elses_pen(tmp_path):
    tmp_path.chmod(0o777)
    new_book(tmp_path / "book", book_from_answers(ANSWERS), FILES)
    for path in (tmp_path / "book", *(tmp_path / "book").rglob("*")):
        assert not path.stat().st_mode & stat.S_IWOTH, path


def test_a_folder_with_something_in_it_is_left_alone(tmp_path):
    book = book_from_answers(ANSWERS)
    (tmp_path / "full").mkdir()
    (tmp_path / "full" / "letter.txt").write_text("dear")
    (tmp_path / "file").write_text("x")
    (tmp_path / "dangling").symlink_to("nowhere")
    cases = {
        "full": "something in this folder already",
        "file": "a file has this name already",
        "none/book": "the folder it is to stand in is not there",
        "x" * 300: "No book was made|no folder can bear this name",
        "a\0b": "no folder can bear this name",
    }
    for name, told in cases.items():
        with pytest.raises(CopydeskError, match=told):
            new_book(tmp_path / name, book, FILES)
    assert [path.name for path in (tmp_path / "full").iterdir()] == ["letter.txt"]
    assert sorted(path.name for path in tmp_path.iterdir()) == ["dangling", "file", "full"]


def test_an_empty_folder_is_filled(tmp_path):
    (tmp_path / "book").mkdir()
    new_book(tmp_path / "book", book_from_answers(ANSWERS), FILES)
    assert read_book(tmp_path / "book").title == "NO"


def test_a_text_that_was_not_given_or_leads_out_is_told(tmp_path):
    with pytest.raises(CopydeskError, match=r"names the file 'samples/b\.txt', and its text was not given"):
        new_book(tmp_path / "book", book_from_answers(ANSWERS), {"exemplar.txt": ""})
    with pytest.raises(CopydeskError, match="leads out of the book's folder"):
        new_book(tmp_path / "book", book_from_answers(ANSWERS), FILES | {"../x.txt": ""})
    with pytest.raises(CopydeskError, match="holds half of a character"):
        new_book(tmp_path / "book", book_from_answers(ANSWERS), FILES | {"exemplar.txt": "\ud800"})
    assert list(tmp_path.iterdir()) == []


def test_a_disk_that_fails_leaves_nothing_behind(tmp_path):
    for writes in range(5):
        with pytest.raises(CopydeskError, match=r"No book was made: .*: the disk is full"):
            new_book(tmp_path / "book", book_from_answers(ANSWERS), FILES, disk=FullDisk(writes))
        assert list(tmp_path.iterdir()) == []
    new_book(tmp_path / "book", book_from_answers(ANSWERS), FILES, disk=FullDisk(5))


def test_the_shipped_book_is_copied_whole(tmp_path):
    source = shipped_book()
    copy_demo(tmp_path / "demo")
    names = {path.relative_to(source) for path in source.rglob("*") if not path.name.startswith(".") and path.is_file()}
    names = {name for name in names if not any(part.startswith(".") for part in name.parts)}
    copied = {path.relative_to(tmp_path / "demo") for path in (tmp_path / "demo").rglob("*") if path.is_file()}
    assert copied == {*names, Path(VERSION_CONTROL)}
    assert all((tmp_path / "demo" / name).read_bytes() == (source / name).read_bytes() for name in names)
    assert read_book(tmp_path / "demo") == read_book(source)


def test_links_and_hidden_files_are_not_copied(tmp_path, monkeypatch):
    source = tmp_path / "source"
    (source / ".hidden").mkdir(parents=True)
    (source / ".hidden" / "lock").write_text("")
    (source / "book.yaml").write_text("x")
    (source / "out.txt").symlink_to("/etc/hostname")
    monkeypatch.setattr(new_folder, "shipped_book", lambda: source)
    copy_demo(tmp_path / "copy")
    assert {path.name for path in (tmp_path / "copy").rglob("*")} == {"book.yaml", VERSION_CONTROL}


def test_every_file_of_the_shipped_book_goes_into_the_wheel():
    settings = tomllib.loads((PROJECT / "pyproject.toml").read_text())["tool"]["setuptools"]["data-files"]
    shipped = PROJECT / "projects" / new_folder.SHIPPED
    given = {PROJECT / path for patterns in settings.values() for pattern in patterns for path in PROJECT.glob(pattern)}
    found = {path for path in shipped.rglob("*") if path.is_file() and ".copydesk" not in path.parts}
    assert found <= given
    for target, patterns in settings.items():
        folder = Path(patterns[0]).parent.relative_to("projects")
        assert target == f"share/copydesk/{folder.as_posix()}"


def test_a_program_without_its_shipped_book_says_so(monkeypatch, tmp_path):
    monkeypatch.setattr(new_folder, "__file__", str(tmp_path / "a" / "b" / "c.py"))
    monkeypatch.setattr(new_folder, "_installed", lambda: iter(()))
    with pytest.raises(CopydeskError, match="the book that comes with copydesk is not here; install copydesk again"):
        shipped_book()
