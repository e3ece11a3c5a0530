"""The history of the making in a description: when the book was made and after what, and who did what when."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from copydesk.book.common.phrases import say_day
from copydesk.papers.export.xml_elements import element
from copydesk.tracking.binding.colophon import colophon
from copydesk.tracking.ledger.entry_kinds import KINDS
from copydesk.tracking.views.page_view import ActKind
from copydesk.tracking.views.space_view import space_accounts

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from xml.etree.ElementTree import Element

    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.page_view import PageAccount


def history(state: BookState, pages: Sequence[PageAccount]) -> Element | None:
    """When it was made, and after what; None where nothing is known."""
    days = sorted(_days_of_work(state))
    lender = state.book.exemplar.lent_by
    parts: list[Element | str] = []
    if days:
        dates = {"from": days[0].isoformat()}
        if _complete(state, pages):
            dates["to"] = days[-1].isoformat()
        parts += ["In the making ", element("origDate", dates, f"from {days[0]} to {days[-1]}"), ". "]
        if "to" in dates:
            parts[0] = "Made "
        else:
            parts[-1] = ", and not finished. "
    if lender:
        parts.append(f"Copied from an exemplar lent by {lender}.")
    if not parts:
        return None
    return element("history", element("origin", element("p", *parts), *_making(state)))


def _making(state: BookState) -> Iterator[Element]:
    """Who checked, mended, painted, laid in order and bound it, where and when; a paragraph a person and a work."""
    made = colophon(state)
    for did, works in (
        ("Checked against the exemplar by ", made.checked),
        ("Faults put right by ", made.mended),
        ("Drawn, gilded and painted by ", made.decorated),
        ("Laid in order for sewing by ", made.laid_in_order),
    ):
        for work in works:
            yield element(
                "p", did, element("persName", work.name), f": {work.where}", *_days(work.first, work.last), "."
            )
    if made.bound is not None:
        name = element("persName", made.bound.who)
        yield element("p", "Sewn and bound by ", name, *_days(made.bound.day, made.bound.day), ".")


def _days(first: date | None, last: date | None) -> Iterator[Element | str]:
    """From which day to which, each as a date."""
    if first is None or last is None:
        return
    if first == last:
        yield ", on "
        yield _date(first)
        return
    yield ", from "
    yield _date(first)
    yield " to "
    yield _date(last)


def _date(day: date) -> Element:
    return element("date", {"when": day.isoformat()}, say_day(day))


def _days_of_work(state: BookState) -> Iterator[date]:
    """The days on which something was done on a page or in a space, as far as the entries stand."""
    for entry in state.ledger:
        kind = KINDS.get(entry.what)
        if kind is None or kind.about not in ("page", "space") or state.ledger.is_void(entry.entry):
            continue
        try:
            yield date.fromisoformat(entry.at[:10])
        except ValueError:
            continue


def _complete(state: BookState, pages: Sequence[PageAccount]) -> bool:
    corrected = all(page.next_act.kind in (ActKind.DONE, ActKind.BLANK) for page in pages)
    filled = not any(space.waiting for space in space_accounts(state))
    return corrected and filled and not state.budget.lines_without_room
