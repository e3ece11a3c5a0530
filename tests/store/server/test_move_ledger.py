"""Taking the ledger from the folder to a server and back, whatever breaks off on the way; and the verbs for it."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import pytest

from copydesk.book.common.errors import CopydeskError
from copydesk.book.structure.page import Page
from copydesk.cli.main import main
from copydesk.job import Job
from copydesk.store.files.book_folder import LedgerPaths
from copydesk.store.folder.opening import open_ledger
from copydesk.store.journal.ledger_file import LedgerFile
from copydesk.store.plan_file.book_file import read_book
from copydesk.store.server import rows as server_rows
from copydesk.store.server.move_ledger import move_to_file, move_to_server
from faulty_disk import Dead, FaultyDisk, FullDisk
from ledger_trials import draft, ledger_of, mirror_of, names, read_again
from server_trials import PLAN, on_server

if TYPE_CHECKING:
    from pathlib import Path

    import database


@pytest.fixture
def service(server: database.Server) -> str:
    return server.own_service()


def in_folder(folder: Path) -> None:
    """Take the line out again."""
    (folder / "book.yaml").write_text(PLAN, "utf-8")


def entries(folder: Path) -> list[dict[str, Any]]:
    """What a desk opened now reads."""
    store = open_ledger(folder, read_book(folder), "reader")
    found = store.entries()
    store.close()
    return found


def test_there_and_back(folder: Path, service: str) -> None:
    before = entries(folder)
    header = ledger_of(folder).read_bytes().splitlines()[0]
    on_server(folder, service)
    with pytest.raises(CopydeskError, match=r"names the server .* and the ledger lies in .*ledger.jsonl"):
        entries(folder)
    moved = move_to_server(folder, read_book(folder))
    assert (moved.entries, moved.new) == (3, 3)
    assert not ledger_of(folder).exists()
    assert not mirror_of(folder).exists()
    assert all(path.read_bytes().startswith(header) for path in moved.kept)
    assert entries(folder) == before
    store = open_ledger(folder, read_book(folder), "door")
    store.append(draft("d"))
    store.close()
    moved = move_to_file(folder, read_book(folder), desk="door")
    assert (moved.entries, moved.new) == (4, 4)
    with pytest.raises(CopydeskError, match="the ledger lies in"):
        entries(folder)
    in_folder(folder)
    assert names(entries(folder)) == ["a", "b", "c", "d"]
    assert entries(folder)[:3] == before
    assert ledger_of(folder).read_bytes().splitlines()[0] == header
    assert LedgerFile(folder, desk="window").append(draft("e"))["tick"] == 5


def test_other_desks_hear_that_the_ledger_went_and_are_only_read(folder: Path, service: str, tmp_path: Path) -> None:
    on_server(folder, service)
    move_to_server(folder, read_book(folder))
    other = tmp_path / "other"
    other.mkdir()
    on_server(other, service)
    store = open_ledger(other, read_book(other), "other")
    move_to_file(folder, read_book(folder), desk="window")
    again = open_ledger(other, read_book(other), "other")
    with pytest.raises(CopydeskError, match="it was moved into the folder book of the desk window"):
        again.append(draft("x"))
    with pytest.raises(CopydeskError, match="moved into the folder"):
        store.append(draft("x"))
    for each in (store, again):
        each.close()
    moved = move_to_server(folder, read_book(folder))
    assert (moved.entries, moved.new) == (3, 0)
    back = open_ledger(other, read_book(other), "other")
    assert back.append(draft("x"))["tick"] == 4
    back.close()


def test_a_plan_without_its_server_does_not_show_an_empty_book(folder: Path, service: str) -> None:
    on_server(folder, service)
    move_to_server(folder, read_book(folder))
    assert len(entries(folder)) == 3
    in_folder(folder)
    with pytest.raises(CopydeskError, match=r"kept on a server, and book.yaml names none"):
        entries(folder)


def test_moving_again_finishes_what_broke_off(folder: Path, service: str) -> None:
    on_server(folder, service)
    book = read_book(folder)
    for touch in range(200):
        disk = FaultyDisk({touch: "dead"})
        try:
            move_to_server(folder, book, disk=disk)
        except Dead:
            continue
        break
    assert not ledger_of(folder).exists()
    assert names(entries(folder)) == ["a", "b", "c"]
    for touch in range(200):
        disk = FaultyDisk({touch: "dead"})
        try:
            move_to_file(folder, book, desk="window", disk=disk)
        except Dead:
            continue
        break
    in_folder(folder)
    assert read_again(folder) == ["a", "b", "c"]


def test_a_disk_that_refuses_leaves_the_ledger_on_the_server(folder: Path, service: str) -> None:
    on_server(folder, service)
    move_to_server(folder, read_book(folder))

    with pytest.raises(CopydeskError, match=r"Nothing was moved: .* the disk is full"):
        move_to_file(folder, read_book(folder), desk="window", disk=FullDisk())
    assert not ledger_of(folder).exists()
    store = open_ledger(folder, read_book(folder), "window")
    assert store.append(draft("d"))["tick"] == 4
    store.close()


def test_what_would_lose_or_mix_is_refused(folder: Path, service: str, server: database.Server, tmp_path: Path) -> None:
    with pytest.raises(CopydeskError, match=r"book.yaml names no server"):
        move_to_server(folder, read_book(folder))
    on_server(folder, service)
    book = read_book(folder)
    move_to_server(folder, book)
    stranger = tmp_path / "stranger"
    stranger.mkdir()
    LedgerFile(stranger, desk="x").append(draft("x"))
    with pytest.raises(CopydeskError, match="bears the mark of another book"):
        move_to_server(stranger, book)
    assert read_again(stranger) == ["x"]
    damaged = tmp_path / "damaged"
    damaged.mkdir()
    LedgerFile(damaged, desk="x").append(draft("x"))
    ledger_of(damaged).write_bytes(ledger_of(damaged).read_bytes().replace(b'"x"', b'"y"'))
    with pytest.raises(CopydeskError, match=r"damaged; first copydesk audit --mend"):
        move_to_server(damaged, book)
    with server.connect() as line:
        line.execute("update copydesk_entries set sum = 1 where book = %s and number = 2", [service])
    with pytest.raises(CopydeskError, match=r"entries 2 on the server .* are damaged"):
        move_to_file(folder, book, desk="window")


def test_the_copy_is_sent_where_the_server_lost_its_ledger(folder: Path, service: str, server: database.Server) -> None:
    on_server(folder, service)
    move_to_server(folder, read_book(folder))
    before = entries(folder)
    with server.connect() as line:
        line.execute("delete from copydesk_entries where book = %s", [service])
        line.execute("delete from copydesk_ledgers where book = %s", [service])
    store = open_ledger(folder, read_book(folder), "window")
    assert store.entries() == before
    assert "move --to server" in store.why_read_only
    store.close()
    assert move_to_server(folder, read_book(folder)).new == 3
    store = open_ledger(folder, read_book(folder), "window")
    assert store.append(draft("d"))["tick"] == 4
    store.close()


def test_a_desk_that_is_open_follows_the_ledger_to_the_server_and_back(folder: Path, service: str) -> None:
    job = Job.open(folder, desk="window")
    on_server(folder, service)
    assert job.refresh()
    assert "the ledger lies in" in job.plan_problems[0]
    assert not job.refresh()
    job.record(job.commands.rule(Page.parse("1r")))
    move_to_server(folder, read_book(folder))
    assert job.refresh()
    assert job.plan_problems == ()
    assert job.book.server == service
    assert job.news()[0] == f"The ledger is kept elsewhere now: {service}."
    assert len(job.ledger) == 4
    job.undo()
    move_to_file(folder, read_book(folder), desk="window")
    in_folder(folder)
    assert job.refresh()
    assert job.news()[-1] == "The ledger is kept elsewhere now: in the folder."
    assert len(job.ledger) == 5
    assert [entry["what"] for entry in LedgerFile(folder, desk="r").entries()][-2:] == ["ruled", "voided"]
    job.close()


def said(capsys: pytest.CaptureFixture[str], *arguments: object, code: int = 0) -> tuple[str, str]:
    """What a command says on standard output and standard error."""
    assert main([str(argument) for argument in arguments]) == code
    found = capsys.readouterr()
    return found.out, found.err


def test_the_verb_says_where_the_ledger_is_and_moves_it(
    folder: Path, service: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert said(capsys, "ledger", folder) == ("3 entries, kept in ledger.jsonl in the folder.\n", "")
    on_server(folder, service)
    out, err = said(capsys, "ledger", folder, "move", "--to", "server")
    assert out.startswith(f"3 entries now on the server {service}.\nSet aside: ")
    assert err == ""
    assert said(capsys, "ledger", folder) == (f"3 entries, kept on the server {service}.\n", "")
    out, err = said(capsys, "record", folder, "1r", "ruled")
    assert out.startswith("1r ruled by A")
    found = json.loads(said(capsys, "ledger", folder, "move", "--to", "file", "--json")[0])
    assert (found["kept"], found["entries"], found["new"]) == ("file", 4, 4)
    in_folder(folder)
    assert json.loads(said(capsys, "ledger", folder, "--json")[0]) == {"kept": "file", "server": None, "entries": 4}


def test_the_verb_wants_to_be_told_where_to(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert "--to server, or --to file" in said(capsys, "ledger", folder, "move", code=2)[1]
    assert "move --to server" in said(capsys, "ledger", folder, "--to", "server", code=2)[1]


def test_the_command_line_keeps_here_what_cannot_be_sent_and_says_so(
    folder: Path,
    service: str,
    server: database.Server,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    on_server(folder, service)
    said(capsys, "ledger", folder, "move", "--to", "server")
    said(capsys, "pages", folder)
    services = folder.parent / "services"
    services.write_text(f"[{service}]\nhost=127.0.0.1\nport=1\ndbname=postgres\n")
    with monkeypatch.context() as away:
        away.setenv("PGSERVICEFILE", str(services))
        out, err = said(capsys, "record", folder, "1r", "ruled")
        assert out.startswith("1r ruled by A")
        assert f"The server {service} does not answer" in err
        assert f"Kept here, to be sent to the server {service}: 1 entry." in err
        assert '"state": "ruled"' in said(capsys, "pages", folder, "--json")[0]
        assert "does not answer" in said(capsys, "audit", folder, code=1)[0]
    said(capsys, "pages", folder)
    with server.connect() as line:
        assert len(server_rows.after(line, service, 0)) == 4
    assert said(capsys, "audit", folder)[0].endswith("is sound: plan, exemplar, samples and ledger.\n")


def test_merging_takes_a_ledger_over_to_the_server(
    folder: Path, service: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    apart = tmp_path / "apart"
    apart.mkdir()
    ledger_of(apart).write_bytes(ledger_of(folder).read_bytes())
    LedgerFile(apart, desk="door").append(draft("d"))
    on_server(folder, service)
    said(capsys, "ledger", folder, "move", "--to", "server")
    assert said(capsys, "merge", folder, apart)[0].startswith("1 entry taken over.")
    assert names(entries(folder)) == ["a", "b", "c", "d"]
    assert said(capsys, "merge", folder, apart)[0].startswith("0 entries taken over.")
    other = tmp_path / "other"
    other.mkdir()
    LedgerFile(other, desk="x").append(draft("x"))
    assert "bears the mark of another book" in said(capsys, "merge", folder, other, code=2)[1]
    assert said(capsys, "merge", folder, other, "--any-book")[0].startswith("1 entry taken over.")


def test_a_backup_holds_the_server_s_entries(
    folder: Path, service: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    on_server(folder, service)
    said(capsys, "ledger", folder, "move", "--to", "server")
    with_more = tmp_path / "elsewhere"
    with_more.mkdir()
    on_server(with_more, service)
    store = open_ledger(with_more, read_book(with_more), "elsewhere")
    store.append(draft("d"))
    store.close()
    made = json.loads(said(capsys, "backup", folder, "--json")[0])
    restored = tmp_path / "restored"
    said(capsys, "restore", made["backup"], restored)
    assert names(LedgerFile(LedgerPaths(restored).server_copy, desk="r").entries()) == ["a", "b", "c", "d"]


def test_without_psycopg_it_is_said_what_to_install(
    folder: Path, service: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    ledger_of(folder).unlink()
    mirror_of(folder).unlink()
    on_server(folder, service)
    import sys

    monkeypatch.setitem(sys.modules, "psycopg", None)
    assert "pip install 'copydesk[postgres]'" in said(capsys, "pages", folder, code=2)[1]
