"""A hand's sample file: lines it wrote, some with their length in mm."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.sample import SampleLine, read_sample
from copydesk.store.text_file import decode, harmless, read_bytes

if TYPE_CHECKING:
    from pathlib import Path

LARGEST = 4_000_000
"""Bytes; a sample is a page or two."""


def read_sample_file(path: Path, name: str) -> tuple[SampleLine, ...]:
    """The lines of a sample.

    Args:
        path: where the file lies.
        name: what a person knows it by.

    Raises:
        Refused: where it is missing, cannot be read, is not UTF-8, holds no lines, or a length that is none;
            each with its line and column.
    """
    return read_sample(harmless(decode(read_bytes(path, name, LARGEST), name)), name)
