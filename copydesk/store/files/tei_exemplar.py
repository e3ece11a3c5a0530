"""A TEI P5 file as the plain text form of an exemplar: ``div``, ``head``, ``p``, ``lg``, ``l``, ``pb`` and ``lb``.

How far a verse is indented is read from ``rend`` of its ``l`` and of the ``lg`` around it (``indent``, ``indent2``,
``hanging``), or from ``style`` where that says it in CSS; ``space`` of lines within a stanza leaves lines blank.

What is copied is what stands in the exemplar: of a ``choice`` the reading as it stands (TEI P5 Guidelines, 3.5:
``sic``, ``orig`` and ``abbr``, not the editor's ``corr``, ``reg`` and ``expan``); notes, running heads and
deletions are left out. A note whose ``place`` is the margin or between the lines is a gloss of the exemplar (TEI P5
Guidelines, 3.9.1.1): it is noted as such beside its word. A file may declare no entities of its own, and nothing
outside it is fetched.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from copydesk.book.common.errors import BadFileError, CopydeskError, Problem
from copydesk.book.common.progress import no_progress
from copydesk.store.files.tei_verse import VerseRoom, lines_of_space, verse_marks, verse_room
from copydesk.store.files.text_file import bad_file, shown

if TYPE_CHECKING:
    from collections.abc import Callable
    from typing import Any

    from copydesk.book.common.progress import OnProgress


DEEPEST = 200
_LEFT_OUT = frozenset(("teiHeader", "note", "fw", "del", "figDesc", "corr", "reg", "expan", "facsimile", "standOff"))
_DIVISIONS = frozenset(("div", *(f"div{level}" for level in range(1, 8))))
_PARAGRAPHS = ("p", "ab", "item", "row", "speaker", "stage", "argument", "epigraph", "opener", "closer")
_AROUND = ("list", "sp", "titlePage", "docTitle", "titlePart", "dateline", "salute", "signed", "trailer", "byline")
_BLOCKS = frozenset(("head", "l", "lg", *_PARAGRAPHS, *_AROUND, "text", "front", "body", "back", "group"))
_LEAF = re.compile(r"(?:[0-9]{1,6}|[ivxlcdm]{1,12})[rv]")
_PLACES_ONLY = re.compile(r"(?:\s*\{(?:[0-9a-z ]+|gloss: [^{}]+)\})*\s*")
_BESIDE = frozenset(("margin", "left", "right", "top", "bottom", "above", "below", "interlinear"))
"""Words in the ``place`` of a note that stands on the exemplar's page beside its text, ``margin-left`` among them."""
_MARKS = {"head": "# ", "l": "| "}


_TURN = 100_000
"""Characters read between two reports of progress."""


def read_tei(text: str, name: str, on_progress: OnProgress = no_progress) -> str:
    """The text of a TEI file in the plain form that ``read_exemplar`` reads.

    Args:
        text: the whole file.
        name: what a person knows it by.
        on_progress: given the share done, from 0 to 1.

    Raises:
        BadFileError: where it is not well-formed XML, declares or uses entities of its own, is nested too deeply, or
            holds no ``text`` element; with line and column.
    """
    from xml.parsers import expat

    parser = expat.ParserCreate(namespace_separator=" ")
    parser.buffer_text = True
    writer = _Writer(
        lambda what: BadFileError(Problem(name, parser.CurrentLineNumber, parser.CurrentColumnNumber + 1, what))
    )
    parser.StartElementHandler = writer.open
    parser.EndElementHandler = writer.close
    parser.CharacterDataHandler = writer.characters
    parser.EntityDeclHandler = writer.entity_declared
    parser.SkippedEntityHandler = writer.entity_unknown
    try:
        for at in range(0, len(text), _TURN):
            on_progress(at / len(text))
            parser.Parse(text[at : at + _TURN], False)
        parser.Parse("", True)
    except expat.ExpatError as error:
        what = f"this is not well-formed XML ({expat.ErrorString(error.code)}); put it right"
        raise BadFileError(Problem(name, error.lineno, error.offset + 1, what)) from None
    if not writer.found_text:
        raise bad_file(name, "holds no text element, so it is no TEI text; look whether it is the right file")
    return "\n".join(writer.lines) + "\n"


class _Writer:
    """Writes lines of the plain form while the elements go by."""

    def __init__(self, refusal: Callable[[str], CopydeskError]) -> None:
        self.lines: list[str] = []
        self.found_text = False
        self._refusal = refusal
        self._open: list[str] = []
        self._left_out = 0
        self._gloss: list[str] | None = None
        self._inside = 0
        self._kept: list[str] = []
        self._mark = ""
        self._verse = ""
        self._room: list[VerseRoom] = []
        self._division_due = False
        self._leaf = ""
        self._line = 0

    def open(self, full_name: str, attributes: dict[str, str]) -> None:
        """An element begins."""
        element = full_name.rpartition(" ")[2]
        if len(self._open) >= DEEPEST:
            raise self._refusal(f"elements are nested more than {DEEPEST} deep; take some out")
        self._open.append(element)
        if element == "note" and not self._left_out and self._inside and _is_beside(attributes.get("place", "")):
            self._gloss = []
        self._left_out += element in _LEFT_OUT
        self._inside += element == "text"
        self.found_text = self.found_text or element == "text"
        if self._left_out:
            return
        if element == "pb":
            self._turn(attributes)
        elif element == "lb":
            self._next_line(attributes)
        elif element in _DIVISIONS:
            self._flush()
            self._division_due = True
        elif element in _BLOCKS:
            self._flush()
            self._mark = _MARKS.get(element, "")
            self._open_verse(element, attributes)
        elif element == "space":
            self._leave_blank(attributes)

    def _open_verse(self, element: str, attributes: dict[str, str]) -> None:
        """Note how far a verse or a stanza is indented; a stanza begins apart."""
        if element in ("l", "lg"):
            self._room.append(verse_room(attributes))
            self._verse = verse_marks(self._room)
        if element == "lg":
            self.lines.append("")

    def _leave_blank(self, attributes: dict[str, str]) -> None:
        """Leave lines blank between two verses of a stanza."""
        if self._open[-2:-1] == ["lg"]:
            self._flush()
            self.lines += ["|"] * lines_of_space(attributes)

    def close(self, full_name: str) -> None:
        """An element ends."""
        element = full_name.rpartition(" ")[2]
        self._open.pop()
        if not self._left_out and (element in _BLOCKS or element in _DIVISIONS):
            self._flush()
            self._mark = ""
            if element in ("l", "lg"):
                self._room.pop()
            if element == "lg":
                self.lines.append("")
        self._left_out -= element in _LEFT_OUT
        if self._gloss is not None and not self._left_out:
            self._end_gloss(self._gloss)
        self._inside -= element == "text"

    def characters(self, text: str) -> None:
        """Text goes by."""
        if self._inside and not self._left_out:
            self._kept.append(text)
        elif self._gloss is not None and self._left_out == 1:
            self._gloss.append(text)

    def _end_gloss(self, parts: list[str]) -> None:
        """Put a gloss down, without the marks by which it is told from the text."""
        self._gloss = None
        text = " ".join("".join(parts).translate({ord("{"): " ", ord("}"): " "}).split())
        if text:
            self._kept.append(f"{{gloss: {text}}}")

    def entity_declared(self, entity: str, *_: Any) -> None:
        """An entity is declared, which no exemplar needs."""
        raise self._refusal(f"declares an entity of its own, {shown(entity)}; write the characters themselves")

    def entity_unknown(self, entity: str, _is_parameter: bool) -> None:
        """An entity stands there that nothing declares."""
        raise self._refusal(f"uses the entity {shown(entity)}, which is unknown; write the characters themselves")

    def _turn(self, attributes: dict[str, str]) -> None:
        """A leaf's side of the exemplar begins; one that is not named as in ``12r`` is not noted."""
        leaf = attributes.get("n", "").strip()
        self._leaf, self._line = leaf if _LEAF.fullmatch(leaf) else "", 0
        self._note(f"{{{self._leaf}}}" if self._leaf else "", attributes)

    def _next_line(self, attributes: dict[str, str]) -> None:
        """A line of the exemplar begins; where it has no number, it is counted."""
        number = attributes.get("n", "").strip()
        self._line = int(number) if re.fullmatch("[0-9]{1,4}", number) else self._line + 1
        self._note(f"{{{self._leaf} {self._line}}}" if self._leaf and 0 < self._line <= 9_999 else "", attributes)

    def _note(self, place: str, attributes: dict[str, str]) -> None:
        """Put a place down; it parts words unless it is said to stand within one."""
        self._kept.append(place if attributes.get("break") == "no" else f" {place}")

    def _flush(self) -> None:
        """Write what was kept as one block; places before the next block's words wait for those."""
        text = " ".join("".join(self._kept).split())
        if _PLACES_ONLY.fullmatch(text):
            self._kept = [f"{text} "] if text else []
            return
        self._kept = []
        if self._division_due and self._mark != "# ":
            self.lines += ["", "#"]
        self._division_due = False
        if self._mark == "| ":
            self.lines.append(f"| {self._verse}{text}")
        elif self._mark == "# ":
            self.lines += ["", f"# {text}", ""]
        else:
            # A leading blank keeps a paragraph that begins with # or | a paragraph.
            self.lines += ["", f" {text}", ""]


def _is_beside(place: str) -> bool:
    """Whether a note stands beside the exemplar's text, by its ``place``."""
    return not _BESIDE.isdisjoint(re.split(r"[\s-]+", place.casefold()))
