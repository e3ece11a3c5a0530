"""The lines of a ledger: how entries are written as a line, and how lines are checked and read.

A line is one JSON object: its running number, its entries (mostly one; several when they stand or fall
together), and last a checksum over all that comes before it. ``after`` is the digest of the line before, so that a line
changed later is noticed even where its checksum agrees. The first line says which ledger this is::

    {"ledger":"copydesk","schema":1,"book":"9f0c…","sum":"5b7d11aa"}
    {"number":1,"after":"77b0…","entries":[{"entry":"…","tick":1,…}],"sum":"03c2f9d0"}
"""

from __future__ import annotations

import json
import os
import re
from contextlib import suppress
from dataclasses import dataclass, field
from hashlib import blake2b
from json import JSONEncoder
from typing import TYPE_CHECKING, NamedTuple, TypeGuard
from zlib import crc32

from copydesk.book.common.errors import InvalidValueError, Problem
from copydesk.book.common.progress import in_batches, no_progress

if TYPE_CHECKING:
    from collections.abc import Sequence

    from copydesk.book.common.progress import OnProgress
    from copydesk.store.journal.ledger_store import EntryDict, JsonValue


SCHEMA = 1
"""The form of the ledger this program writes; one with a higher number is only read."""

NO_ENTRY = "Nothing was recorded: an entry needs an id (a text) and a tick (a whole number)"

_SEAL = b',"sum":"%08x"}'
_SEAL_LENGTH = len(_SEAL % 0)
_HIGHEST = 2**53  # what every reader of JSON can count to
_HIGHEST_TICK = 2**40  # ticks go up by one an entry: no ledger reaches it, and counting goes on above one that is false
_TURN = 64  # lines read between two reports of progress; one may hold hundreds of entries
_MIXED = "lines were moved, or two versions of the ledger were put together; copydesk audit --mend sorts them"
_MENDED = "copydesk audit --mend brings back what the mirror has"
_encode = JSONEncoder(ensure_ascii=False, allow_nan=False, separators=(",", ":")).encode


class Header(NamedTuple):
    """What the first line says: the ledger's form and the book it belongs to."""

    schema: int
    book: str


class LedgerLine(NamedTuple):
    """A sound line: where it stands in the file (from 1), its running number, its entries."""

    at: int
    number: int
    entries: list[EntryDict]


_MARKS = (b"<<<<<<<", b"=======", b">>>>>>>", b"|||||||")
"""What version control begins the lines with that it puts between two versions."""


class Damage(NamedTuple):
    """A line that cannot be read: where it stands, what is wrong with it, its bytes."""

    at: int
    what: str
    raw: bytes

    @property
    def is_mark(self) -> bool:
        """Whether it is a mark of version control, in whose place no entry ever stood."""
        return self.raw[:7] in _MARKS


@dataclass(slots=True)
class Scan:
    """What was found in a stretch of a ledger: whole lines, sound and damaged, and an unfinished last one."""

    headers: list[Header] = field(default_factory=list)
    lines: list[LedgerLine] = field(default_factory=list)
    damaged: list[Damage] = field(default_factory=list)
    tail: bytes = b""
    count: int = 0
    """Whole lines of any kind."""
    unended: bool = False
    """Whether the last whole line lacks only its line end."""

    @property
    def is_whole(self) -> bool:
        """Whether, as a file from its beginning, it has no damaged, unfinished, missing or misplaced line."""
        return not (self.damaged or self.tail or breaks(self, 1))

    @property
    def schema(self) -> int:
        """The highest form any header names."""
        return max((header.schema for header in self.headers), default=SCHEMA)

    @property
    def book(self) -> str:
        """The book the first header names; empty where there is none."""
        return self.headers[0].book if self.headers else ""


def new_mark() -> str:
    """A mark for a new book; no two books bear the same."""
    return os.urandom(16).hex()


def header_line(header: Header) -> bytes:
    """The first line of a ledger, with its line end."""
    return _sealed({"ledger": "copydesk", "schema": header.schema, "book": header.book})


def entry_line(number: int, entries: Sequence[EntryDict], before: bytes = b"") -> bytes:
    """The line that keeps these entries together, with its line end; linked to the line ``before`` it, if given.

    Raises:
        InvalidValueError: where a text holds half a character, or a number is not one.
    """
    link: dict[str, JsonValue] = {"after": _digest(before)} if before else {}
    return _sealed({"number": number, **link, "entries": list(entries)})


def _digest(line: bytes) -> str:
    return blake2b(line.rstrip(b"\r\n"), digest_size=8).hexdigest()


_LINKED = re.compile(rb'\{"number":(\d+),"after":"([0-9a-f]{16})",')
_NUMBERED = re.compile(rb'\{"(?:number":(\d+)|ledger")')


def broken_links(data: bytes) -> list[int]:
    """The lines of a ledger (from 1) that follow on the line before by number and by nothing else.

    One of the two was changed after it was written. Lines of older programs bear no link, and are passed over.
    """
    found, before = [], b""
    for at, raw in enumerate(data.split(b"\n"), 1):
        linked, previous = _LINKED.match(raw), _NUMBERED.match(before)
        follows = linked and previous and int(previous[1] or 0) + 1 == int(linked[1])
        if linked and follows and _is_sound(before.rstrip(b"\r")) and _digest(before) != linked[2].decode():
            found.append(at)
        before = raw
    return found


def expect_entries(entries: Sequence[EntryDict]) -> None:
    """See that each of these can be kept.

    Raises:
        InvalidValueError: where one lacks its id or its tick, or cannot be written as a line.
    """
    entry_line(0, entries)
    if not all(map(is_entry, entries)):
        raise InvalidValueError(NO_ENTRY)


def _sealed(content: dict[str, JsonValue | list[EntryDict]]) -> bytes:
    try:
        body = _encode(content)[:-1].encode()
    except UnicodeEncodeError as error:
        half = error.object[error.start : error.end]
        raise InvalidValueError(
            f"the text holds half a character ({half!a}) that cannot be kept; type it again"
        ) from None
    except (ValueError, RecursionError):
        raise InvalidValueError(
            "a value is not a finite number or is nested without end; give plain texts and numbers"
        ) from None
    return body + _SEAL % crc32(body) + b"\n"


def scan(data: bytes, *, first: int = 1, on_progress: OnProgress = no_progress) -> Scan:
    """Read a stretch of a ledger whose first line is line ``first`` of the file; report the share done.

    Never fails: what cannot be read comes back as ``damaged``, and an unfinished last line as ``tail``.
    """
    pieces = data.split(b"\n")
    found = Scan(unended=_is_sound(pieces[-1]))
    found.tail = b"" if found.unended else pieces.pop()
    found.count = len(pieces)
    sound: list[tuple[int, bytes]] = []
    for at, raw in enumerate(pieces, first):
        if _is_sound(raw):
            sound.append((at, raw))
        else:
            _doubtful(at, raw, sound, found)
    for turn in in_batches(sound, on_progress, _TURN):
        for (at, raw), content in zip(turn, _parsed([raw for _, raw in turn]), strict=True):
            _sort(at, raw, content, found)
    found.damaged.sort()
    return found


def _is_sound(raw: bytes) -> bool:
    return raw[-_SEAL_LENGTH:] == _SEAL % crc32(raw[:-_SEAL_LENGTH])


def _doubtful(at: int, raw: bytes, sound: list[tuple[int, bytes]], found: Scan) -> None:
    """A line whose checksum fails as it stands; version control on Windows may have added a carriage return."""
    bare = raw.removesuffix(b"\r")
    if _is_sound(bare):
        sound.append((at, bare))
    elif raw[:7] in _MARKS:
        found.damaged.append(Damage(at, "this line is a mark that version control left between two versions", raw))
    elif not raw.strip(b"\0\r\t "):
        found.damaged.append(Damage(at, "this line is blank", raw))
    else:
        found.damaged.append(Damage(at, "this line is damaged: its checksum does not agree", raw))


def _parsed(raws: list[bytes]) -> list[object]:
    """Some lines as JSON; all at once, which is twice as fast, and one by one where that fails."""
    with suppress(ValueError, RecursionError):
        together = json.loads(b"[" + b",".join(raws) + b"]")
        if len(together) == len(raws):
            return list(together)
    return [_parsed_alone(raw) for raw in raws]


def _parsed_alone(raw: bytes) -> object:
    try:
        return json.loads(raw)
    except (ValueError, RecursionError):
        return None


def _sort(at: int, raw: bytes, content: object, found: Scan) -> None:
    """Put one sound line where it belongs."""
    if isinstance(content, dict):
        number, entries = content.get("number"), content.get("entries")
        if _counts(number) and type(entries) is list and all(map(is_entry, entries)):
            found.lines.append(LedgerLine(at, number, entries))
            return
        schema, book = content.get("schema"), content.get("book")
        if "ledger" in content and type(schema) is int and isinstance(book, str):
            found.headers.append(Header(schema, book))
            return
    found.damaged.append(Damage(at, "this line is whole but holds no entry with an id and a tick that can be", raw))


def breaks(found: Scan, expected: int) -> list[Problem]:
    """Where the running numbers jump, if the first line should carry ``expected``.

    A damaged line accounts for one number. The problems bear the line, not the file.
    """
    problems: list[Problem] = []
    holes = [damage.at for damage in found.damaged if not damage.is_mark]
    before = 0
    for at, number, _ in found.lines:
        if number != expected:
            accounted = sum(before < hole < at for hole in holes)
            if number < expected:
                problems.append(Problem("", at, 0, f"number {number} stands after number {expected - 1}; {_MIXED}"))
            elif number > expected + accounted:
                gone = number - expected - accounted
                said = f"{gone} lines are missing" if gone > 1 else "a line is missing"
                problems.append(Problem("", at, 0, f"{said} before number {number}; {_MENDED}"))
        expected, before = max(expected, number + 1), at
    return problems


def numbers_of_damage(found: Scan) -> dict[int, int]:
    """The running number that each damaged or unfinished line should have carried, by its place in the file.

    The header counts as number 0.
    """
    numbers: dict[int, int] = {}
    number = 0 if found.headers else -1
    places = [(line.at, line.number) for line in found.lines]
    places += [(damage.at, 0) for damage in found.damaged if not damage.is_mark]
    unfinished = [(found.count + 1, 0)] if found.tail else []
    for at, given in sorted(places + unfinished):
        number = given or number + 1
        if not given:
            numbers[at] = number
    return numbers


def is_entry(entry: object) -> TypeGuard[EntryDict]:
    """Whether a value has what every entry must have: an id, and a tick that can be one."""
    return type(entry) is dict and type(entry.get("entry")) is str and _counts(entry.get("tick"), _HIGHEST_TICK)


def _counts(number: object, highest: int = _HIGHEST) -> TypeGuard[int]:
    return type(number) is int and 0 <= number <= highest
