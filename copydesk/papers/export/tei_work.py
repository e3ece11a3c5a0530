"""The work in a description: who wrote which pages, the script, and what is drawn and painted where."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.sanitize import sanitize
from copydesk.papers.export.tei_places import PageLine, PageSpan, dimensions, figure, loci, locus
from copydesk.papers.export.xml_elements import element, listed
from copydesk.tracking.ledger.entry_kinds import SpaceEnd
from copydesk.tracking.scribes.stints import shares
from copydesk.tracking.state.writing_tools import all_tools
from copydesk.tracking.views.space_view import space_accounts

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence
    from xml.etree.ElementTree import Element

    from copydesk.tracking.scribes.stints import Share
    from copydesk.tracking.scribes.stopping_point import LinePlace
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.page_view import PageAccount
    from copydesk.tracking.views.space_view import SpaceAccount


def hand_desc(state: BookState, pages: Sequence[PageAccount]) -> Element | None:
    """The hands by their stints; None where nothing is written."""
    found = shares(state)
    if not found:
        return None
    by_hand: dict[str, list[Share]] = {}
    for share in found:
        by_hand.setdefault(share.hand, []).append(share)
    notes = (_hand_note(state, number, own, found) for number, own in enumerate(by_hand.values(), 1))
    return element("handDesc", {"hands": len(by_hand)}, _so_far(pages), *notes)


def _so_far(pages: Sequence[PageAccount]) -> Element | None:
    """How much is written, while not all is."""
    bearing = [page for page in pages if page.budget.planned or page.record.stints]
    done = sum(page.record.whole for page in bearing)
    if done == len(bearing):
        return None
    return element("summary", f"So far {done} of the {len(bearing)} pages that are to bear text are written.")


def _hand_note(state: BookState, number: int, own: Sequence[Share], everyones: Sequence[Share]) -> Element:
    hand = state.book.hand(own[0].hand)
    name = element("persName", hand.name) if hand is not None and hand.name else f"Hand {own[0].hand}"
    scope = _scope(own, everyones)
    attributes = {"xml:id": f"hand-{number}"} | ({"scope": scope} if scope else {})
    places = loci((_span(state, share) for share in own), state.book.signing.foliation)
    used = dict.fromkeys(str(each.tools) for each in all_tools(state) if each.hand == own[0].hand)
    written_with = f"; written with {'; then '.join(used)}" if used else ""
    lines = f" ({sum(each.lines for each in own)} lines)"
    return element("handNote", attributes, name, ": ", places, f"{lines}{written_with}")


def _span(state: BookState, share: Share) -> PageSpan:
    """A hand's share as a place; lines are named where it begins after a page's first or ends before its last."""
    record = state.record(state.skin_at(share.last.page.index))
    whole = record.whole and share.last.text_line >= record.written
    return PageSpan(
        share.first.page,
        share.last.page,
        _line(state, share.first) if share.first.text_line > 1 else None,
        None if whole else _line(state, share.last),
    )


def _line(state: BookState, spot: LinePlace) -> PageLine:
    return PageLine(spot.column if state.layout.columns > 1 else 0, spot.line)


def _scope(own: Iterable[Share], everyones: Iterable[Share]) -> str:
    """``sole``; ``major`` of a hand used through most of the lines, the others ``minor``; nothing where none is."""
    mine, all_lines = sum(share.lines for share in own), 0
    by_hand: dict[str, int] = {}
    for share in everyones:
        by_hand[share.hand] = by_hand.get(share.hand, 0) + share.lines
        all_lines += share.lines
    if len(by_hand) == 1:
        return "sole"
    if 2 * max(by_hand.values()) <= all_lines:
        return ""
    return "major" if 2 * mine > all_lines else "minor"


def script_desc(state: BookState) -> Element | None:
    """The script and the pen; None where nothing is known of them."""
    script = state.book.script
    pen = ""
    if script.nib is not None:
        ways = ((script.x_height, "high"), (script.ascender, "above"), (script.descender, "below"))
        heights = ", ".join(f"{figure(height)} {way}" for height, way in ways if height is not None)
        pen = f"nib {figure(script.nib)} mm{f'; in nib widths, letters stand {heights}' if heights else ''}"
    said = "; ".join(filter(None, (script.name, pen)))
    return element("scriptDesc", element("scriptNote", said)) if said else None


def deco_desc(state: BookState) -> Element | None:
    """Every reserved space; None where there is none."""
    notes = [_deco_note(state, account) for account in space_accounts(state)]
    return element("decoDesc", *notes) if notes else None


def _deco_note(state: BookState, account: SpaceAccount) -> Element:
    plan, page, placement = account.plan, account.page, account.placement
    parts = [
        locus(PageSpan(page, page), state.book.signing.foliation) if page is not None else None,
        plan.subject,
        f"{placement.lines} lines" if placement is not None and placement.lines else "",
        dimensions("space", account.height, account.width),
        listed(element("material", material) for material in plan.materials),
        _state(state, account),
    ]
    return element("decoNote", _types(str(plan.kind)), *listed(parts, "; "))


def _types(kind: str) -> dict[str, str]:
    """A kind as attributes of one word each (TEI: ``teidata.enumerated``)."""
    words = sanitize(kind).split() or ["space"]
    if len(words) == 2 and words[1] == "initial":
        return {"type": "initial", "subtype": words[0]}
    return {"type": "-".join(words)}


def _state(state: BookState, account: SpaceAccount) -> str:
    """How far it has come, and by whom."""
    if account.record.ended is SpaceEnd.LEFT_EMPTY:
        return SpaceEnd.LEFT_EMPTY.words
    if account.page is None:
        return "without a place as yet"
    steps = [*account.record.stages, *([account.record.end] if account.record.end is not None else [])]
    names = dict.fromkeys(_name(state, step.hand) for step in steps if step.hand)
    by = f" by {' and '.join(names)}" if names else ""
    done = "finished" if not account.waiting else ", ".join(stage for stage in account.stages if account.has(stage))
    return f"{done}{by}" if done else "not begun"


def _name(state: BookState, hand: str) -> str:
    known = state.book.hand(hand)
    return known.name if known is not None and known.name else hand
