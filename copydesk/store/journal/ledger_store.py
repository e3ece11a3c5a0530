"""What any keeper of a book's entries promises, whatever it is, and what every one does with new entries first."""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol

from copydesk.book.common.errors import InvalidValueError

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence
    from typing import TypeAlias


JsonValue: TypeAlias = "bool | int | float | str | list[JsonValue] | dict[str, JsonValue] | None"
EntryDict: TypeAlias = "dict[str, JsonValue]"
"""An entry as it is kept. Every one has ``entry`` (its id), ``tick``, ``at``, ``desk`` and ``what``.

``tick`` orders entries of all desks: each new one is above every tick its desk has seen. Fields a newer
program wrote are carried along untouched.
"""
Draft: TypeAlias = "EntryDict | Callable[[int], EntryDict]"
"""An entry still to be kept: whole but for its tick, or a function that makes it from the tick it gets."""


class LedgerStore(Protocol):
    """Keeps the entries of one book: they are added, never changed and never removed.

    Whatever keeps them, these hold: an entry is safe once ``append`` has returned it; when ``append`` raises,
    the entry was not acknowledged; every entry is handed out once, by ``entries``, ``append`` or ``refresh``;
    an id that is already there is acknowledged again and not kept twice.
    """

    desk: str
    """The desk that writes through this store."""

    @property
    def generation(self) -> int:
        """Goes up when what was read before no longer stands; then take ``entries()`` afresh."""

    @property
    def notes(self) -> tuple[str, ...]:
        """Sentences for people: what was damaged, set aside, missing, or is newer than this program."""

    def news(self) -> list[str]:
        """Sentences on what happened to the ledger since this was asked last, for whoever sits at the desk."""

    @property
    def why_read_only(self) -> str:
        """The sentence that says why nothing can be recorded here; empty where it can."""

    def entries(self) -> list[EntryDict]:
        """All entries that can be read, in the order they were kept."""

    def append(self, draft: Draft) -> EntryDict:
        """Keep one entry; safe when this returns.

        A function given as ``draft`` is called once the entries of other desks are in: ``refresh`` may be
        called inside it to take those first.

        Raises:
            CopydeskError: where it cannot be kept; then nothing was recorded.
        """
        return self.append_many([draft])[0]

    def append_many(self, drafts: Sequence[Draft]) -> list[EntryDict]:
        """Keep several entries together: all of them are safe when this returns, or none was recorded.

        Raises:
            CopydeskError: where they cannot be kept.
        """

    def refresh(self) -> list[EntryDict]:
        """Entries not handed out before: what other desks added. Cheap where there is nothing new.

        With a server, what another desk added comes once its call has arrived, a moment later.

        Raises:
            CopydeskError: where the ledger cannot be reached; what was read before still stands.
        """

    def close(self) -> None:
        """Close everything that is open."""


def entries_of(drafts: Sequence[Draft], first: int, desk: str) -> list[EntryDict]:
    """The entries whole, each with its tick; ticks are counted up from ``first``, and stay below those made later."""
    return [
        draft(tick) if callable(draft) else {"desk": desk, **draft, "tick": tick}
        for tick, draft in enumerate(drafts, first)
    ]


def as_it_is(entry: EntryDict) -> Draft:
    """A draft that keeps an entry as it was made elsewhere, its tick and all."""
    return lambda _tick: entry


def new_among(entries: Sequence[EntryDict], known: Mapping[str, EntryDict]) -> list[EntryDict]:
    """Those not kept before (a desk that did not learn that an entry is safe may ask again).

    Raises:
        InvalidValueError: where an id stands for another entry already.
    """
    new: dict[str, EntryDict] = {}
    for entry in entries:
        name = str(entry.get("entry"))
        kept = known.get(name) or new.setdefault(name, entry)
        if kept is not entry and not same_but_for_time(kept, entry):
            raise InvalidValueError(f"Nothing was recorded: the id {name!r} belongs to another entry; give a new one")
    return list(new.values())


def same_but_for_time(one: EntryDict, other: EntryDict) -> bool:
    """Whether two entries say the same, whenever they were made."""
    return _apart_from_time(one) == _apart_from_time(other)


def _apart_from_time(entry: EntryDict) -> EntryDict:
    return {key: value for key, value in entry.items() if key not in ("tick", "at")}
