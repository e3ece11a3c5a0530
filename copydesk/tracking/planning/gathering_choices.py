"""Ways to gather the leaves a text needs: all alike, a smaller or larger last gathering, a single leaf, two sizes.

Common practice asks for two to six sheets, most often four (E. Johnston, *Writing & Illuminating, & Lettering*, 1906,
ch. VI). A way is told by the leaves of each gathering; an odd number is a gathering with one single leaf in the
middle, hooked round the fold by its stub, which is cut from a sheet of its own.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator

    PagesOf = Callable[["Sizes"], int]


USUAL_SHEETS = (2, 3, 4, 5, 6)
"""Sheets of a gathering that are proposed: 3 or 2 where the skin is extra thick, 5 or 6 where it is extra thin."""

MOST_LEAVES = 2 * max(USUAL_SHEETS)

Sizes = tuple[int, ...]
"""Leaves of each gathering, in order."""


class Way(NamedTuple):
    """One way to gather the rest of the book: leaves of each gathering still open, and what that comes to.

    ``leaves`` and ``sheets`` are those of the whole book, what is begun already among them. ``skins`` are
    those of the flyleaves too, 0 where a skin gives no sheet or nothing is known of skins.
    """

    sizes: Sizes
    kind: str
    leaves: int
    sheets: int
    blank_leaves: int
    skins: int

    @property
    def said(self) -> str:
        """The gatherings in words, as in ``5 of 4 sheets, the last of 3``."""
        return say_sizes(self.sizes)


class Begun(NamedTuple):
    """What can no longer be chosen: leaves and sheets of the gatherings begun."""

    leaves: int = 0
    sheets: int = 0


def ways_to_gather(pages_of: PagesOf, begun: Begun, own_sheets: int, skins_of: Callable[[int], int]) -> tuple[Way, ...]:
    """Every way proposed that holds the text, the fewest blank leaves first, then the fewest skins.

    Args:
        pages_of: the pages the text takes in gatherings of so many leaves, the last size going on for ever; it hangs
            on them only where several hands share the gatherings out.
        begun: the gatherings already begun.
        own_sheets: the sheets to a gathering that the book has now; proposed too, and first among equals.
        skins_of: the skins for so many sheets.
    """
    found: dict[Sizes, Way] = {}
    for sheets in sorted({*USUAL_SHEETS, own_sheets}):
        for kind, sizes in _proposed(pages_of, sheets):
            needed = -(-pages_of(sizes) // 2)
            leaves = sum(sizes)
            if leaves < needed or sizes in found:
                continue
            cut = begun.sheets + sheets_of(sizes)
            found[sizes] = Way(sizes, kind, begun.leaves + leaves, cut, leaves - needed, skins_of(cut))
    return tuple(sorted(found.values(), key=lambda way: _rank(way, own_sheets)))


def sheets_of(sizes: Iterable[int]) -> int:
    """Sheets to cut for gatherings of so many leaves; a single leaf takes one, for the sake of its stub."""
    return sum(-(-leaves // 2) for leaves in sizes)


def alike(leaves_needed: int, sheets: int) -> Sizes:
    """Gatherings all of ``sheets`` sheets that hold so many leaves."""
    return (2 * sheets,) * -(-leaves_needed // (2 * sheets))


def say_sizes(sizes: Sizes) -> str:
    """Gatherings in words: ``6 of 4 sheets``, ``5 of 4 sheets, the last of 3``, ``... and a single leaf``."""
    if not sizes:
        return "none"
    runs: list[list[int]] = []
    for leaves in sizes:
        if runs and runs[-1][1] == leaves:
            runs[-1][0] += 1
        else:
            runs.append([1, leaves])
    first, *rest = runs
    said = [f"{first[0]} of {_sheets(first[1])}"]
    for at, (count, leaves) in enumerate(rest, 1):
        last = at == len(rest) and count == 1
        said.append(f"{'the last' if last else count} of {_sheets(leaves, word='')}")
    return ", ".join(said)


def gathering_advice(sizes: Iterable[int]) -> str | None:
    """Whether gatherings are thinner or thicker than the handbook has them: two to six sheets."""
    odd = sorted({-(-leaves // 2) for leaves in sizes} - set(USUAL_SHEETS))
    if not odd:
        return None
    which = " and ".join(map(str, odd))
    return (
        f"A gathering of {which} sheet{'' if odd == [1] else 's'}: Johnston (1906, ch. VI) has four as the common "
        "number, three or two where the skin is extra thick, five or six where it is extra thin."
    )


def _proposed(pages_of: PagesOf, sheets: int) -> Iterator[tuple[str, Sizes]]:
    """Ways built on gatherings of ``sheets`` sheets."""
    whole = 2 * sheets
    needed = _leaves_if_alike(pages_of, whole)
    full, over = divmod(needed, whole)
    yield "all alike", (whole,) * (full + bool(over))
    if over:
        yield from _for_the_rest(full, over, whole)
    yield from _two_sizes(needed, whole)


def _for_the_rest(full: int, over: int, whole: int) -> Iterator[tuple[str, Sizes]]:
    """Ways to put ``over`` leaves that are left when ``full`` gatherings of ``whole`` leaves are filled."""
    body = (whole,) * full
    even = over + over % 2
    if even < whole and (even > 2 or not full):
        yield "a smaller last gathering", (*body, even)
    if over % 2 and (over > 3 or not full):
        yield "one single leaf", (*body, over)
    if full and over <= 2 and whole + 2 <= MOST_LEAVES:
        yield "a larger last gathering", (*body[1:], whole + 2)
    if full and over in (1, 3) and whole + over <= MOST_LEAVES:
        yield "one single leaf", (*body[1:], whole + over)


def _two_sizes(needed: int, whole: int) -> Iterator[tuple[str, Sizes]]:
    """The fewest gatherings of one sheet more, or one less, that leave no sheet too many."""
    even = needed + needed % 2
    for other in (whole - 2, whole + 2):
        if other // 2 not in USUAL_SHEETS or whole // 2 not in USUAL_SHEETS:
            continue
        for count in range(1, whole // 2):
            body, rest = divmod(even - count * other, whole)
            if body > 0 and rest == 0:
                yield "two sizes", (whole,) * body + (other,) * count
                break


def _leaves_if_alike(pages_of: PagesOf, whole: int) -> int:
    """Leaves the text takes in gatherings of ``whole`` leaves, as many as it needs."""
    count = 1
    while True:
        needed = -(-pages_of((whole,) * count) // 2)
        if needed <= count * whole:
            return needed
        count = -(-needed // whole)


_PLAINNESS = ("all alike", "a smaller last gathering", "a larger last gathering", "two sizes", "one single leaf")


def _rank(way: Way, own_sheets: int) -> tuple[object, ...]:
    most = max(way.sizes, default=0)
    off = sum(abs(-(-leaves // 2) - own_sheets) for leaves in way.sizes)
    return (way.blank_leaves, way.skins, way.sheets, _PLAINNESS.index(way.kind), off / max(len(way.sizes), 1), most)


def _sheets(leaves: int, word: str = " sheet") -> str:
    sheets = leaves // 2
    said = f"{sheets}{word}{'s' if word and sheets != 1 else ''}"
    if leaves % 2 == 0:
        return said
    return f"{said} and a single leaf" if sheets else "a single leaf"
