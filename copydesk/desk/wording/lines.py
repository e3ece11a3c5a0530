"""A line of a panel and a row of a list, for whatever shows them. No Textual here."""

from __future__ import annotations

from typing import TYPE_CHECKING, Generic, NamedTuple, TypeVar

from copydesk.book.common.text_table import aligned

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Sequence

    from copydesk.book.columns import Report
    from copydesk.book.plan import Book


class PanelLine(NamedTuple):
    """A line of a panel: its heading (empty where it goes on) and what it says; ``wrong`` asks for the red.

    ``tone`` is how it is drawn where a panel has more tones than these two.
    """

    head: str
    says: str
    wrong: bool = False
    tone: str = ""


def under_one_head(head: str, says: Iterable[str], *, wrong: bool = False) -> Iterator[PanelLine]:
    """Several lines of a panel of which only the first has the heading."""
    for at, each in enumerate(says):
        yield PanelLine("" if at else head, each, wrong)


Thing = TypeVar("Thing")


class ListRow(NamedTuple, Generic[Thing]):
    """A row of a list: what it says, and the thing it stands for; None where it is a heading."""

    text: str
    thing: Thing | None


def grouped_rows(
    groups: Iterable[tuple[str, Sequence[Thing]]], report: Report[Thing], book: Book
) -> list[ListRow[Thing]]:
    """Each group's heading, then a row for each of its things; a column stands under itself through all groups."""
    groups = list(groups)
    said = iter(aligned(report.cells(thing, book) for _, things in groups for thing in things))
    return [
        row
        for heading, things in groups
        for row in (ListRow(f" {heading}", None), *(ListRow(f"  {next(said)}", thing) for thing in things))
    ]


def next_row(rows: Sequence[ListRow[Thing]], wanted: Callable[[Thing], bool], after: int = -1) -> int | None:
    """The place of the next thing that is wanted, from the beginning again after the end; None where none is."""
    places = (*range(after + 1, len(rows)), *range(min(after + 1, len(rows))))
    return next((at for at in places if (thing := rows[at].thing) is not None and wanted(thing)), None)
