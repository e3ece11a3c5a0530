"""Lists for spreadsheets, as comma-separated values: pages, spaces, faults, stints; a row each under a row of names.

The names are the keys that ``--json`` gives. A cell is one line of harmless text: a list is separated by semicolons,
yes and no are words, what is not known is empty. A text that a spreadsheet would take for a formula (one that
begins with ``=``, ``+``, ``-`` or ``@``) gets an apostrophe before it; figures stay figures. Rows end as RFC 4180
has them, and the text is UTF-8.
"""

from __future__ import annotations

import csv
from functools import partial
from io import StringIO
from typing import TYPE_CHECKING, Any

from copydesk.book.common.errors import UnknownNameError
from copydesk.book.common.sanitize import sanitize

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping
    from datetime import datetime

    from copydesk.book.columns import Report
    from copydesk.tracking.state.book_state import BookState


_BEGINS_FORMULA = ("=", "+", "-", "@", "＝", "＋", "－", "＠")


def csv_list(state: BookState, what: str, now: datetime) -> bytes:
    """The list called ``what``, one of ``LISTS``, as it stands at ``now``.

    Raises:
        UnknownNameError: where there is no such list.
    """
    if what not in LISTS:
        raise UnknownNameError(f"there is no list of {what!r}; there are {', '.join(LISTS)}")
    report, rows = LISTS[what](state, now)
    out = StringIO()
    writer = csv.writer(out)
    writer.writerow(report.keys)
    writer.writerows([cell(value) for value in report.csv_row(row)] for row in rows)
    return out.getvalue().encode()


def _pages(state: BookState, _: datetime) -> tuple[Report[Any], Iterable[Any]]:
    from copydesk.tracking.fit.stretches import stretch_at
    from copydesk.tracking.views.page_report import PAGES, page_rows

    return PAGES, page_rows(state, partial(stretch_at, state))


def _spaces(state: BookState, now: datetime) -> tuple[Report[Any], Iterable[Any]]:
    from copydesk.tracking.decoration.space_columns import SPACES
    from copydesk.tracking.decoration.space_report import space_reports

    return SPACES, space_reports(state, now)


def _faults(state: BookState, _: datetime) -> tuple[Report[Any], Iterable[Any]]:
    from copydesk.tracking.checking.fault_report import FAULTS, fault_accounts

    return FAULTS, fault_accounts(state)


def _stints(state: BookState, _: datetime) -> tuple[Report[Any], Iterable[Any]]:
    from copydesk.tracking.scribes.stints import SHARES, share_rows

    return SHARES, share_rows(state)


LISTS: Mapping[str, Callable[[BookState, datetime], tuple[Report[Any], Iterable[Any]]]] = {
    "pages": _pages,
    "spaces": _spaces,
    "faults": _faults,
    "stints": _stints,
}
"""Every list: what declares its columns, and its rows."""


def cell(value: object) -> object:
    """A value as one cell: figures as they are, anything else as harmless text."""
    if isinstance(value, int | float) and not isinstance(value, bool):
        return value
    text = sanitize(_text(value))
    return f"'{text}" if text.lstrip().startswith(_BEGINS_FORMULA) else text


def _text(value: object) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, dict):
        return "; ".join(f"{key} {_text(part)}" for key, part in value.items())
    return "; ".join(map(_text, value)) if isinstance(value, list | tuple) else str(value)
