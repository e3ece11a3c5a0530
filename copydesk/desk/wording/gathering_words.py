"""What is said of a gathering: its heading, its totals, what is unlike a plain gathering in it. No Textual here."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.phrases import count_of, grouped
from copydesk.book.structure.gathering import HalfState

if TYPE_CHECKING:
    from collections.abc import Iterator

    from copydesk.book.structure.gathering import Gathering, Half
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.gathering_progress import Totals


GONE_WORDS = {HalfState.STUB: "stub", HalfState.CANCELLED: "cut", HalfState.WANTING: "lost"}
"""What is said, downward, where half a sheet has no leaf; of a sheet taken out nothing is drawn."""


def leaves_between(state: BookState, number: int) -> str:
    """The leaves of a gathering, in little room: ``9–16``, ``pages 17–32``; empty where none stands."""
    numbers = state.collation.leaf_numbers(number)
    if not numbers:
        return ""
    said = state.book.leaves_named(numbers)
    return said.removeprefix("leaves ").removeprefix("leaf ").replace(" to ", "–")


def sheets_words(gathering: Gathering) -> str:
    """``4 sheets, hair out``."""
    sheets = count_of(len(gathering.sheet_numbers()), "sheet")
    return f"{sheets}, {gathering.leaves[0].recto} out" if gathering.leaves else "no leaf stands"


def totals_words(totals: Totals, *, short: bool = False) -> list[tuple[str, str]]:
    """What is written, checked, open and waiting in a gathering, each in its tone and always of the same width."""
    written, checked = f"{totals.written}/{totals.pages}", f"{totals.checked}"
    return [
        (f"{written:>6}" if short else f"{written:>6} written", "soft"),
        (f"{f'✓{checked}':>4}" if short else f"{checked:>5} checked", "soft"),
        (f" {f'!{totals.faults}' if totals.faults else '':<4}", "wrong"),
        (f"{f'◇{totals.spaces}' if totals.spaces else '':<4}", "waits"),
    ]


def title_totals(totals: Totals, *, short: bool = False) -> list[tuple[str, str]]:
    """The same of the whole book, for the title."""
    written = f"{grouped(totals.written)}/{grouped(totals.pages)} written"
    checked, faults, spaces = (f"{grouped(each)}" for each in (totals.checked, totals.faults, totals.spaces))
    open_, wait = (
        "fault open" if totals.faults == 1 else "faults open",
        "space waits" if totals.spaces == 1 else "spaces wait",
    )
    said = [(written, "ink"), (f"✓{checked}" if short else f"✓{checked} checked", "ink")]
    if totals.faults:
        said.append((f"!{faults}" if short else f"!{faults} {open_}", "wrong"))
    if totals.spaces:
        said.append((f"◇{spaces}" if short else f"◇{spaces} {wait}", "waits"))
    return said


def irregularities(state: BookState, gathering: Gathering) -> str:
    """What is unlike a plain gathering, in a line: single and tipped leaves, those cut away or lost."""
    return "; ".join(_irregular(state, gathering))


def _irregular(state: BookState, gathering: Gathering) -> Iterator[str]:
    for half in gathering.halves:
        mate = gathering.mate(half)
        beside = _label(state, mate)
        if half.state is HalfState.STUB and beside:
            yield f"{beside} single, held by a stub"
        elif half.state is HalfState.CANCELLED:
            yield f"the leaf joined to {beside} cut away" if beside else "a leaf cut away"
        elif half.state is HalfState.WANTING:
            yield f"the leaf joined to {beside} lost" if beside else "a leaf lost"
        elif half.stands and not half.folded:
            yield f"{_label(state, half)} tipped in"


def _label(state: BookState, half: Half | None) -> str:
    leaf = state.collation.number_of(half.id) if half is not None and half.stands else None
    return state.book.number_of_leaf(leaf) if leaf is not None else ""
