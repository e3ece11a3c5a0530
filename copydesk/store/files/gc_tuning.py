"""Sparing the garbage collector while a program starts and reads its book: much is made then, and nearly all stays.

Every so many new objects the collector looks at all there are so far, which takes a third of the time in a large book.
"""

from __future__ import annotations

import gc

_RARELY = 1_000_000
"""Objects made before the collector looks for the first time while the program starts."""

_USUALLY = 10_000
"""Objects made between two looks once the desk stands; a look at so few is not felt."""


def collect_rarely() -> None:
    """Let nothing be looked through while the program starts; a short command ends before anything is."""
    gc.set_threshold(_RARELY)


def collect_as_usual() -> None:
    """The start is over: look through what is made from now on, and never again through what stands by now."""
    if gc.get_threshold()[0] == _RARELY:
        gc.freeze()
        gc.set_threshold(_USUALLY)
