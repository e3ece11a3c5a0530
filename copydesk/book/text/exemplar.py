"""The text copied from: divisions, paragraphs, verse, rubrics, words, and the exemplar's own leaves and lines.

Words are what white space parts. A word's position counts from 0 through the whole text, rubrics and verse
included, in reading order; notes of the exemplar's places, and of what stands in its margins, are left out.
"""

from __future__ import annotations

import re
from bisect import bisect_left, bisect_right
from sys import intern
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.numerals import is_roman, read_roman
from copydesk.book.common.progress import no_progress, with_progress

if TYPE_CHECKING:
    from collections.abc import Iterator

    from copydesk.book.common.progress import OnProgress


_BEFORE_FIGURES = 10_000
"""More leaves than any numeral counts: leaves in roman numerals, counted apart, come before those in figures."""

_TURN = 1_000
"""Lines read between two reports of progress."""

_PLACE = re.compile(r"\{\s*([0-9]{1,6}|[ivxlcdm]{1,12})\s*([rv])(?:\s+([0-9]{1,4}))?\s*\}")
_NOTED = re.compile(rf"{_PLACE.pattern}|\{{\s*gloss:([^{{}}]*)\}}")
_OPENED = re.compile(r"((?:\{[^{}\n]{1,24}\}\s*)+)([#|])(\s+)")
_HANGING = re.compile(r"^(\|\s+(?:\{[^{}]*\}\s*)*)\{hanging(?: ([0-9]{1,4}))?\}\s?")
_LEADING = re.compile(rf"^( *)(?:(?:{_NOTED.pattern}) ?)+")
_HANGS = 2
"""Letters by which the further lines of a verse hang where the mark gives no number: an em, our own choice."""


class Block(NamedTuple):
    """A stretch of words with one nature: ``prose``, ``rubric``, ``verse`` (one line of it) or ``counted``.

    ``start`` and ``end`` are word positions (end exclusive). ``division`` counts from 1; ``paragraph`` counts
    from 1 in its division, 0 for a rubric; the lines of one stanza share a paragraph. A verse may be indented by
    letters, what is over of it may ``hang`` by further ones, and ``blank`` lines may stand before it.
    """

    start: int
    end: int
    kind: str
    division: int
    paragraph: int
    indent: int = 0
    hang: int = 0
    blank: int = 0


class Place(NamedTuple):
    """A place in the exemplar itself: at this word its leaf (``12r``), and line where it is noted, begins."""

    word: int
    leaf: str
    line: int | None

    def __str__(self) -> str:
        """``14v 6``, or ``14v`` where no line is noted."""
        return self.leaf if self.line is None else f"{self.leaf} {self.line}"


class Gloss(NamedTuple):
    """A note in the exemplar's margin or between its lines, beside this word: no part of the text to copy."""

    word: int
    text: str


class Division(NamedTuple):
    """A part of the text: its title, its first word, and how many paragraphs it has."""

    title: str
    start: int
    paragraphs: int


def read_place(text: str) -> Place | None:
    """The place of the exemplar that ``text`` names, as in ``12r`` or ``12r 14``; None where it names none."""
    found = _PLACE.fullmatch(f"{{{text.strip()}}}")
    return None if found is None else Place(-1, found[1] + found[2], int(found[3]) if found[3] else None)


class Exemplar(NamedTuple):
    """The whole text as words, blocks, divisions, places and glosses."""

    words: list[str]
    blocks: tuple[Block, ...]
    divisions: tuple[Division, ...]
    places: tuple[Place, ...]
    glosses: tuple[Gloss, ...] = ()

    def place_of(self, word: int) -> Place | None:
        """The last place noted at or before ``word``, or None before the first."""
        found = bisect_right(self.places, word, key=lambda place: place.word)
        return self.places[found - 1] if found else None

    def word_at(self, place: Place) -> int | None:
        """The word noted as standing at a place of the exemplar; None where no such place is noted."""
        wanted = (place.leaf, place.line or 1)
        return next((each.word for each in self.places if (each.leaf, each.line or 1) == wanted), None)

    def lines_noted(self, leaf: str) -> tuple[int, ...]:
        """The lines of a leaf of the exemplar that are noted."""
        return tuple(each.line or 1 for each in self.places if each.leaf == leaf)

    def begins_block(self, word: int) -> bool:
        """Whether a paragraph, a rubric or a line of verse begins with ``word``."""
        found = bisect_left(self.blocks, word, key=lambda block: block.start)
        return found < len(self.blocks) and self.blocks[found].start == word

    def paragraph_start(self, division: int, paragraph: int | None) -> int | None:
        """Where a division (its rubric included) or a paragraph of it begins; None where there is none."""
        if paragraph is None:
            return self.divisions[division - 1].start if 1 <= division <= len(self.divisions) else None
        wanted = (division, paragraph)
        found = bisect_left(self.blocks, wanted, key=lambda block: (block.division, block.paragraph))
        if found < len(self.blocks) and (self.blocks[found].division, self.blocks[found].paragraph) == wanted:
            return self.blocks[found].start
        return None


class _Reader:
    """Gathers words and blocks while the lines of the text go by."""

    def __init__(self) -> None:
        self.words: list[str] = []
        self.blocks: list[Block] = []
        self.places: list[Place] = []
        self.glosses: list[Gloss] = []
        self.titles: list[tuple[str, int]] = []
        self.paragraphs: list[int] = []
        self.blank = 0

    def open_division(self, title: str) -> None:
        self.titles.append((title, len(self.words)))
        self.paragraphs.append(0)

    def add(self, text: str, kind: str, *, opens: bool = False) -> bool:
        """Put the words of ``text`` down as one block of the division in hand; tells whether it held any.

        ``opens`` tells that they begin a paragraph; a stretch that holds only notes of places begins none.
        """
        if "{" in text:
            text = self._take_notes(text)
        start = len(self.words)
        self.words += map(intern, text.split())  # each form once: a book of eight million words has few of them
        if len(self.words) == start:
            return False
        if not self.titles:
            self.titles.append(("", start))
            self.paragraphs.append(0)
        self.paragraphs[-1] += opens
        paragraph = 0 if kind == "rubric" else self.paragraphs[-1]
        self.blocks.append(Block(start, len(self.words), kind, len(self.titles), paragraph))
        return True

    def add_verse(self, line: str, *, opens: bool) -> bool:
        """Put a line of verse down, its mark before it, as ``add`` does; blanks after the mark indent it.

        One without words leaves a line blank within its stanza.
        """
        line, indent, hang = verse_room(line)
        self.blank = 0 if opens else self.blank
        if not self.add(line[1:], "verse", opens=opens):
            self.blank += not opens and line.strip() == "|"
            return False
        if indent or hang or self.blank:
            self.blocks[-1] = self.blocks[-1]._replace(indent=indent, hang=hang, blank=self.blank)
            self.blank = 0
        return True

    def _take_notes(self, text: str) -> str:
        """Note the places and glosses in ``text`` and give it back without them; one inside a word is that word's."""
        bare, *noted = _NOTED.split(text)
        words, inside = len(bare.split()), bare[-1:].strip() != ""
        for leaf, side, line, gloss, after in zip(*(noted[at::5] for at in range(5)), strict=True):
            word = len(self.words) + words - inside
            if leaf is None:
                self.glosses += [Gloss(word, " ".join(gloss.split()))] if gloss.strip() else []
            else:
                self.places.append(Place(word, leaf + side, int(line) if line else None))
            words += len(after.split()) - (inside and after[:1].strip() != "")
            inside = after[-1:].strip() != "" if after else inside
            bare += after
        return bare


def verse_room(line: str) -> tuple[str, int, int]:
    """A line of verse with its mark, without ``{hanging}``; the letters it is indented by, and what is over of it."""
    hang = 0
    if "{hanging" in line and (found := _HANGING.match(line)):
        hang = int(found[2] or _HANGS)
        line = found[1] + line[found.end() :]
    if line[2:3] not in (" ", "{"):
        return line, 0, hang
    bare = _LEADING.sub(r"\1", line[1:])
    return line, max(len(bare) - len(bare.lstrip(" ")) - 1, 0), hang


def read_exemplar(text: str, on_progress: OnProgress = no_progress) -> Exemplar:
    """Read the plain text form: ``# `` opens a division, ``| `` is a verse line, a blank line parts paragraphs.

    ``{12r 5}`` says that the exemplar's leaf 12r, line 5 begins here, and ``{gloss: words}`` that these words stand in
    its margin. The verse mark is the line block of reStructuredText, and so are its blanks: those after the first
    indent the verse by a letter each, and a mark alone leaves a line blank. ``{hanging 4}`` lets what is over of a
    verse hang. Any text is readable: what matches no rule is prose.
    """
    reader = _Reader()
    prose: list[str] = []
    in_verse = False

    def close_prose() -> None:
        if prose:
            reader.add("\n".join(prose), "prose", opens=True)
            prose.clear()

    for line in with_progress(text.removeprefix("\ufeff").splitlines(), on_progress, _TURN):
        first = line[:1]
        if first == "{" and (opened := _OPENED.match(line)):
            first = opened[2]
            line = _mark_first(opened, line)  # noqa: PLW2901
        if first == "#" and (line.startswith("# ") or line == "#"):
            close_prose()
            in_verse = False
            reader.open_division(" ".join(_NOTED.sub("", line[1:]).split()))
            reader.add(line[1:], "rubric")
        elif first == "|" and (line.startswith("| ") or line == "|"):
            close_prose()
            in_verse = reader.add_verse(line, opens=not in_verse) or in_verse
        elif not line or line.isspace():
            close_prose()
            in_verse = False
        elif first == "{" and in_verse and not _NOTED.sub("", line).strip():
            reader.add(line, "verse")
        else:
            in_verse = False
            prose.append(line)
    close_prose()
    return _finish(reader)


def _mark_first(opened: re.Match[str], line: str) -> str:
    """A line that begins with places and then its mark, with the mark before them and the blanks after it beside it."""
    return f"{opened[2]} {opened[3][1:]}{opened[1].rstrip()} {line[opened.end() :]}"


def verses_too_far_in(text: str, letters: float) -> Iterator[tuple[int, int]]:
    """The lines of a text, from 1, that are verse with an indent no line of so many ``letters`` has; and the indent."""
    for number, line in enumerate(text.splitlines(), 1):
        opened = _OPENED.match(line)
        marked = _mark_first(opened, line) if opened else line
        if marked.startswith("| "):
            _, indent, hang = verse_room(marked)
            if indent + hang >= letters:
                yield number, indent + hang


def places_that_go_back(text: str) -> Iterator[tuple[int, int, Place, Place]]:
    """The line and column of each place noted that stands before the one noted last; with both, the earlier first."""
    before, lines, at = None, 1, 0
    for found in _PLACE.finditer(text):
        place = read_place(found[0][1:-1])
        lines, at = lines + text.count("\n", at, found.start()), found.start()
        if place is None or (order := _order(place)) is None:
            continue
        if before is not None and order < before[0]:
            yield lines, at - text.rfind("\n", 0, at), before[1], place
        before = (order, place)


def _order(place: Place) -> tuple[int, int] | None:
    """What places are ordered by; None where the leaf has no number that can be read."""
    side = side_number(place.leaf)
    return None if side is None else (side, place.line or 0)


def side_number(leaf: str) -> int | None:
    """The number of a leaf's side among all sides, rectos even; leaves in roman numerals stand before those in figures.

    None where the numeral cannot be read.
    """
    number = leaf[:-1]
    if number.isdigit():
        count = int(number)
    elif is_roman(number):
        count = read_roman(number) - _BEFORE_FIGURES
    else:
        return None
    return 2 * count + (leaf[-1] == "v")


def _finish(reader: _Reader) -> Exemplar:
    divisions = tuple(
        Division(title, start, count) for (title, start), count in zip(reader.titles, reader.paragraphs, strict=True)
    )
    return Exemplar(reader.words, tuple(reader.blocks), divisions, tuple(reader.places), tuple(reader.glosses))
