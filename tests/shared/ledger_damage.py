"""Ways to damage a ledger and its mirror, and what must be read, said and mended afterwards."""

from __future__ import annotations

import shutil
from typing import TYPE_CHECKING

from copydesk.store.journal.audit import audit, mend
from copydesk.store.journal.ledger_file import LedgerFile
from ledger_trials import draft, names, read_again

if TYPE_CHECKING:
    import random
    from collections.abc import Callable
    from pathlib import Path


def _flip(data: bytearray, chance: random.Random) -> None:
    data[chance.randrange(len(data))] ^= 1 << chance.randrange(8)


def _cut(data: bytearray, chance: random.Random) -> None:
    del data[chance.randrange(len(data)) :]


def _zero(data: bytearray, chance: random.Random) -> None:
    start = chance.randrange(len(data))
    end = min(len(data), start + chance.randrange(1, 600))
    data[start:end] = bytes(end - start)


def _scramble(data: bytearray, chance: random.Random) -> None:
    start = chance.randrange(len(data))
    end = min(len(data), start + chance.randrange(1, 300))
    data[start:end] = chance.randbytes(end - start)


def _insert(data: bytearray, chance: random.Random) -> None:
    start = chance.randrange(len(data) + 1)
    data[start:start] = chance.choice([b"\n", b"\0", b"<<<<<<< ours\n", b"{}\n", b'"]', chance.randbytes(50)])


def _lines(change: Callable[[list[bytes], random.Random], None]) -> Callable[[bytearray, random.Random], None]:
    def on_lines(data: bytearray, chance: random.Random) -> None:
        lines = bytes(data).splitlines(keepends=True)
        if len(lines) > 1:
            change(lines, chance)
        data[:] = b"".join(lines)

    return on_lines


def _drop(lines: list[bytes], chance: random.Random) -> None:
    del lines[chance.randrange(len(lines))]


def _swap(lines: list[bytes], chance: random.Random) -> None:
    one, other = chance.sample(range(len(lines)), 2)
    lines[one], lines[other] = lines[other], lines[one]


def _repeat(lines: list[bytes], chance: random.Random) -> None:
    lines.insert(chance.randrange(len(lines) + 1), chance.choice(lines))


HURTS = (_flip, _flip, _cut, _zero, _scramble, _insert, _lines(_drop), _lines(_swap), _lines(_repeat))


def damage_and_mend(top: Path, ways: int, chance: random.Random) -> dict[str, int]:
    """Damage a ledger in this many ways (the mirror too, in every fourth) and check what is read, said and mended.

    Returns:
        How many entries were left out at first, brought back, and lost with both copies.
    """
    figures = {"left out": 0, "brought back": 0, "lost": 0}
    sound = top / "sound"
    sound.mkdir()
    ledger = LedgerFile(sound, desk="a")
    for number in range(12):
        ledger.append(draft(f"e{number}", note="“über die Furt”\u202e\x1b[31m" * (number % 3)))
    ledger.append_many([draft("b0"), draft("b1"), draft("b2")])
    for way in range(ways):
        book = top / f"way{way}"
        shutil.copytree(sound, book)
        _hurt(book / "ledger.jsonl", chance)
        both = way % 4 == 3
        if both:
            _hurt(book / ".copydesk" / "ledger.mirror.jsonl", chance)
        _check_damaged(book, names(ledger.entries()), both, figures)
        shutil.rmtree(book)
    return figures


def _hurt(path: Path, chance: random.Random) -> None:
    data = bytearray(path.read_bytes())
    before = bytes(data)
    while bytes(data) == before:
        for _ in range(chance.choice([1, 1, 2, 3])):
            if data:
                chance.choice(HURTS)(data, chance)
    path.write_bytes(data)


def _check_damaged(book: Path, written: list[str], both: bool, figures: dict[str, int]) -> None:
    path = book / "ledger.jsonl"
    hurt = path.read_bytes()
    opened = LedgerFile(book, desk="b")
    found = names(opened.entries())
    assert path.read_bytes() == hurt, "opening changes nothing"
    assert set(found) <= set(written), "an entry nobody wrote"
    assert len(found) == len(set(found)), "an entry is doubled"
    assert _told(set(found), written, both, opened.notes), "entries are left out and nothing says so"
    assert _told(set(found), written, both, audit(book)), "entries are left out and the audit is silent"
    assert audit(book) or found == written[: len(found)], "entries are out of order and the audit is silent"
    if not opened.why_read_only:
        opened.append(draft("more"))
        assert [*found, "more"] == read_again(book), "writing on lost an entry"
    done = mend(book)
    after = read_again(book)
    assert set(found) <= set(after), "mending lost an entry"
    assert audit(book) == (), "mending leaves something"
    assert both or [name for name in after if name != "more"] == written, "the mirror had everything"
    assert _told(set(after), written, both, done.lost), "entries are lost and nothing says so"
    _expect_kept(book, hurt)
    figures["left out"] += len(set(written) - set(found))
    figures["brought back"] += len(set(after) - set(found) - {"more"})
    figures["lost"] += len(set(written) - set(after))


def _told(found: set[str], written: list[str], both: bool, sentences: tuple[object, ...]) -> bool:
    """Whether what is missing is spoken of. The end cut off both copies cannot be known by anyone."""
    missing = [name for name in written if name not in found]
    return not missing or bool(sentences) or (both and missing == written[len(written) - len(missing) :])


def _expect_kept(book: Path, hurt: bytes) -> None:
    """Every damaged byte is still in the ledger or was set aside."""
    whole = hurt.rfind(b"\n") + 1
    kept = [book / "ledger.jsonl", *(book / ".copydesk").glob("set-aside-*")]
    contents = [path.read_bytes() for path in kept]
    assert any(content.startswith(hurt[:whole]) for content in contents), "damaged lines were thrown away"
    assert any(hurt[whole:] in content for content in contents), "an unfinished line was thrown away"
