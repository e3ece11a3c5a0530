"""From drafts to entries: what every store does with what it is asked to keep, before it keeps it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.errors import Refused

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from copydesk.store.journal.ledger_store import Draft, EntryDict


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
    """Those not kept before (a desk that was not told that an entry is safe may ask again).

    Raises:
        Refused: where an id stands for another entry already.
    """
    new: dict[str, EntryDict] = {}
    for entry in entries:
        name = str(entry.get("entry"))
        kept = known.get(name) or new.setdefault(name, entry)
        if kept is not entry and not same_but_for_time(kept, entry):
            raise Refused(f"Nothing was recorded: the id {name!r} belongs to another entry; give a new one")
    return list(new.values())


def same_but_for_time(one: EntryDict, other: EntryDict) -> bool:
    """Whether two entries say the same, whenever they were made."""
    return _apart_from_time(one) == _apart_from_time(other)


def _apart_from_time(entry: EntryDict) -> EntryDict:
    return {key: value for key, value in entry.items() if key not in ("tick", "at")}
