"""The texts that people put into a book folder: the exemplar, samples of hands, transcriptions of pages."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.hands.hand_sample import SampleLine, read_sample
from copydesk.store.files.text_file import bad_file, decode, harmless, holds_controls, read_bytes

if TYPE_CHECKING:
    from pathlib import Path


LARGEST_EXEMPLAR = 1_000_000_000
"""Bytes; some 150 million words, more than any book holds."""
LARGEST_SAMPLE = 4_000_000
"""Bytes; a sample is a page or two."""
LARGEST_TRANSCRIPTION = 1_000_000
"""Bytes; more than any page holds."""


def read_exemplar_file(path: Path, name: str) -> str:
    """The text of the exemplar.

    A control character (other than tabs, line ends and page ends) is kept as the sign that stands for it in
    print, so that it takes its room and is seen, and no terminal obeys it.

    Args:
        path: where the file lies.
        name: what a person knows it by.

    Raises:
        PathError: where it is missing or cannot be read.
        BadFileError: where it is too large, or not UTF-8 (with line and column).
    """
    data = read_bytes(path, name, LARGEST_EXEMPLAR)
    text = decode(data, name)
    return harmless(text) if holds_controls(data) else text


def read_sample_file(path: Path, name: str) -> tuple[SampleLine, ...]:
    """The lines of a sample.

    Args:
        path: where the file lies.
        name: what a person knows it by.

    Raises:
        BadFileError: where it is missing, cannot be read, is not UTF-8, holds no lines, or a length that is none;
            each with its line and column.
    """
    return read_sample(harmless(decode(read_bytes(path, name, LARGEST_SAMPLE), name)), name)


def read_transcription_file(path: Path, name: str) -> str:
    """The text of a transcription's file.

    Raises:
        BadFileError: where it cannot be read, is not UTF-8, is far too long for a page, or holds no word.
    """
    return transcription_from(read_bytes(path, name, LARGEST_TRANSCRIPTION), name)


def transcription_from(data: bytes, name: str) -> str:
    """A transcription from its bytes; ``name`` is what a person knows them by.

    Raises:
        BadFileError: as for ``read_transcription_file``.
    """
    if len(data) > LARGEST_TRANSCRIPTION:
        raise bad_file(name, "is far longer than a page; send the transcription of one page")
    text = harmless(decode(data, name))
    if not text.split():
        raise bad_file(name, "holds no word; put the page's transcription there")
    return text
