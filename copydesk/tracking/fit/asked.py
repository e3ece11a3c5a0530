"""What was asked of a hand on a page when its end was recorded, kept with the entry.

Somebody who writes closer because the advice asks for it shows another closeness than the usual. Where the entry keeps
what was asked, the page still tells how close the hand usually writes.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.structure.page import SkinPage
from copydesk.tracking.fit.stretches import need_at

if TYPE_CHECKING:
    from collections.abc import Mapping

    from copydesk.tracking.ledger.entry import Act
    from copydesk.tracking.state.book_state import BookState


def with_asked(state: BookState, act: Act) -> Mapping[str, object]:
    """The facts of an act, with the letters a line asked for and the usual ones where it ends a page that asks some."""
    if act.what != "written" or "letters" in act.facts:
        return act.facts
    page = state.page_of(SkinPage.parse(act.about))
    need = need_at(state, page.index) if page is not None and page.index not in state.agreed else None
    if need is None or not need.over or need.needed is None:
        return act.facts
    return {**act.facts, "asked": round(need.needed, 2), "usual": round(need.letters, 2)}
