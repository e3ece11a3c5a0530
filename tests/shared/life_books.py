"""The books whose lives are lived: small ones, each with something that others have not."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path


WORDS = 420
HEAD = """title: A book of weirs
exemplar: {text: exemplar.txt}
page: {width: 100, height: 140, margins: {inner: 10, head: 10, outer: 20, foot: 30}}
"""
SPACES = """spaces:
  - {id: weir, kind: miniature, at: {word: 60}, lines: 4}
  - {id: key, kind: initial, at: {word: 0}, lines: 2}
  - {id: owl, kind: initial, at: {word: 150}, lines: 3}
  - {id: rim, kind: border, at: {page: 2r}}
  - {id: mill, kind: miniature, at: {page: 3v}, lines: 3}
"""
WIDE = "  - {id: wide, kind: miniature, at: {word: 230}, lines: 3, across: all}\n"
ARTIST = "workshop: {artist: Ines}\n"

_PLANS: dict[str, str] = {
    "one column": (
        "ruling: {lines: 10}\nhands:\n  A: {letters_per_line: 20}\ngatherings: {sheets: 2, count: 3}\n" + SPACES
    ),
    "two columns, two hands": (
        "columns: {count: 2, gap: 6}\nruling: {lines: 10}\ngatherings: {sheets: 2, count: 2}\n"
        "hands:\n  A: {letters_per_line: 14}\n  B: {letters_per_line: 11, gatherings: [2]}\n"
        "skins: {width: 420, height: 310, spoilage: 0.1}\nflyleaves: {front: 2, back: 1}\n" + SPACES + WIDE
    ),
    "too much text": (
        "ruling: {lines: 10}\ngatherings: {sheets: 2, count: 2}\n"
        "hands:\n  A: {letters_per_line: 20}\n  B: {letters_per_line: 16, gatherings: [2]}\n" + SPACES
    ),
    "roman leaves, eight sheets": (
        "ruling: {lines: 8}\nhands:\n  A: {letters_per_line: 24}\nsigning: {foliation: roman}\n"
        "gatherings: {sheets: 8, count: 1}\n" + SPACES
    ),
    "verse and headings, pages counted": (
        "ruling: {lines: 10}\nhands:\n  A: {letters_per_line: 20}\n  B: {letters_per_line: 22}\n"
        "gatherings: {sheets: 2, count: 3}\nsigning: {foliation: pages, catchwords: 2}\n"
        "flow: {keep_with_next: 2, divisions: page}\nline_breaks: anywhere\n"
        "flaws:\n  - {leaf: 3, from_head: 40, from_fold: 25, width: 20, height: 12}\n" + SPACES
    ),
    "columns begun by divisions": (
        "columns: {count: 2, gap: 6}\nruling: {lines: 12}\nhands:\n  A: {letters_per_line: 13}\n"
        "  B: {letters_per_line: 12}\ngatherings: {sheets: 2, count: 2}\n"
        "flow: {divisions: column, pictures: as they fit}\n" + SPACES + WIDE
    ),
}
"""Plans, by what each is; all with a text of as many words and with the same spaces, some with one more."""

COUNTED = "counted"
_COUNTS = """title: A book of counts
page: {width: 100, height: 140, margins: {inner: 10, head: 10, outer: 20, foot: 30}}
ruling: {lines: 10}
hands:
  A: {letters_per_line: 24}
  B: {letters_per_line: 20}
gatherings: {sheets: 2, count: 3}
divisions: [{title: first, words: 260}, {title: second, words: 200}]
spaces:
  - {id: weir, kind: miniature, at: {division: 2}, lines: 4}
  - {id: key, kind: initial, at: {division: 1}, lines: 2}
  - {id: rim, kind: border, at: {page: 2r}}
  - {id: mill, kind: miniature, at: {page: 3v}, lines: 3}
"""
NAMES = (*_PLANS, COUNTED)


def make_book(folder: Path, kind: str) -> Path:
    """A folder with a book of one of the ``NAMES``."""
    folder.mkdir()
    if kind == COUNTED:
        (folder / "book.yaml").write_text(_COUNTS + ARTIST, "utf-8")
        return folder
    (folder / "book.yaml").write_text(HEAD + _PLANS[kind] + ARTIST, "utf-8")
    words = [f"w{number}{'abcdefgh'[: number * 7 % 6]}" for number in range(WORDS)]
    (folder / "exemplar.txt").write_text(_laid_out(words, divided="divi" in _PLANS[kind]), "utf-8")
    return folder


def _laid_out(words: list[str], *, divided: bool) -> str:
    """The words in paragraphs; or in divisions with a heading each, prose and verse in turn."""
    parts = []
    for at in range(0, len(words), 90):
        part = words[at : at + 90]
        if not divided:
            parts.append(" ".join(part))
            continue
        verses = "\n".join("| " + " ".join(part[begins : begins + 5]) for begins in range(50, 90, 5))
        parts.append(f"# {' '.join(part[:3])}\n\n{' '.join(part[3:50])}\n\n{verses}")
    return "\n\n".join(parts)
