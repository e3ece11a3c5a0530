"""The desk in a browser: turned away without the secret, a page ticked in a real browser, seen at another desk."""

from __future__ import annotations

import asyncio
import os
import re
import shutil
import signal
import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

import aiohttp
import pytest

from browser_tab import CHROMIUM, Tab, opened_tab, until
from copydesk.book.common.errors import CopydeskError
from copydesk.book.structure.page import Page
from copydesk.cli.browser_server import take_port
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
