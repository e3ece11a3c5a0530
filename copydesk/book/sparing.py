"""Sparing the garbage collector while a whole book is read: what is made then is much, and all of it stays."""

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
