"""All sheets of the book, one by one: where each is, who has it, and what it waits for before it may leave the desk."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.sheets import open_sheets
from copydesk.ledger.accounts import page_account
from copydesk.ledger.moments import moment

if TYPE_CHECKING:
    from datetime import datetime

    from copydesk.book.page import Page
    from copydesk.book.sheets import OpenSheet
    from copydesk.ledger.accounts import PageAccount
    from copydesk.ledger.space_record import SheetRecord
    from copydesk.ledger.standing import Standing


class SheetStanding(NamedTuple):
    """A sheet: where it is; what its pages wait for, as ``3r checked``; spaces on it to be filled; when it is dry.

    ``dry`` is given while it lies drying. ``unsettled`` are pages that wait for anything.
    """

    sheet: OpenSheet
    record: SheetRecord
    waits_for: tuple[str, ...]
    unsettled: tuple[Page, ...]
    spaces: tuple[str, ...]
    dry: datetime | None

    @property
    def may_leave(self) -> bool:
        """Whether it may go to the artist: every page written, checked and corrected, and its ink dry."""
        return not self.waits_for


def pile_now(standing: Standing, now: datetime) -> list[SheetStanding]:
    """Every sheet of the book, gathering by gathering, from the outermost in; ``now`` tells whether ink is dry."""
    return [
        sheet_standing(standing, sheet, now)
        for gathering in standing.collation.gatherings
        for sheet in open_sheets(standing.collation, gathering.number)
    ]


def sheet_standing(standing: Standing, sheet: OpenSheet, now: datetime | None) -> SheetStanding:
    """Where one sheet is and what it waits for; whether its ink is dry is not looked at where ``now`` is None."""
    accounts = [page_account(standing, page.index) for page in sheet.pages()]
    record = standing.sheet_record(sheet.name)
    waiting = [(account.page, page_wait(account)) for account in accounts]
    waits = [f"{page} {wait}" for page, wait in waiting if wait]
    dry = dry_at(record, standing.book.workshop.drying_days) if record.place == "drying" else None
    if dry is not None and now is not None and dry > now:
        waits.append(f"dry on {dry.date().isoformat()}")
    return SheetStanding(
        sheet,
        record,
        tuple(waits),
        tuple(page for page, wait in waiting if wait),
        tuple(space.plan.id for account in accounts for space in account.spaces if space.waiting),
        dry,
    )


def page_wait(account: PageAccount) -> str:
    """What is to be done on a page before its sheet may go to the artist: written, checked, corrected, or nothing.

    A page no text comes to must be ruled where room is to be kept on it, and is settled else.
    """
    state = account.record.state
    if state == "corrected":
        return ""
    if state in ("unruled", "ruled") and not account.budget.planned:
        kept = any(space.placement is not None and space.placement.lines for space in account.spaces)
        return "ruled" if kept and state == "unruled" else ""
    return {"written": "checked", "checked": "corrected"}.get(state, "written")


def dry_at(record: SheetRecord, days: float) -> datetime | None:
    """When a sheet laid to dry is dry; ink dries on days off too. None where nobody knows when it was laid there."""
    from datetime import timedelta

    since = moment(record.since)
    return since + timedelta(days=days) if since is not None else None


def sheet_as_data(sheet: SheetStanding) -> dict[str, object]:
    """Where one sheet is, as plain data for other programs."""
    record = sheet.record
    return {
        "sheet": sheet.sheet.name,
        "place": record.place,
        "who": record.who or None,
        "since": record.since or None,
        "pages": [str(page) for page in sheet.sheet.pages()],
        "may_leave": sheet.may_leave,
        "waits_for": list(sheet.waits_for),
        "spaces_waiting": list(sheet.spaces),
        "dry": sheet.dry.isoformat() if sheet.dry is not None else None,
        "also": {"place": record.also[0], "who": record.also[1]} if record.also is not None else None,
    }
