"""Reads a collation formula from left to right into its pieces, in any of the usual ways of writing one."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from copydesk.book.common.errors import DoesNotFitError
from copydesk.book.common.numerals import is_roman, read_roman
from copydesk.book.formula.folding import layers
from copydesk.book.formula.note_doubts import speaks_of_leaves
from copydesk.book.formula.parts import Misread, Pairs
from copydesk.book.formula.places import COUNT_WORDS, DASH, LEAVES_GIVEN, NAME, NAMES, RAISED, Context
from copydesk.book.formula.remarks import Remarks, read_clause, read_group
from copydesk.book.structure.gathering import KINDS
from copydesk.book.structure.signatures import AFTER_Z

if TYPE_CHECKING:
    from collections.abc import Callable

MOST_LEAVES = 200
"""No gathering is read as holding more: the thickest that catalogues tell of have some 40."""
_KINDS = {kind: sheets for sheets, kind in KINDS.items()} | {
    "binio": 2, "ternio": 3, "quaternio": 4, "quinio": 5, "senio": 6,
    "sexternion": 6, "sexternio": 6, "sextern": 6, "bifolia": 1,
}  # fmt: skip
_COUNTED = re.compile(rf"{NAMES}{LEAVES_GIVEN}")
_THROUGH = re.compile(rf"\s*{DASH}\s*({NAME})(?:\s*\^\s*\{{?\s*(\d+)\}}?|([{RAISED}]+))")
_LEFT = re.compile(
    rf"({NAME})(\s*\?)?\s*\(\s*({'|'.join(COUNT_WORDS)})(?:\s+(?:left|leaf|leaves|only))?\s*\)", re.IGNORECASE
)
_LESS = re.compile(rf"\s*\(\s*(\d{{1,3}})\s*(\+|{DASH})\s*(\d{{1,2}})\s*\)")
_SUPPLIED = re.compile(rf"\[\s*{NAMES}\s*\]{LEAVES_GIVEN}")
_KIND = re.compile(rf"{NAMES}\s+({'|'.join(sorted(_KINDS, key=len, reverse=True))})(s?)(?![a-z])", re.IGNORECASE)
_SHEETS = re.compile(rf"({NAME})()\s*\(([\d\s]+[,+][\d\s,+]*)\)")
_MORE = re.compile(rf"(\+|{DASH})(\d{{1,3}})(?!\d|\s*(?:lea|sheet|bifol))")
_RAISED_MORE = re.compile(rf"([⁺⁻])([{RAISED}]+)")
_LOWERED = str.maketrans(RAISED, "0123456789")
_FORMAT = re.compile(r"\s*(folio|fol\.|\d{1,2}(?:°|º|o|mo|vo|to)|in-\d{1,2})\s*:", re.IGNORECASE)
_SIGNING = re.compile(r"\[?(\$\d[^\[\]|]*?\bsigned\b)\]?")
_BOUNDARY = re.compile(r"[|‖│]+")
_RUNNING = re.compile(
    r"\[\s*(?:(?:up\s+)?to\s+|through\s+|ends?\s+)?(?:(?:ff?|fols?)\.?\s*)?(\d{1,5})\s*(?:,([^\]\[]*))?\]",
    re.IGNORECASE,
)
_ENDS_UNIT = re.compile(r"boundary|booklet|production unit", re.IGNORECASE)
_FRONT = re.compile(r"([ivxlc]{1,7})\s*\+\s*(?=[\[\w*†‡§¶πχ])")
_BEHIND = re.compile(rf"\+\s*([ivxlc]{{1,7}})(?![\w:^.{RAISED}]|\s*[\^({RAISED}])")
_BRACKET = re.compile(r"\[([^\[\]]*[A-Za-z][^\[\]]*)\]")
_PROSE = re.compile(r"[A-Za-z]+(?:['’][a-z]+)?(?![\w^{])")
_SENTENCE_ENDS = re.compile(r"\s+(?=[A-Z\[(])|\s*$")
_MORE_PROSE = re.compile(r"[^\s|\[\]^;]+")
_TOTAL = re.compile(
    r"=?\s*(?:([ivxlcdm]+)\s*\+\s*)?(\d{1,5})(?:\s*\+\s*([ivxlcdm]+))?\s+(?:leaves|leaf|ll\.|folios)(?!\w)",
    re.IGNORECASE,
)
_WORD = re.compile(r"[A-Za-z]{3,}(?![\^:(.\d]|\w)")
_OTHER_WAYS = (
    (
        re.compile(r"\(\d+\)\s*\d+(?!\d|\s*[\^:])"),
        "the leaves stand before the gathering here; write them behind it, as in 1^6 2-4^8",
    ),
    (
        re.compile(
            r"(?:.*?[\s,+.(])?\d+\s*[.*]?\s*\(?[IVX]+(?:\s*[-–+]\s*\d+)?\)?\s*\(?\d+\)?(?=[\s.,;+]|$)", re.DOTALL
        ),
        "gatherings are counted in sheets here, each with its last leaf behind it; write the leaves of each, as in "
        "1-4^8 for 4 IV (32)",
    ),
    (
        re.compile(rf"(?:[A-Za-z]|[IVXLC]+)(?:\s*{DASH}\s*(?:[A-Za-z]|[IVXLC]+))?\d{{1,2}}\s*[,;]"),
        "the leaves do not stand apart from the name of the gathering; write them with ^, as in A^6 or I-V^8",
    ),
)
"""Ways of writing a formula in which a number means another thing than in those we read, and what to say of them."""


@dataclass
class FormulaItem:
    """One item of a formula: the names of its first and last gathering, its leaves, where it stands, its remarks.

    ``kind`` is ``one`` or ``many`` where the leaves are said by name, as in "4 ternion" or "3 quaternions".
    """

    at: int
    first: str
    last: str | None
    planned: int
    plus: int = 0
    minus: int = 0
    pairs: Pairs | None = None
    starts: int | None = None  # the leaf of the book its own numbering starts from
    closes: bool = False  # 3^8–7^8 (wants 1): what is remarked is of the last gathering
    kind: str = ""
    doubtful: bool = False
    bracketed: bool = False  # 1 (8): the leaves stand in brackets
    remarks: Remarks = field(default_factory=Remarks)


@dataclass
class Stop:
    """Something said after so many pieces: the leaves so far, or a boundary."""

    pieces: int
    running: int | None
    boundary: bool


@dataclass
class Pieces:
    """A formula as it was read."""

    pieces: list[FormulaItem] = field(default_factory=list)
    stops: list[Stop] = field(default_factory=list)
    stated: tuple[int, int, int] | None = None
    flyleaves: tuple[int, int] = (0, 0)
    format: str = ""
    signing: str = ""
    prose: list[str] = field(default_factory=list)
    doubtful: list[str] = field(default_factory=list)

    def say(self, words: str) -> None:
        """Keep words that stand between gatherings, and doubt them if they may speak of leaves."""
        words = " ".join(words.split())
        self.prose.append(words)
        if speaks_of_leaves(words):
            self.doubtful.append(words)


def read(text: str) -> Pieces:
    """Read a formula.

    Raises:
        Misread: at the first place that cannot be read.
    """
    pieces = Pieces()
    for form, what in _OTHER_WAYS:
        if form.match(text, len(text) - len(text.lstrip())):
            raise Misread(0, what)
    found = _FORMAT.match(text)
    at = found.end() if found else 0
    pieces.format = found[1] if found else ""
    while at < len(text):
        if text[at].isspace() or text[at] in ",;.":
            at += 1
            continue
        for reader in _READERS:
            if (after := reader(text, at, pieces)) > at:
                at = after
                break
        else:
            raise Misread(at, f"{text[at : at + 12]!r} cannot be read here; write gatherings as in 1-6^8 7^6 (wants 6)")
    return pieces


def _boundary(text: str, at: int, pieces: Pieces) -> int:
    if found := _BOUNDARY.match(text, at):
        pieces.stops.append(Stop(len(pieces.pieces), None, boundary=True))
        return found.end()
    return at


def _running(text: str, at: int, pieces: Pieces) -> int:
    if found := _RUNNING.match(text, at):
        pieces.stops.append(Stop(len(pieces.pieces), int(found[1]), boundary=False))
        if _ENDS_UNIT.search(found[0]):
            pieces.stops.append(Stop(len(pieces.pieces), None, boundary=True))
        if found[2]:
            pieces.say(found[2])
        return found.end()
    return at


def _flyleaves(text: str, at: int, pieces: Pieces) -> int:
    """``i +`` before the first gathering, ``+ ii`` after the last: leaves that are counted apart."""
    front, behind = pieces.flyleaves
    if not pieces.pieces and not front and (found := _FRONT.match(text, at)) and is_roman(found[1]):
        pieces.flyleaves = read_roman(found[1]), behind
        return found.end()
    if pieces.pieces and not behind and (found := _BEHIND.match(text, at)) and is_roman(found[1]):
        pieces.flyleaves = front, read_roman(found[1])
        return found.end()
    return at


def _bracket(text: str, at: int, pieces: Pieces) -> int:
    """Words in square brackets between gatherings."""
    found = _BRACKET.match(text, at)
    if found is None or found[1].lstrip().startswith("$"):
        return at
    if _ENDS_UNIT.search(found[1]):
        pieces.stops.append(Stop(len(pieces.pieces), None, boundary=True))
    pieces.say(found[1])
    return found.end()


def _prose(text: str, at: int, pieces: Pieces) -> int:
    """Words between gatherings and after them, up to a stop or to where a gathering begins."""
    if _PROSE.match(text, at) is None:
        return at
    end = at
    while end < len(text):
        if text[end].isspace():
            end += 1
        elif end > at and (_begins_piece(text, end) or _TOTAL.match(text, end)):
            break
        elif word := _MORE_PROSE.match(text, end):
            end = word.end()
            if word[0][-1] == "." and _SENTENCE_ENDS.match(text, end):
                break
        else:
            break
    said = text[at:end].rstrip(" .:,")
    if is_roman(said) or not re.search(r"[A-Za-z]{3}", said):
        return at  # rather a gathering whose leaves are not said
    pieces.say(said)
    return end


def _signing(text: str, at: int, pieces: Pieces) -> int:
    if found := _SIGNING.match(text, at):
        pieces.signing = " ".join(found[1].split())
        return found.end()
    return at


def _total(text: str, at: int, pieces: Pieces) -> int:
    found = _TOTAL.match(text, at)
    if found is None:
        return at
    if pieces.stated is not None:
        raise Misread(at, "the number of leaves is stated a second time; keep one of the two")
    front, back = (read_roman(part) if part and is_roman(part) else 0 for part in (found[1], found[3]))
    pieces.stated = front, int(found[2]), back
    return found.end()


def _plain_count(text: str, at: int) -> re.Match[str] | None:
    """A gathering with its leaves; in "see (8)" and "note: 8" a word of the language is not taken for its name."""
    found = _COUNTED.match(text, at)
    if found and (found[5] or found[6] or found[7]) and any(map(_is_word, (found[1], found[2]))):
        return None
    return found


def _kind_at(text: str, at: int) -> re.Match[str] | None:
    """Gatherings said by their kind; the "outer" of "outer bifolium" is not taken for a name."""
    found = _KIND.match(text, at)
    if found and found[1].lower() not in COUNT_WORDS and any(map(_is_word, (found[1], found[2]))):
        return None
    return found


def _is_word(name: str | None) -> bool:
    """Whether a name is rather a word of the language: no numeral, no letter, no doubled letters."""
    return bool(name and name.isalpha() and len(set(name.lower())) > 1 and not is_roman(name) and name not in AFTER_Z)


def _counted(text: str, at: int, pieces: Pieces) -> int:
    supplied = _SUPPLIED.match(text, at)
    found = supplied or _plain_count(text, at)
    if found is None:
        return at
    leaves = next(part for part in found.groups()[2:7] if part is not None)
    if leaves == "?":
        raise Misread(found.start(3), "the number of leaves is not said; write it, with ? behind it where you doubt it")
    piece = FormulaItem(
        at, found[1], found[2], _leaves(leaves, at), doubtful=found[8] is not None, bracketed=found[7] is not None
    )
    if supplied:
        pieces.prose.append(f"{found[0][: found[0].index(']') + 1]} is a name the source supplies")
    at = _through(text, found.end(), piece)
    while more := _MORE.match(text, at) or _RAISED_MORE.match(text, at):
        sign = "plus" if more[1] in "+⁺" else "minus"
        setattr(piece, sign, getattr(piece, sign) + int(more[2].translate(_LOWERED)))
        at = more.end()
    if "{" in found[0]:
        if text[at : at + 1] != "}":
            raise Misread(at, "the brace round the number of leaves is not closed; write it as in 1^{8}")
        at += 1
    pieces.pieces.append(piece)
    return _remarks(text, _of_so_many(text, at, piece), pieces)


def _through(text: str, at: int, piece: FormulaItem) -> int:
    """``3^8–7^8``: a range whose leaves are said at both ends, as M. R. James has it; ``at`` is behind the first."""
    found = _THROUGH.match(text, at) if piece.last is None else None
    if found is None:
        return at
    leaves = _leaves(found[2] or found[3], at)
    if leaves != piece.planned:
        what = f"gathering {piece.first} has {piece.planned} leaves here and gathering {found[1]} {leaves}"
        raise Misread(at, f"{what}; write the leaves of each, as in 3-6^8 7^6")
    piece.last, piece.closes = found[1], True
    return found.end()


def _of_so_many(text: str, at: int, piece: FormulaItem) -> int:
    """``11^4 (6 - 2)``: the leaves that were planned, and those that are gone or more."""
    found = _LESS.match(text, at)
    if found is None or piece.last is not None:
        return at
    planned, more, sign = int(found[1]), int(found[3]), "plus" if found[2] == "+" else "minus"
    if planned + (more if sign == "plus" else -more) != piece.planned:
        return at
    piece.planned = planned
    setattr(piece, sign, getattr(piece, sign) + more)
    return found.end()


def _left(text: str, at: int, pieces: Pieces) -> int:
    """``28? (two)``: a gathering of which so many leaves are left, nobody saying of how many."""
    found = _LEFT.match(text, at)
    if found is None or _is_word(found[1]):
        return at
    leaves = COUNT_WORDS.index(found[3].lower()) + 1
    pieces.pieces.append(FormulaItem(at, found[1], None, leaves, doubtful=found[2] is not None))
    return _remarks(text, found.end(), pieces)


def _kind(text: str, at: int, pieces: Pieces) -> int:
    found = _kind_at(text, at)
    if found is None:
        return at
    kind = found[3].lower()
    if found[1].lower() in COUNT_WORDS:
        raise Misread(at, f"{found[1]!r} is a number spelt out; write it in figures, as in 3 {kind}s")
    pieces.pieces.append(FormulaItem(at, found[1], found[2], 2 * _KINDS[kind], kind="many" if found[4] else "one"))
    return _remarks(text, found.end(), pieces)


def _sheets(text: str, at: int, pieces: Pieces) -> int:
    """The leaves of a gathering one by one, sheets joined with +: ``I (1, 2+9, 3+8, 4+7, 5+6, 10)``."""
    found = _SHEETS.match(text, at)
    if found is None or _is_word(found[1]) or not any(map(str.isdecimal, found[3])):
        return at
    joined = [[int(leaf) for leaf in part.split("+") if leaf.strip()] for part in found[3].split(",") if part.strip()]
    leaves = sorted(leaf for part in joined for leaf in part)
    first = leaves[0]
    if leaves != list(range(first, first + len(leaves))):
        raise Misread(found.start(3), "the leaves do not follow one another, each once; name each of them")
    if any(len(part) > 2 for part in joined):
        raise Misread(found.start(3), "more than two leaves are joined; a sheet joins two, as in 2+9")
    pairs = sorted((min(part) - first + 1, max(part) - first + 1) for part in joined if len(part) == 2)
    planned = _leaves(str(len(leaves)), found.start(3))
    try:
        list(layers(planned, dict(pairs)))
    except DoesNotFitError:
        what = "the sheets cross or lie side by side; in one gathering each sheet lies round the next"
        raise Misread(found.start(3), what) from None
    pieces.pieces.append(FormulaItem(at, found[1], None, planned, pairs=tuple(pairs), starts=first))
    return _remarks(text, found.end(), pieces)


def _remarks(text: str, at: int, pieces: Pieces) -> int:
    """Read what is remarked on the piece just read, in parentheses or in bare words."""
    piece = pieces.pieces[-1]
    remarks = piece.remarks
    context = Context(piece.planned, tuple(name for name in (piece.first, piece.last) if name and name.isalpha()))
    bare: list[str] = []
    while True:
        start = at
        while at < len(text) and (text[at].isspace() or text[at] in ",;"):
            at += 1
        if bare and text[start:at].strip():
            remarks.note(" ".join(bare), prose=True)
            bare = []
        if at < len(text) and text[at] == "(":
            at = read_group(text, at, remarks, context)
        elif (after := read_clause(text, at, len(text), remarks, context)) > at:
            at = after
        elif (word := _WORD.match(text, at)) and not _begins_piece(text, at):
            if re.fullmatch(r"wants?|wanting|lacks?|lacking|missing|lost", word[0], re.IGNORECASE):
                raise Misread(word.start(), f"it is not said which leaf; write its place, as in {word[0]} 6")
            bare.append(word[0])
            at = word.end()
        else:
            if bare:
                remarks.note(" ".join(bare), prose=True)
            pieces.stops += (Stop(len(pieces.pieces), leaf, boundary=False) for leaf in remarks.running)
            return start


def _begins_piece(text: str, at: int) -> bool:
    if _plain_count(text, at) or _kind_at(text, at):
        return True
    return any(form.match(text, at) for form in (_SUPPLIED, _SHEETS, _TOTAL, _LEFT))


def _leaves(digits: str, at: int) -> int:
    leaves = int(digits.translate(_LOWERED)) if len(digits) < 10 else 0
    if not 1 <= leaves <= MOST_LEAVES:
        raise Misread(at, f"a gathering of {digits[:12]} leaves cannot be; write a number from 1 to {MOST_LEAVES}")
    return leaves


_READERS: tuple[Callable[[str, int, Pieces], int], ...] = (
    _boundary, _flyleaves, _signing, _total, _sheets, _counted, _left, _kind, _running, _bracket, _prose,
)  # fmt: skip
