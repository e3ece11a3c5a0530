"""A line between desk and server that can be cut: at any time, or just when the server has been asked something."""

from __future__ import annotations

import socket
import threading
from contextlib import suppress


class _Line:
    """One desk's line: what it asks is passed on, and what is answered is passed back until it goes deaf."""

    def __init__(self, relay: Relay, desk: socket.socket, server: socket.socket) -> None:
        self._relay, self._desk, self._server = relay, desk, server
        self._is_deaf = False
        self._answered = threading.Event()
        for pass_on in (self._ask, self._answer):
            threading.Thread(target=pass_on, daemon=True).start()

    def _ask(self) -> None:
        with suppress(OSError):
            while piece := self._desk.recv(65536):
                last = self._relay.is_last(piece)
                self._is_deaf = self._is_deaf or last
                if not last or self._relay.pass_last:
                    self._answered.clear()
                    self._server.sendall(piece)
                if last:
                    if self._relay.pass_last:
                        self._answered.wait(5)
                    break
        self.cut()

    def _answer(self) -> None:
        with suppress(OSError):
            while piece := self._server.recv(65536):
                if not self._is_deaf:
                    self._desk.sendall(piece)
                self._answered.set()
        self.cut()

    def cut(self) -> None:
        """Cut both ends."""
        for end in (self._desk, self._server):
            with suppress(OSError):
                end.shutdown(socket.SHUT_RDWR)
            end.close()


class Relay:
    """Listens on a port of its own and passes on what it hears, until it is cut.

    ``cut_at`` counts the pieces passed from desk to server: the line is cut at that one, or with ``cut_at_commit`` when
    the server is asked to commit. That piece is still passed on where ``pass_last`` says so: then the server does what
    it was asked, and the desk never hears of it.
    """

    def __init__(self, port: int) -> None:
        self._server_port = port
        self._listener = socket.create_server(("127.0.0.1", 0))
        self.port = int(self._listener.getsockname()[1])
        self._lines: list[_Line] = []
        self.open = True
        self.cut_at: int | None = None
        self.cut_at_commit = False
        self.pass_last = True
        self.passed = 0
        threading.Thread(target=self._listen, daemon=True).start()

    def _listen(self) -> None:
        while True:
            try:
                desk, _ = self._listener.accept()
                if not self.open:
                    desk.close()
                    continue
                server = socket.create_connection(("127.0.0.1", self._server_port))
            except OSError:
                return
            for end in (desk, server):
                end.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
            self._lines.append(_Line(self, desk, server))

    def is_last(self, piece: bytes) -> bool:
        """Whether this is where the line is cut."""
        self.passed += 1
        return self.passed == self.cut_at or (self.cut_at_commit and b"COMMIT" in piece)

    def cut(self) -> None:
        """Cut every line, and let none through until ``mend``."""
        self.open = False
        lines, self._lines = self._lines, []
        for line in lines:
            line.cut()

    def mend(self) -> None:
        """Let lines through again."""
        self.open, self.cut_at, self.cut_at_commit = True, None, False

    def close(self) -> None:
        """Cut everything for good."""
        self.cut()
        self._listener.close()
