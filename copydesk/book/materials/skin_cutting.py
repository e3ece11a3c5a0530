"""Skins and the sheets they give: cutting, folding, how many to order, and when to begin making them.

A *sheet* here is the leaf pair as it comes to the desk: two page widths plus the trim, by one page height plus
the trim. The trim is what the sheet is larger by in each direction, both edges together. A skin is its usable
rectangle. It is cut into sheets, or folded once, twice or thrice, which gives 2, 4 or 8 leaves, and slit
(F. Déroche and others, *Islamic Codicology*, 2006, "The quires of a codex"; C. de Hamel, *Scribes and
Illuminators*, 1992, pp. 19-20).
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.errors import DoesNotFitError, InvalidValueError
from copydesk.book.common.phrases import decimal
from copydesk.book.common.units import Unit, show_size
from copydesk.book.layout.page_layout import Rectangle
from copydesk.book.materials.guillotine_cuts import Cuts, cut_best, cut_one_way

if TYPE_CHECKING:
    from copydesk.book.plan import SkinPlan


MOST_SHEETS = 1_000
"""No skin gives a thousand sheets; more is a slip in a figure or its unit."""

_TO_THE_MM = 1_000  # the cutting is worked in whole thousandths of a millimetre
_SLITS = {1: (1, 1), 2: (1, 2), 3: (2, 2)}  # sheets across and down a skin folded once, twice, thrice


class Slash(NamedTuple):
    """One straight cut of the knife, in mm from the skin's left and upper edge."""

    left: float
    top: float
    right: float
    bottom: float


@dataclass(frozen=True, slots=True)
class Cutting:
    """How one skin becomes sheets: sizes in mm, where each sheet lies, and the cuts in the order to make them.

    ``folds`` is how often the skin is folded, 0 where it is cut flat; then the cuts are the slits made after folding.
    ``grain_fixed`` tells that every fold must run along the skin's height; ``skin_turned`` is how many sheets the
    same skin gives lying the other way, 0 where nobody may turn it or that gives no more.
    """

    skin_width: float
    skin_height: float
    sheet_width: float
    sheet_height: float
    sheets: tuple[Rectangle, ...]
    cuts: tuple[Slash, ...]
    folds: int = 0
    grain_fixed: bool = False
    skin_turned: int = 0

    @property
    def count(self) -> int:
        """Sheets that one skin gives."""
        return len(self.sheets)

    @property
    def waste(self) -> float:
        """The share of the skin's rectangle that falls off, 0 to 1."""
        return 1 - self.count * self.sheet_width * self.sheet_height / (self.skin_width * self.skin_height)

    def lies_turned(self, sheet: Rectangle) -> bool:
        """Whether a sheet lies across: its fold runs along the skin's width, not along its height."""
        return abs(sheet.width - self.sheet_width) > 1 / _TO_THE_MM


def sheet_size(page_width: float, page_height: float, trim: float) -> tuple[float, float]:
    """Width and height in mm of the sheet to cut: two page widths, and one page height, each plus the trim."""
    return 2 * page_width + trim, page_height + trim


def cutting_of(skins: SkinPlan, page_width: float, page_height: float, unit: Unit = "mm") -> Cutting:
    """How one of these skins is cut, or folded and slit, into sheets for pages of this size (mm).

    With the grain fixed every sheet lies with its width along the skin's width. A skin too small for one sheet
    gives a cutting of none.

    Raises:
        CopydeskError: where a size is 0 or less, or the sheets are too many to be meant; lengths are told in ``unit``.
    """
    sheet = sheet_size(page_width, page_height, skins.trim)
    if min(skins.width, skins.height, *sheet) <= 0:
        raise InvalidValueError("skins and pages need a width and a height above 0")
    if skins.width * skins.height > MOST_SHEETS * sheet[0] * sheet[1]:
        raise DoesNotFitError(
            f"more than {MOST_SHEETS} sheets of {show_size(*sheet, unit)} would come from a skin of "
            f"{show_size(skins.width, skins.height, unit)}; look at the units of both"
        )
    make = _folded if skins.folds else _cut_flat
    if skins.grain == "free":
        return make((skins.width, skins.height), sheet, skins.folds, True)
    found = make((skins.width, skins.height), sheet, skins.folds, False)
    turned = make((skins.height, skins.width), sheet, skins.folds, False).count
    return replace(found, grain_fixed=True, skin_turned=turned if turned > found.count else 0)


def skins_to_order(sheets: int, sheets_a_skin: int, spoilage: float) -> int:
    """Whole skins to order for so many sheets, when ``spoilage`` is the share of skins that spoil (0.1: one in ten).

    Raises:
        CopydeskError: where a skin gives no sheet, or every skin spoils.
    """
    if sheets <= 0:
        return 0
    if sheets_a_skin < 1:
        raise DoesNotFitError("the skin is smaller than one sheet; choose larger skins, a smaller page or less trim")
    if not 0 <= spoilage < 1:
        raise InvalidValueError(
            f"a spoilage of {decimal(spoilage)} leaves no skin; give the share that spoils, as in 0.1 for one in ten"
        )
    return math.ceil(math.ceil(sheets / sheets_a_skin) / (1 - spoilage) - 1e-9)


@lru_cache(maxsize=64)
def _cut_flat(skin: tuple[float, float], sheet: tuple[float, float], folds: int, turning: bool) -> Cutting:
    cut = cut_best if turning else cut_one_way
    found = cut(*_fine(skin), _fine(sheet))
    return _in_mm(skin, sheet, found, folds)


@lru_cache(maxsize=64)
def _folded(skin: tuple[float, float], sheet: tuple[float, float], folds: int, turning: bool) -> Cutting:
    """The whole skin folded; one that fits only lying across is turned where the grain is free."""
    across, down = _SLITS[folds]
    width, height = across * sheet[0], down * sheet[1]
    if width <= skin[0] and height <= skin[1]:
        found = cut_one_way(*_fine((width, height)), _fine(sheet))
    elif turning and height <= skin[0] and width <= skin[1]:
        found = cut_one_way(*_fine((height, width)), _fine((sheet[1], sheet[0])))
    else:
        found = Cuts((), ())
    return _in_mm(skin, sheet, found, folds)


def _fine(size: tuple[float, float]) -> tuple[int, int]:
    return round(size[0] * _TO_THE_MM), round(size[1] * _TO_THE_MM)


def _in_mm(skin: tuple[float, float], sheet: tuple[float, float], found: Cuts, folds: int) -> Cutting:
    sheets = tuple(Rectangle(*(length / _TO_THE_MM for length in piece)) for piece in found.pieces)
    cuts = tuple(Slash(*(place / _TO_THE_MM for place in cut)) for cut in found.cuts)
    return Cutting(*skin, *sheet, sheets, cuts, folds)
