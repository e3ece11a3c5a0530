"""One desk in the browser: its process, what the browser says to it, and its end."""

from __future__ import annotations

import asyncio
import json
from contextlib import suppress
from typing import TYPE_CHECKING, Any

from textual_serve.app_service import AppService

if TYPE_CHECKING:
    from collections.abc import Sequence

    from aiohttp import web
    from textual_serve.download_manager import DownloadManager

_SECONDS_TO_END = 5.0
_MOST_CELLS = 1000
"""Cells across or down of the largest terminal; a browser that says more is not believed."""


class NotUnderstoodError(ValueError):
    """A frame that no page of ours sends."""


class BrowserDesk(AppService):
    """The process of one desk; it ends with its page, and its page with it."""

    def __init__(self, words: Sequence[str], page: web.WebSocketResponse, downloads: DownloadManager) -> None:
        async def close() -> None:
            await page.close()

        super().__init__(
            "", write_bytes=page.send_bytes, write_str=page.send_str, close=close, download_manager=downloads
        )
        self._words = words

    async def _open_app_process(self, width: int = 80, height: int = 24) -> asyncio.subprocess.Process:
        """Begin the process itself, with no shell between: it is ours to end."""
        pipe, environment = asyncio.subprocess.PIPE, self._build_environment(width=width, height=height)
        process = await asyncio.create_subprocess_exec(
            *self._words, stdin=pipe, stdout=pipe, stderr=pipe, env=environment
        )
        self._process, self._stdin = process, process.stdin
        return process

    async def run(self) -> None:
        """Pass on what the process shows until it ends, then close its page: a page without a desk answers nobody."""
        try:
            await super().run()
        except (ConnectionError, RuntimeError):  # the page went first
            return
        finally:
            with suppress(ConnectionError, RuntimeError):
                await self.remote_close()

    async def stop(self) -> None:
        """Ask the process to end; end it where it does not."""
        task, self._task = self._task, None
        if task is None or self._process is None:
            return
        await self._download_manager.cancel_app_downloads(app_service_id=self.app_service_id)
        await self.send_meta({"type": "quit"})
        self.stdin.close()
        _, running = await asyncio.wait([task], timeout=_SECONDS_TO_END)
        if running and self._process.returncode is None:
            with suppress(ProcessLookupError):
                self._process.kill()
        await self._process.wait()
        task.cancel()
        await asyncio.gather(task, return_exceptions=True)

    async def take(self, frame: str, page: web.WebSocketResponse) -> None:
        """Pass on what a frame from the browser says.

        Raises:
            NotUnderstoodError: where no page of ours sends such a frame.
        """
        match _read(frame):
            case ["stdin", str(keys)]:
                await self.send_bytes(keys.encode(errors="replace"))
            case ["resize", {"width": int(width), "height": int(height)}]:
                await self.set_terminal_size(cells(width), cells(height))
            case ["ping", str() | int() | float() | None as said]:
                await page.send_json(["pong", said])
            case ["blur", *_]:
                await self.blur()
            case ["focus", *_]:
                await self.focus()
            case _:
                raise NotUnderstoodError


def _read(frame: str) -> Any:
    try:
        return json.loads(frame)
    except (ValueError, RecursionError):
        raise NotUnderstoodError from None


def cells(number: int) -> int:
    """A width or height as a terminal can have it."""
    return min(max(number, 1), _MOST_CELLS)
