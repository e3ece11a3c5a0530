"""The line to a database: made when a book is opened, and again in the background whenever it is lost.

Where the server is, and who may speak to it, stands in libpq's service file and password file or in the
environment, never in the book.
"""

from __future__ import annotations

from contextlib import contextmanager, suppress
from threading import Event, Lock, Thread
from typing import TYPE_CHECKING, cast

import psycopg
from psycopg.conninfo import make_conninfo

from copydesk.book.common.errors import ServerRefusedError, ServerUnreachableError
from copydesk.book.common.sanitize import sanitize
from copydesk.store.server import messages as words
from copydesk.store.server.rows import CHANNEL, newest_call

if TYPE_CHECKING:
    from collections.abc import Iterator

    from copydesk.store.server.rows import Database


_PAUSES = (0.5, 1.0, 2.0, 4.0, 8.0)
"""Seconds before each new try; the last again and again."""
_SETTINGS = {
    "connect_timeout": "4",
    "keepalives_idle": "10",
    "keepalives_interval": "5",
    "keepalives_count": "3",
    "tcp_user_timeout": "6000",  # ms after which a silent network counts as lost
    "client_encoding": "utf8",
    "application_name": "copydesk",
}
_SESSION = (
    "set lock_timeout = '8s'",
    "set statement_timeout = '60s'",
    "set idle_in_transaction_session_timeout = '20s'",  # a desk that froze must not hold the ledger
    "set default_transaction_isolation = 'read committed'",
    f"listen {CHANNEL}",
)


_TURNS_AWAY = (
    "authentication failed",
    "no pg_hba.conf entry",
    "not permitted to log in",
    "does not exist",
    "permission denied for database",
    "definition of service",  # said by libpq itself: the service file does not have it
)
"""What PostgreSQL says where it will not let this account in, today or tomorrow; libpq gives no code for it."""


class ServerLink:
    """One desk's line to the database that libpq's service file calls ``service``.

    Attributes:
        is_new: Whether the line was made since ``ServerLedger`` met the ledger last; who meets it turns this off.
        why_away: Why there is no line, as libpq says it; empty while there is one.
        why_refused: Why there will be none, since the server will not let this account in; then none is looked for.
    """

    def __init__(self, service: str) -> None:
        self._service = service
        self._current: Database | None = None
        self._arrived: Database | None = None
        self._lock = Lock()
        self._left = Event()
        self._seeker: Thread | None = None
        self.is_new = False
        self.why_away = self.why_refused = ""
        try:
            self._current, self.is_new = self._connect(), True
        except psycopg.Error as error:
            self.lose(error)

    def _connect(self) -> Database:
        database: Database = psycopg.connect(make_conninfo(service=self._service, **_SETTINGS), autocommit=True)
        for statement in _SESSION:
            database.execute(statement)
        return database

    def database(self) -> Database | None:
        """The line, if there is one now."""
        if self._current is None and self._arrived is not None:
            with self._lock:
                self._current, self._arrived = self._arrived, None
            self.is_new, self.why_away = True, ""
        return self._current

    def lose(self, error: Exception) -> None:
        """Close a line that failed, and look for a new one in the background, unless the server turned us away."""
        if self._current is not None:
            _close(self._current)
        self._current = None
        if not self._is_still_away(error):
            return
        if (self._seeker is None or not self._seeker.is_alive()) and not self._left.is_set():
            self._seeker = Thread(target=self._seek, name="copydesk-server", daemon=True)
            self._seeker.start()

    def _is_still_away(self, error: Exception) -> bool:
        """Note why there is no line; whether a later try may bring one."""
        if is_turned_away(error):
            self.why_away, self.why_refused = "", reason(error)
        else:
            self.why_away = reason(error)
        return not self.why_refused

    def _seek(self) -> None:
        tries = 0
        while not self._left.wait(_PAUSES[min(tries, len(_PAUSES) - 1)]):
            tries += 1
            try:
                found = self._connect()
            except psycopg.Error as error:
                if self._is_still_away(error):
                    continue
                return
            with self._lock:
                self._arrived = found
            if self._left.is_set():
                _close(found)
            return

    def newest_call(self, book: str) -> int:
        """The highest number of an entry that other desks called out since this was asked last; 0 where none did.

        Raises:
            psycopg.Error: where the line is lost.
        """
        database = cast("Database", self._current)
        return newest_call((call.payload for call in database.notifies(timeout=0)), book)

    def close(self) -> None:
        """Close the connection, and look for no new one."""
        self._left.set()
        with self._lock:
            lines, self._current, self._arrived = (self._current, self._arrived), None, None
        for line in lines:
            if line is not None:
                _close(line)


@contextmanager
def connected(service: str, outcome: str) -> Iterator[Database]:
    """A line to the server for one piece of work.

    Args:
        service: what libpq's service file calls the database.
        outcome: what is not done where this fails, as in ``Nothing was moved``.

    Raises:
        ServerUnreachableError: where the server does not answer.
        ServerRefusedError: where it will not do what is asked.
    """
    link = ServerLink(service)
    try:
        database = link.database()
        if link.why_refused:
            raise ServerRefusedError(words.refuses(outcome, service, link.why_refused))
        if database is None:
            raise ServerUnreachableError(f"{outcome}: the server {service} does not answer ({link.why_away})")
        yield database
    except psycopg.Error as error:
        raise ServerRefusedError(words.refuses(outcome, service, reason(error))) from error
    finally:
        link.close()


def _close(database: Database) -> None:
    with suppress(psycopg.Error):  # it is gone either way
        database.close()


def is_passing(error: Exception) -> bool:
    """Whether a failure is the server's or the network's and may pass; what is wrong with a statement does not."""
    return isinstance(
        error, psycopg.OperationalError | psycopg.InterfaceError | psycopg.errors.ReadOnlySqlTransaction | OSError
    )


def is_turned_away(error: Exception) -> bool:
    """Whether the server, or libpq before it, will not let this account in: a wrong password, no such database."""
    if not isinstance(error, psycopg.OperationalError):
        return False
    asked = error.pgconn is not None and error.pgconn.needs_password  # the server wants one, and none is known here
    return asked or any(each in str(error) for each in _TURNS_AWAY)


def reason(error: Exception) -> str:
    """What libpq says, on one line, without a full stop."""
    lines = [line.strip() for line in str(error).splitlines() if line.strip()]
    return sanitize((lines or [type(error).__name__])[0])[:200].rstrip(".")
