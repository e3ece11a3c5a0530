"""What the leaves and pages of a book are called: numbers in arabic or roman, pages; flyleaves counted apart.

Foliation numbers leaves, pagination pages; flyleaves are counted apart in roman numerals (TEI P5 Guidelines,
Manuscript Description, 11.7.1 and 11.3.5).
"""

from __future__ import annotations

import re
from typing import Literal, NamedTuple

from copydesk.book.numerals import is_roman, read_roman, roman
from copydesk.book.page import Page, Side
from copydesk.book.refusal import Refused

Numbering = Literal["arabic", "roman", "pages"]
_ROMAN_PAGE = re.compile(r"(?:ff?\.)?\s*([ivxlcdmj]+)[\s.]*(recto|verso|r|v)\.?", re.IGNORECASE)


class Flyleaf(NamedTuple):
    """A leaf before or after the text: its number in the flyleaves' own count, or "" where it is pasted to a board."""

    at: Literal["front", "back"]
    number: str

    @property
    def pastedown(self) -> bool:
        """Whether it is pasted to the board."""
        return not self.number

    def __str__(self) -> str:
        """``flyleaf ii`` or ``front pastedown``."""
        return f"flyleaf {self.number}" if self.number else f"{self.at} pastedown"


def leaf_label(leaf: int, numbering: Numbering = "arabic") -> str:
    """What leaf ``leaf`` is called: ``12``, ``xii``, or its two pages ``23-24``."""
    if numbering == "roman":
        return roman(leaf)
    return f"{2 * leaf - 1}-{2 * leaf}" if numbering == "pages" else str(leaf)


def page_label(page: Page, numbering: Numbering = "arabic") -> str:
    """What a page is called: ``12r``, ``xii r`` or ``23``."""
    if numbering == "pages":
        return str(page.index + 1)
    return f"{roman(page.leaf)} {page.side.value}" if numbering == "roman" else str(page)


def read_page_label(text: str, numbering: Numbering = "arabic") -> Page:
    """The page called ``text``; ``12r`` is understood whatever the numbering.

    Raises:
        Refused: where no page is called so.
    """
    bare = text.strip()
    if numbering == "pages" and bare.isascii() and bare.isdecimal() and 0 < len(bare.lstrip("0")) < 7:
        return Page.at(int(bare) - 1)
    found = _ROMAN_PAGE.fullmatch(bare) if numbering == "roman" else None
    if found and is_roman(found[1]):
        return Page(read_roman(found[1]), Side(found[2][0].lower()))
    return Page.parse(text)


def flyleaves(front: int, back: int, *, pastedowns: bool = False) -> tuple[Flyleaf, ...]:
    """The leaves before and after the text, numbered in one roman count of their own; the outermost may be pasted.

    Raises:
        Refused: where there are fewer than none.
    """
    if front < 0 or back < 0:
        raise Refused(f"a book cannot have {min(front, back)} flyleaves; give a number from 0")
    pasted_front, pasted_back = int(pastedowns and front > 0), int(pastedowns and back > 0)
    free_front = front - pasted_front
    counted = [roman(number) for number in range(1, free_front + back - pasted_back + 1)]
    before = [""] * pasted_front + counted[:free_front]
    after = counted[free_front:] + [""] * pasted_back
    return (*(Flyleaf("front", number) for number in before), *(Flyleaf("back", number) for number in after))


def extent(front: int, leaves: int, back: int) -> str:
    """How many leaves there are, flyleaves apart: ``ii + 48 + i``."""
    parts = [roman(front) if front else "", str(leaves), roman(back) if back else ""]
    return " + ".join(part for part in parts if part)
