"""A tab of a real browser on the desk that ``copydesk serve`` shows, driven over the browser's own protocol."""

from __future__ import annotations

import asyncio
import itertools
import json
import os
import re
import shutil
import signal
import subprocess
import sys
from contextlib import asynccontextmanager, contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

import aiohttp

if TYPE_CHECKING:
    import random
    from collections.abc import AsyncIterator, Awaitable, Callable, Iterator

ROOT = Path(__file__).parents[2]
CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
LONGEST = 40.0
"""Seconds after which a browser that does not come is given up; nothing is measured by it."""

FLAGS = (
    *("--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-dev-shm-usage"),
    *("--disable-background-networking", "--disable-component-update", "--disable-sync", "--window-size=1000,700"),
)

LETTERS = "abcdefghijklmnoprstuvwxyz0123456789/:?.,+-"
NAMED = {
    "Enter": 13,
    "Escape": 27,
    "Tab": 9,
    "Backspace": 8,
    "ArrowUp": 38,
    "ArrowDown": 40,
    "ArrowLeft": 37,
    "ArrowRight": 39,
    "Home": 36,
    "End": 35,
    "PageUp": 33,
    "PageDown": 34,
    "F2": 113,
}
"""Keys by their names, with the number a browser knows them by."""

SIZES = ((1000, 700), (700, 500), (1600, 1000), (400, 700))


class Tab:
    """A tab of a real browser."""

    def __init__(self, socket: aiohttp.ClientWebSocketResponse) -> None:
        self._socket = socket
        self._numbers = itertools.count(1)

    async def call(self, method: str, **given: object) -> dict[str, Any]:
        """Ask for something and wait for the answer."""
        number = await self.send(method, **given)
        while True:
            answer = await self._socket.receive_json(timeout=LONGEST)
            if answer.get("id") == number:
                assert "error" not in answer, answer
                return dict(answer["result"])

    async def send(self, method: str, **given: object) -> int:
        """Ask for something without waiting."""
        number = next(self._numbers)
        await self._socket.send_json({"id": number, "method": method, "params": given})
        return number

    async def value(self, script: str) -> Any:
        """What a script gives."""
        found = await self.call("Runtime.evaluate", expression=script, returnByValue=True)
        return found["result"].get("value")

    async def press(self, key: str) -> None:
        await self.value("document.querySelector('#terminal textarea').focus()")
        await self.call("Input.dispatchKeyEvent", type="keyDown", key=key, text=key, code=f"Key{key.upper()}")
        await self.call("Input.dispatchKeyEvent", type="keyUp", key=key, code=f"Key{key.upper()}")

    async def burst(self, chance: random.Random, longest: int = 16) -> None:
        """Keys, clicks, pastes and a change of size, none of which waits for the one before."""
        for _ in range(chance.randint(1, longest)):
            match chance.choices(("text", "named", "click", "size"), (40, 40, 15, 2))[0]:
                case "text":
                    await self.send("Input.insertText", text="".join(chance.choices(LETTERS, k=chance.randint(1, 6))))
                case "named":
                    name, code = chance.choice([*NAMED.items()])
                    for sort in ("rawKeyDown", "keyUp"):
                        await self.send("Input.dispatchKeyEvent", type=sort, key=name, windowsVirtualKeyCode=code)
                case "click":
                    place = {"x": chance.randrange(1000), "y": chance.randrange(640), "button": "left", "clickCount": 1}
                    for sort in ("mousePressed", "mouseReleased"):
                        await self.send("Input.dispatchMouseEvent", type=sort, **place)
                case _:
                    width, height = chance.choice(SIZES)
                    await self.send(
                        "Emulation.setDeviceMetricsOverride",
                        width=width,
                        height=height,
                        deviceScaleFactor=1,
                        mobile=False,
                    )
        await self.value("document.querySelector('#terminal textarea')?.focus()")

    async def is_open(self) -> bool:
        """Whether the desk is still there: its page tells where it has ended."""
        return not await self.value("document.body.classList.contains('-closed')")


async def until(holds: Callable[[], Awaitable[Any]], what: str) -> Any:
    """Wait for something to come about."""
    end = asyncio.get_running_loop().time() + LONGEST
    while asyncio.get_running_loop().time() < end:
        if found := await holds():
            return found
        await asyncio.sleep(0.1)
    raise AssertionError(f"{what} did not come about")


@asynccontextmanager
async def opened_tab(address: str, home: Path) -> AsyncIterator[Tab]:
    """A page in a browser of its own, once the desk is drawn there; ended afterwards."""
    command = [str(CHROMIUM), *FLAGS, f"--user-data-dir={home}", "--remote-debugging-port=0", address]
    chromium = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    port_file = home / "DevToolsActivePort"
    try:

        async def told() -> list[str]:
            return port_file.read_text().splitlines() if port_file.is_file() else []

        port = (await until(told, "the browser"))[0]
        async with aiohttp.ClientSession() as session:

            async def page() -> dict[str, Any] | None:
                tabs = json.loads(await (await session.get(f"http://127.0.0.1:{port}/json")).text())
                return next((tab for tab in tabs if tab["type"] == "page" and tab["url"].startswith("http")), None)

            tab = await until(page, "the page")
            async with session.ws_connect(tab["webSocketDebuggerUrl"]) as socket:
                browser = Tab(socket)
                await until(lambda: browser.value("document.body.className.includes('-first-byte')"), "the desk")
                await until(lambda: browser.value("!!document.querySelector('#terminal textarea')"), "the terminal")
                yield browser
    finally:
        chromium.terminate()
        chromium.wait(20)


@contextmanager
def served(folder: Path, state: Path) -> Iterator[str]:
    """A server on a book; gives the address it tells, and ends the server as ctrl+c does."""
    command = [sys.executable, "-m", "copydesk", "serve", str(folder), "--port", "0"]
    env = {**os.environ, "COPYDESK_DESK": "tablet", "TEXTUAL_ANIMATIONS": "none", "PYTHONPATH": str(ROOT)}
    env.update(COPYDESK_KEYS=str(state / "none"), COPYDESK_STATE=str(state))
    server = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True, env=env)
    try:
        assert server.stdout is not None
        found = re.search(r"http://\S+/", server.stdout.readline())
        assert found, "the server told no address"
        yield found[0]
    finally:
        server.send_signal(signal.SIGINT)
        server.wait(20)
