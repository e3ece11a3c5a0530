"""Which entries whoever made an entry knew of, as the entries tell it themselves.

An entry notes the newest entries known where it was made (``knew``); what those knew is known as well. So two copies of
a ledger that were written apart are told apart whatever their desks are called. Entries of programs that noted nothing
are taken to know one another in their order.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.tracking.ledger.entry import KNEW

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from copydesk.tracking.ledger.entry import Entry


class _Stand(NamedTuple):
    """Where an entry stands among all, and what it knew.

    Attributes:
        at: its place in the ledger's order, from 0.
        whole: all entries up to this place were known.
        chain: the run of entries it belongs to, each known to the next.
        step: its place in that run.
        others: how far it knew other runs, beyond ``whole``.
    """

    at: int
    whole: int
    chain: int
    step: int
    others: Mapping[int, int]


class Knowledge:
    """Follows a ledger's entries in their order; a ledger into which an older entry is put needs a new one.

    Keeping for each entry all that it knew would grow with the square of the ledger. Most entries know all before them
    and one number says so; only where copies were written apart is anything more kept.
    """

    def __init__(self) -> None:
        self._stands: dict[str, _Stand] = {}
        self._ends: dict[int, int] = {}
        self._newest: dict[str, None] = {}
        self._silent = ""

    def follow(self, entries: Sequence[Entry]) -> None:
        """Take in the entries that came after those taken in before."""
        for at in range(len(self._stands), len(entries)):
            self._take(at, entries[at])

    def _take(self, at: int, entry: Entry) -> None:
        silent = KNEW not in entry.facts
        named = [self._silent] if silent else entry.text(KNEW).split()
        if silent:
            self._silent = entry.entry
        before = [name for name in named if name in self._stands]
        for name in before:
            self._newest.pop(name, None)
        self._newest[entry.entry] = None
        knew_all = len(self._newest) == 1
        self._stands[entry.entry] = stand = self._stand(at, [self._stands[name] for name in before], whole=knew_all)
        self._ends[stand.chain] = stand.step

    def _stand(self, at: int, before: list[_Stand], *, whole: bool) -> _Stand:
        upto = at if whole else max((each.whole for each in before), default=-1)
        if len(before) == 1 and self._ends[before[0].chain] == before[0].step:
            (last,) = before
            return _Stand(at, upto, last.chain, last.step + 1, {} if whole else last.others)
        others: dict[int, int] = {}
        for each in () if whole else before:
            for chain, step in (*each.others.items(), (each.chain, each.step)):
                others[chain] = max(step, others.get(chain, -1))
        return _Stand(at, upto, at, 0, others)

    def knew(self, after: str, before: str) -> bool:
        """Whether whoever made ``after`` knew of ``before``; both must have been taken in."""
        one, other = self._stands[after], self._stands[before]
        known = one.step if one.chain == other.chain else one.others.get(other.chain, -1)
        return other.at <= one.whole or other.step <= known

    @property
    def newest(self) -> tuple[str, ...]:
        """The entries that no other knew of: whoever knows these knows all."""
        return tuple(self._newest)
