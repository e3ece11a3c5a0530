"""The lines of a ledger: written, checked, read."""

from __future__ import annotations

import json
import zlib
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.store.journal.line_format import Header, breaks, entry_line, header_line, numbers_of_damage, scan
from ledger_trials import draft

HEAD = header_line(Header(1, "b0"))


def entry(name: str, tick: int = 1) -> dict[str, Any]:
    return {**draft(name), "tick": tick}


def ledger(count: int) -> bytes:
    return HEAD + b"".join(entry_line(number, [entry(f"e{number}", number)]) for number in range(1, count + 1))


def test_a_line_is_plain_json_whose_checksum_covers_all_before_it() -> None:
    line = entry_line(7, [entry("a")])
    assert json.loads(line) == {"number": 7, "entries": [entry("a")], "sum": line[-11:-3].decode()}
    assert int(line[-11:-3], 16) == zlib.crc32(line[:-19])
    assert line.count(b"\n") == 1


def test_a_ledger_reads_back() -> None:
    found = scan(ledger(3))
    assert (found.schema, found.book, found.tail, found.damaged, found.count) == (1, "b0", b"", [], 4)
    assert [(line.at, line.number, line.entries[0]["entry"]) for line in found.lines] == [
        (2, 1, "e1"),
        (3, 2, "e2"),
        (4, 3, "e3"),
    ]
    assert breaks(found, 1) == []


def test_every_flipped_bit_is_noticed() -> None:
    sound = ledger(2)
    for position in range(len(sound)):
        for bit in range(8):
            hurt = bytearray(sound)
            hurt[position] ^= 1 << bit
            found = scan(bytes(hurt))
            assert found.damaged or found.tail or found.unended, (position, bit)
            assert all(line.entries[0] in (entry("e1", 1), entry("e2", 2)) for line in found.lines)


def test_at_every_cut_the_whole_lines_are_read() -> None:
    sound = ledger(3)
    ends = [position for position, byte in enumerate(sound) if byte == ord("\n")]
    for cut in range(len(sound)):
        found = scan(sound[:cut])
        assert len(found.lines) + len(found.headers) == sum(end <= cut for end in ends)
        assert found.unended == (cut in ends)
        assert bool(found.tail) == (cut not in ends and cut - 1 not in ends and cut > 0)


@settings(max_examples=200)
@given(data=st.binary(max_size=300) | st.binary(max_size=60).map(lambda noise: ledger(1) + noise + ledger(1)))
def test_no_bytes_make_reading_fail(data: bytes) -> None:
    found = scan(data)
    whole = len(found.lines) + len(found.headers) + len(found.damaged)
    assert whole == found.count
    assert data.endswith(found.tail)


@pytest.mark.parametrize(
    "content",
    [
        "[]",
        "7",
        '"text"',
        '{"number":1,"entries":{}}',
        '{"number":1,"entries":[7]}',
        '{"number":-1,"entries":[]}',
        '{"number":true,"entries":[]}',
        '{"number":1,"entries":[{"entry":"a","tick":1.5}]}',
        '{"number":1,"entries":[{"entry":"a","tick":9007199254740993}]}',
        '{"ledger":"copydesk","schema":"new","book":"b"}',
        '{"number":1,"entries":[]},{"number":2,"entries":[]}',
        '{"number":1,"entries":' + "[" * 100_000,
        '{"number":' + "9" * 5000 + ',"entries":[]}',
        "\udc80",
    ],
)
def test_a_line_with_a_good_checksum_and_strange_content_is_damaged(content: str) -> None:
    body = content.removesuffix("}").encode(errors="surrogateescape")
    strange = body + b',"sum":"%08x"}' % zlib.crc32(body) + b"\n"
    found = scan(HEAD + strange + entry_line(1, [entry("a")]))
    assert [damage.at for damage in found.damaged] == [2]
    assert [line.entries for line in found.lines] == [[entry("a")]]


def test_carriage_returns_of_version_control_do_no_harm() -> None:
    found = scan(ledger(3).replace(b"\n", b"\r\n"))
    assert (len(found.lines), found.damaged) == (3, [])


@pytest.mark.parametrize("mark", [b"<<<<<<< ours", b"=======", b">>>>>>> theirs", b"||||||| base"])
def test_marks_of_version_control_are_named(mark: bytes) -> None:
    [damage] = scan(HEAD + mark + b"\n").damaged
    assert "version control" in damage.what


def test_numbers_that_jump_are_named() -> None:
    lines = ledger(6).splitlines(keepends=True)
    missing = breaks(scan(b"".join(lines[:3] + lines[5:])), 1)
    assert [(problem.line, problem.what[:40]) for problem in missing] == [
        (4, "2 lines are missing before number 5; cop")
    ]
    [alone] = breaks(scan(b"".join(lines[:3] + lines[4:])), 1)
    assert alone.what.startswith("a line is missing before number 4; ")
    swapped = breaks(scan(b"".join([*lines[:3], lines[4], lines[3], *lines[5:]])), 1)
    assert [problem.line for problem in swapped] == [4, 5]
    doubled = breaks(scan(b"".join([*lines[:3], lines[2], *lines[3:]])), 1)
    assert [problem.line for problem in doubled] == [4]


def test_a_damaged_line_accounts_for_one_number() -> None:
    lines = ledger(6).splitlines(keepends=True)
    lines[3] = b"gone\n"
    found = scan(b"".join(lines))
    assert breaks(found, 1) == []
    assert numbers_of_damage(found) == {4: 3}
    del lines[4]
    assert [problem.line for problem in breaks(scan(b"".join(lines)), 1)] == [5]


def test_a_damaged_header_and_an_unfinished_end_get_their_numbers() -> None:
    lines = ledger(2).splitlines(keepends=True)
    found = scan(b"gone\n" + b"".join(lines[1:]) + b'{"numb')
    assert numbers_of_damage(found) == {1: 0, 4: 3}
    assert found.book == ""
