"""Reporting how far a long piece of work is; whoever receives the reports may stop the work by raising an error."""

from __future__ import annotations

from collections.abc import Callable
from itertools import chain, islice
from typing import TYPE_CHECKING, TypeVar

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence


T = TypeVar("T")

OnProgress = Callable[[float], None]
"""Called with the share of the work that is done, from 0 to 1."""


def no_progress(share: float) -> None:
    """Report to nobody."""


def part(on_progress: OnProgress, low: float, high: float) -> OnProgress:
    """What a piece of work reports to that is itself the part from ``low`` to ``high`` of a longer one."""
    return lambda share: on_progress(low + share * (high - low))


def with_progress(items: Sequence[T], on_progress: OnProgress, batch: int) -> Iterator[T]:
    """The items one by one; the share done is reported before each ``batch`` of them.

    Going through this costs no more than going through the items.
    """
    return chain.from_iterable(_batches(items, on_progress, batch))


def _batches(items: Sequence[T], on_progress: OnProgress, batch: int) -> Iterator[Iterator[T]]:
    every = iter(items)
    for at in range(0, len(items), batch):
        on_progress(at / len(items))
        yield islice(every, batch)


def in_batches(items: Sequence[T], on_progress: OnProgress, batch: int) -> Iterator[Sequence[T]]:
    """The items in order, ``batch`` at a time; the share done is reported before each batch."""
    for at in range(0, len(items), batch):
        on_progress(at / len(items))
        yield items[at : at + batch]
