"""The object in a description: skin, extent, foliation, collation, flaws and layout."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.formula.formatter import formula_of
from copydesk.book.structure.foliation import extent
from copydesk.book.structure.page import Page, Side
from copydesk.book.structure.signatures import gathering_numbers, leaf_signatures
from copydesk.papers.export.tei_places import PageSpan, dimensions, figure, loci, locus, runs
from copydesk.papers.export.xml_elements import element, listed
from copydesk.tracking.views.page_marks import catchwords

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

    from copydesk.tracking.state.book_state import BookState


def object_desc(state: BookState) -> Element:
    """The skin and what is laid out on it."""
    support = element(
        "supportDesc",
        {"material": "parch"},
        element("support", _support(state)),
        _extent(state),
        _foliation(state),
        _collation(state),
        _condition(state),
    )
    return element("objectDesc", {"form": "codex"}, support, _layouts(state))


def _support(state: BookState) -> Element:
    plan = state.book.gatherings
    habit = "every sheet with the same surface out" if plan.habit == "same" else "like facing like at the openings"
    return element("p", element("material", "parchment"), f", the {plan.outside} side outside each gathering, {habit}")


def _extent(state: BookState) -> Element:
    fly, layout, leaves = state.book.flyleaves, state.layout, state.collation.leaves
    free = fly.free_front + fly.free_back
    said = f"{extent(fly.free_front, leaves, fly.free_back)} {'leaf' if leaves == 1 and not free else 'leaves'}"
    measure = element("measure", {"type": "leaves", "unit": "leaf", "quantity": leaves + free}, said)
    return element("extent", measure, " ", dimensions("leaf", layout.height, layout.width))


_FOLIATION = {
    "arabic": "Leaves are numbered in arabic numerals",
    "roman": "Leaves are numbered in roman numerals",
    "pages": "Pages are numbered in arabic numerals",
}


def _foliation(state: BookState) -> Element:
    said = _FOLIATION[state.book.signing.foliation]
    if state.book.flyleaves.front or state.book.flyleaves.back:
        said += "; flyleaves are counted apart in roman numerals"
    return element("foliation", element("p", f"{said}."))


def _collation(state: BookState) -> Element:
    parts = [element("formula", formula_of(state.collation)), _catchwords(state), _signatures(state)]
    return element("collation", *listed(parts, " "))


def _catchwords(state: BookState) -> Element | None:
    """The catchwords, each with the page it stands on."""
    if not state.book.signing.catchwords:
        return None
    numbering = state.book.signing.foliation
    found = [
        (element("q", each.words), " ", locus(PageSpan(each.page, each.page), numbering))
        for each in catchwords(state).values()
    ]
    return element("catchwords", "At the foot of the last verso of a gathering: ", *listed(found)) if found else None


def _signatures(state: BookState) -> Element | None:
    """How gatherings are signed: the first and the last mark of each, or the number on its last verso."""
    habit, numbering = state.book.signing.habit, state.book.signing.foliation
    numbers = gathering_numbers(state.collation)
    if habit == "none" or not numbers:
        return None
    if habit == "numbers":
        return element("signatures", f"At the foot of the last verso of a gathering: {', '.join(numbers.values())}")
    marks = leaf_signatures(state.collation)
    signed = [
        [page for leaf in state.collation.leaf_numbers(gathering.number) if (page := Page(leaf, Side.RECTO)) in marks]
        for gathering in state.collation.gatherings
    ]
    told = [
        (_marks(marks[pages[0]], marks[pages[-1]]), " ", locus(PageSpan(pages[0], pages[-1]), numbering))
        for pages in signed
        if pages
    ]
    return element("signatures", "At the foot of the rectos before the fold: ", *listed(told))


def _marks(first: str, last: str) -> str:
    return first if first == last else f"{first}–{last}"


def _condition(state: BookState) -> Element | None:
    """The flaws of the leaves."""
    numbering = state.book.signing.foliation
    told = [
        element(
            "p",
            locus(PageSpan(Page(leaf, Side.RECTO), Page(leaf, Side.VERSO)), numbering),
            f": a flaw {figure(found.flaw.from_head)} mm from the head edge and {figure(found.flaw.from_fold)} mm from "
            "the fold, as seen on the recto, ",
            dimensions("flaw", found.flaw.height, found.flaw.width),
        )
        for leaf, all_found in sorted(state.flaws.items())
        for found in all_found
    ]
    return element("condition", *told) if told else None


def _layouts(state: BookState) -> Element:
    """A layout for each number of lines that pages are ruled with."""
    by_lines: dict[int, list[Page]] = {}
    for index in range(state.collation.pages):
        by_lines.setdefault(state.frame_of(index).lines, []).append(Page.at(index))
    usual = by_lines or {state.layout_to_rule.lines: []}
    return element("layoutDesc", *(_layout(state, lines, pages, len(usual)) for lines, pages in usual.items()))


def _layout(state: BookState, lines: int, pages: list[Page], of: int) -> Element:
    layout = state.layout_on(pages[0].index) if pages else state.layout_to_rule
    ruled = lines + 1 if layout.first_line == "below" else lines
    said = f"{layout.columns} columns" if layout.columns > 1 else "One column"
    attributes = {"columns": layout.columns, "ruledLines": ruled, "writtenLines": lines}
    return element(
        "layout",
        attributes,
        loci(runs(pages), state.book.signing.foliation) if of > 1 else None,
        " " if of > 1 else None,
        element(
            "p",
            f"{said}, the first line written {layout.first_line} the top ruled line; the written space measures ",
            dimensions("written", layout.written_height, layout.written_width),
        ),
    )
