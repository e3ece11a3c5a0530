"""Whatever stands in the text fields of a book, nobody's terminal, reader or spreadsheet does what it says."""

from __future__ import annotations

import csv
import io
import json
import os
import stat
from datetime import datetime, timedelta, timezone
from typing import TYPE_CHECKING

import pytest
import yaml
from lxml import etree
from pypdf import PdfReader

from copydesk.book.common.sanitize import sanitize
from copydesk.cli.main import VERBS, main
from copydesk.desk.app import Desk
from copydesk.desk.base.book_screen import BookScreen
from copydesk.desk.base.screen_table import SCREENS as TABLE
from copydesk.job import Job
from copydesk.papers.catalogue import CATALOGUE
from copydesk.store.journal.line_format import Header, entry_line, header_line
from copydesk.store.plan_file.keys import known_keys
from copydesk.tracking.ledger.entry_kinds import KINDS
from hostile_book import NEVER_SHOWN, hostile_entries, hostile_plan, make_hostile_book
from idling import until_drawn

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

NOON = datetime(2026, 11, 20, 12, 0, tzinfo=timezone(timedelta(hours=1)))


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The hostile book, to be read only."""
    return make_hostile_book(tmp_path_factory.mktemp("hostile") / "book")


def told(capfdbinary: pytest.CaptureFixture[bytes], *arguments: object) -> bytes:
    """What a command writes on standard output; it says no, perhaps, but it does not break."""
    code = main([str(argument) for argument in arguments])
    out, err = capfdbinary.readouterr()
    assert b"Traceback" not in err
    expect_harmless(err.decode())
    assert code in (0, 1), err
    return out


def expect_harmless(text: str) -> None:
    """No line holds what is never shown."""
    found = {hex(ord(each)) for line in text.split("\n") for each in line if each in NEVER_SHOWN}
    assert not found


def test_every_text_of_the_plan_and_of_every_kind_of_entry_is_hostile() -> None:
    plan = yaml.safe_load(hostile_plan())
    wanted = [key.path for key in known_keys() if key.wanted in ("a text", "a list, each item a text")]
    assert len(wanted) > 10
    for path in (path for path in wanted if path not in ("divisions.title", "page.margins.canon")):
        assert "\u202e" in json.dumps(at(plan, path.split(".")), ensure_ascii=False), path
    entries = list(hostile_entries())
    assert {entry["what"] for entry in entries} >= set(KINDS)
    for entry in entries[3:-3]:
        kind = KINDS.get(str(entry["what"]))
        for name, sort in kind.facts.items() if kind else ():
            assert sort is not str or "\x1b" in str(entry[name]), (entry["what"], name)


def at(value: object, path: list[str]) -> object:
    """What stands at a path of the plan; the first of a list, or of keys people choose."""
    for name in path:
        while isinstance(value, list):
            value = value[0]
        assert isinstance(value, dict)
        value = value[name] if name in value else next(iter(value.values()))[name]
    return value


# --- the command line -----------------------------------------------------------------------------------------------

ARGUMENTS: dict[str, list[list[str]]] = {
    "sheets": [[], ["--where"]],
    "spaces": [[], ["--tally"]],
    "plan": [[], ["--ways"]],
    "faults": [[], ["--tell"]],
    "handover": [[], ["--page", "1v"]],
}
ELSEWHERE = ("print", "export", "compare", "remedies", "record", "undo", "merge", "backup", "restore", "new", "lines")
NO_BOOK = ("formula", "keys", "help", "completion", "serve")


@pytest.mark.parametrize("verb", [verb for verb in VERBS if verb not in (*ELSEWHERE, *NO_BOOK)])
def test_every_verb_tells_it_harmlessly(book: Path, capfdbinary: pytest.CaptureFixture[bytes], verb: str) -> None:
    for more in ARGUMENTS.get(verb, [[]]):
        out = told(capfdbinary, verb, book, *more).decode()
        expect_harmless(out)
        document = told(capfdbinary, verb, book, *more, "--json").decode()
        expect_harmless(document)
        json.loads(document)


def test_what_is_recorded_is_told_harmlessly(tmp_path: Path, capfdbinary: pytest.CaptureFixture[bytes]) -> None:
    folder = make_hostile_book(tmp_path / "\u202ebook\x1b[31m[red]")
    text = tmp_path / "page.txt"
    text.write_text("w1 w2 \u202ew3 [red] w4", "utf-8")
    for arguments in (
        ["record", folder, "2v", "ruled", "--note", "\x1b[2J\u202e"],
        ["compare", folder, "1v", text],
        ["undo", folder],
        ["audit", folder],
        ["backup", folder],
        ["merge", folder, folder],
    ):
        expect_harmless(told(capfdbinary, *arguments).decode())


def test_a_slip_in_a_hostile_plan_is_told_harmlessly(tmp_path: Path, capfdbinary: pytest.CaptureFixture[bytes]) -> None:
    folder = make_hostile_book(tmp_path / "book")
    for slip in ('title: ["\\e[31m\u202e"]\n', '"\\e]0;x\\a\u202ekey": 1\n', "hands: {A: {sample: '\u202e/../x'}}\n"):
        (folder / "book.yaml").write_text(hostile_plan() + slip, "utf-8")
        assert main(["pages", str(folder)]) == 2
        err = capfdbinary.readouterr().err.decode()
        assert "book.yaml:" in err
        expect_harmless(err)


# --- papers and other programs --------------------------------------------------------------------------------------


@pytest.mark.parametrize(("paper", "form"), [(name, form) for name, kind in CATALOGUE.items() for form in kind.forms])
def test_every_paper_shows_it_harmlessly(
    book: Path, tmp_path: Path, capfdbinary: pytest.CaptureFixture[bytes], paper: str, form: str
) -> None:
    file = tmp_path / "paper"
    told(capfdbinary, "print", book, paper, "--as", form, "-o", file)
    made = file.read_bytes()
    expect_harmless(told(capfdbinary, "print", book, paper, "--as", "text").decode() if "text" in forms(paper) else "")
    if form == "text":
        expect_harmless(made.decode())
    elif form == "svg":
        expect_harmless(text_of(made))
    else:
        expect_harmless_pdf(made)


def forms(paper: str) -> tuple[str, ...]:
    """What a paper can be made as."""
    return CATALOGUE[paper].forms


def text_of(document: bytes) -> str:
    """The text of an XML document, read by a parser that takes nothing from outside; it holds no script and no link."""
    root = etree.fromstring(document, etree.XMLParser(resolve_entities=False, no_network=True))
    assert root.getroottree().docinfo.internalDTD is None
    for element in root.iter():
        assert isinstance(element.tag, str)
        assert etree.QName(element).localname not in ("script", "a", "image", "foreignObject", "use")
        assert not [name for name in element.attrib if str(name).startswith("on") or str(name).endswith("href")]
        for value in element.attrib.values():
            expect_harmless(str(value))
    return "".join(map(str, root.itertext()))


def expect_harmless_pdf(document: bytes) -> None:
    """Its text and its title hold nothing hidden; it does nothing when opened and links nowhere."""
    reader = PdfReader(io.BytesIO(document))
    for page in reader.pages:
        expect_harmless(page.extract_text().replace("\0", ""))  # what the typeface has no letter for, an empty box
        assert "/Annots" not in page
        assert "/AA" not in page
    for value in (reader.metadata or {}).values():
        expect_harmless(str(value))
    catalogue = reader.trailer["/Root"].get_object()
    assert not {"/OpenAction", "/AA", "/AcroForm", "/Names"} & set(catalogue)  # type: ignore[call-overload]


def test_tei_holds_it_as_text(book: Path, capfdbinary: pytest.CaptureFixture[bytes]) -> None:
    made = told(capfdbinary, "export", book, "--as", "tei")
    root = etree.fromstring(made, etree.XMLParser(resolve_entities=False, no_network=True))
    text = "".join(map(str, root.itertext()))
    expect_harmless(text)
    assert "[bold red]R[/]" in text
    assert "<b onload=x>" in text
    assert not root.findall(".//{*}b")


@pytest.mark.parametrize("what", ["pages", "spaces", "faults", "stints"])
def test_no_cell_is_taken_for_a_formula(book: Path, capfdbinary: pytest.CaptureFixture[bytes], what: str) -> None:
    made = told(capfdbinary, "export", book, "--as", "csv", "--what", what).decode()
    cells = [cell for row in csv.reader(io.StringIO(made)) for cell in row]
    assert any("cmd|" in cell for cell in cells) or what == "stints"
    for cell in cells:
        expect_harmless(cell)
        assert not cell.startswith(("=", "+", "@", "\t", "\r")), cell
        assert not cell.startswith("-") or cell.lstrip("-").replace(".", "").isdigit(), cell


def test_the_whole_book_as_json_is_the_same_book(
    book: Path, tmp_path: Path, capfdbinary: pytest.CaptureFixture[bytes]
) -> None:
    made = told(capfdbinary, "export", book, "--as", "json")
    expect_harmless(made.decode())
    assert json.loads(made)["entries"] == list(hostile_entries())


# --- the desk -------------------------------------------------------------------------------------------------------


@pytest.fixture
def desk(book: Path) -> Iterator[Desk]:
    job = Job.open(book, desk="\x1b[31m[red]\u202edesk", clock=lambda: NOON)
    yield Desk(job)
    job.close()


def expect_harmless_screen(desk: Desk) -> str:
    """Nothing on the screen is hidden, obeyed or taken as markup; gives its text."""
    lines = []
    for strip in desk.screen._compositor.render_strips():
        lines.append("".join(segment.text for segment in strip))
        for segment in strip:
            actions = [
                value for name, value in (segment.style.meta if segment.style else {}).items() if "click" in name
            ]
            assert "app.quit" not in str(actions)
    text = "\n".join(lines)
    expect_harmless(text)
    return text


SCREENS = ("x", *(f"v{entry.letter}" for entry in TABLE if entry.letter and entry.letter != "x"))
DIALOGS = ("e", "f", "mt", "g", "a", "mf", "m", "v", "slash")


@pytest.mark.parametrize("keys", SCREENS)
async def test_every_screen_shows_it_as_text(desk: Desk, keys: str) -> None:
    async with desk.run_test(size=(160, 50)) as pilot:
        expect_harmless_screen(desk)
        await pilot.press(*keys)
        await pilot.pause()
        expect_harmless_screen(desk)
        await pilot.press("down", "pagedown", "right")
        await pilot.pause()
        expect_harmless_screen(desk)


async def test_dialogs_show_it_as_text(desk: Desk) -> None:
    async with desk.run_test(size=(120, 40)) as pilot:
        for keys in DIALOGS:
            await pilot.press(*([keys] if keys == "slash" else keys))
            await pilot.pause()
            expect_harmless_screen(desk)
            await pilot.press("escape")
        assert any("[bold red]R[/]" in part for part in (expect_harmless_screen(desk), str(desk.job.book.title)))


async def test_the_say_line_and_the_palette_show_it_as_text(desk: Desk) -> None:
    async with desk.run_test(size=(120, 40)) as pilot:
        assert isinstance(desk.screen, BookScreen)
        await pilot.pause()
        desk.screen.say("\x1b[31m[red]R[/] \u202e[@click=app.quit]Q[/]", wrong=True)
        await until_drawn(pilot, lambda: "[red]R[/] [@click=app.quit]Q[/]" in expect_harmless_screen(desk))
        await pilot.press("colon")
        await pilot.pause()
        expect_harmless_screen(desk)


# --- links and rights -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["book.yaml", "exemplar.txt", "sample.txt", "ledger.jsonl"])
def test_a_file_that_is_a_link_out_of_the_folder_is_refused(
    tmp_path: Path, capfdbinary: pytest.CaptureFixture[bytes], name: str
) -> None:
    folder = make_hostile_book(tmp_path / "book")
    outside = tmp_path / "outside"
    (folder / name).rename(outside)
    (folder / name).symlink_to(outside)
    before = outside.read_bytes()
    for verb in (["pages"], ["record", "2v", "ruled"], ["audit"]):
        assert main([verb[0], str(folder), *verb[1:]]) != 0
        read = capfdbinary.readouterr()
        assert b"link" in read.out + read.err or b"leads out of the book's folder" in read.out + read.err
    assert outside.read_bytes() == before


@pytest.mark.parametrize("name", [".copydesk", ".copydesk/ledger.lock", ".copydesk/ledger.mirror.jsonl"])
def test_nothing_is_written_through_a_link(
    tmp_path: Path, capfdbinary: pytest.CaptureFixture[bytes], name: str
) -> None:
    folder = make_hostile_book(tmp_path / "book")
    outside = tmp_path / "outside"
    if name == ".copydesk":
        outside.mkdir()
    else:
        (folder / ".copydesk").mkdir()
        outside.write_text("theirs")
    (folder / name).symlink_to(outside)
    main(["record", str(folder), "2v", "ruled"])
    said = capfdbinary.readouterr().err.decode()
    assert "link" in said
    assert list(outside.iterdir()) == [] if outside.is_dir() else outside.read_text() == "theirs"


def test_nothing_is_read_through_a_hidden_folder_that_is_a_link(
    tmp_path: Path, capfdbinary: pytest.CaptureFixture[bytes]
) -> None:
    folder, theirs = make_hostile_book(tmp_path / "book"), tmp_path / "theirs"
    (folder / "ledger.jsonl").unlink()
    theirs.mkdir()
    line = entry_line(1, [{"entry": "theirs", "tick": 1, "what": "note", "text": "a secret"}])
    (theirs / "ledger.mirror.jsonl").write_bytes(header_line(Header(1, "b")) + line)
    (folder / ".copydesk").symlink_to(theirs)
    assert b"secret" not in told(capfdbinary, "log", folder)
    assert main(["audit", str(folder)]) == 1
    said = capfdbinary.readouterr()
    assert b".copydesk is a link; move it away" in said.out
    assert b"secret" not in said.out + said.err


@pytest.mark.parametrize("name", ["glance.json", ".glance.json.new", "glance.json.new"])
def test_the_kept_picture_is_not_written_through_a_link(tmp_path: Path, name: str) -> None:
    folder = make_hostile_book(tmp_path / "book")
    outside = tmp_path / "outside"
    outside.write_text("theirs")
    (folder / ".copydesk").mkdir()
    (folder / ".copydesk" / name).symlink_to(outside)
    job = Job.open(folder, desk="window", clock=lambda: NOON)
    job.keep_picture({"said": "x"})
    job.close()
    assert outside.read_text() == "theirs"
    assert not (folder / ".copydesk" / "glance.json").is_symlink()


def test_files_have_the_folder_s_rights_and_no_more(tmp_path: Path, capfdbinary: pytest.CaptureFixture[bytes]) -> None:
    for mode in (0o700, 0o750, 0o775, 0o777):
        folder = make_hostile_book(tmp_path / f"{mode:o}")
        ledger = (folder / "ledger.jsonl").read_bytes()
        (folder / "ledger.jsonl").unlink()
        folder.chmod(mode)
        old = os.umask(0)
        try:
            assert main(["record", str(folder), "1r", "ruled"]) == 0
            (tmp_path / "other.jsonl").write_bytes(ledger)
            assert main(["merge", str(folder), str(tmp_path / "other.jsonl"), "--any-book"]) in (0, 1)
        finally:
            os.umask(old)
        made = [path for path in folder.rglob("*") if path.suffix not in (".yaml", ".txt")]
        assert len(made) >= 4
        for path in made:
            rights = stat.S_IMODE(path.stat().st_mode)
            assert not rights & 0o002, path
            assert rights & ~mode & 0o666 == 0, path


# --- hostile lines of a ledger --------------------------------------------------------------------------------------


def test_a_ledger_full_of_other_things_is_read_and_told(
    tmp_path: Path, capfdbinary: pytest.CaptureFixture[bytes]
) -> None:
    folder = make_hostile_book(tmp_path / "book")
    deep: object = "x"
    for _ in range(400):
        deep = [deep]
    strange = [
        {"entry": "deep", "tick": 900, "what": "note", "text": deep},
        {"entry": "far", "tick": 2**53, "what": "written", "about": "1.1:r", "from_line": 10**30, "to_word": -5},
        {"entry": "\u202e", "tick": 901, "what": "voided", "about": "\u202e"},
        {"entry": "typed", "tick": 902, "what": ["written"], "about": {"page": 1}, "at": 7, "desk": None, "hand": []},
        {"entry": "when", "tick": 903, "what": "checked", "about": "1.1:r", "at": "9999-99-99T99:99", "minutes": 1e308},
    ]
    with (folder / "ledger.jsonl").open("ab") as file:
        for number, entry in enumerate(strange, 200):
            file.write(entry_line(number, [entry]))  # type: ignore[list-item]
        file.write(header_line(Header(1, "other")) + b"\x00\xff\x1b[31m\n{}\n[]\n" + b'{"number":9}\n' * 3)
    for verb in ("pages", "log", "assemble", "forecast", "audit", "stints", "handover"):
        expect_harmless(told(capfdbinary, verb, folder).decode())


def test_plain_is_what_is_never_shown_s_other_side() -> None:
    assert all(sanitize(each) != each for each in NEVER_SHOWN)
