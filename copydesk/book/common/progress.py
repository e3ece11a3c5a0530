"""Letting whoever waits for a long work hear how far it is; whoever hears may stop it by raising."""

from __future__ import annotations

from collections.abc import Callable
from itertools import chain, islice
from typing import TYPE_CHECKING, TypeVar

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence


T = TypeVar("T")

Hear = Callable[[float], None]
"""Hears how much of a work is done, from 0 to 1."""


def unheard(share: float) -> None:
    """Nobody waits."""


def part(hear: Hear, low: float, high: float) -> Hear:
    """Hears of a work that is itself the part from ``low`` to ``high`` of a longer one."""
    return lambda share: hear(low + share * (high - low))


def heard(items: Sequence[T], hear: Hear, turn: int) -> Iterator[T]:
    """The items one by one; before each ``turn`` of them it is heard how many are behind.

    To go through this costs no more than to go through the items.
    """
    return chain.from_iterable(_taken(items, hear, turn))


def _taken(items: Sequence[T], hear: Hear, turn: int) -> Iterator[Iterator[T]]:
    every = iter(items)
    for at in range(0, len(items), turn):
        hear(at / len(items))
        yield islice(every, turn)


def by_turns(items: Sequence[T], hear: Hear, turn: int) -> Iterator[Sequence[T]]:
    """The items in order, ``turn`` at a time; before each turn it is heard how many are behind."""
    for at in range(0, len(items), turn):
        hear(at / len(items))
        yield items[at : at + turn]
