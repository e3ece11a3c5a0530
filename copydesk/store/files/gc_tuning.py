"""Sparing the garbage collector while a program starts and a whole book is read: much is made then, and it stays."""

from __future__ import annotations

import gc
from contextlib import contextmanager
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator


@contextmanager
def no_collecting() -> Iterator[None]:
    """Do without collecting; every so many objects the collector would look at all that is there so far.

    That look grows with what was read before, so that reading would take more than its share in a large book.
    """
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


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
