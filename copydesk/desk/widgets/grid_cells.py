"""A page of the grid as three short lines of text: a bar, a word, figures. No Textual here, so it is tested plainly."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.tracking.views.page_view import ActKind

if TYPE_CHECKING:
    from copydesk.tracking.views.page_view import PageAccount


_WITH_HANDS = (ActKind.WRITE, ActKind.CHECK, ActKind.DONE)
"""What stands before the hands with a space between."""

_EIGHTHS = " ▏▎▍▌▋▊▉█"


class PageCell(NamedTuple):
    """A page's cell: the bar's parts, the word with its hands, the figures; ``tone`` tells how it is coloured.

    Tones repeat what the word says: ``quiet`` nothing to do, ``ink`` in hand, ``wrong`` faults or lines over,
    ``waits`` for the artist.
    """

    written: str
    planned: str
    beyond: str
    word: str
    figures: str
    tone: str


def bar(written: int, planned: int, room: int, width: int) -> tuple[str, str, str]:
    """The bar of a page: lines written in eighths, lines planned beyond them as dots, what sticks out past its end.

    The first two together are ``width`` terminal cells wide, the third is one.
    """
    if room <= 0:
        return "", " " * width, "▌" if planned else " "
    filled = min(written, room) * width * 8 // room
    solid = "█" * (filled // 8) + (_EIGHTHS[filled % 8] if filled % 8 else "")
    dots = max(-(-min(planned, room) * width // room) - len(solid), 0)
    beyond = "▌" if max(planned, written) > room else " "
    return solid, "·" * dots + " " * (width - len(solid) - dots), beyond


def cell_of(account: PageAccount, width: int) -> PageCell:
    """The cell of a page, ``width`` cells wide in all."""
    record, budget = account.record, account.budget
    written, planned, beyond = bar(record.written, budget.planned, budget.room, width - 2)
    act = account.next_act
    hands = "".join(dict.fromkeys(stint.hand[:1] for stint in record.stints))
    word = f"{act} {hands}" if hands and act.kind in _WITH_HANDS else f"{act}{hands}"
    return PageCell(written, planned, beyond, word[: width - 1], _figures(account), _tone(account))


FLAWED = "○"
"""Beside the figures of a page whose leaf has a hole or a short edge."""


UNMET = "≠"
"""Beside the figures of a page that does not begin where the one before it ends: text skipped, or written twice."""


def _figures(account: PageAccount) -> str:
    record, budget = account.record, account.budget
    marks = FLAWED if account.flaws else ""
    if account.next_act.kind is ActKind.BLANK:
        return marks
    if account.gap_words or account.overlap_words:
        marks = UNMET + marks
    shown = f"{record.written}/{budget.planned}"
    loose = account.over < 0 and budget.stretch >= 0
    if account.over > 0 or loose:
        over = f"−{-account.over}" if loose else f"+{account.over}"
        return f"{shown}{over}{marks}" if marks else f"{shown} {over}"
    return f"{shown} {marks}".rstrip()


def _tone(account: PageAccount) -> str:
    act = account.next_act.kind
    if account.record.open_faults or account.over > 0 or account.gap_words or account.overlap_words:
        return "wrong"
    if act is ActKind.PAINT:
        return "waits"
    return "quiet" if act in (ActKind.DONE, ActKind.BLANK) else "ink"
