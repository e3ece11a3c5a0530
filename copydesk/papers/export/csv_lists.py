"""Lists for spreadsheets, as comma-separated values: pages, spaces, faults, stints; a row each under a row of names.

The names are the keys that ``--json`` gives. A cell is one line of harmless text: a list is parted by semicolons,
yes and no are words, what is not known is empty. A text that a spreadsheet would take for a formula (one that
begins with ``=``, ``+``, ``-`` or ``@``) gets an apostrophe before it; figures stay figures. Rows end as RFC 4180
has them, and the text is UTF-8.
"""

from __future__ import annotations

import csv
from io import StringIO
from typing import TYPE_CHECKING, Any

from copydesk.book.common.errors import Refused
from copydesk.book.common.sanitize import plain

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Mapping
    from datetime import datetime

    from copydesk.tracking.state.book_state import BookState


_BEGINS_FORMULA = ("=", "+", "-", "@", "＝", "＋", "－", "＠")

PAGES = (
    *("page", "gathering", "leaf", "sheet", "side", "surface", "conjugate", "ruled_lines", "lines_in_spaces"),
    *("budget", "planned", "written", "over", "from_word", "to_word", "first_words", "last_words", "state", "next"),
    *("hands", "checked_by", "self_checked", "spaces_waiting", "faults_open", "stretch", "gap_words", "overlap_words"),
    "label",
)
SPACES = (
    *("space", "kind", "page", "column", "from_line", "lines", "width", "height", "stage", "waiting", "sheet"),
    *("may_leave", "waits_for", "subject", "materials", "across", "stages", "next", "instruction", "guide_letter"),
    *("artist", "hours", "hours_left", "sheet_at"),
)
FAULTS = (
    *("fault", "page", "kind", "cause", "column", "line", "word", "stands", "should", "state", "written_by"),
    *("found_by", "found_at", "remedy", "settled_by", "settled_at"),
)
STINTS = (
    *("hand", "name", "from", "from_column", "from_line", "to", "to_column", "to_line", "in_line", "from_word"),
    *("to_word", "words", "lines", "minutes", "began", "ended"),
)


def csv_list(state: BookState, what: str, now: datetime) -> bytes:
    """The list called ``what``, one of ``LISTS``, as it stands at ``now``.

    Raises:
        Refused: where there is no such list.
    """
    if what not in LISTS:
        raise Refused(f"there is no list of {what!r}; there are {', '.join(LISTS)}")
    columns, rows = LISTS[what]
    return _written(columns, rows(state, now)).encode()


def _pages(state: BookState, _: datetime) -> Iterator[Mapping[str, Any]]:
    from copydesk.tracking.views.page_report import page_as_data, page_reports

    for report in page_reports(state):
        data = page_as_data(report)
        stints = report.record.stints
        yield data | {"hands": [f"{stint.hand} {stint.from_line}-{stint.to_line}" for stint in stints]}


def _spaces(state: BookState, now: datetime) -> Iterator[Mapping[str, Any]]:
    from copydesk.tracking.decoration.space_report import space_as_data, space_reports

    return map(space_as_data, space_reports(state, now))


def _faults(state: BookState, _: datetime) -> Iterator[Mapping[str, Any]]:
    from copydesk.tracking.checking.fault_report import fault_accounts, fault_as_data

    return map(fault_as_data, fault_accounts(state))


def _stints(state: BookState, _: datetime) -> Iterator[Mapping[str, Any]]:
    from copydesk.tracking.scribes.stints import shares_data

    names = {hand.id: hand.name for hand in state.book.hands}
    return ({**data, "name": names.get(str(data["hand"]), "")} for data in shares_data(state))


LISTS: Mapping[str, tuple[tuple[str, ...], Callable[[BookState, datetime], Iterator[Mapping[str, Any]]]]] = {
    "pages": (PAGES, _pages),
    "spaces": (SPACES, _spaces),
    "faults": (FAULTS, _faults),
    "stints": (STINTS, _stints),
}
"""Every list: its columns, and what gives its rows."""


def _written(columns: Iterable[str], rows: Iterable[Mapping[str, Any]]) -> str:
    columns = tuple(columns)
    out = StringIO()
    writer = csv.writer(out)
    writer.writerow(columns)
    writer.writerows([cell(row.get(column)) for column in columns] for row in rows)
    return out.getvalue()


def cell(value: object) -> object:
    """A value as one cell: figures as they are, anything else as harmless text."""
    if isinstance(value, int | float) and not isinstance(value, bool):
        return value
    text = plain(_text(value))
    return f"'{text}" if text.lstrip().startswith(_BEGINS_FORMULA) else text


def _text(value: object) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, dict):
        return "; ".join(f"{key} {_text(part)}" for key, part in value.items())
    return "; ".join(map(_text, value)) if isinstance(value, list | tuple) else str(value)
