"""What is said of a page as part of a leaf: its flaws, the opening it is half of, the marks in its margins. Pure."""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING

from copydesk.book.common.units import show_length, show_size
from copydesk.book.structure.openings import opening_at, why_unlike
from copydesk.desk.wording.lines import PanelLine
from copydesk.tracking.views.page_marks import page_marks

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from copydesk.book.plan import Flaw
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.page_view import PageAccount


def leaf_lines(state: BookState, account: PageAccount) -> list[PanelLine]:
    """The panel's lines on flaws, opening and marks; only what there is to say."""
    return [*_flaws(state, account), *_opening(state, account), *_marks(state, account)]


def _flaws(state: BookState, account: PageAccount) -> Iterator[PanelLine]:
    for at, flaw in enumerate(account.flaws):
        yield PanelLine("" if at else "Flaws" if len(account.flaws) > 1 else "Flaw", _flaw(state, flaw))
    if account.flaws:
        frame = state.frames.get(account.page.index, state.frame)
        yield PanelLine("", lines_taken(frame.flaws, state.layout.columns))


def _flaw(state: BookState, flaw: Flaw) -> str:
    unit = state.book.unit
    size, head = show_size(flaw.width, flaw.height, unit), show_length(flaw.from_head, unit)
    return f"{size}, {head} from the head, {show_length(flaw.from_fold, unit)} from the fold"


def lines_taken(lost: Iterable[tuple[int, int, float]], columns: int) -> str:
    """Which lines flaws take, column by column: ``takes lines 3 to 5, part of line 6, of column 1``."""
    said = []
    for column, found in groupby(sorted(lost), key=lambda each: each[0]):
        lines = list(found)
        whole = _ranges([line for _, line, share in lines if share == 0.0])
        part = _ranges([line for _, line, share in lines if share > 0.0])
        parts = ", ".join([each for each in (whole, f"part of {part}" if part else "") if each])
        said.append(f"{parts} of column {column}" if columns > 1 else parts)
    return f"takes {'; '.join(said)}" if said else "takes no line"


def _ranges(lines: list[int]) -> str:
    """``line 3``; ``lines 3 to 5, 9``; empty where there are none."""
    runs: list[list[int]] = []
    for line in lines:
        if runs and line == runs[-1][-1] + 1:
            runs[-1].append(line)
        else:
            runs.append([line])
    said = ", ".join(f"{run[0]} to {run[-1]}" if len(run) > 1 else str(run[0]) for run in runs)
    return f"{'line' if len(lines) == 1 else 'lines'} {said}" if said else ""


def _opening(state: BookState, account: PageAccount) -> Iterator[PanelLine]:
    opening = opening_at(state.collation, account.page)
    if opening is not None and not opening.like:
        why = why_unlike(state.collation, opening, state.book.signing.foliation)
        facing = opening.right if account.page == opening.left else opening.left
        yield PanelLine("Opening", f"hair faces flesh across from {state.book.named(facing)}: {why}", True)


def _marks(state: BookState, account: PageAccount) -> Iterator[PanelLine]:
    marks = page_marks(state, account.page)
    said = [
        f"signature {marks.signature}" if marks.signature else "",
        f'catchword "{marks.catchword}"' if marks.catchword else "",
    ]
    if any(said):
        yield PanelLine("Marks", ", ".join(each for each in said if each))
