"""The small types that say where something stands: a page, a leaf of skin, a side, a surface."""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum
from typing import NewType

from copydesk.book.common.errors import InvalidValueError

LeafId = NewType("LeafId", str)
"""A leaf as a piece of skin, whatever number it bears today.

``3.5`` is the fifth leaf place of gathering 3 as first planned; ``3.5r1`` the first leaf that replaced it;
``3.5a1`` the first leaf added after it. Foliation may shift when a leaf is cancelled or added; a leaf's id
never changes, so what was written stays on its skin.
"""


class Side(StrEnum):
    """The two sides of a leaf."""

    RECTO = "r"
    VERSO = "v"

    @property
    def other(self) -> Side:
        """The side behind this one."""
        return Side.VERSO if self is Side.RECTO else Side.RECTO


class Surface(StrEnum):
    """The two surfaces of a skin."""

    HAIR = "hair"
    FLESH = "flesh"

    @property
    def other(self) -> Surface:
        """The surface behind this one."""
        return Surface.FLESH if self is Surface.HAIR else Surface.HAIR


@dataclass(frozen=True, slots=True, order=True)
class Page:
    """A page by its leaf's number in the book (from 1) and its side: ``12r``."""

    leaf: int
    side: Side

    def __str__(self) -> str:
        """The usual short form, ``12r``."""
        return f"{self.leaf}{self.side.value}"

    @classmethod
    def parse(cls, text: str) -> Page:
        """Read ``12r`` (or ``f. 12r``, ``12 v``, ``12 recto``).

        Raises:
            InvalidValueError: where the text is not a leaf number and a side.
        """
        found = re.fullmatch(r"\s*(?:ff?\.?)?\s*0*([1-9][0-9]{0,5})\s*(r|v|recto|verso)\.?\s*", text, re.IGNORECASE)
        if found is None:
            raise InvalidValueError(f"{text!r} is not a page; write a leaf number and r or v, as in 12r")
        return cls(int(found[1]), Side(found[2][0].lower()))

    @classmethod
    def at(cls, index: int) -> Page:
        """The page that stands at ``index`` (from 0) in reading order: 0 is 1r, 1 is 1v."""
        return cls(index // 2 + 1, Side.VERSO if index % 2 else Side.RECTO)

    @property
    def index(self) -> int:
        """Its place in reading order, from 0."""
        return (self.leaf - 1) * 2 + (self.side is Side.VERSO)


EXAMPLE = Page(12, Side.RECTO)
"""A page to name where people are told how pages are named."""


@dataclass(frozen=True, slots=True)
class SkinPage:
    """A page as a surface of skin: the leaf itself and the side; it stays when the foliation shifts."""

    leaf_id: LeafId
    side: Side

    def __str__(self) -> str:
        """As kept in the ledger: ``3.5:r``."""
        return f"{self.leaf_id}:{self.side.value}"

    @classmethod
    def parse(cls, text: str) -> SkinPage:
        """Read what ``str`` gives.

        Raises:
            InvalidValueError: where the text has another form.
        """
        leaf_id, colon, side = text.rpartition(":")
        if not colon or side not in ("r", "v"):
            raise InvalidValueError(f"{text!r} does not name a leaf and a side; write it as in 3.5:r")
        return cls(LeafId(leaf_id), Side(side))
