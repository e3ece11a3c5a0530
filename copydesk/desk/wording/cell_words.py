"""What the cell of a page says: six facts, each as a short text for each of its forms. No Textual here.

The facts are the lines written of the line budget with what is over or empty, the check and by whom, faults, spaces
with the stage due, the hands, and what comes next. Each is told by characters, so that it can be read without colour.
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.phrases import day_and_month, month_name
from copydesk.book.common.sanitize import sanitize
from copydesk.tracking.ledger.timestamps import moment
from copydesk.tracking.views.page_view import ActKind, CheckState

if TYPE_CHECKING:
    from collections.abc import Sequence

    from copydesk.tracking.views.page_view import PageAccount


UNMET = "≠"
"""On a page that does not begin where the one before it ends: text skipped, or written twice."""

FLAWED = "○"
"""Beside the number of a leaf with a hole or a short edge."""

CHECK_SIGNS = {
    CheckState.NOT_DUE: "",
    CheckState.DUE: "?",
    CheckState.BEGUN: "…",
    CheckState.BY_WRITER: "=",
    CheckState.BY_ANOTHER: "✓",
}
"""How far the check has come, in one character."""

_CHECK_WORDS = {CheckState.DUE: "due", CheckState.BEGUN: "begun", CheckState.BY_WRITER: "own"}


ACT_TONES = {
    ActKind.WRITE: "work",
    ActKind.CHECK: "work",
    ActKind.MEND: "mend",
    ActKind.INK: "work",
    ActKind.PAINT: "waits",
    ActKind.RULE: "soft",
}
"""The tones of acts that wait for somebody; all others are quiet."""


class CellWords(NamedTuple):
    """The texts of one cell; those called ``long`` go into wide cells only.

    ``changes`` are the lines after which another hand goes on.
    """

    act: ActKind
    faults: str
    faults_long: str
    spaces: str
    spaces_long: str
    ruled: bool
    written: int
    room: int
    changes: tuple[int, ...]
    figures: str
    over: str
    hands: tuple[str, ...]
    check: CheckState
    checked_by: str
    day: str
    unmet: bool
    first_words: str


def cell_words(account: PageAccount) -> CellWords:
    """The texts of a page's cell."""
    record, budget, act = account.record, account.budget, account.next_act.kind
    blank = act is ActKind.BLANK
    spaces, spaces_long = space_marks(account)
    faults, faults_long = fault_marks(account)
    return CellWords(
        act=act,
        faults=faults,
        faults_long=faults_long,
        spaces=spaces,
        spaces_long=spaces_long,
        ruled=record.has_ruling,
        written=record.written,
        room=budget.room,
        changes=tuple(old.ended for old, new in pairwise(record.stints) if old.hand != new.hand),
        figures="" if blank else f"{record.written}/{budget.room}",
        over="" if blank else over_mark(account.over),
        hands=tuple(map(sanitize, record.hands)),
        check=account.check,
        checked_by=sanitize(record.checked_by),
        day=_day(record.stints[-1].at) if record.stints else "",
        unmet=bool(account.gap_words or account.overlap_words),
        first_words=account.first_words,
    )


def over_mark(over: int) -> str:
    """``+3`` for lines over the budget, ``−2`` for lines the text leaves empty."""
    return f"+{over}" if over > 0 else f"−{-over}" if over < 0 else ""


def fault_marks(account: PageAccount) -> tuple[str, str]:
    """``!2`` and ``!2 open``; ``m1`` and ``m1 mended`` where all are mended; empty where there never was one."""
    if opened := len(account.record.open_faults):
        return f"!{opened}", f"!{opened} open"
    mended = account.faults_mended
    return (f"m{mended}", f"m{mended} mended") if mended else ("", "")


def space_marks(account: PageAccount) -> tuple[str, str]:
    """``◇2d`` and ``◇2 draw``: two wait, the earliest for its drawing (``+`` where others are due too).

    ``◆2`` and ``◆2 filled`` where none waits; empty where the page has none.
    """
    stages = account.stages_due
    if account.spaces_waiting and stages:
        more = "+" if len(stages) > 1 else ""
        mark = f"◇{account.spaces_waiting}"
        return f"{mark}{stages[0].to_do[0]}", f"{mark} {stages[0].to_do}{more}"
    filled = account.spaces_filled
    return (f"◆{filled}", f"◆{filled} filled") if filled else ("", "")


def check_words(words: CellWords, room: int) -> str:
    """The check as a wide cell says it: ``✓ bea``, ``= own``, ``? due``, ``… begun``."""
    sign = CHECK_SIGNS[words.check]
    said = _CHECK_WORDS.get(words.check, words.checked_by)
    return f"{sign} {said}"[:room] if sign else ""


def short_hands(hands: Sequence[str], known: Sequence[str], room: int) -> str:
    """The hands in ``room`` cells: whole, else their beginnings as long as fit and tell them from all those known.

    Where even these do not fit, the last hand's, and how many hands there are in all: ``bea(3)``.
    """
    if not hands or room < 1:
        return ""
    whole = "+".join(hands)
    if len(whole) <= room:
        return whole
    longest = max(map(len, hands))
    for length in range(longest - 1, 0, -1):
        cut = [hand[:length] for hand in hands]
        if len(said := "+".join(cut)) <= room and all(_only_one(part, known) for part in cut):
            return said
    count = f"({len(hands)})" if len(hands) > 1 else ""
    left = max(room - len(count), 1)
    last = hands[-1]
    return f"{last if len(last) <= left else f'{last[: left - 1]}…'}{count}"


def _only_one(part: str, known: Sequence[str]) -> bool:
    return sum(hand.startswith(part) for hand in known) <= 1


def _day(at: str) -> str:
    read = moment(at)
    return day_and_month(read.day, month_name(read.month, short=True)) if read is not None else ""
