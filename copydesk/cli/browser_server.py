"""The desk in a browser: a small web server that opens one desk for each page shown, behind a secret in the address.

The secret is the first part of every path: page, files and connection. Whatever comes without it is turned away, and
waits a while for that.
"""

from __future__ import annotations

import asyncio
import logging
from hmac import compare_digest
from typing import TYPE_CHECKING
from urllib.parse import urlsplit

from aiohttp import WSMsgType, web
from textual_serve.server import Server, to_int

from copydesk.book.common.errors import InvalidValueError, UnavailableError
from copydesk.cli.browser_desk import BrowserDesk, NotUnderstoodError, cells
from copydesk.store.files.mistake_log import write_log

if TYPE_CHECKING:
    import socket
    from collections.abc import Awaitable, Callable, Sequence


LOG = "browser.log"
"""The log of what was turned away, in the folder for copydesk's state."""

HEADERS = {
    "Referrer-Policy": "no-referrer",
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Cache-Control": "no-store",
    "Content-Security-Policy": "default-src 'self'; script-src 'self' 'unsafe-inline' 'wasm-unsafe-eval'; "
    "style-src 'self' 'unsafe-inline'; img-src 'self' data:; font-src 'self' data:; frame-ancestors 'none'",
}
"""Sent with everything: nothing is fetched from elsewhere, nothing is told elsewhere, nothing is kept."""

PAGE = """<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8"><title>copydesk</title>
<meta name="viewport" content="width=device-width, initial-scale=1"><link rel="icon" href="data:,">
<link rel="stylesheet" href="static/css/xterm.css">
<style>body {{ background: #1d1a16; color: #e9e0cd; margin: 0; font-family: monospace; }}
#ended {{ display: none; padding: 2em; }} body.-closed #ended {{ display: block; }}
body.-closed #terminal {{ display: none; }}</style>
<script src="static/js/textual.js"></script></head>
<body><div id="ended">The desk was left. <a href="">Open it again</a></div>
<div id="terminal" class="textual-terminal" data-session-websocket-url="" data-font-size="{size}"></div>
<script>const terminal = document.getElementById("terminal");
terminal.dataset.sessionWebsocketUrl = new URL("ws", location.href.split("?")[0]).href.replace(/^http/, "ws");
const focusKeys = () => {{ const keys = terminal.querySelector("textarea"); if (keys) keys.focus(); return keys; }};
new MutationObserver((_, seen) => {{ if (focusKeys()) seen.disconnect(); }})
.observe(terminal, {{ childList: true, subtree: true }});
for (const back of ["focus", "pageshow"]) addEventListener(back, focusKeys);</script></body></html>
"""
"""The page: a terminal, its files and its connection named beside it, so that it works under any host name. Keys go to
it from the beginning, without a tap."""

_FULL = "All the desks that may be open at once are open; close one, or ask where this is served for more (--desks).\n"
_PAUSE, _LONGEST_PAUSE = 0.25, 5.0
"""Seconds a wrong secret waits, times how many wait at once; and at most."""
_LARGEST_FRAME = 1_000_000  # bytes; a paste of a long page


class DeskServer(Server):
    """Serves desks opened by the command ``words`` to whoever knows the secret, at most ``most`` at once."""

    def __init__(self, words: Sequence[str], secret: str, most: int) -> None:
        super().__init__("copydesk")
        self._words, self._secret, self._most = words, secret, most
        self._open: set[web.WebSocketResponse] = set()
        self._turning_away = 0

    async def application(self) -> web.Application:
        """The web application: everything lies below the secret."""
        inner = await self._make_app()
        outer = web.Application(middlewares=[self._guard])
        outer.add_subapp(f"/{self._secret}/", inner)
        outer.on_response_prepare.append(_add_headers)
        return outer

    @web.middleware
    async def _guard(
        self, request: web.Request, handler: Callable[[web.Request], Awaitable[web.StreamResponse]]
    ) -> web.StreamResponse:
        """Turn away whatever lacks the secret, or was sent by another site's page; each such try takes longer."""
        given = request.path.split("/")[1]
        right = compare_digest(given.encode(errors="replace"), self._secret.encode())
        if right and not _from_elsewhere(request):
            return await handler(request)
        _note(request, "another site's page asked" if right else "the address lacked the secret")
        self._turning_away += 1
        try:
            await asyncio.sleep(min(_PAUSE * self._turning_away, _LONGEST_PAUSE))
        finally:
            self._turning_away -= 1
        return web.Response(status=403, text="The address is not complete; ask for it at the desk.\n")

    async def on_startup(self, app: web.Application) -> None:
        """Say nothing: whoever started the server says where it is."""

    async def on_shutdown(self, app: web.Application) -> None:  # noqa: ARG002 - as the base class calls it
        """Close every page: its desk ends with it."""
        await asyncio.gather(*(page.close(code=1001) for page in self._open), return_exceptions=True)

    async def handle_index(self, request: web.Request) -> web.Response:
        """The page with the terminal."""
        if self._is_full():
            return web.Response(status=503, text=_FULL)
        size = request.query.get("fontsize", "")
        sized = size if size.isascii() and size.isdigit() and 6 <= int(size[:3]) <= 72 else "16"
        return web.Response(text=PAGE.format(size=sized[:3]), content_type="text/html")

    def _is_full(self) -> bool:
        return len(self._open) >= self._most

    async def handle_websocket(self, request: web.Request) -> web.StreamResponse:  # type: ignore[override]
        """Open a desk for a page, and pass on what is typed and shown until either ends."""
        if self._is_full():
            _note(request, f"{self._most} desks were open already")
            return web.Response(status=503, text=_FULL)
        page = web.WebSocketResponse(heartbeat=15, max_msg_size=_LARGEST_FRAME)
        desk = BrowserDesk(self._words, page, self.download_manager)
        self._open.add(page)
        try:
            await page.prepare(request)
            width, height = (
                to_int(request.query.get(name, ""), usual) for name, usual in (("width", 80), ("height", 24))
            )
            await desk.start(cells(width), cells(height))
            async for message in page:
                if message.type is not WSMsgType.TEXT:
                    raise NotUnderstoodError
                await desk.take(message.data, page)
        except NotUnderstoodError:
            _note(request, "a frame could not be understood, and its desk was closed")
            await page.close(code=1007)
        except ConnectionError:
            _note(request, "the line to a page broke")
        finally:
            self._open.discard(page)
            await desk.stop()
        return page


def _note(request: web.BaseRequest, what: str) -> None:
    """Note in a line what was turned away, and from where; never a path, since it may be nearly the secret."""
    write_log(LOG, f"{request.remote}: {what}")


class _OneLine(logging.Handler):
    """Notes what the web library warns of in one line, without the lines of its code."""

    def emit(self, record: logging.LogRecord) -> None:
        """Note it; what a request said is left out."""
        kind = record.exc_info[0].__name__ if record.exc_info and record.exc_info[0] else record.levelname.lower()
        write_log(LOG, f"{record.name}: {kind} at {record.filename}:{record.lineno}")


def _from_elsewhere(request: web.Request) -> bool:
    origin = request.headers.get("Origin", "")
    return bool(origin) and urlsplit(origin).netloc != request.host


async def _add_headers(request: web.Request, response: web.StreamResponse) -> None:  # noqa: ARG001 - as aiohttp calls it
    response.headers.update(HEADERS)


def take_port(host: str, port: int) -> socket.socket:
    """A socket to serve on.

    Raises:
        CopydeskError: where the host is unknown or the port is taken.
    """
    import socket

    if not 0 <= port <= 65535:
        raise InvalidValueError(f"there is no port {port}; take one from 1024 to 65535, or 0 for a free one")
    try:
        family, *_, address = socket.getaddrinfo(host, port, type=socket.SOCK_STREAM)[0]
        taken = socket.create_server(address[:2], family=family)
    except (OSError, UnicodeError, OverflowError) as error:
        raise UnavailableError(
            f"cannot serve on {host} port {port} ({error}); try another --port, or 0 for a free one"
        ) from error
    return taken


def serve(server: DeskServer, on: socket.socket) -> None:
    """Serve until interrupted; requests are not logged, since their addresses hold the secret."""
    for name in ("aiohttp", "asyncio", "textual-serve"):
        logger = logging.getLogger(name)
        logger.addHandler(_OneLine(logging.WARNING))
        logger.propagate = False
    web.run_app(server.application(), sock=on, print=None, access_log=None, shutdown_timeout=10.0)
