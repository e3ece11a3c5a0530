"""The one owner of standard error, and the exit codes."""

from __future__ import annotations

import sys
from enum import IntEnum
from typing import TYPE_CHECKING

from copydesk.book.common.sanitize import sanitize

if TYPE_CHECKING:
    from copydesk.book.common.errors import CopydeskError


class ExitCode(IntEnum):
    """How a command ended."""

    DONE = 0
    NO = 1  # the answer is no: not ready, faults found
    REFUSED = 2  # bad usage or bad input: nothing was changed
    BROKEN = 70  # a mistake in copydesk itself, as sysexits.h numbers it
    INTERRUPTED = 130


def refuse(refused: CopydeskError) -> ExitCode:
    """Say what was refused, a line each."""
    for problem in refused.problems:
        remark(str(problem))
    return ExitCode.REFUSED


def broken(error: Exception) -> ExitCode:
    """Say where copydesk itself went wrong, for whoever looks after it."""
    from traceback import extract_tb

    at = extract_tb(error.__traceback__)[-1]
    what = f"{type(error).__name__}: {error}" if str(error) else type(error).__name__
    remark(
        f"{at.filename}:{at.lineno}: a mistake in copydesk itself, {what}; what was recorded is safe on disk; tell "
        "whoever looks after copydesk, with this line and what you asked for"
    )
    return ExitCode.BROKEN


def remark(*lines: str) -> None:
    """Tell a person something beside the result."""
    for line in lines:
        print(f"copydesk: {sanitize(line)}", file=sys.stderr)
