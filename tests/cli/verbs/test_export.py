"""The book for other programs, and back; and an exemplar that another program wrote."""

from __future__ import annotations

import csv
import json
import os
import shutil
from io import StringIO
from typing import TYPE_CHECKING, Any
from xml.etree import ElementTree

import pytest

from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.main import main
from copydesk.help.topics import read_topic
from copydesk.store.folder.new_book import shipped_book
from copydesk.store.folder.snapshot_json import snapshot_from_json

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    Told = Callable[..., str]


@pytest.fixture
def book(tmp_path: Path) -> Path:
    return shutil.copytree(shipped_book(), tmp_path / "book")


@pytest.fixture
def told(capsysbinary: pytest.CaptureFixture[bytes]) -> Told:
    """Runs a command; gives what it said on standard output, or on standard error where it refused."""

    def run(*arguments: object, ends: ExitCode = ExitCode.DONE) -> str:
        assert main(list(map(str, arguments))) is ends
        said = capsysbinary.readouterr()
        return (said.err if ends is ExitCode.REFUSED else said.out).decode()

    return run


def test_everything_goes_out_and_comes_back(book: Path, tmp_path: Path, told: Told) -> None:
    newest = json.loads(told("log", book, "--json"))[-1]["entry"]
    told("undo", book, newest)
    told("record", book, "30r", "ruled")
    said = told("export", book, "--as", "json", "-o", tmp_path / "all.json")
    assert said.startswith(f"{tmp_path / 'all.json'}: ")
    told("new", tmp_path / "again", "--from", tmp_path / "all.json")
    for verb in ("pages", "log", "plan", "spaces", "faults"):
        assert told(verb, tmp_path / "again", "--json") == told(verb, book, "--json")
    assert (tmp_path / "again" / "book.yaml").read_bytes() == (book / "book.yaml").read_bytes()
    told("audit", tmp_path / "again")
    told("record", tmp_path / "again", "30v", "ruled")
    assert json.loads(told("merge", book, tmp_path / "again", "--json"))["contradictions"] == []
    assert told("log", book, "--json") == told("log", tmp_path / "again", "--json")


def test_without_a_file_it_goes_to_standard_output(book: Path, told: Told) -> None:
    whole = snapshot_from_json(told("export", book, "--as", "json"), "x.json")
    assert whole.book.title == "The Twelve Waters"
    root = ElementTree.fromstring(told("export", book, "--as", "tei", "-o", "-"))  # noqa: S314
    assert root.tag.endswith("TEI")
    pages = json.loads(told("pages", book, "--json"))
    listed = list(csv.DictReader(StringIO(told("export", book, "--as", "csv"), newline="")))
    assert [row["page"] for row in listed] == [page["page"] for page in pages]
    for what in ("spaces", "faults"):
        listed = list(csv.DictReader(StringIO(told("export", book, "--as", "csv", "--what", what), newline="")))
        assert len(listed) == len(json.loads(told(what, book, "--json")))


def test_no_file_is_written_over_unasked(book: Path, tmp_path: Path, told: Told) -> None:
    target = tmp_path / "pages.csv"
    target.write_text("mine")
    order = ("export", book, "--as", "csv", "-o", target)
    assert "a file has this name already" in told(*order, ends=ExitCode.REFUSED)
    assert target.read_text() == "mine"
    told(*order, "--force")
    assert target.read_text().startswith("page,next")


@pytest.mark.parametrize(
    "name", ["ledger.jsonl", "book.yaml", "samples/b.txt", "samples/../exemplar.txt", ".copydesk/x"]
)
def test_the_books_own_files_are_never_written_over(name: str, book: Path, told: Told) -> None:
    before = {path: path.read_bytes() for path in book.rglob("*") if path.is_file()}
    said = told("export", book, "--as", "json", "-o", f"{book}/{name}", "--force", ends=ExitCode.REFUSED)
    assert "is a file that the book is made of; choose another name" in said
    assert {path: path.read_bytes() for path in book.rglob("*") if path.is_file()} == before


def test_a_list_is_chosen_only_of_lists(book: Path, told: Told) -> None:
    said = told("export", book, "--as", "tei", "--what", "pages", ends=ExitCode.REFUSED)
    assert said == "copydesk: --what chooses a list of --as csv; as tei the whole book is given, so leave it out\n"


def test_a_document_that_is_none_makes_no_folder(tmp_path: Path, told: Told) -> None:
    (tmp_path / "x.json").write_text('{"copydesk": 1,')
    said = told("new", tmp_path / "again", "--from", tmp_path / "x.json", ends=ExitCode.REFUSED)
    assert said.startswith(f"copydesk: {tmp_path}/x.json:1:16: this is not JSON")
    assert "no such file" in told("new", tmp_path / "again", "--from", tmp_path / "y.json", ends=ExitCode.REFUSED)
    assert [path.name for path in tmp_path.iterdir()] == ["x.json"]


def test_the_help_names_every_key_of_the_document(book: Path, told: Told) -> None:
    keys = json.loads(told("export", book, "--as", "json"))
    assert [key for key in keys if f"`{key}`" not in read_topic("export")] == []
    assert max(map(len, read_topic("export").splitlines())) <= 120


PLAN = """\
title: From another program
exemplar: {text: words.xml}
page: {width: 100, height: 140, margins: {inner: 10, head: 10, outer: 20, foot: 30}}
ruling: {lines: 10}
hands: {A: {name: first, letters_per_line: 20}}
letter_widths: equal
spaces:
  - {id: pond, kind: miniature, at: {division: 2}, lines: 3}
"""
TEI = """\
<?xml version="1.0" encoding="UTF-8"?>
<TEI xmlns="http://www.tei-c.org/ns/1.0">
 <teiHeader><fileDesc><titleStmt><title>Not to be copied</title></titleStmt></fileDesc></teiHeader>
 <text><body>
  <pb n="3r"/><div><head>On frost</head>
   <p><lb n="1"/>The mill st<lb n="2" break="no"/>ood, <choice><sic>teh</sic><corr>the</corr></choice> wheel was dark.
   <note>a remark</note></p></div>
  <pb n="3v"/><div><head>Thaw</head><lg><l>Drip, drip,</l><l>and the wheel turns &amp; turns.</l></lg></div>
 </body></text>
</TEI>
"""


@pytest.fixture
def from_tei(tmp_path: Path) -> Callable[[str], Path]:
    """Makes a book whose exemplar is this TEI file."""

    def make(text: str) -> Path:
        folder = tmp_path / "foreign"
        folder.mkdir()
        (folder / "book.yaml").write_text(PLAN)
        (folder / "words.xml").write_text(text, "utf-8")
        return folder

    return make


def test_an_exemplar_in_tei_is_planned_and_written_like_any_other(
    from_tei: Callable[[str], Path], told: Told, tmp_path: Path
) -> None:
    folder = from_tei(TEI)
    plan: dict[str, Any] = json.loads(told("plan", folder, "--json"))
    assert (plan["words"], plan["title"]) == (18, "From another program")
    (first, *_) = json.loads(told("pages", folder, "--json"))
    assert (first["first_words"], first["last_words"]) == ("On frost The mill", "wheel turns & turns.")
    (space,) = json.loads(told("spaces", folder, "--json"))
    assert (space["page"], space["lines"]) == ("1r", 3)
    told("record", folder, "1r", "written")
    told("export", folder, "--as", "json", "-o", tmp_path / "all.json")
    told("new", tmp_path / "again", "--from", tmp_path / "all.json")
    assert (tmp_path / "again" / "words.xml").read_text("utf-8") == TEI
    assert told("pages", tmp_path / "again", "--json") == told("pages", folder, "--json")


LAUGHTER = "".join(f'<!ENTITY l{n} "{f"&l{n - 1};" * 10}">' for n in range(1, 12))
BOMBS = [
    f'<!DOCTYPE TEI [<!ENTITY l0 "ha">{LAUGHTER}]><TEI><text><p>&l11;</p></text></TEI>',
    '<!DOCTYPE TEI [<!ENTITY s SYSTEM "book.yaml">]><TEI><text><p>&s;</p></text></TEI>',
    '<!DOCTYPE TEI [<!ENTITY % p SYSTEM "http://nowhere.invalid/x">%p;]><TEI><text><p>x</p></text></TEI>',
]


@pytest.mark.parametrize("text", BOMBS, ids=["bomb", "file", "net"])
def test_an_exemplar_with_entities_of_its_own_is_refused(
    text: str, from_tei: Callable[[str], Path], told: Told, tmp_path: Path
) -> None:
    folder = from_tei(text)
    for verb in ("plan", "pages"):
        said = told(verb, folder, ends=ExitCode.REFUSED)
        assert said.startswith(f"copydesk: {folder}{os.sep}words.xml:1:")
        assert "declares an entity of its own" in said
    (folder / "words.xml").write_text(TEI, "utf-8")
    parts = json.loads(told("export", folder, "--as", "json")) | {"exemplar": text}
    (tmp_path / "x.json").write_text(json.dumps(parts))
    said = told("new", tmp_path / "again", "--from", tmp_path / "x.json", ends=ExitCode.REFUSED)
    assert said.startswith(f"copydesk: {tmp_path / 'x.json'}, words.xml:1:")
    assert not (tmp_path / "again").exists()
