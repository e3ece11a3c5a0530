"""The line budget: the whole text through all pages, from what was written and from where pages are held.

A page whose text is begun (or whose beginning was set by hand) *holds* its beginning: the text before it must
end there. Pages between two held ones make a *stretch*; the lines by which its text passes its room, or leaves
room, show where to write closer or wider. Work done again costs what has changed: a page whose cursor, frame,
record and hand are as before is not cast again.
"""

from __future__ import annotations

from bisect import bisect_left
from types import MappingProxyType
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.casting.line_breaking import Lines
from copydesk.book.casting.page_casting import Caster
from copydesk.book.common.progress import OnProgress, no_progress, with_progress
from copydesk.book.layout.page_frame import Cursor, Frame, PageCast, Placement, Shape

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from copydesk.book.layout.page_frame import Anchored
    from copydesk.book.text.copy_text import CopyText


_NOTHING: Mapping[int, float] = MappingProxyType({})

_KEPT = 4
"""Measures no longer in use whose lines are kept, since a hand may come back to one of them."""


class Pin(NamedTuple):
    """What is fixed on a page: where its text begins; how far it is written (piece and text lines); if it is whole.

    ``hand`` wrote last on it and is expected to go on. ``ends`` is None where nothing is written yet.
    """

    begins: int
    ends: int | None = None
    lines: int = 0
    whole: bool = False
    hand: str = ""


class PagesToFill(NamedTuple):
    """The pages to fill: how many, their usual frame, those with another, what is fixed, and who writes which.

    ``fixed`` names the spaces that have their place on some skin. ``agreed`` gives the letters a line of pages on
    which another closeness than the hand's own was agreed.
    """

    pages: int
    frame: Frame
    frames: Mapping[int, Frame]
    pins: Mapping[int, Pin]
    hand_of: Callable[[int], str]
    fixed: frozenset[str] = frozenset()
    agreed: Mapping[int, float] = _NOTHING


class PageBudget(NamedTuple):
    """One page: text from piece to piece; lines planned, written, and room; spaces; how it meets the page before.

    ``planned`` counts text lines, those written among them; a page that must take more than it holds has
    ``planned`` above ``room``. ``gap`` and ``overlap`` are pieces skipped or taken twice before this page. ``empty`` of
    the planned lines hold no text, as they are too narrow for the next word; ``kept`` lines stay blank though the text
    goes on, as a heading would stand there alone or an initial has no room.
    """

    start: int
    end: int
    planned: int
    written: int
    room: int
    placed: tuple[Placement, ...]
    gap: int
    overlap: int
    stretch: int
    columns: tuple[int, ...]
    empty: int = 0
    kept: int = 0

    @property
    def over(self) -> int:
        """Lines of its text that have no place on it; where all have one, the lines left empty, as a number below 0.

        Lines that stay blank are no room for text: so a stretch has as many lines over as its last page.
        """
        beyond = self.planned + self.kept - self.room
        return beyond if beyond > 0 else max(self.planned, self.written) - self.room


class HeldPages(NamedTuple):
    """Pages (indices, last included) whose text is held at both ends: its pieces, its lines of room and of text.

    Lines that stay empty before the text ends (where a division begins a page, say) are no room for it.
    """

    first: int
    last: int
    start: int
    end: int
    room: int
    lines: int
    hand: str

    @property
    def over(self) -> int:
        """Lines by which the text passes its room; negative where room is left."""
        return self.lines - self.room


def lines_left(pages: Sequence[tuple[int, int]]) -> int:
    """Lines left after a text that ends on these pages, each given by its lines of text and its lines of room."""
    last = max((at for at, (lines, _) in enumerate(pages) if lines), default=0)
    return sum(max(room - lines, 0) for lines, room in pages[last:])


class Budget(NamedTuple):
    """The whole book: its pages, its stretches, text without room, spaces without a place, lines left at the end."""

    pages: tuple[PageBudget, ...]
    stretches: tuple[HeldPages, ...]
    end: int
    lines_without_room: int
    lines_left_over: int
    last_page: int
    homeless: tuple[str, ...]
    keys: Sequence[object]
    limits: Sequence[int]
    casts: Sequence[PageCast | None]
    fixed: frozenset[str]


class Budgeter:
    """Works out budgets of one text, whatever is recorded.

    ``known`` holds the lines of each measure already broken; a budgeter for the same text with other spaces may
    be given the same. ``on_progress`` is given the share done, from 0 to 1.
    """

    def __init__(
        self,
        copy: CopyText,
        measures: Mapping[str, float],
        anchors: Sequence[Anchored],
        known: dict[float, Lines] | None = None,
        on_progress: OnProgress = no_progress,
    ) -> None:
        self.copy = copy
        self.measures = measures
        self.anchors = anchors
        self._anchor_pieces = [anchor.piece for anchor in anchors]
        self._tied_to = {anchor.shape.id: anchor.piece for anchor in anchors}
        self._lines: dict[float, Lines] = known if known is not None else {}
        self._casters: dict[str, Caster] = {}
        self._agreed: dict[float, Caster] = {}
        self._rooms: dict[Frame, int] = {}
        self._on_progress = on_progress

    def remeasure(self, measures: Mapping[str, float]) -> None:
        """Take other letters a line for the hands; a hand whose letters stay casts as before."""
        for hand in list(self._casters):
            if self._measure(hand) != (measures.get(hand) or next(iter(measures.values()))):
                del self._casters[hand]
        self._rooms = {}
        self.measures = measures
        for unused in [each for each in self._lines if each not in measures.values()][:-_KEPT]:
            del self._lines[unused]

    def lines(self, measure: float) -> Lines:
        """All lines of the text at a measure in letters."""
        if measure not in self._lines:
            self._lines[measure] = Lines(
                self.copy, measure * self.copy.mean * self.copy.grain, on_progress=self._on_progress
            )
        return self._lines[measure]

    def caster(self, hand: str, agreed: float | None = None) -> Caster:
        """What casts pages for one hand, or at letters a line agreed on for them."""
        if agreed is not None:
            if agreed not in self._agreed:
                width = agreed * self.copy.mean * self.copy.grain
                self._agreed[agreed] = Caster(Lines.as_needed(self.copy, width), self.anchors)
            return self._agreed[agreed]
        if hand not in self._casters:
            self._casters[hand] = Caster(self.lines(self._measure(hand)), self.anchors)
        return self._casters[hand]

    def room(self, frame: Frame) -> int:
        """Lines for text on a page of this frame that bears none."""
        if not frame.fixed and not frame.flaws:
            return frame.columns * frame.lines
        if frame not in self._rooms:
            caster = self.caster(next(iter(self.measures)))
            self._rooms[frame] = caster.page(Cursor(0), frame, recto=True, limit=0).room
        return self._rooms[frame]

    def _measure(self, hand: str) -> float:
        return self.measures.get(hand) or next(iter(self.measures.values()))

    def tied_to(self, shape: Shape) -> int:
        """The piece of the text that a space is tied to."""
        return self._tied_to[shape.id]

    def cursor(self, piece: int, met: int = 0) -> Cursor:
        """The cursor of a page that begins at ``piece``: spaces tied to earlier text are not its affair.

        Nor are the first ``met`` spaces, which the text met on pages before, though it be written twice.
        """
        return Cursor(piece, max(bisect_left(self._anchor_pieces, piece), met))

    def work(self, task: PagesToFill, before: Budget | None = None, on_progress: OnProgress = no_progress) -> Budget:
        """Cast the text through the pages of ``task``; what ``before`` had under the same conditions is taken over."""
        return _Walk(self, task, before).walk(on_progress)


class _Walk:
    """One pass over all pages."""

    def __init__(self, budgeter: Budgeter, task: PagesToFill, before: Budget | None) -> None:
        self.budgeter = budgeter
        self.task = task
        self.before = before if before is not None and len(before.pages) == task.pages else None
        self.held = sorted(index for index in task.pins if index < task.pages)
        self.pages: list[PageBudget] = []
        self.keys: list[object] = []
        self.limits: list[int] = []
        self.casts: list[PageCast | None] = []
        self.stretches: list[HeldPages] = []
        self.homeless: list[str] = []
        self.cursor = Cursor(0)
        self.open_from: int | None = 0
        self.open_start = 0

    def walk(self, on_progress: OnProgress) -> Budget:
        """Go through the pages once."""
        next_held, total = 0, self.budgeter.copy.pieces
        for index in with_progress(range(self.task.pages), on_progress, 500):
            pin = self.task.pins.get(index)
            while next_held < len(self.held) and self.held[next_held] <= index:
                next_held += 1
            limit = self.task.pins[self.held[next_held]].begins if next_held < len(self.held) else total
            if pin is None:
                self._unwritten(index, limit)
            else:
                self._pinned(index, pin, limit)
        return self._close(total)

    def _unwritten(self, index: int, limit: int) -> None:
        if self.open_from is None:
            self.open_from, self.open_start = index, self.cursor.piece
        hand = self.task.hand_of(index)
        cast = self._cast(index, self.cursor, limit, hand, skip=0)
        self._note(cast, written=0, gap=0, overlap=0)

    def _pinned(self, index: int, pin: Pin, limit: int) -> None:
        start = pin.ends if pin.ends is not None else pin.begins
        cursor = self._carry(start)
        gap, overlap = self._meet(index, pin)
        if pin.whole and pin.ends is not None:
            frame = self.task.frames.get(index, self.task.frame)
            room = self.budgeter.room(frame)
            page = PageBudget(pin.begins, pin.ends, pin.lines, pin.lines, room, frame.fixed, gap, overlap, -1, ())
            self.keys.append(None)
            self.limits.append(limit)
            self.casts.append(None)
            self.pages.append(page)
            self.cursor = cursor
            self.open_from = None
            return
        self.open_from, self.open_start = index, start
        hand = pin.hand or self.task.hand_of(index)
        cast = self._cast(index, cursor._replace(held=pin.ends is None), max(limit, start), hand, skip=pin.lines)
        self._note(cast, written=pin.lines, gap=gap, overlap=overlap, start=pin.begins)

    def _carry(self, start: int) -> Cursor:
        """The cursor of a text fixed to go on at ``start``, with the spaces that still wait for their place there.

        Those are the ones left over before, and those tied to text passed by now that have a place on no skin. An
        initial stays with its text: where that is passed without it, it has no place any more.
        """
        anchors, task, cursor = self.budgeter.anchors, self.task, self.budgeter.cursor(start, self.cursor.anchor)
        if cursor.anchor == self.cursor.anchor and not self.cursor.waiting:  # as on most pages: nothing waits
            return cursor
        passed = tuple(each.shape for each in anchors[self.cursor.anchor : cursor.anchor])
        waiting = [shape for shape in (*self.cursor.waiting, *passed) if shape.id not in task.fixed]
        kept = [shape for shape in waiting if shape.share == 0.0 or self.budgeter.tied_to(shape) >= start]
        self.homeless += [shape.id for shape in waiting if shape not in kept]
        return cursor._replace(waiting=tuple(kept))

    def _meet(self, index: int, pin: Pin) -> tuple[int, int]:
        """How a held page meets what comes before it: closes the stretch, or tells a gap or an overlap."""
        reached = self.cursor.piece
        open_from, self.open_from = self.open_from, None
        if index == 0:
            return max(pin.begins, 0), 0
        if reached > pin.begins:
            return 0, reached - pin.begins
        if open_from is None or open_from >= index:
            return pin.begins - reached, 0
        self._close_stretch(open_from, index - 1, pin.begins, reached)
        return 0, 0

    def _close_stretch(self, first: int, last: int, end: int, reached: int) -> None:
        """Put down a stretch; text it has no room for is planned on its last page, over its budget."""
        hand = self.task.hand_of(last)
        caster = self.budgeter.caster(hand, self.task.agreed.get(last))
        over = caster.lines.count(reached, end) if reached < end else 0
        number = len(self.stretches)
        for index in range(first, last + 1):
            self.pages[index] = self.pages[index]._replace(stretch=number)
        page = self.pages[last]
        kept = max(page.room - page.planned, 0) if over else page.kept  # whatever the text leaves blank before it ends
        self.pages[last] = page._replace(end=end, planned=page.planned + over, kept=kept)
        pages = self.pages[first : last + 1]
        lines = sum(each.planned - each.written for each in pages)
        left = lines_left([(each.planned, each.room) for each in pages])
        room = lines - over if over else lines + left
        self.stretches.append(HeldPages(first, last, self.open_start, end, room, lines, hand))

    def _cast(self, index: int, cursor: Cursor, limit: int, hand: str, *, skip: int) -> PageCast:
        """Cast a page, or take it over from before where nothing it depends on has changed."""
        frame = self.task.frames.get(index, self.task.frame)
        caster = self.budgeter.caster(hand, self.task.agreed.get(index))
        key = (cursor, frame, caster, skip)
        self.keys.append(key)
        self.limits.append(limit)
        before = self.before
        if before is not None and before.keys[index] == key:
            cast = before.casts[index]
            if cast is not None and self._met_alike(cast, before.fixed):
                known = before.limits[index]
                if known == limit or cast.end.piece < caster.lines.alike_before(known, limit):
                    return cast
        recto = index % 2 == 0
        return caster.page(cursor, frame, recto=recto, limit=limit, skip=skip, fixed=self.task.fixed)

    def _met_alike(self, cast: PageCast, fixed_before: frozenset[str]) -> bool:
        """Whether the spaces this page met are fixed, or free, as they were."""
        if cast.start.anchor == cast.end.anchor:
            return True
        met = self.budgeter.anchors[cast.start.anchor : cast.end.anchor]
        return all((each.shape.id in fixed_before) == (each.shape.id in self.task.fixed) for each in met)

    def _note(self, cast: PageCast, *, written: int, gap: int, overlap: int, start: int | None = None) -> None:
        self.casts.append(cast)
        begins = cast.start.piece if start is None else start
        end, planned = cast.end.piece, max(cast.lines, written)
        met = (cast.room, cast.placed, gap, overlap, -1, cast.columns, cast.empty, cast.kept)
        self.pages.append(PageBudget(begins, end, planned, written, *met))
        self.cursor = cast.end

    def _close(self, total: int) -> Budget:
        reached = self.cursor.piece
        hand = self.task.hand_of(max(self.task.pages - 1, 0))
        without = self.budgeter.caster(hand).lines.count(reached, total) if reached < total else 0
        self.homeless += [shape.id for shape in self.cursor.waiting]
        last = max((index for index, page in enumerate(self.pages) if page.planned or page.placed), default=-1)
        free = sum(page.room - page.planned for page in self.pages[last + 1 :])
        if last >= 0 and not without:
            free += max(self.pages[last].room - self.pages[last].planned, 0)
        self.homeless += [shape.id for shape in self._never_met()]
        return Budget(
            pages=tuple(self.pages),
            stretches=tuple(self.stretches),
            end=reached,
            lines_without_room=without,
            lines_left_over=free if not without else 0,
            last_page=last,
            homeless=tuple(dict.fromkeys(self.homeless)),
            keys=self.keys,
            limits=self.limits,
            casts=self.casts,
            fixed=self.task.fixed,
        )

    def _never_met(self) -> list[Shape]:
        """Spaces tied to text that no page has room for."""
        placed = {placement.id for page in self.pages for placement in page.placed}
        known = placed.union(self.homeless, self.task.fixed)
        return [anchor.shape for anchor in self.budgeter.anchors if anchor.shape.id not in known]
