"""What cannot be right in a formula that can be read: said in words, for a person to judge."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.phrases import count_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from copydesk.book.formula.parts import Break, FormulaGathering


def doubts(
    gatherings: Sequence[FormulaGathering], breaks: Sequence[Break], stated: tuple[int, int, int] | None
) -> Iterator[str]:
    """Each thing that cannot be right: the order of the names, odd gatherings, totals that differ."""
    yield from _order(gatherings, {stop.after for stop in breaks if stop.boundary})
    yield from _odd(gatherings)
    yield from _totals(gatherings, breaks, stated)


def _order(gatherings: Sequence[FormulaGathering], boundaries: set[int]) -> Iterator[str]:
    """Names that go back, or leave some out. After a boundary a booklet may begin again from the first."""
    last: dict[str, int] = {}
    for at, gathering in enumerate(gatherings):
        name = gathering.name
        before = last.get(name.series)
        last[name.series] = name.number
        if name.series == "sign" or before is None or (at in boundaries and name.number == 1):
            continue
        if name.number <= before:
            earlier = _named_before(gatherings[:at], name.series)
            yield f"the numbering goes back: gathering {name.text} follows {earlier}"
        elif name.number > before + 1:
            yield _left_out(name.number - before - 1, _named_before(gatherings[:at], name.series), name.text)


def _named_before(gatherings: Sequence[FormulaGathering], series: str) -> str:
    return next(gathering.name.text for gathering in reversed(gatherings) if gathering.name.series == series)


def _left_out(count: int, before: str, after: str) -> str:
    if count == 1:
        return f"one gathering is left out between {before} and {after}"
    return f"{count} gatherings are left out between {before} and {after}"


def _odd(gatherings: Sequence[FormulaGathering]) -> Iterator[str]:
    for gathering in gatherings:
        if gathering.planned % 2 and gathering.pairs is None and not gathering.single:
            leaves = count_of(gathering.planned, "leaf", "leaves")
            yield (
                f"gathering {gathering.name.text} has {leaves}, an odd number;"
                f" leaf {gathering.planned // 2 + 1} is taken to be single"
            )


def _totals(
    gatherings: Sequence[FormulaGathering], breaks: Sequence[Break], stated: tuple[int, int, int] | None
) -> Iterator[str]:
    for stop in breaks:
        leaves = sum(gathering.leaves for gathering in gatherings[: stop.after])
        if stop.running is not None and stop.running != leaves:
            behind = f"after gathering {gatherings[stop.after - 1].name.text}" if stop.after else "at the beginning"
            yield f"{stop.running} leaves are stated {behind}, but those before it come to {leaves}"
    leaves = sum(gathering.leaves for gathering in gatherings)
    if stated is not None and stated[1] != leaves:
        yield f"{stated[1]} leaves are stated in all, but the gatherings come to {leaves}"
