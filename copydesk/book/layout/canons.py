"""Canons of page making: rules that give the four margins (and the gap of columns) from the page alone.

Each is named by its author or by its rule, and carries its source, so that a person can look it up.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.errors import UnknownNameError
from copydesk.book.plan import Margins

if TYPE_CHECKING:
    from collections.abc import Callable


class CanonPage(NamedTuple):
    """What a canon gives for one page: margins in mm, and the gap of columns in mm where the canon has one."""

    margins: Margins
    gap: float | None = None


class Canon(NamedTuple):
    """A rule of page making: the name it goes by here, the rule in words, its source, and its working."""

    name: str
    rule: str
    source: str
    page: Callable[[float, float], CanonPage]


def canon(name: str, width: float, height: float) -> CanonPage:
    """The margins (and gap) that the canon called ``name`` gives a page of ``width`` × ``height`` mm.

    Raises:
        CopydeskError: where no canon has that name.
    """
    return canon_named(name).page(width, height)


def canon_named(name: str) -> Canon:
    """The canon called ``name``; letter case, blanks and hyphens do not matter.

    Raises:
        UnknownNameError: where no canon has that name.
    """
    found = CANONS.get(_key(name)) or CANONS.get(_ALSO_CALLED.get(_key(name), ""))
    if found is None:
        raise UnknownNameError(
            f"no canon is called {name!r}; choose one of {', '.join(CANONS)}, or give the four margins"
        )
    return found


def _key(name: str) -> str:
    return "-".join(name.lower().replace("-", " ").split())


def _ninths(width: float, height: float) -> CanonPage:
    return CanonPage(Margins(inner=width / 9, head=height / 9, outer=2 * width / 9, foot=2 * height / 9))


def _johnston(width: float, height: float) -> CanonPage:
    """Margins 1½ : 2 : 3 : 4 of one part so large that the written space is half the page.

    With part p: (width - 4½p)(height - 6p) = width·height/2; the smaller root keeps both sides above nothing.
    """
    middle = 6 * width + 4.5 * height
    part = (middle - math.sqrt(middle**2 - 54 * width * height)) / 54
    return CanonPage(Margins(inner=1.5 * part, head=2 * part, outer=3 * part, foot=4 * part))


def _saint_remi(width: float, height: float) -> CanonPage:
    """Across in quarters of the width, down in fifths of the height: the recipe's own page is 4 wide and 5 high.

    Solved for its page: inner = foot = 4/7, head 3/7, outer = gap = 4/21 of a part; two columns of 32/21.
    """
    across, down = width / 4, height / 5
    margins = Margins(inner=across * 4 / 7, head=down * 3 / 7, outer=across * 4 / 21, foot=down * 4 / 7)
    return CanonPage(margins, gap=across * 4 / 21)


CANONS: dict[str, Canon] = {
    each.name: each
    for each in (
        Canon(
            "ninths",
            "inner 1/9 and outer 2/9 of the width, head 1/9 and foot 2/9 of the height",
            "J. A. van de Graaf 1946; R. M. Rosarivo 1947; J. Tschichold 1953",
            _ninths,
        ),
        Canon(
            "johnston",
            "inner, head, outer, foot as 1½ : 2 : 3 : 4, the written space half of the page",
            "E. Johnston, Writing & Illuminating, & Lettering (1906), p. 256 and fig. 70",
            _johnston,
        ),
        Canon(
            "saint-remi",
            "page 5 high and 4 wide, written height 4; inner and foot three times the outer margin and the gap, "
            "and a third more than the head",
            "a recipe of the ninth century, Paris, BnF lat. 11884",
            _saint_remi,
        ),
    )
}
_ALSO_CALLED = {"van-de-graaf": "ninths", "rosarivo": "ninths", "tschichold": "ninths"}
