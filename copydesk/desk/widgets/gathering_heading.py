"""The words over a gathering of the grid, and the brace under its leaves. No Textual here."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.phrases import count_of
from copydesk.tracking.views.page_view import page_account

if TYPE_CHECKING:
    from collections.abc import Iterator

    from copydesk.tracking.state.book_state import BookState


def gathering_heading(state: BookState, number: int, width: int) -> str:
    """What stands over the gathering at ``number`` (from 0), in the longest form that goes into ``width`` cells."""
    gathering = state.collation.gatherings[number]
    numbers = state.collation.leaf_numbers(gathering.number)
    if not numbers:
        return f" Gathering {gathering.number}   no leaf stands"
    pages = [page for leaf in numbers for page in ((leaf - 1) * 2, (leaf - 1) * 2 + 1)]
    accounts = [page_account(state, index) for index in pages]
    with_text = [account for account in accounts if account.budget.planned]
    written = sum(account.record.whole for account in with_text)
    waits = sum(account.spaces_waiting for account in accounts)
    sheets = len(gathering.sheet_numbers())
    parts = [
        f" Gathering {gathering.number}",
        state.book.leaves_named(numbers),
        f"{count_of(sheets, 'sheet')}, {gathering.leaves[0].recto} out",
        f"{written} of {len(with_text)} written",
    ]
    if waits:
        parts.append(f"{waits} {'space waits' if waits == 1 else 'spaces wait'}")
    shown = ("   ".join(parts), "  ".join(parts), "  ".join((parts[0], parts[1], *parts[3:])))
    return next((each for each in shown if len(each) < width), shown[-1])


def brace(first: int, last: int, label: str) -> str:
    """What joins the leaves at two columns, bearing ``label``; a leaf alone has its label beside it."""
    if first == last:
        return " " * first + "┴" + label
    if last - first - 1 < len(label):
        return " " * max((first + last - len(label)) // 2, 0) + f"└{label}┘"
    return " " * first + "└" + label.center(last - first - 1, "─") + "┘"


TONES = ("head", "leaf", "ink", "quiet", "wrong", "waits", "cursor", "brace")
"""The tones of the grid: each has a colour of its own in the style sheet."""

Piece = tuple[str, str]
"""A text of the grid and its tone."""


def joined(pieces: Iterator[Piece]) -> Iterator[Piece]:
    """Pieces of one tone put together, blanks with what stands before them: a line costs as its pieces are many."""
    text, tone = "", ""
    for more, its_tone in pieces:
        if its_tone == tone or (more.isspace() and tone != "cursor"):
            text += more
        elif text.isspace() and tone != "cursor":
            text, tone = text + more, its_tone
        else:
            if text:
                yield text, tone
            text, tone = more, its_tone
    if text:
        yield text, tone
