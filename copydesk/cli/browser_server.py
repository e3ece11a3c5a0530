"""The desk in a browser: a small web server that opens one desk for each page shown, behind a secret in the address.

The secret is the first part of every path: page, files and connection. Whatever comes without it is turned away.
"""

from __future__ import annotations

from hmac import compare_digest
from typing import TYPE_CHECKING
from urllib.parse import urlsplit

from aiohttp import web
from textual_serve.server import Server

from copydesk.book.common.errors import InvalidValueError, UnavailableError

if TYPE_CHECKING:
    import socket
    from collections.abc import Awaitable, Callable


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
<meta name="viewport" content="width=device-width, initial-scale=1">
<link rel="stylesheet" href="static/css/xterm.css">
<style>body {{ background: #1d1a16; color: #e9e0cd; margin: 0; font-family: monospace; }}
#ended {{ display: none; padding: 2em; }} body.-closed #ended {{ display: block; }}
body.-closed #terminal {{ display: none; }}</style>
<script src="static/js/textual.js"></script></head>
<body><div id="ended">The desk was left. <a href="">Open it again</a></div>
<div id="terminal" class="textual-terminal" data-session-websocket-url="" data-font-size="{size}"></div>
<script>document.getElementById("terminal").dataset.sessionWebsocketUrl =
new URL("ws", location.href.split("?")[0]).href.replace(/^http/, "ws");</script></body></html>
"""
"""The page: a terminal, its files and its connection named beside it, so that it works under any host name."""


class DeskServer(Server):
    """Serves desks opened by ``command`` to whoever knows the secret."""

    def __init__(self, command: str, secret: str) -> None:
        super().__init__(command, title="copydesk")
        self._secret = secret

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
        """Turn away whatever lacks the secret, or was sent by another site's page."""
        given = request.path.split("/")[1]
        if not compare_digest(given.encode(), self._secret.encode()) or _from_elsewhere(request):
            return web.Response(status=403, text="The address is not complete; ask for it at the desk.\n")
        return await handler(request)

    async def on_startup(self, app: web.Application) -> None:
        """Say nothing: whoever started the server says where it is."""

    async def handle_index(self, request: web.Request) -> web.Response:
        """The page with the terminal."""
        size = request.query.get("fontsize", "")
        sized = size if size.isascii() and size.isdigit() and 6 <= int(size[:3]) <= 72 else "16"
        return web.Response(text=PAGE.format(size=sized[:3]), content_type="text/html")


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
    web.run_app(server.application(), sock=on, print=None, access_log=None)
