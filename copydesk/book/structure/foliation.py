"""What the leaves and pages of a book are called: numbers in arabic or roman, pages; flyleaves counted apart.

Foliation numbers leaves, pagination pages; flyleaves are counted apart in roman numerals (TEI P5 Guidelines,
Manuscript Description, 11.7.1 and 11.3.5).
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Literal, NamedTuple

from copydesk.book.common.errors import AmbiguousError, InvalidValueError
from copydesk.book.common.numerals import LARGEST, is_roman, read_roman, roman
from copydesk.book.structure.page import Page, Side

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable


Numbering = Literal["arabic", "roman", "pages"]
HOW_TO_NAME: dict[Numbering, str] = {
    "arabic": "a leaf number and r or v, as in 12r",
    "roman": "a leaf number and r or v, as in xii r",
    "pages": "its number, as in 24, or a leaf number and r or v, as in 12v",
}
"""How a page is named in each numbering, for a person who is to give one."""

_MARK = re.compile(r"(?:ff?\.?|fols?\.?|pp?\.?|page)\s*(?=[0-9ivxlcdmj])")
_RAISED = str.maketrans({"ʳ": "^r", "ᵛ": "^v"})
_ARABIC_PAGE = re.compile(r"0*([1-9][0-9]{0,5})[\s.^]*(recto|verso|r|v)\.?", re.ASCII)
_ROMAN_PAGE = re.compile(r"([ivxlcdmj]+?)[\s.^]*(recto|verso|r|v)\.?")


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


def page_label(page: Page, numbering: Numbering = "arabic") -> str:
    """What stands on a page as its number: ``12r``, ``xii r`` or ``23``; past 4,999 in figures."""
    if numbering == "pages":
        return str(page.index + 1)
    if numbering == "arabic" or page.leaf > LARGEST:
        return str(page)
    return f"{roman(page.leaf)} {page.side.value}"


def page_named(page: Page, numbering: Numbering = "arabic") -> str:
    """The same in a sentence or a list, where a bare number would not be taken for a page: ``p. 23``."""
    label = page_label(page, numbering)
    return f"p. {label}" if numbering == "pages" else label


def pages_named(pages: Iterable[Page], numbering: Numbering = "arabic") -> str:
    """Pages one after another: ``1r 1v 8r``; ``i r, i v, viii r``, where a name is of two words; ``pp. 1 2 15``."""
    labels = [page_label(page, numbering) for page in pages]
    if numbering == "roman":
        return ", ".join(labels)
    sign = "" if numbering == "arabic" else "p. " if len(labels) == 1 else "pp. "
    return sign + " ".join(labels)


def facing_label(left: Page, right: Page, numbering: Numbering = "arabic") -> str:
    """What an opening is called: ``8v|9r``, ``viii v|ix r`` or ``pp. 16|17``."""
    said = f"{page_label(left, numbering)}|{page_label(right, numbering)}"
    return f"pp. {said}" if numbering == "pages" else said


def leaf_number(leaf: int, numbering: Numbering = "arabic") -> str:
    """A leaf in a table: ``12``, ``xii``, or by its pages ``23-24``."""
    if numbering == "pages":
        return f"{2 * leaf - 1}-{2 * leaf}"
    return roman(leaf) if numbering == "roman" and leaf <= LARGEST else str(leaf)


def leaf_label(leaf: int, numbering: Numbering = "arabic") -> str:
    """What a leaf is called in a sentence: ``leaf 12``, ``leaf xii``, ``leaf 12 (pages 23-24)``."""
    if numbering == "pages":
        return f"leaf {leaf} (pages {leaf_number(leaf, numbering)})"
    return f"leaf {leaf_number(leaf, numbering)}"


def leaves_label(first: int, last: int, numbering: Numbering = "arabic") -> str:
    """What leaves that follow one another are called: ``leaves 1 to 8``, ``leaves i to viii``, ``pages 1 to 16``."""
    if first == last:
        return leaf_label(first, numbering)
    if numbering == "pages":
        return f"pages {2 * first - 1} to {2 * last}"
    return f"leaves {leaf_number(first, numbering)} to {leaf_number(last, numbering)}"


def relabelled(
    text: str, numbering: Numbering = "arabic", called: Callable[[Page, Numbering], str] = page_named
) -> str:
    """What the page kept as ``12r`` is ``called``; any other text stays as it is."""
    page = _canonical(text)
    return called(page, numbering) if page is not None else text


def read_leaf_label(text: str, numbering: Numbering = "arabic") -> int:
    """The number of the leaf called ``text``: ``12``, and where leaves bear roman numerals ``xii`` too.

    Raises:
        InvalidValueError: where no leaf is called so.
    """
    bare = text.strip()
    if bare.isascii() and bare.isdecimal() and 0 < len(bare.lstrip("0")) < 7:
        return int(bare)
    if numbering == "roman" and is_roman(bare):
        return read_roman(bare)
    example = "xii" if numbering == "roman" else "12"
    raise InvalidValueError(f"{text!r} is not a leaf; write its number, as in {example}")


def read_page_label(text: str, numbering: Numbering = "arabic", *, leaf_alone: bool = False) -> Page:
    """The page called ``text``; ``12r`` is understood whatever the numbering.

    With ``leaf_alone`` a leaf without a side is its recto. The side of a roman leaf may follow a space, a dot, ``^``,
    be raised or spelt out; written on to the numeral, a ``v`` that could be part of it is not guessed at.

    Raises:
        CopydeskError: where no page is called so, or ``xiv`` may be leaf xiv or the verso of leaf xi.
    """
    bare = _MARK.sub("", text.translate(_RAISED).strip().lower())
    number = bare.isascii() and bare.isdecimal() and 0 < len(bare.lstrip("0")) < 7
    if number and numbering == "pages":
        return Page.at(int(bare) - 1)
    if number and leaf_alone:
        return Page(int(bare), Side.RECTO)
    page = _roman_page(bare, leaf_alone) if numbering == "roman" else None
    page = page or _canonical(bare)
    if page is None:
        raise InvalidValueError(f"{text!r} is not a page; write {HOW_TO_NAME[numbering]}")
    return page


def _canonical(bare: str) -> Page | None:
    found = _ARABIC_PAGE.fullmatch(bare)
    return Page(int(found[1]), Side(found[2][0])) if found else None


def _roman_page(bare: str, leaf_alone: bool) -> Page | None:
    """The page a roman numeral and a side name; None where there are not both."""
    found = _ROMAN_PAGE.fullmatch(bare)
    named = found if found and is_roman(found[1]) else None
    if named and is_roman(bare):
        leaf = named[1]
        raise AmbiguousError(
            f"{bare!r} may be leaf {bare} or the verso of leaf {leaf}; write {bare} r, {bare} v or {leaf} v"
        )
    if named:
        return Page(read_roman(named[1]), Side(named[2][0]))
    return Page(read_roman(bare), Side.RECTO) if leaf_alone and is_roman(bare) else None


def flyleaves(front: int, back: int, *, pastedowns: bool = False) -> tuple[Flyleaf, ...]:
    """The leaves before and after the text, numbered in one roman count of their own; the outermost may be pasted.

    Raises:
        InvalidValueError: where there are fewer than none.
    """
    if front < 0 or back < 0:
        raise InvalidValueError(f"a book cannot have {min(front, back)} flyleaves; give a number from 0")
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
