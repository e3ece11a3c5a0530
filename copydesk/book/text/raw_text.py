"""A raw text looked at before a book is made of it: what was found in it, and what could be made of that.

Nothing is changed unasked. Each finding has a letter; a person names the letters of what is to be mended.
"""

from __future__ import annotations

import re
import unicodedata
from collections import Counter
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.errors import InvalidValueError
from copydesk.book.common.phrases import count_of

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator


class RawFinding(NamedTuple):
    """Something in a raw text: its letter, what it is, how it looks there, and what is proposed."""

    letter: str
    what: str
    example: str
    proposal: str

    def __str__(self) -> str:
        """``h: 12 lines that look like headings, as "CHAPTER I": make each a division``."""
        return f'{self.letter}: {self.what}, as "{self.example}": {self.proposal}'


class _Kind(NamedTuple):
    one: str
    several: str
    proposal: str
    find: Callable[[str], Iterable[str]]
    mend: Callable[[str], str]


_HEADING_WORDS = r"(?:chapter|book|part|canto|letter|section|prologue|epilogue|preface|introduction|conclusion)\b"
_HEADING = re.compile(rf"(?:{_HEADING_WORDS}.{{0,60}}|[IVXLC]{{1,8}}\.?|[0-9]{{1,3}}\.)", re.IGNORECASE)
_ITALICS = re.compile(r"(?<![\w_])_([^_\n]{1,400}(?:\n[^_\n]{1,400}){0,5})_(?![\w_])")
_PICTURE = re.compile(r"\[(?:illustration|picture|figure|plate)[^\]]{0,400}\]", re.IGNORECASE)
_HYPHEN = re.compile(r"(?<!\w)(\w+)[-\u00ad]\r?\n[ \t]*(\w\S*)[ \t]?")
_PAGE_NUMBER = re.compile(
    r"[ \t]*(?:[-\u2013]?\s?[0-9]{1,4}\s?[-\u2013]?|\[?(?:p\.|page)\s?[0-9]{1,4}\]?)[ \t]*", re.IGNORECASE
)
_ODD = re.compile("[\u00a0\u00ad\u200b-\u200f\u2060\ufb00-\ufb06\ufeff\ufffd\x00-\x08\x0b\x0e-\x1f\x7f]")
_TAB = re.compile("\t")
CODE = "c"
"""The letter of a code that is not UTF-8."""

_LONGEST_EXAMPLE, _LONGEST_HEADING, _OFTEN = 40, 70, 3


@lru_cache(2)
def look_over(text: str) -> tuple[RawFinding, ...]:
    """What a raw text holds that a copyist would not write as it stands, most telling first."""
    found = ((letter, kind, list(kind.find(text))) for letter, kind in _KINDS.items())
    return tuple(
        RawFinding(letter, count_of(len(each), kind.one, kind.several), _shown(each[0]), kind.proposal)
        for letter, kind, each in found
        if each
    )


def coded_otherwise(code: str, text: str) -> RawFinding:
    """What is found of a text that was saved in another code than UTF-8, from how it reads in that code."""
    words = dict.fromkeys(word for word in re.findall(r"\w+", text) if not word.isascii())
    return RawFinding(CODE, f"{code}, not UTF-8", ", ".join([*words][:_OFTEN]), "save it in the book as UTF-8")


def mended(text: str, letters: str) -> str:
    """The text with what these letters stand for mended; blanks and commas between them do not matter.

    The code that a text was saved in is mended as its bytes are read, so that letter does nothing here.

    Raises:
        InvalidValueError: where a letter stands for nothing.
    """
    known = f"{CODE}{''.join(_KINDS)}"
    if wrong := next((letter for letter in letters if letter not in known and letter not in " ,"), ""):
        raise InvalidValueError(f"{wrong!r} is no letter of what is mended in a text; write some of {known}")
    for letter in reversed(_KINDS):  # headings come last, once lines are what they will be
        if letter in letters:
            text = _KINDS[letter].mend(text)
    return text


def _shown(found: str) -> str:
    if len(found) == 1:
        return f"U+{ord(found):04X}"
    short = " ".join(found.split())
    return short if len(short) <= _LONGEST_EXAMPLE else f"{short[: _LONGEST_EXAMPLE - 1]}\u2026"


def _heading_lines(text: str) -> list[int]:
    """The lines that stand alone and look like headings; none where the text marks its divisions already.

    Running heads look so too: what comes again and again is none.
    """
    lines, heads = [line.strip() for line in text.splitlines()], set(_page_lines(text))
    if any(line.startswith("# ") for line in lines):
        return []
    around = ["", *lines, ""]
    alone = (at for at, line in enumerate(lines) if line not in heads and not around[at] and not around[at + 2])
    return [at for at in alone if _is_heading(lines[at])]


def _is_heading(line: str) -> bool:
    if not line or len(line) > _LONGEST_HEADING:
        return False
    shouted = line.upper() == line and sum(letter.isalpha() for letter in line) > 2 and line[-1] not in ",;"
    return shouted or _HEADING.fullmatch(line) is not None


def _mark_headings(text: str) -> str:
    marked = set(_heading_lines(text))
    return "".join(
        f"# {line.lstrip()}" if at in marked else line for at, line in enumerate(text.splitlines(keepends=True))
    )


def _page_lines(text: str) -> list[str]:
    """Lines that are page numbers, or stand in the text again and again with nothing but figures changed.

    Verses and divisions that are marked as such are neither; a refrain may well count.
    """
    lines = [line.strip() for line in text.splitlines() if not line.startswith(("| ", "# "))]
    bare = Counter(re.sub(r"[0-9]+", "", line).strip() for line in lines if 3 < len(line) <= _LONGEST_HEADING)
    often = {line for line, count in bare.items() if count >= _OFTEN and line.strip(" *-_=.")}
    headers = [line for line in lines if re.search("[0-9]", line) and re.sub(r"[0-9]+", "", line).strip() in often]
    return [*(line for line in lines if line and _PAGE_NUMBER.fullmatch(line)), *headers]


def _without_page_lines(text: str) -> str:
    out = set(_page_lines(text))
    return "".join(line for line in text.splitlines(keepends=True) if line.strip() not in out)


def _found(pattern: re.Pattern[str]) -> Callable[[str], Iterator[str]]:
    return lambda text: (found[0] for found in pattern.finditer(text))


def _plain(found: re.Match[str]) -> str:
    sign = unicodedata.normalize("NFKC", found[0])
    return sign if sign.isprintable() and sign != "\ufffd" else "?" if found[0] == "\ufffd" else ""


_KINDS: dict[str, _Kind] = {
    "h": _Kind(
        "line that looks like a heading",
        "lines that look like headings",
        "make each a division",
        lambda text: [text.splitlines()[at].strip() for at in _heading_lines(text)],
        _mark_headings,
    ),
    "n": _Kind(
        "line that looks like a page number or a running head",
        "lines that look like page numbers or running heads",
        "leave them out",
        _page_lines,
        _without_page_lines,
    ),
    "y": _Kind(
        "word parted at a line's end",
        "words parted at a line's end",
        "join them",
        _found(_HYPHEN),
        lambda text: _HYPHEN.sub(r"\1\2\n", text),
    ),
    "i": _Kind(
        "stretch between _ and _",
        "stretches between _ and _",
        "take the marks out",
        _found(_ITALICS),
        lambda text: _ITALICS.sub(r"\1", text),
    ),
    "p": _Kind(
        "note of a picture",
        "notes of pictures",
        "leave them out",
        _found(_PICTURE),
        lambda text: _PICTURE.sub("", text),
    ),
    "t": _Kind("tab", "tabs", "make each a space", _found(_TAB), lambda text: _TAB.sub(" ", text)),
    "o": _Kind(
        "odd character", "odd characters", "write them plainly", _found(_ODD), lambda text: _ODD.sub(_plain, text)
    ),
}
"""What is looked for, most telling first."""
