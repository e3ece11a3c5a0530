"""What stands round the gatherings: the title with the book's totals above, the panel on the cursor's page beside."""

from __future__ import annotations

from collections import Counter
from itertools import zip_longest
from typing import TYPE_CHECKING, NamedTuple

from rich.cells import cell_len, set_cell_size

from copydesk.book.common.sanitize import sanitize
from copydesk.desk.widgets.toned_lines import Piece, TonedLines, plain
from copydesk.desk.wording.desk_panel_words import desk_panel, lately_lines, waiting_lines
from copydesk.desk.wording.gathering_words import title_totals
from copydesk.tracking.views.page_view import page_account

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from textual.screen import Screen

    from copydesk.desk.wording.desk_panel_words import PanelGroup
    from copydesk.desk.wording.lines import PanelLine
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.gathering_progress import BookGlance, Totals
    from copydesk.tracking.views.page_view import PageAccount


HEAD = 10
"""Cells for a heading; the longest is the figures of a page with its lines over."""


class PanelSize(NamedTuple):
    """The cells of the panel: ``wide`` beside the gatherings (0 where it lies below them), ``high`` below them."""

    wide: int
    high: int


def panel_size(width: int, height: int, *, roomy: bool) -> PanelSize:
    """Where the panel goes on a screen of so many cells; ``roomy`` says that the gatherings fit beside it."""
    if roomy and width >= _SIDE_FROM:
        return PanelSize(50 if width >= _WIDE_SIDE_FROM else 40, 0)
    if height < _LEAST_HEIGHT:
        return PanelSize(0, max(height - 18, 0))
    return PanelSize(0, 6 if height < 36 else 9 if height < 50 else 14)


def has_room_beside(state: BookState, width: int) -> bool:
    """Whether the commonest gathering stays well readable on a screen ``width`` wide with the panel beside it."""
    sizes = Counter(len(gathering.leaves) for gathering in state.collation.gatherings)
    leaves = sizes.most_common(1)[0][0] if sizes else 0
    digits = max(len(str(state.layout.columns * state.layout.lines)), 2)
    return (width - panel_size(width, 0, roomy=True).wide - 5) // max(leaves, 1) >= 2 * digits + 5


def place_panel(screen: Screen[None], size: PanelSize) -> None:
    """Put a screen's panel beside its gatherings, or below them."""
    panel = screen.query_one("#panel")
    screen.query_one("#book").styles.layout = "horizontal" if size.wide else "vertical"
    panel.styles.width, panel.styles.height = (size.wide, "1fr") if size.wide else ("1fr", size.high)
    panel.display = bool(size.wide or size.high)


_SIDE_FROM, _WIDE_SIDE_FROM, _LEAST_HEIGHT = 118, 180, 24


_LEAST_TITLE = 16


def title_pieces(title: str, at_desk: str, totals: Totals | None, width: int) -> list[Piece]:
    """The title row: the book, who is at the desk, how far it has come; shorter where there is less room."""
    name, desk = f" {sanitize(title)}", f"   at the desk: {sanitize(at_desk)}" if at_desk else ""
    long, short = (_totals(totals, short=short) for short in (False, True))
    for said, right in ((desk, long), (desk, short), (desk.partition(",")[0], short), ("", short), ("", [])):
        room = width - cell_len(said) - cell_len(plain(right))
        if room >= min(cell_len(name), _LEAST_TITLE):
            break
    if cell_len(name) > room:
        name = f"{set_cell_size(name, max(room - 1, 0))}…"
    return [(name, "head"), (said, "soft"), (" " * (room - cell_len(name)), ""), *right]


def _totals(totals: Totals | None, *, short: bool) -> list[Piece]:
    """The book's totals with blanks between, each in its tone."""
    said = title_totals(totals, short=short) if totals is not None else []
    return [*(piece for each in said for piece in (("   ", ""), each)), (" ", "")]


class PagePanel(TonedLines):
    """The page under the cursor; beside the gatherings also what waits in the book and what was recorded lately."""

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002 - Textual's own name
        super().__init__(id=id)
        self._groups: list[PanelGroup] = []
        self._account: PageAccount | None = None
        self._book: BookState | None = None
        self._waits: list[PanelLine] = []
        self.beside = False

    @property
    def lines_shown(self) -> tuple[PanelLine, ...]:
        """What is said of the page, line by line."""
        return tuple(line for group in self._groups for line in group.lines)

    def show_page(self, state: BookState, index: int) -> None:
        """Show the page at ``index``."""
        inside = 0 <= index < state.collation.pages
        self._account = page_account(state, index) if inside else None
        self._groups = desk_panel(state, self._account) if self._account is not None else []
        self._lay()

    def show_whole(self, state: BookState, glance: BookGlance) -> None:
        """Show what waits in the book, and what was recorded lately."""
        self._book, self._waits = state, waiting_lines(state, glance)
        self._lay()

    def on_resize(self) -> None:
        """Wrap the lines anew."""
        self._lay()

    def _lay(self) -> None:
        width, height = self.size.width, self.size.height
        if not width or not height:
            return
        if not self.beside:
            self.show_lines_of([*_below(self._groups[:height], width, height)])
            return
        waits = len(self._waits) + 2 if self._waits else 0
        rows = [[], *_beside(self._groups, width, height - waits - 1)]
        for part in self._rest(width, height - len(rows)):
            rows += part
        self.show_lines_of(rows[:height])

    def _rest(self, width: int, room: int) -> Iterator[list[list[Piece]]]:
        """What else there is room for: what waits, what was recorded lately, the sheet as it lies."""
        if self._book is None:
            return
        state = self._book
        for most in (3, 2, 1):
            part = _part("What waits in the book", _waiting_rows(self._waits, width, most))
            if len(part) <= room:
                break
        if self._waits and len(part) <= room:
            yield part
            room -= len(part)
        lately = lately_lines(state, min(room - 2, _MOST_LATELY)) if room >= _LEAST_LATELY else []
        if lately:
            rows = (row for line in lately for row in panel_rows(line, width, 12, most=2))
            part = _part("Recorded lately", rows)
            yield part
            room -= len(part)
        if room >= _LEAST_SHEET and width >= _SHEET_FROM and self._account is not None:
            yield _part("The sheet as it lies", sheet_rows(state, self._account, width - 2, room - 2))


def _waiting_rows(lines: Iterable[PanelLine], width: int, most: int) -> Iterator[list[Piece]]:
    for line in lines:
        yield from panel_rows(line, width, HEAD, most=most, says=_PAGE_TONES.get(line.tone, "ink"))


_LEAST_LATELY, _MOST_LATELY = 5, 6
_PAGE_TONES = {"waits": "waits", "soft": "soft"}
_LEAST_SHEET, _SHEET_FROM = 11, 48

_SHEET_TONES = {
    "edge": "soft",
    "ink": "ink",
    "quiet": "quiet",
    "rule": "quiet",
    "space": "waits",
    "wrong": "wrong",
    "label": "ink",
    "cursor": "now",
}
"""The tones of the drawing of a sheet, as this panel has them."""


def sheet_rows(state: BookState, account: PageAccount, width: int, height: int) -> Iterator[list[Piece]]:
    """The side of the loose sheet that the page stands on, as a small picture."""
    from copydesk.book.structure.sheets import find_sheet
    from copydesk.desk.widgets.sheet_drawing import draw_side
    from copydesk.tracking.views.sheet_view import sheet_account

    place = account.place
    side = sheet_account(state, find_sheet(state.collation, place.sheet_name)).side(place.side)
    for row in draw_side(state, side, account.page, width, height).rows:
        yield [(" ", ""), *((piece.text, _SHEET_TONES.get(piece.tone, "")) for piece in row)]


def _part(head: str, rows: Iterable[list[Piece]]) -> list[list[Piece]]:
    return [[], [(f" {head}", "head")], *rows]


def panel_rows(line: PanelLine, width: int, head: int, *, most: int = 20, says: str = "") -> Iterator[list[Piece]]:
    """A line wrapped beside its heading, in at most ``most`` rows; ``says`` is the tone of what it says, if another."""
    tone = line.tone or ("wrong" if line.wrong else "ink")
    room = max(width - head - 3, 8)
    rows = wrapped(line.says, room)
    if len(rows) > most:
        rows = [*rows[: most - 1], f"{wrapped(rows[most - 1], room - 2)[0]} …"]
    heads = [line.head] if cell_len(line.head) <= head else [set_cell_size(line.head, head)]
    for said, text in zip_longest(heads, rows, fillvalue=""):
        yield [(f" {set_cell_size(said, head)} ", _head_tone(line, tone)), (text, says or tone)]


def _head_tone(line: PanelLine, tone: str) -> str:
    return tone if tone in ("wrong", "mend", "waits", "work") else "head" if line.tone == "ink" else "soft"


def wrapped(text: str, width: int) -> list[str]:
    """A text in lines of at most ``width`` cells, broken between words, a longer word where it must be."""
    rows, row = [], ""
    for word in text.split():
        longer = f"{row} {word}" if row else word
        if cell_len(longer) <= width:
            row = longer
            continue
        if row:
            rows.append(row)
        while cell_len(word) > width:
            part = set_cell_size(word, width)
            rows.append(part)
            word = word[len(part.rstrip()) or 1 :]  # noqa: PLW2901 - the rest of it
        row = word
    return [*rows, row] if row or not rows else rows


def _below(groups: Sequence[PanelGroup], width: int, height: int) -> Iterator[list[Piece]]:
    """A row for each group; where rows are left over, all of a group that its row would cut."""
    spare = height - len(groups)
    for group in groups:
        row = list(_in_a_row(group, width))
        whole = [each for line in group.lines for each in panel_rows(line, width, HEAD)]
        if plain(row).endswith("…") and len(whole) <= spare + 1:
            spare -= len(whole) - 1
            yield from whole
        else:
            yield row


def _beside(groups: Sequence[PanelGroup], width: int, height: int) -> list[list[Piece]]:
    """All lines of the groups; where they are too high, the last groups keep what comes first of several lines.

    What is wrong is never left out.
    """
    said = [[list(panel_rows(line, width, HEAD)) for line in group.lines] for group in groups]
    over = sum(len(rows) for lines in said for rows in lines) - height
    for group, lines in zip(reversed(groups), reversed(said), strict=True):
        while over > 0 and len(lines) > 1 and not group.lines[len(lines) - 1].wrong:
            over -= len(lines.pop())
    return [row for lines in said for rows in lines for row in rows]


def _in_a_row(group: PanelGroup, width: int) -> Iterator[Piece]:
    """A group in one row: its heading, then its lines one after another, cut where the row ends."""
    lines: Sequence[PanelLine] = group.short or group.lines
    head = group.head or lines[0].head
    first = lines[0].tone or ("wrong" if lines[0].wrong else "ink")
    yield (f" {set_cell_size(head, HEAD)} ", _head_tone(lines[0], first))
    room = width - HEAD - 3
    for at, line in enumerate(lines):
        said = line.says if at == 0 else f"; {line.says}"
        tone = line.tone or ("wrong" if line.wrong else "ink")
        if cell_len(said) > room:
            yield (f"{set_cell_size(said, max(room - 1, 0)).rstrip()}…", tone)
            return
        yield (said, tone)
        room -= cell_len(said)
