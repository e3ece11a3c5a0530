"""Asking how a page was read against the exemplar and with whom, where the book names its readings."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.checks import ALOUD, SILENTLY, TYPED
from copydesk.desk.dialogs.form import Choice
from copydesk.tracking.commands.reading_checks import ways_open
from copydesk.tracking.state.known_hands import known_hands

if TYPE_CHECKING:
    from copydesk.desk.base.book_screen import BookScreen
    from copydesk.tracking.views.page_view import PageAccount


_SAYS = {SILENTLY: "silently, by one", ALOUD: "aloud by two: one reads aloud, the hand at this desk follows the page"}


async def ask_reading(screen: BookScreen, account: PageAccount) -> tuple[str, str] | None:
    """How a page was read that was gone through line by line, and who read aloud; None where nobody says."""
    ways = [way for way in ways_open(account) if way != TYPED]
    if not ways:
        screen.say(f"{account.label} is still to be read {TYPED}; x types it.", wrong=True)
        return None
    how: str | None = ways[0]
    if len(ways) > 1:
        options = [(way, _SAYS[way]) for way in ways]
        how = await screen.app.push_screen_wait(Choice(f"How was {account.label} read?", options))
    if how != ALOUD:
        return (how, "") if how else None
    hand = screen.job.hand
    others = [(name, name) for name in known_hands(screen.job.state) if name != hand]
    beside = await screen.app.push_screen_wait(Choice(f"Who read aloud, while {hand} followed the page?", others))
    return (ALOUD, beside) if beside else None
