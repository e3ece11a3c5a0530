"""How far each gathering has come."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.tracking.ledger.page_record import PageState
from copydesk.tracking.views.page_view import ActKind, page_account

if TYPE_CHECKING:
    from copydesk.book.structure.page import Page
    from copydesk.tracking.state.book_state import BookState


class GatheringReport(NamedTuple):
    """A gathering: its leaves and sheets; pages with text, those written, those corrected; what is open."""

    number: int
    first: int
    last: int
    leaves: int
    sheets: int
    pages: int
    written: int
    corrected: int
    faults: int
    spaces: int
    hands: str
    first_open: Page | None


def gathering_reports(state: BookState) -> list[GatheringReport]:
    """A report of every gathering, in order."""
    return [_report(state, gathering.number) for gathering in state.collation.gatherings]


def _report(state: BookState, number: int) -> GatheringReport:
    gathering = state.collation.gathering(number)
    leaves = state.collation.leaf_numbers(number)
    accounts = [page_account(state, index) for leaf in leaves for index in (leaf * 2 - 2, leaf * 2 - 1)]
    bearing = [account for account in accounts if account.next_act.kind is not ActKind.BLANK]
    hands = dict.fromkeys(stint.hand for account in accounts for stint in account.record.stints)
    return GatheringReport(
        number=number,
        first=leaves[0] if leaves else 0,
        last=leaves[-1] if leaves else 0,
        leaves=len(leaves),
        sheets=len(gathering.sheet_numbers()),
        pages=len(bearing),
        written=sum(account.record.whole for account in bearing),
        corrected=sum(account.record.state is PageState.CORRECTED for account in bearing),
        faults=sum(len(account.record.open_faults) for account in accounts),
        spaces=sum(account.spaces_waiting for account in accounts),
        hands="".join(hands),
        first_open=next((account.page for account in bearing if account.next_act.kind is not ActKind.DONE), None),
    )
