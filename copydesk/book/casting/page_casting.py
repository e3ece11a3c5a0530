"""Casting off: the text through the ruled lines of one page, around the spaces reserved on it.

The text runs down each column in turn. A space is tied to a place in the text; the page where the text reaches
that place gives it room, or where too little is left, the head of the next column. Once a page is ruled its
spaces are fixed on the skin and the text runs around them; a space that comes too late for it goes on to the next page
that is not ruled.
"""

from __future__ import annotations

from bisect import bisect_left
from typing import TYPE_CHECKING

from copydesk.book.casting.headings import Headings
from copydesk.book.casting.line_breaking import line_end, line_through
from copydesk.book.casting.long_verses import apart
from copydesk.book.layout.page_frame import Anchored, CastLine, Cursor, Frame, PageCast, Placement, Shape

if TYPE_CHECKING:
    from collections.abc import Sequence, Set

    from copydesk.book.casting.line_breaking import Lines


class Caster:
    """Casts pages of one text at one measure.

    ``anywhere`` lets every division begin where it comes, as on a page that is written already.
    """

    def __init__(self, lines: Lines, anchors: Sequence[Anchored], *, anywhere: bool = False) -> None:
        self.lines = lines
        self.anchors = anchors
        runs = () if anywhere else lines.copy.runs
        self.rules = {run.start: run.starts for run in runs if run.starts not in ("line", "run on")}
        self._rule_pieces = sorted(self.rules)
        self._apart = apart(lines.copy)
        self.headings = Headings(lines, anchors, {} if anywhere else lines.copy.headings)
        self.initials = {} if anywhere else {each.piece: each.shape for each in anchors if each.shape.share > 0.0}

    def page(
        self,
        cursor: Cursor,
        frame: Frame,
        *,
        recto: bool,
        limit: int,
        skip: int = 0,
        fixed: Set[str] = frozenset(),
    ) -> PageCast:
        """Cast one page from ``cursor``; text from ``limit`` on is not its affair.

        Args:
            cursor: what is to be cast next.
            frame: the page's lines.
            recto: whether the page is a recto, for divisions that must begin on one.
            limit: the piece where the text that may stand here ends.
            skip: lines for text already written at the page's beginning.
            fixed: spaces that have their place on some skin already, so that the text need not bring them.
        """
        if not (skip or frame.fixed or frame.flaws or cursor.waiting):
            plain = self._even_page(cursor, frame, limit)
            if plain is not None:
                return plain
        return _PageInHand(self, cursor, frame, recto=recto, limit=limit, skip=skip, fixed=fixed).cast()

    def _even_page(self, cursor: Cursor, frame: Frame, limit: int) -> PageCast | None:
        """A page where nothing happens but text, filled to its foot with lines known already; else None."""
        starts = self.lines.starts
        first = bisect_left(starts, cursor.piece)
        last = first + frame.columns * frame.lines
        if last >= len(starts) or starts[first] != cursor.piece or starts[last] > self.lines.sure_before(limit):
            return None
        event = self.next_rule(cursor.piece)
        if self._apart:
            apart = bisect_left(self._apart, cursor.piece)
            event = min(event, self._apart[apart] if apart < len(self._apart) else event)
        if cursor.anchor < len(self.anchors):
            event = min(event, self.anchors[cursor.anchor].piece)
        if event < starts[last] or self.headings.any_alone(first, last, frame.lines):
            return None
        columns = tuple(starts[first : last : frame.lines])
        end = Cursor(starts[last], cursor.anchor)
        return PageCast(cursor, end, last - first, last - first, (), columns)

    def page_lines(
        self,
        cursor: Cursor,
        frame: Frame,
        *,
        recto: bool,
        limit: int,
        skip: int = 0,
        fixed: Set[str] = frozenset(),
    ) -> list[CastLine]:
        """The lines of a page one by one, cast as ``page`` casts it; those skipped are left out."""
        page = _PageInHand(self, cursor, frame, recto=recto, limit=limit, skip=skip, fixed=fixed)
        page.trace = []
        page.cast()
        return page.trace

    def runs_on_at(self, piece: int) -> bool:
        """Whether the text at ``piece`` just runs on: no heading and no new page begins there, and it does not end."""
        return piece < self.lines.copy.pieces and piece not in self.rules and not self.headings.begins_at(piece)

    def next_rule(self, piece: int) -> int:
        """The next piece at or after ``piece`` that must begin a column, page or recto."""
        found = bisect_left(self._rule_pieces, piece)
        return self._rule_pieces[found] if found < len(self._rule_pieces) else self.lines.copy.pieces


class _PageInHand:
    """The page being cast: its free lines, and how far the pen has come."""

    def __init__(
        self, caster: Caster, cursor: Cursor, frame: Frame, *, recto: bool, limit: int, skip: int, fixed: Set[str]
    ) -> None:
        self.caster = caster
        self.start = cursor
        self.piece = cursor.piece
        self.anchor = cursor.anchor
        self.waiting = list(cursor.waiting)
        self.frame = frame
        self.recto = recto
        self.limit = limit
        self.skip = skip
        self.fixed = fixed
        self.used = 0
        self.empty = 0
        self.kept = 0
        self.placed: list[Placement] = []
        # A page without spaces and flaws has no grid: its lines are all of full measure, and casting it is fast.
        self.grid = frame.shares() if frame.fixed or frame.flaws else None
        self.done = False
        self.above = 0.0  # the share of the measure that the text just above in the column has; 0 where none is
        self.blank = 0
        self.trace: list[CastLine] | None = None
        self.headings: list[tuple[int, int]] = []  # of the column in hand: the line each stands on, the lines it needs

    def cast(self) -> PageCast:
        """Go down the columns until the page is full or the text is at its end."""
        begins: list[int] = []
        for column in range(self.frame.columns):
            begins.append(self.piece)
            self._column(column)
        end = Cursor(self.piece, self.anchor, tuple(self.waiting))
        return PageCast(
            self.start, end, self.used, self._room(), tuple(self.placed), tuple(begins), self.empty, self.kept
        )

    @property
    def _filled(self) -> int:
        """Lines with text on them so far."""
        return self.used - self.empty

    def _room(self) -> int:
        if self.grid is None:
            return self.frame.columns * self.frame.lines
        return sum(share > 0.0 for column in self.grid for share in column)

    def _column(self, column: int) -> None:
        line, before = 0, self._filled
        self.headings = []
        self.above = 0.0
        while line < self.frame.lines and not self.done:
            if self.skip:
                line = self._skip_written(column, line)
                continue
            if self.blank < self._blank_due(column, line):
                line = self._leave_blank(column, line)
                continue
            rule, stays, need = self._rule(), 0, self._heading_need()
            if rule is None and 0 < (left := self._free_lines(column, line)) < need:
                rule, stays = "column", left
            # Text that may not begin here brings no spaces of its own with it; only those tied to text before it
            # are met. A space that finds no room waits, and the text goes on past it (see _give_room).
            may_begin = rule is None or (not stays and self._may_begin(rule, column_is_empty=self._filled == before))
            held_back = not may_begin
            self._meet_spaces(self.piece if held_back else self.piece + 1)
            if self._give_room(column, line) or self._awaits_initial(column, line):
                self.kept += self.grid is None or self.grid[column][line] > 0.0
                self.above = 0.0
                line += 1
            elif held_back or self.piece >= self.limit:
                # The page ends here, except that spaces left over, or a division that begins a column, want the next.
                self.done = not self.waiting if self.piece >= self.limit else rule != "column"
                self.kept += stays
                return
            else:
                if need:
                    self.headings.append((line, need))
                line = self._fill(column, line)

    def _rule(self) -> str | None:
        """Where the text at the pen must begin, if that matters and is not fixed by the page being held."""
        if self.piece >= self.limit or (self.start.held and self.piece == self.start.piece):
            return None
        return self.caster.rules.get(self.piece)

    def _heading_need(self) -> int:
        """The lines that the heading at the pen needs in its column; 0 where none begins or must stand here."""
        if self.piece >= self.limit or (self.start.held and self.piece == self.start.piece):
            return 0
        return self.caster.headings.need(self.piece, self.frame.lines, self.limit)

    def _free_lines(self, column: int, line: int) -> int:
        """The lines with room for text from ``line`` to the foot of a column."""
        if self.grid is None:
            return self.frame.lines - line
        return sum(share > 0.0 for share in self.grid[column][line:])

    def _may_begin(self, rule: str, *, column_is_empty: bool) -> bool:
        """Whether a division that must begin a column, page or recto may begin here."""
        if rule == "column":
            return column_is_empty
        return self._filled == 0 and (rule == "page" or self.recto)

    def _skip_written(self, column: int, line: int) -> int:
        """Pass over a line that holds text already written."""
        if self.grid is None or self.grid[column][line] > 0.0:
            self.skip -= 1
            self.used += 1
            self.above = 1.0
        return line + 1

    def _blank_due(self, column: int, line: int) -> int:
        """The blank lines to be left before the text at the pen: between two stanzas, where they share the column."""
        if not self.above or self.piece >= self.limit or (self.grid is not None and not self.grid[column][line]):
            return 0
        return self.caster.lines.copy.blank_before(self.piece)

    def _leave_blank(self, column: int, line: int) -> int:
        if self.trace is not None:
            self.trace.append(CastLine(column + 1, line + 1, self.piece, self.piece))
        self.blank += 1
        self.used += 1
        return line + 1

    def _fill(self, column: int, line: int) -> int:
        """Fill what lines can be filled before something else happens; give the next line."""
        share = 1.0 if self.grid is None else self.grid[column][line]
        if share == 0.0:
            self.above = 0.0
            return line + 1
        lines, before = self.caster.lines, self.piece
        self.blank = 0
        if share < 1.0:
            limit = min(lines.run_end(self.piece), self.limit)
            self.piece, filled = line_through(lines.copy, before, share, lines.measure, limit), 1
            self.empty += self.piece == before
        elif lines.copy.shaped and lines.copy.run_of(before).shape is not None:
            self.piece, filled = min(self._shaped_line(column, line), self.limit), 1
        else:
            # Lines are filled many at a time up to the next event. With spaces waiting on a page with a grid, each line
            # is an event: the first line with room for one of them takes it.
            one_by_one = self.trace is not None or lines.copy.shaped or (self.waiting and self.grid is not None)
            most = 1 if one_by_one else self._even_lines(column, line)
            self.piece, filled = lines.advance(self.piece, most, self._next_event(), self.limit)
            self.piece = min(self.piece, self.limit)
        if self.trace is not None:
            self.trace.append(CastLine(column + 1, line + 1, before, self.piece))
        self.used += filled
        self.above = share
        self._pass_spaces(column, line + filled - 1)
        return line + filled

    def _shaped_line(self, column: int, line: int) -> int:
        """Where a full line from the pen ends, for a text some of whose lines have their own shape."""
        lines, below = self.caster.lines, line + 1
        end = lines.run_end(self.piece)
        if lines.copy.flow.long_verses == "line above":
            alone = self.above < 1.0
        else:
            room = below < self.frame.lines and (self.grid is None or self.grid[column][below] == 1.0)
            alone = not room or end >= self._next_event()
        return line_end(lines.copy, self.piece, lines.measure, end, alone=alone)

    def _even_lines(self, column: int, line: int) -> int:
        """Lines of full measure from ``line`` on."""
        if self.grid is None:
            return self.frame.lines - line
        shares = self.grid[column]
        end = line
        while end < len(shares) and shares[end] == 1.0:
            end += 1
        return end - line

    def _next_event(self) -> int:
        """The next piece where something must be decided before the line is written."""
        event = min(self.limit, self.caster.next_rule(self.piece + 1), self.caster.headings.after(self.piece))
        if self.anchor < len(self.caster.anchors):
            event = min(event, self.caster.anchors[self.anchor].piece)
        return event

    def _meet_spaces(self, reached: int) -> None:
        """Note the spaces tied to text before ``reached``."""
        anchors = self.caster.anchors
        while self.anchor < len(anchors) and self._is_met(anchors[self.anchor], reached):
            if anchors[self.anchor].shape.id not in self.fixed:
                self.waiting.append(anchors[self.anchor].shape)
            self.anchor += 1

    def _is_met(self, space: Anchored, reached: int) -> bool:
        """Whether a space is tied to text before ``reached`` and the limit.

        A picture tied to the very words that are held to begin a later page stands in what lines are left before them,
        as it does where the text just runs on; but where they must begin a page or column, it goes with them.
        """
        if space.piece == self.limit < reached:
            shape = space.shape
            return shape.share == 0.0 and shape.lines > 0 and self.caster.runs_on_at(self.limit)
        return space.piece < min(reached, self.limit)

    def _pass_spaces(self, column: int, line: int) -> None:
        """Note the spaces tied to words within the line just written; those that take no room stand beside it."""
        self._meet_spaces(self.piece)
        for shape in tuple(self.waiting):
            if shape.lines == 0:
                self.waiting.remove(shape)
                self._place(shape, column, line)

    def _give_room(self, column: int, line: int) -> bool:
        """Put down the waiting spaces that have room here; True where the line must stay empty.

        A space without room waits for the next column while the text goes on, and later pictures behind it, unless the
        book lets them overtake; but an initial keeps its paragraph back with it, so the line stays empty.
        """
        overtaking = self.caster.lines.copy.flow.pictures == "as they fit"
        for shape in tuple(self.waiting):
            picture = shape.share == 0.0 and shape.lines > 0
            if picture and not overtaking and self._first_picture() is not shape:
                continue
            if self._fits(shape, column, line):
                self.waiting.remove(shape)
                self._place(shape, column, line)
            elif shape.share > 0.0:
                return True
        return False

    def _first_picture(self) -> Shape | None:
        """The picture that has waited longest."""
        return next((shape for shape in self.waiting if shape.share == 0.0 and shape.lines > 0), None)

    def _awaits_initial(self, column: int, line: int) -> bool:
        """Whether the text waits for an initial fixed further on, since that had no room here when it was planned."""
        shape = self.caster.initials.get(self.piece)
        if shape is None or shape.id not in self.fixed or self.piece >= self.limit:
            return False
        if self.start.held and self.piece == self.start.piece:
            return False
        own = [each for each in self.frame.fixed if each.id == shape.id]
        if any((max(each.column, 1), each.from_line) <= (column + 1, line + 1) for each in own):
            return False
        taken = {place for each in own for place in self.frame.lines_of(each)}
        lines = range(line, line + min(shape.lines, self.frame.lines))
        if lines.stop > self.frame.lines or self._alone_at_the_foot(shape, line):
            return True
        return self.grid is not None and any(
            self.grid[column][row] != 1.0 and (column + 1, row + 1) not in taken for row in lines
        )

    def _fits(self, shape: Shape, column: int, line: int) -> bool:
        if shape.lines == 0:
            return True
        if (self.frame.ruled and shape.share == 0.0) or (shape.across and (column > 0 or self.skip)):
            return False
        lines = min(shape.lines, self.frame.lines)
        if line + lines > self.frame.lines or (shape.share == 0.0 and self._parts_a_heading(column, lines)):
            return False
        if shape.share > 0.0 and self._alone_at_the_foot(shape, line):
            return False
        if self.grid is None:
            return True
        columns = range(self.frame.columns) if shape.across else (column,)
        return all(self.grid[each][row] == 1.0 for each in columns for row in range(line, line + lines))

    def _alone_at_the_foot(self, shape: Shape, line: int) -> bool:
        """Whether an initial would stand at a column's foot without room for text beside it, all that in the next."""
        if not 0 < line == self.frame.lines - min(shape.lines, self.frame.lines):
            return False
        lines = self.caster.lines
        limit = min(lines.run_end(self.piece), self.limit)
        return line_through(lines.copy, self.piece, 1.0 - shape.share, lines.measure, limit) == self.piece

    def _parts_a_heading(self, column: int, lines: int) -> bool:
        """Whether a picture of so many lines would leave a heading above it alone in the column."""
        return any(self._free_lines(column, line) - lines < need for line, need in self.headings)

    def _place(self, shape: Shape, column: int, line: int) -> None:
        lines = min(shape.lines, self.frame.lines)
        self.placed.append(Placement(shape.id, 0 if shape.across else column + 1, line + 1, lines, shape.share))
        if lines:
            if self.grid is None:
                self.grid = self.frame.shares()
            self.frame.take(self.grid, self.placed[-1])
