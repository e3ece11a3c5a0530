"""What was recorded of a space or a sheet, in words."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from copydesk.ledger.entry import KINDS

if TYPE_CHECKING:
    from collections.abc import Callable

    from copydesk.ledger.entry import Entry

PLACES = {
    "desk": "at the desk",
    "drying": "drying",
    "checker": "with the checker",
    "artist": "with the artist",
    "press": "in the press",
}
"""Where a sheet can be, as people say it."""


def tell_space(entry: Entry) -> list[str]:
    """What an entry about a space says: ``space frost given 14 lines in place of 12``; then by whom, and the rest."""
    tell = _TELL.get(entry.what)
    said = tell(entry) if tell is not None else f"space {entry.about} {KINDS[entry.what].says}"
    return [f"{said} by {entry.hand}" if entry.hand else said, *_amiss(entry)]


def tell_sheet(entry: Entry) -> list[str]:
    """What an entry about a sheet says: ``sheet 3.2 with the artist (Ines)``; then who noted it, and the rest."""
    says = PLACES.get(entry.what) or KINDS[entry.what].says
    who = entry.text("who")
    named = f" ({who})" if who else ""
    noted = f", noted by {entry.hand}" if entry.hand and entry.hand != who else ""
    return [f"sheet {entry.about} {says}{named}{noted}", *_amiss(entry)]


def _amiss(entry: Entry) -> list[str]:
    return [text for name in ("note", "remark") if (text := entry.text(name))]


def _resized(entry: Entry) -> str:
    was = entry.number("was")
    before = f" in place of {was}" if was is not None else ""
    return f"space {entry.about} given {entry.number('lines')} lines{before}"


def _moved(entry: Entry) -> str:
    return f"space {entry.about} moved to {entry.text('to') or 'another place'}"


def _added(entry: Entry) -> str:
    plan = entry.facts.get("plan")
    plan = plan if isinstance(plan, Mapping) else {}
    lines = f" of {plan['lines']} lines" if plan.get("lines") else ""
    across = " across all columns" if plan.get("across") == "all" else ""
    at = f" at {entry.text('to')}" if entry.text("to") else ""
    subject = f" ({plan['subject']})" if plan.get("subject") else ""
    return f"space {entry.about}, a {plan.get('kind', 'space')}{lines}{across}, added{at}{subject}"


_TELL: dict[str, Callable[[Entry], str]] = {"resized": _resized, "moved": _moved, "added": _added}
