"""Bytes of a text file to text: the size it may have, UTF-8, the byte order mark, control characters."""

from __future__ import annotations

import codecs
import os
import re
import stat
from contextlib import suppress
from typing import TYPE_CHECKING

from copydesk.book.common.errors import BadFileError, PathError, Problem

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path


_LAYOUT = b"\t\n\v\f\r"
_CONTROLS = bytes(code for code in (*range(0x20), 0x7F) if code not in _LAYOUT)
_PICTURES = {code: 0x2400 + code for code in range(0x20) if code not in _LAYOUT} | {0x7F: 0x2421}
_PICTURES |= {code: 0xFFFD for code in range(0x80, 0xA0) if code != 0x85}
_CONTROL = re.compile(f"[{re.escape(''.join(map(chr, _PICTURES)))}]")
_HIGH_CONTROL = re.compile(rb"\xc2[\x80-\x84\x86-\x9f]")
_HIGH_BYTE = re.compile(rb"[\x80-\x9f]")
_UTF_16_OR_32 = (codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE, codecs.BOM_UTF32_BE)


def bad_file(name: str, *sentences: str) -> BadFileError:
    """The error for a file that a person knows by ``name``: what is wrong with it, where no line can be named."""
    return BadFileError(*(Problem(name, 0, 0, sentence) for sentence in sentences))


def read_bytes(path: Path, name: str, most: int) -> bytes:
    """The bytes of an ordinary file.

    Args:
        path: where it lies.
        name: what a person knows it by.
        most: the most bytes it may have.

    Raises:
        CopydeskError: where it is missing, is no ordinary file, cannot be read, or is larger than ``most``.
    """
    try:
        status = path.stat()
        if not stat.S_ISREG(status.st_mode):
            raise PathError(Problem(name, 0, 0, "is not an ordinary file; put a text file there"))
        with path.open("rb", buffering=0) as file:
            data = file.read(most + 1) if status.st_size > most else file.read()
    except OSError as error:
        raise PathError(Problem(name, 0, 0, _why_unread(error))) from None
    if len(data) > most:
        what = f"is larger than {most // 1_000_000} MB; no such file is this long, so look whether it is the right one"
        raise bad_file(name, what)
    return data


def _why_unread(error: OSError) -> str:
    if isinstance(error, FileNotFoundError):
        return "there is no such file; put it there, or correct the name"
    if isinstance(error, PermissionError):
        return "this account may not read it; ask for the right to"
    return f"cannot be read: {os.strerror(error.errno) if error.errno else error}; put that right and try again"


def decode(data: bytes, name: str) -> str:
    """UTF-8 bytes as text, a byte order mark taken off.

    Raises:
        CopydeskError: at the first byte that is not UTF-8, with its line and column (in characters, from 1).
    """
    if data.startswith(_UTF_16_OR_32):
        raise BadFileError(Problem(name, 1, 1, "is UTF-16 or UTF-32, not UTF-8; save it again as UTF-8"))
    try:
        return data.decode("utf-8").removeprefix("\ufeff")
    except UnicodeDecodeError as error:
        before = data[: error.start].decode("utf-8").removeprefix("\ufeff")
        line, column = place_of(before, len(before))
        what = f"the byte {data[error.start]:02x} here is not UTF-8; save the file again as UTF-8"
        raise BadFileError(Problem(name, line, column, what)) from None


def in_another_code(data: bytes) -> tuple[str, str] | None:
    """The code that bytes which are not UTF-8 may be in, and how they read in it; None where they are, or none fits.

    Latin-1 and Windows-1252 read the bytes from a0 on alike; those before are letters in the latter alone.
    """
    code, name = "cp1252", "Latin-1" if _HIGH_BYTE.search(data) is None else "Windows-1252"
    if data.startswith(_UTF_16_OR_32):
        code = "utf-32" if data.startswith((codecs.BOM_UTF32_LE, codecs.BOM_UTF32_BE)) else "utf-16"
        name = code.upper()
    else:
        with suppress(UnicodeDecodeError):
            data.decode("utf-8")
            return None
    with suppress(UnicodeDecodeError):
        return name, data.decode(code)
    return None


def place_of(text: str, index: int) -> tuple[int, int]:
    """Line and column, from 1, of the character at ``index``; lines end as most editors end them."""
    before = text[:index].replace("\r\n", "\n").replace("\r", "\n")
    return before.count("\n") + 1, len(before) - before.rfind("\n")


def holds_controls(data: bytes) -> bool:
    """Whether UTF-8 ``data`` holds control characters other than those that lay text out."""
    return len(data.translate(None, _CONTROLS)) != len(data) or _HIGH_CONTROL.search(data) is not None


def controls_in(text: str) -> Iterator[int]:
    """Where control characters stand that do not lay text out."""
    return (found.start() for found in _CONTROL.finditer(text))


def harmless(text: str) -> str:
    """``text`` with each control character as the sign that stands for it in print (ESC as ``\u241b``)."""
    return text.translate(_PICTURES)


def shown(text: str, longest: int = 40) -> str:
    """``text`` between quotation marks for a sentence: cut to ``longest``, with nothing in it a terminal would obey."""
    return repr(text if len(text) <= longest else text[: longest - 1] + "\u2026")
