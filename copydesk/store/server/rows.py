"""The ledgers in a database: their tables, and every statement that is put to it.

A ledger is a row of ``copydesk_ledgers``; its entries are rows of ``copydesk_entries``, numbered in the order they
were kept. Whoever adds entries holds the ledger's row until they are in, so numbers come into sight in their order
and nobody who reads on from a number misses one. The body is ``json``, not ``jsonb``: it must come back letter for
letter, and ``jsonb`` takes no NUL and keeps no figure as it was written.
"""

from __future__ import annotations

import json
from hashlib import sha256
from typing import TYPE_CHECKING, Any, NamedTuple, TypeAlias
from zlib import crc32

from psycopg import errors

from copydesk.store.journal.line_format import is_entry

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from psycopg import Connection

    from copydesk.store.journal.ledger_store import EntryDict


Database: TypeAlias = "Connection[tuple[Any, ...]]"

FORM = 1
"""The form of the tables this program writes; a ledger with a higher one is only read."""
CHANNEL = "copydesk"
"""The channel on which desks are notified of new entries."""
CLOSED_CALL = 2**62
"""What is called in a number's stead when the ledger goes out of use, or comes into use again."""

_TABLES = (
    """create table if not exists copydesk_ledgers (
        book text primary key, form integer not null, mark text not null, title json not null,
        last bigint not null, closed json not null)""",
    """create table if not exists copydesk_entries (
        book text not null references copydesk_ledgers, number bigint not null, key text not null,
        tick bigint not null, body json not null, sum bigint not null,
        primary key (book, key), unique (book, number))""",
)
_MAKING = 0x636F7079  # the lock under which the tables are made: two desks may begin at one moment
_LONGEST_KEY = 100
_LEDGER = "select form, mark, title::text, last, closed::text from copydesk_ledgers where book = %s"
_BEGIN = "insert into copydesk_ledgers values (%s, %s, %s, %s, 0, '\"\"') on conflict (book) do nothing"
_AFTER = "select number, key, sum, body::text from copydesk_entries where book = %s and number > %s order by number"
_ADD = """
    with added as (
        insert into copydesk_entries (book, number, key, tick, sum, body)
        select %(book)s, number, key, tick, sum, body::json
        from unnest(%(numbers)s::bigint[], %(keys)s::text[], %(ticks)s::bigint[], %(sums)s::bigint[],
                    %(bodies)s::text[]) as given (number, key, tick, sum, body)
        on conflict do nothing),
    counted as (update copydesk_ledgers set last = %(last)s where book = %(book)s)
    select pg_notify(%(channel)s, %(said)s)"""


class LedgerRow(NamedTuple):
    """A book's ledger in the database: its form, its mark, the book's title when it was begun, its last number.

    ``closed`` says in a sentence where the ledger went, once it was moved away; empty while it is in use.
    """

    form: int
    mark: str
    title: str
    last: int
    closed: str


class EntryRow(NamedTuple):
    """One entry's row; ``entry`` is None where it cannot be read, and ``why`` then says why."""

    number: int
    key: str
    entry: EntryDict | None
    why: str = ""


def key_of(name: str) -> str:
    """What an id (or a book's name) is kept under: itself, or its digest where a database might not take it."""
    usual = 0 < len(name) <= _LONGEST_KEY and name.isascii() and name.isprintable() and ":" not in name
    return name if usual else f"sha256:{sha256(name.encode()).hexdigest()}"


def find(database: Database, book: str) -> LedgerRow | None:
    """A book's ledger as it stands; None where it has none."""
    try:
        return _ledger(database, _LEDGER, book)
    except errors.UndefinedTable:
        return None


def _ledger(database: Database, statement: str, book: str) -> LedgerRow | None:
    row = database.execute(statement, [key_of(book)]).fetchone()
    if row is None:
        return None
    form, mark, title, last, closed = row
    return LedgerRow(form, mark, json.loads(title), last, json.loads(closed))


def prepare(database: Database) -> None:
    """Make the tables where they are missing."""
    row = database.execute("select to_regclass('copydesk_entries') is not null").fetchone()
    if row is None or not row[0]:
        with database.transaction():
            database.execute("select pg_advisory_xact_lock(%s)", [_MAKING])
            for table in _TABLES:
                database.execute(table)


def hold(database: Database, book: str, mark: str, title: str) -> LedgerRow:
    """A book's ledger, begun where it is missing and held until the transaction ends: nobody else adds meanwhile."""
    held = _ledger(database, f"{_LEDGER} for update", book)
    if held is None:
        database.execute(_BEGIN, [key_of(book), FORM, mark, json.dumps(title)])
        held = _ledger(database, f"{_LEDGER} for update", book)
    if held is None:
        raise errors.SerializationFailure("the ledger went at this moment")
    return held


def after(database: Database, book: str, number: int) -> list[EntryRow]:
    """The rows above ``number``, in order."""
    rows = database.execute(_AFTER, [key_of(book), number])
    return [_row(number, key, sum_, body) for number, key, sum_, body in rows]


def _row(number: int, key: str, sum_: int, body: str) -> EntryRow:
    """A row as read. One that other hands wrote may hold anything, a tick beyond counting too: it stops nobody."""
    if crc32(body.encode()) != sum_:
        return EntryRow(number, key, None, "its checksum does not agree")
    try:
        entry = json.loads(body)
    except (ValueError, RecursionError):  # figures or brackets without end
        entry = None
    if not is_entry(entry) or key_of(entry["entry"]) != key:  # type: ignore[arg-type]
        return EntryRow(number, key, None, "it has not the id and the count that an entry must have")
    return EntryRow(number, key, entry)


def count(database: Database, book: str, last: int) -> int:
    """How many entries there are up to number ``last``."""
    wanted = "select count(*) from copydesk_entries where book = %s and number <= %s"
    row = database.execute(wanted, [key_of(book), last]).fetchone()
    return int(row[0]) if row is not None else 0


def number_of(database: Database, book: str, name: str) -> int | None:
    """The number of the entry with this id; None where it is not there."""
    wanted = "select number from copydesk_entries where book = %s and key = %s"
    row = database.execute(wanted, [key_of(book), key_of(name)]).fetchone()
    return row[0] if row is not None else None


def add(database: Database, book: str, last: int, entries: Sequence[EntryDict]) -> int:
    """Add entries after number ``last`` and notify the other desks once the transaction ends; the new last.

    Whoever calls this holds the ledger. An entry whose id is there already is passed over.
    """
    numbers = range(last + 1, last + 1 + len(entries))
    bodies = [json.dumps(entry, allow_nan=False, separators=(",", ":")) for entry in entries]
    given = {
        "book": key_of(book),
        "numbers": list(numbers),
        "keys": [key_of(str(entry["entry"])) for entry in entries],
        "ticks": [entry["tick"] for entry in entries],
        "sums": [crc32(body.encode()) for body in bodies],
        "bodies": bodies,
        "last": numbers[-1],
        "channel": CHANNEL,
        "said": f"{numbers[-1]} {key_of(book)}",
    }
    database.execute(_ADD, given)
    return numbers[-1]


def newest_call(said: Iterable[str], book: str) -> int:
    """The highest number that these calls tell of a book; 0 where none does."""
    wanted = key_of(book)
    numbers = (number for number, _, name in (each.partition(" ") for each in said) if name == wanted)
    return max((int(number) for number in numbers if number.isdecimal()), default=0)


def close(database: Database, book: str, why: str) -> None:
    """Say where the ledger went (or, with an empty text, that it is in use again); desks are notified."""
    database.execute("update copydesk_ledgers set closed = %s where book = %s", [json.dumps(why), key_of(book)])
    database.execute("select pg_notify(%s, %s)", [CHANNEL, f"{CLOSED_CALL} {key_of(book)}"])


def repair_row(database: Database, book: str, number: int, entry: EntryDict) -> None:
    """Write a damaged row's entry anew."""
    body = json.dumps(entry, allow_nan=False, separators=(",", ":"))
    renew = "update copydesk_entries set body = %s::json, sum = %s, tick = %s where book = %s and number = %s"
    database.execute(renew, [body, crc32(body.encode()), entry["tick"], key_of(book), number])
