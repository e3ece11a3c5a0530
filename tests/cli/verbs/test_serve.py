"""The desk in a browser: turned away without the secret, a page ticked in a real browser, seen at another desk."""

from __future__ import annotations

import asyncio
import ipaddress
import os
import re
import shutil
import signal
import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any
from unittest import mock

import aiohttp
import psutil
import pytest
import segno
from aiohttp import web
from aiohttp.test_utils import make_mocked_request

from browser_tab import CHROMIUM, Tab, opened_tab, until
from copydesk.book.common.errors import CopydeskError
from copydesk.book.structure.page import Page
from copydesk.cli.browser_address import address_on_network, code_to_scan
from copydesk.cli.browser_server import DeskServer, take_port
from copydesk.job import Job
from copydesk.tracking.views.page_view import page_account

if TYPE_CHECKING:
    from collections.abc import Awaitable, Callable, Iterator

SHIPPED = Path(__file__).parents[3] / "projects" / "twelve-waters"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """The shipped book, to be written in."""
    return Path(shutil.copytree(SHIPPED, tmp_path / "book", ignore=shutil.ignore_patterns(".*")))


def _serve(folder: Path, *more: str) -> tuple[subprocess.Popen[str], str]:
    """A server on the book, and the address it tells."""
    command = [sys.executable, "-m", "copydesk", "serve", str(folder), "--port", "0", *more]
    env = {**os.environ, "COPYDESK_DESK": "tablet", "COPYDESK_KEYS": str(folder / "none"), "TEXTUAL_ANIMATIONS": "none"}
    env["COPYDESK_STATE"] = str(folder.parent / "state")
    server = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, env=env)
    assert server.stdout is not None
    found = re.search(r"http://\S+/", server.stdout.readline())
    assert found, server.communicate()[1]
    return server, found[0]


@pytest.fixture
def serve(folder: Path) -> Iterator[Callable[..., tuple[subprocess.Popen[str], str]]]:
    """Serves the book, and ends every server."""
    begun: list[subprocess.Popen[str]] = []

    def start(*more: str) -> tuple[subprocess.Popen[str], str]:
        server, address = _serve(folder, *more)
        begun.append(server)
        return server, address

    yield start
    for server in begun:
        end(server)


def end(server: subprocess.Popen[str]) -> str:
    """End a server as ctrl+c does; gives what it said beside the address."""
    if server.poll() is None:
        server.send_signal(signal.SIGINT)
    _, beside = server.communicate(timeout=20) if server.stderr and not server.stderr.closed else ("", "")
    return beside


async def test_without_the_secret_everything_is_turned_away(serve: Callable[..., Any]) -> None:
    _, address = serve()
    bare = "/".join(address.split("/")[:3])
    elsewhere = {"Origin": "http://elsewhere.example"}
    async with aiohttp.ClientSession() as browser:

        async def get(url: str, **headers: str) -> tuple[int, str, str]:
            async with browser.get(url, headers=headers) as answer:
                policy = answer.headers.get("Content-Security-Policy", "")
                return answer.status, policy, await answer.text()

        for path in ("/", "/ws", "/static/js/textual.js", "/x/ws", "/x" * 500, f"/{address.split('/')[3][:-1]}/"):
            assert (await get(bare + path))[0] == 403, path
        assert (await get(address, **elsewhere))[0] == 403
        with pytest.raises(aiohttp.WSServerHandshakeError) as refused:
            await browser.ws_connect(f"{address}ws", headers=elsewhere)
        assert refused.value.status == 403
        status, policy, page = await get(address)
        assert status == 200
        assert "frame-ancestors 'none'" in policy
        assert "http://" not in page and "https://" not in page
        assert (await get(f"{address}static/js/textual.js"))[0] == 200


def test_each_start_has_a_secret_of_its_own_and_a_wider_address_is_warned_of(serve: Callable[..., Any]) -> None:
    narrow, first = serve()
    wide, second = serve("--host", "0.0.0.0")  # noqa: S104 - what is warned of
    assert first.split("/")[3] != second.split("/")[3]
    assert len(first.split("/")[3]) >= 20
    assert "anyone on the network who has the address can read this book and write in it" in end(wide)
    assert end(narrow) == ""


def test_a_port_that_is_taken_is_refused_in_a_sentence() -> None:
    with take_port("127.0.0.1", 0) as taken, pytest.raises(CopydeskError, match="try another --port"):
        take_port("127.0.0.1", taken.getsockname()[1])
    for host, port in (("no such host.invalid", 1), ("127.0.0.1", 99999)):
        with pytest.raises(CopydeskError):
            take_port(host, port)


def test_a_job_for_looking_records_nothing(folder: Path) -> None:
    job = Job.open(folder)
    job.read_only = True
    before = (folder / "ledger.jsonl").read_bytes()
    for act in (lambda: job.record(job.commands.write(Page.parse("12v"))), job.undo):
        with pytest.raises(CopydeskError, match="open for looking only"):
            act()
    job.close()
    assert (folder / "ledger.jsonl").read_bytes() == before


async def _open(address: str, home: Path, work: Callable[[Tab], Awaitable[None]]) -> None:
    """Open a page in a browser of its own, and do some work there once the desk is drawn."""
    async with opened_tab(address, home) as tab:
        await work(tab)


needs_browser = pytest.mark.skipif(CHROMIUM is None, reason="no Chromium is installed; apt-get install chromium")


@needs_browser
async def test_a_page_ticked_in_a_browser_is_seen_at_a_desk_in_a_terminal(
    serve: Callable[..., Any], folder: Path, tmp_path: Path
) -> None:
    from copydesk.desk.app import Desk

    _, address = serve()
    job = Job.open(folder, desk="window")
    before, wanted = len(job.ledger), Page.parse("12v").index
    desk = Desk(job)

    async def tick(tab: Tab) -> None:
        await asyncio.sleep(1)
        await tab.press("w")

        async def seen() -> bool:
            desk.look_round()
            return page_account(job.state, wanted).record.state == "written"

        await until(seen, "the tick at the other desk")

    async with desk.run_test(size=(100, 30)):
        await _open(address, tmp_path / "home", tick)
        entry = list(job.ledger)[before]
        assert (entry.what, entry.page, entry.desk) == ("written", "12v", "tablet")
    job.close()


@needs_browser
async def test_a_visitor_who_may_only_look_records_nothing(
    serve: Callable[..., Any], folder: Path, tmp_path: Path
) -> None:
    _, address = serve("--read-only")
    before = (folder / "ledger.jsonl").read_bytes()

    async def try_to_tick(tab: Tab) -> None:
        await asyncio.sleep(1)
        await tab.press("w")
        await asyncio.sleep(1)

    await _open(address, tmp_path / "home", try_to_tick)
    assert (folder / "ledger.jsonl").read_bytes() == before


def test_a_wider_address_is_the_machine_s_own_and_can_be_scanned(serve: Callable[..., Any]) -> None:
    wide, address = serve("--host", "0.0.0.0")  # noqa: S104 - what is warned of
    own = address_on_network("0.0.0.0")  # noqa: S104
    assert address.startswith(f"http://{own}:")
    assert ipaddress.ip_address(own)
    wanted = code_to_scan(address)
    assert [wide.stdout.readline().rstrip("\n") for _ in wanted] == wanted
    assert len(wanted) > 15
    assert address_on_network("192.168.1.20") == "192.168.1.20"


def test_the_code_holds_the_address() -> None:
    said = "http://192.168.1.20:8000/a-secret-of-the-usual-length/"
    drawn = code_to_scan(said)
    dark = [[block in hidden for block in line] for line in drawn for hidden in ("▄ ", "▀ ")]
    wanted = [list(map(bool, row)) for row in segno.make_qr(said, error="l").matrix_iter(border=4)]
    assert dark[: len(wanted)] == wanted
    assert len({len(line) for line in drawn}) == 1
    assert drawn[0] == "█" * len(drawn[0]), "a light rim round it"


def desks_of(server: subprocess.Popen[str]) -> list[psutil.Process]:
    """The desk processes that a server has open."""
    return [each for each in psutil.Process(server.pid).children(recursive=True) if "--inside" in each.cmdline()]


async def opened(session: aiohttp.ClientSession, address: str) -> aiohttp.ClientWebSocketResponse:
    """A page's line to its desk, once the desk draws."""
    socket = await session.ws_connect(f"{address}ws?width=80&height=24")
    while (await socket.receive(timeout=60)).type is not aiohttp.WSMsgType.BINARY:
        pass
    return socket


async def gone(desks: list[psutil.Process]) -> bool:
    return not any(each.is_running() and each.status() != psutil.STATUS_ZOMBIE for each in desks)


@pytest.mark.parametrize("how", [signal.SIGINT, signal.SIGTERM, signal.SIGKILL])
async def test_desks_end_with_their_server(serve: Callable[..., Any], how: signal.Signals) -> None:
    server, address = serve()
    async with aiohttp.ClientSession() as session:
        pages = [await opened(session, address) for _ in range(2)]
        desks = desks_of(server)
        assert len(desks) == 2
        server.send_signal(how)
        await until(lambda: gone(desks), "the end of the desks")
        assert len(pages) == 2


async def test_a_page_ends_with_its_desk_and_a_desk_with_its_page(serve: Callable[..., Any]) -> None:
    server, address = serve()
    async with aiohttp.ClientSession() as session:
        page = await opened(session, address)
        desks_of(server)[0].kill()
        while (await page.receive(timeout=60)).type in (aiohttp.WSMsgType.BINARY, aiohttp.WSMsgType.TEXT):
            pass
        assert page.closed
        page = await opened(session, address)
        desks = desks_of(server)
        await page.close()
        await until(lambda: gone(desks), "the end of the desk")


async def test_no_more_desks_are_opened_than_are_let(serve: Callable[..., Any]) -> None:
    server, address = serve("--desks", "1")
    async with aiohttp.ClientSession() as session:
        page = await opened(session, address)
        async with session.get(address) as answer:
            assert answer.status == 503
            assert "--desks" in await answer.text()
        with pytest.raises(aiohttp.WSServerHandshakeError):
            await session.ws_connect(f"{address}ws")
        assert len(desks_of(server)) == 1
        await page.close()

        async def let_in() -> bool:
            async with session.get(address) as answer:
                return answer.status == 200

        await until(let_in, "room for a desk")


FRAMES = (
    "",
    "{",
    "7",
    "[]",
    "[7]",
    '["stdin"]',
    '["stdin", 7]',
    '["resize", 7]',
    '["resize", {"width": "x"}]',
    "[" * 9000,
)


async def test_frames_that_no_page_sends_end_their_desk_with_a_line_in_the_log(
    serve: Callable[..., Any], tmp_path: Path
) -> None:
    server, address = serve()
    async with aiohttp.ClientSession() as session:
        for frame in (*FRAMES, b"\0"):
            page = await session.ws_connect(f"{address}ws")
            await (page.send_bytes(frame) if isinstance(frame, bytes) else page.send_str(frame))
            while (await page.receive(timeout=60)).type in (aiohttp.WSMsgType.BINARY, aiohttp.WSMsgType.TEXT):
                pass
            assert page.close_code == 1007, frame
        page = await opened(session, address)
        await page.send_json(["resize", {"width": 10**9, "height": -4}])
        await page.send_json(["ping", "7"])
        while (answer := await page.receive(timeout=60)).type is aiohttp.WSMsgType.BINARY:
            pass
        assert answer.data == '["pong", "7"]'
        for wrong in (f"{address}nothing", f"{address}ws", f"{'/'.join(address.split('/')[:3])}/wrong/"):
            async with session.get(wrong) as refused:
                assert refused.status >= 400
    assert end(server) == ""
    log = (tmp_path / "state" / "browser.log").read_text().splitlines()
    assert sum("a frame could not be understood" in line for line in log) == len(FRAMES) + 1
    assert sum("the address lacked the secret" in line for line in log) == 1
    assert not any("Traceback" in line or address.split("/")[3] in line for line in log)


async def test_whoever_tries_many_secrets_waits_longer_and_whoever_has_it_does_not() -> None:
    server = DeskServer(("true",), "the-secret", 1)
    pauses: list[float] = []
    all_in = asyncio.Event()

    async def pause(seconds: float) -> None:
        pauses.append(seconds)
        if len(pauses) == 40:
            all_in.set()
        await all_in.wait()

    async def let_in(_: Any) -> web.StreamResponse:
        return web.Response(text="in")

    with (
        mock.patch("copydesk.cli.browser_server.asyncio.sleep", pause),
        mock.patch("copydesk.cli.browser_server.write_log"),
    ):
        tries = [server._guard(make_mocked_request("GET", f"/guess{at}/"), let_in) for at in range(40)]
        answers = await asyncio.gather(*tries)
        assert {answer.status for answer in answers} == {403}
        assert pauses == [min(0.25 * at, 5.0) for at in range(1, 41)]
        assert (await server._guard(make_mocked_request("GET", "/the-secret/"), let_in)).status == 200
        assert len(pauses) == 40


@needs_browser
async def test_keys_go_to_the_desk_without_a_tap(serve: Callable[..., Any], tmp_path: Path) -> None:
    _, address = serve()

    async def look(tab: Tab) -> None:
        async def has_them() -> bool:
            return bool(await tab.value("document.activeElement.matches('#terminal textarea')"))

        await until(has_them, "the focus")

    await _open(address, tmp_path / "home", look)
