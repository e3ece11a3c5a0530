"""Entries about skins in a sentence."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.days import count_of
from copydesk.book.skin_care import READY

if TYPE_CHECKING:
    from copydesk.ledger.entry import Entry


def tells_of_skins(entry: Entry) -> bool:
    """Whether an entry is about a batch of skins, or the cutting of a sheet from one."""
    return entry.subject[0] == "skins" or entry.what == "cut"


def tell_skins(entry: Entry) -> str:
    """``batch A, 6 skins, into the lime by B``; ``sheet 3.2 cut from skin A 4 by B``."""
    by = f" by {entry.hand}" if entry.hand else ""
    if entry.what == "cut":
        skin = entry.number("skin")
        of = f"skin {entry.text('batch')} {skin}" if skin is not None else f"batch {entry.text('batch')}"
        return f"sheet {entry.about} cut from {of}{by}"
    step, skins, note = entry.text("step"), entry.number("skins"), entry.text("note")
    said = f"batch {entry.about}" + (f", {count_of(skins, 'skin')}" if skins else "")
    said += f", {step}" if step == READY else f", into the step {step}"
    since = f", since {entry.text('since')}" if entry.text("since") else ""
    return f"{said}{by}{since}" + (f', note "{note}"' if note else "")
