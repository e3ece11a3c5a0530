"""Another plan for a space tried on the whole book before it is recorded."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.refusal import Refused
from copydesk.book.spaces import takes_lines
from copydesk.ledger.space_account import find_space

if TYPE_CHECKING:
    from copydesk.book.book import SpacePlan
    from copydesk.ledger.acts import Act
    from copydesk.ledger.standing import Standing


def try_out(standing: Standing, act: Act, plan: SpacePlan) -> Standing:
    """The book as it would stand after ``act``, which gives a space the plan ``plan``.

    Raises:
        Refused: where no page has room for the space then, or the page that would have to take it is ruled.
    """
    after = standing.supposing([act])
    account = find_space(after, plan.id)
    if account is None or not takes_lines(plan.kind):
        return after
    if account.page is None:
        raise Refused(
            f"no page has room for space {plan.id} there: its text is written, or comes after the last page; "
            "choose another place, or fewer lines"
        )
    skin = after.skin_at(account.page.index)
    if after.record(skin).placements is not None:
        raise Refused(
            f"space {plan.id} would come to stand on {after.book.named(account.page)}, which is ruled; a space "
            "can be made only where its page is unruled"
        )
    return after
