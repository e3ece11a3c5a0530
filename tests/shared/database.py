"""A database server of the tests' own, on this machine alone: started, stopped, killed, and taken away again.

PostgreSQL will not run as root, so where the tests do, it runs as another account.
"""

from __future__ import annotations

import itertools
import os
import pwd
import secrets
import shutil
import signal
import socket
import subprocess
import tempfile
import time
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

import psycopg

if TYPE_CHECKING:
    from collections.abc import Iterator


def binaries() -> Path | None:
    """Where PostgreSQL's programs are; None where they are not."""
    found = [*Path("/usr/lib/postgresql").glob("*/bin/initdb"), *Path("/usr/local/pgsql/bin").glob("initdb")]
    if on_path := shutil.which("initdb"):
        found.append(Path(on_path))
    return max(found, key=lambda path: path.parts).parent if found else None


WHY_NOT = "" if binaries() else "no PostgreSQL here (no initdb): install the package postgresql to run this"


def _account() -> dict[str, Any]:
    """The account to run as, for ``subprocess``: our own, or where we are root one that is not."""
    if os.geteuid() != 0:
        return {}
    names = {each.pw_name for each in pwd.getpwall()}
    name = "postgres" if "postgres" in names else "nobody"
    return {"user": name, "group": pwd.getpwnam(name).pw_gid, "extra_groups": []}


_NUMBERS = itertools.count()


class Server:
    """A server in a folder of its own.

    ``settings`` are those of ``postgresql.conf``. Desks find it through ``environment``: a service file, and a
    password file.
    """

    def __init__(self, **settings: str) -> None:
        programs = binaries()
        assert programs is not None, WHY_NOT
        self._programs = programs
        self._as = _account()
        self.folder = Path(tempfile.mkdtemp(prefix="copydesk-server-"))
        if self._as:
            shutil.chown(self.folder, self._as["user"], self._as["group"])
        self.port = _free_port()
        self.password = secrets.token_hex(8)
        self._settings = {
            "listen_addresses": "127.0.0.1",
            "port": str(self.port),
            "unix_socket_directories": "",
            "max_connections": "400",
            "logging_collector": "off",
            **settings,
        }
        self._process: subprocess.Popen[bytes] | None = None
        self._make()

    def _make(self) -> None:
        secret = self.folder / "first-password"
        secret.write_text(self.password)
        if self._as:
            shutil.chown(secret, self._as["user"])
        arguments = ["-D", str(self.folder / "data"), "-U", "desk", "-A", "scram-sha-256", f"--pwfile={secret}"]
        more = ["-E", "UTF8", "--locale=C", "--no-sync", "--no-instructions"]
        subprocess.run(
            [self._programs / "initdb", *arguments, *more], check=True, capture_output=True, cwd="/", **self._as
        )
        (self.folder / "services").write_text("")
        passwords = self.folder / "passwords"
        passwords.write_text(f"127.0.0.1:*:*:desk:{self.password}\n")
        passwords.chmod(0o600)
        self.folder.chmod(0o755)

    @property
    def environment(self) -> dict[str, str]:
        """What libpq is told by: where the service file and the password file are."""
        return {"PGSERVICEFILE": str(self.folder / "services"), "PGPASSFILE": str(self.folder / "passwords")}

    def own_service(self, port: int | None = None) -> str:
        """A new entry of the service file under a name nobody else has; its name."""
        return self.service(f"book{next(_NUMBERS)}-{os.getpid()}", port)

    def service(self, name: str, port: int | None = None) -> str:
        """A new entry of the service file; its name."""
        with (self.folder / "services").open("a") as file:
            file.write(f"[{name}]\nhost=127.0.0.1\nport={port or self.port}\ndbname=postgres\nuser=desk\n\n")
        return name

    @contextmanager
    def account(self, *rights: str) -> Iterator[str]:
        """An account that may log in with the password ``x``, and do what ``rights`` says; the name of its service.

        Each of ``rights`` is a line of SQL with the account's name as ``{}``.
        """
        name = f"account{next(_NUMBERS)}"
        with self.connect() as line:
            line.execute(f"create role {name} login password 'x'")  # type: ignore[arg-type]
            for right in rights:
                line.execute(right.format(name))  # type: ignore[arg-type]
        with (self.folder / "passwords").open("a") as passwords, (self.folder / "services").open("a") as services:
            passwords.write(f"127.0.0.1:*:*:{name}:x\n")
            services.write(f"[{name}]\nhost=127.0.0.1\nport={self.port}\ndbname=postgres\nuser={name}\n\n")
        try:
            yield name
        finally:
            with self.connect() as line:
                line.execute(f"drop owned by {name}")  # type: ignore[arg-type]
                line.execute(f"drop role {name}")  # type: ignore[arg-type]

    def start(self) -> None:
        """Start it, and wait until it answers."""
        settings = [word for name, value in self._settings.items() for word in ("-c", f"{name}={value}")]
        command = [str(self._programs / "postgres"), "-D", str(self.folder / "data"), *settings]
        log = (self.folder / "log").open("ab")
        self._process = subprocess.Popen(command, stdout=log, stderr=log, cwd="/", start_new_session=True, **self._as)
        log.close()
        limit = time.monotonic() + 30
        while True:
            try:
                self.connect().close()
            except psycopg.OperationalError:
                assert time.monotonic() < limit, (self.folder / "log").read_text()
                time.sleep(0.02)
            else:
                return

    def connect(self) -> psycopg.Connection[tuple[Any, ...]]:
        """A line to it as the account that owns everything."""
        return self.connect_as("desk", self.password)

    def connect_as(self, user: str, password: str = "x") -> psycopg.Connection[tuple[Any, ...]]:  # noqa: S107
        """A line to it as another account."""
        where = {"host": "127.0.0.1", "port": self.port, "user": user, "dbname": "postgres"}
        return psycopg.connect(**where, password=password, autocommit=True)  # type: ignore[arg-type]

    def stop(self, how: signal.Signals = signal.SIGINT) -> None:
        """Stop it: SIGINT at once but in order, SIGQUIT as if it had crashed."""
        if self._process is not None:
            self._process.send_signal(how)
            self._process.wait(30)
            self._process = None

    def remove(self) -> None:
        """Stop it and take its folder away."""
        self.stop()
        shutil.rmtree(self.folder, ignore_errors=True)


def _free_port() -> int:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        return int(taken.getsockname()[1])
