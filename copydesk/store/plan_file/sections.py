"""How the keys of ``book.yaml`` are declared: what stands under a key, in which order, with which help.

A key holds one value (a ``ValueKind``), a section of further keys, a list, or values under keys that people choose.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.store.plan_file.scalars import ValueKind

if TYPE_CHECKING:
    from collections.abc import Callable


class PlanKey(NamedTuple):
    """A key people write: its name, what it holds, one line of help, and whether a book cannot do without it."""

    name: str
    holds: Holds
    help: str
    needed: bool = False


class Section(NamedTuple):
    """Keys under a key; ``make`` builds the value from them; ``short`` is the key that a lone value is meant for."""

    keys: tuple[PlanKey, ...]
    make: Callable[..., object]
    short: str = ""

    @property
    def wanted(self) -> str:
        """What may stand there, in words that follow ``write``."""
        needed = [key.name for key in self.keys if key.needed] or [key.name for key in self.keys[:3]]
        return "keys under it, such as " + ", ".join(needed)


def section(make: Callable[..., object], *keys: PlanKey, short: str = "") -> Section:
    """A section of these keys; see ``Section``."""
    return Section(keys, make, short)


class ListOf(NamedTuple):
    """Values of one sort, each on a line of its own behind ``- ``.

    Where ``lone``, one may stand without a list.
    """

    sort: Holds
    lone: bool = False

    @property
    def wanted(self) -> str:
        """What may stand there, in words that follow ``write``."""
        return f"a list, each item {self.sort.wanted}"


class ByName(NamedTuple):
    """Values of one sort under keys that people choose; ``key`` says what those may be.

    ``called`` says what a key is, as in ``the name of a hand``.
    """

    key: ValueKind
    sort: Holds
    called: str

    @property
    def wanted(self) -> str:
        """What may stand there, in words that follow ``write``."""
        return f"keys under it, each {self.key.wanted}"


class Loose(NamedTuple):
    """Values of one sort as they stand: alone, in lists, or under keys that people choose; as plain dicts and lists."""

    sort: ValueKind

    @property
    def wanted(self) -> str:
        """What may stand there, in words that follow ``write``."""
        return f"keys under it with {self.sort.wanted}"


Holds = Section | ListOf | ByName | Loose | ValueKind
"""What a key may hold."""


class KnownKey(NamedTuple):
    """A key as the help shows it: where it stands, what it wants, what it is, and whether it is needed."""

    path: str
    wanted: str
    help: str
    needed: bool


def keys_under(section: Section, above: str = "") -> list[KnownKey]:
    """Every key of a section and of the sections within it, in their order.

    Args:
        section: where to begin.
        above: what the paths begin with; empty, or a path that ends in a full stop.
    """
    found: list[KnownKey] = []
    for key in section.keys:
        path = f"{above}{key.name}"
        found.append(KnownKey(path, key.holds.wanted, key.help, key.needed))
        inner = key.holds
        while isinstance(inner, ListOf | ByName):
            inner = inner.sort
        if isinstance(inner, Section):
            found += keys_under(inner, f"{path}.")
    return found
