"""What the panel says of the leaps of the eye that a page invites before it is written. Pure."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.plain import plain
from copydesk.desk.lines import Line

if TYPE_CHECKING:
    from collections.abc import Iterator

    from copydesk.ledger.accounts import PageAccount
    from copydesk.ledger.standing import Standing

SHOWN = 2
"""Places told in the panel; a scribe minds no more at once."""


def watch_lines(standing: Standing, account: PageAccount) -> Iterator[Line]:
    """The likeliest places on a page that is still to be written, or written further."""
    if account.record.whole or standing.exemplar is None or not account.budget.planned:
        return
    from copydesk.ledger.page_watch import watch_for

    for at, each in enumerate(watch_for(standing, account.page.index, SHOWN)):
        yield Line("" if at else "Watch", plain(each.sentence))
