"""How the book's skins are cut: the picture, and the skins to order."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.days import count_of
from copydesk.book.refusal import Refused
from copydesk.ledger.skin_order import SkinOrder, skin_order
from copydesk.papers.cutting import KNIFE_CAUTION, cutting_pdf, cutting_svg, cutting_text, cutting_words

if TYPE_CHECKING:
    from copydesk.papers.catalogue import Order


def printed(order: Order) -> bytes:
    """Make it.

    Raises:
        Refused: where the book says nothing of skins, or we print on no such paper.
    """
    book = order.job.standing.book
    found = skin_order(order.job.standing)
    if found is None:
        raise Refused("book.yaml says nothing of skins; write skins: with width and height of the usable rectangle")
    if order.form == "pdf":
        return cutting_pdf(found.cutting, book.title, order.paper, book.unit)
    if order.form == "svg":
        return cutting_svg(found.cutting, book.title, book.unit).encode()
    lines = [
        f"{book.title}: cutting a skin",
        cutting_words(found.cutting, book.unit),
        "",
        *cutting_text(found.cutting),
        "",
        _to_order(found),
        KNIFE_CAUTION,
        "",
    ]
    return "\n".join(lines).encode()


def _to_order(found: SkinOrder) -> str:
    if not found.skins:
        return "No skin of this size gives a sheet; none can be ordered."
    skins = count_of(found.skins, "skin")
    said = f"To order for {found.sheets} sheets: {skins}, {found.spoilage:.0%} of them allowed for spoiling"
    return f"{said}; with the flyleaves {found.with_flyleaves}." if found.flyleaf_sheets else f"{said}."
