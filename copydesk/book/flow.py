"""The text to be copied, as the plan tells of it: the exemplar, divisions that are only counted, how the text flows.

Letters and lines are those of the exemplar or of the new book, as each name says.
"""

from __future__ import annotations

from types import MappingProxyType
from typing import TYPE_CHECKING, Any, Literal, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Mapping
    from datetime import date


_NOTHING: Mapping[Any, Any] = MappingProxyType({})

Starts = Literal["run on", "line", "column", "page", "recto"]
"""Where a division (or paragraph) begins: on the same line, or on a new line, column, page or recto."""


class ExemplarLoan(NamedTuple):
    """The book copied from: its text file (or none), who lent it, when it goes back."""

    text: str | None = None
    lent_by: str = ""
    due: date | None = None
    lines_per_page: int | None = None
    letters_per_line: float | None = None


class CountedDivision(NamedTuple):
    """A division nobody has typed: its title and one count (words, letters with word-spaces, exemplar lines)."""

    title: str
    words: int | None = None
    letters: int | None = None
    lines: int | None = None
    starts: Starts | None = None


class Flow(NamedTuple):
    """How the text begins its parts: divisions, some of them by number, paragraphs, and rubrics; how it goes on.

    ``keep_with_next`` are the lines after a rubric that stand in its column with it. ``pictures`` says whether pictures
    that wait for room keep the order of the text, or the first that fits is placed. ``holes`` says whether a line goes
    on beyond a hole in its middle. ``line_ends`` says whether lines are filled one by one, or those of a paragraph
    chosen together so that their ends are most even; an end short by ``line_fillers`` letters wants a filler, where
    that is not 0. ``between_stanzas`` are blank lines; ``hanging`` are letters by which the further lines of a long
    verse are indented, and ``long_verses`` says where its end goes. ``copied`` says whether lines or pages are to hold
    what those of the exemplar hold.
    """

    divisions: Starts = "line"
    starts: Mapping[int, Starts] = _NOTHING
    paragraphs: Literal["line", "run on"] = "line"
    rubrics: Literal["line", "share"] = "line"
    keep_with_next: int = 1
    pictures: Literal["in order", "as they fit"] = "in order"
    holes: Literal["both sides", "one side"] = "both sides"
    line_ends: Literal["as they come", "even"] = "as they come"
    line_fillers: float = 0.0
    between_stanzas: int = 0
    hanging: float = 0.0
    long_verses: Literal["next line", "line above", "line below"] = "next line"
    copied: Literal["freely", "line for line", "page for page", "line and page"] = "freely"

    @property
    def both_sides(self) -> bool:
        """Whether a line goes on beyond a hole in its middle."""
        return self.holes == "both sides"

    @property
    def by_line(self) -> bool:
        """Whether each line is to hold what the exemplar's line holds."""
        return self.copied in ("line for line", "line and page")

    @property
    def by_page(self) -> bool:
        """Whether each page is to hold what the exemplar's page holds."""
        return self.copied in ("page for page", "line and page")
