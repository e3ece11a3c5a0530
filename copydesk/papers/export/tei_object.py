"""The object in a description: skin, extent, foliation, collation, flaws and layout."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.formula.collation_formula import formula_of
from copydesk.book.structure.foliation import extent
from copydesk.book.structure.page import Page, Side
from copydesk.book.structure.signatures import gathering_numbers, leaf_signatures
from copydesk.papers.export.tei_places import Span, dimensions, figure, loci, locus, runs
from copydesk.papers.export.xml_elements import element, listed
from copydesk.tracking.views.catchwords import catchwords

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

    from copydesk.tracking.state.book_state import Standing


def object_desc(standing: Standing) -> Element:
    """The skin and what is laid out on it."""
    support = element(
        "supportDesc",
        {"material": "parch"},
        element("support", {}, _support(standing)),
        _extent(standing),
        _foliation(standing),
        _collation(standing),
        _condition(standing),
    )
    return element("objectDesc", {"form": "codex"}, support, _layouts(standing))


def _support(standing: Standing) -> Element:
    plan = standing.book.gatherings
    habit = "every sheet with the same surface out" if plan.habit == "same" else "like facing like at the openings"
    return element(
        "p", {}, element("material", {}, "parchment"), f", the {plan.outside} side outside each gathering, {habit}"
    )


def _extent(standing: Standing) -> Element:
    fly, layout, leaves = standing.book.flyleaves, standing.layout, standing.collation.leaves
    said = (
        f"{extent(fly.front, leaves, fly.back)} {'leaf' if leaves == 1 and not (fly.front or fly.back) else 'leaves'}"
    )
    measure = element("measure", {"type": "leaves", "unit": "leaf", "quantity": fly.front + leaves + fly.back}, said)
    return element("extent", {}, measure, " ", dimensions("leaf", layout.height, layout.width))


_FOLIATION = {
    "arabic": "Leaves are numbered in arabic numerals",
    "roman": "Leaves are numbered in roman numerals",
    "pages": "Pages are numbered in arabic numerals",
}


def _foliation(standing: Standing) -> Element:
    said = _FOLIATION[standing.book.signing.foliation]
    if standing.book.flyleaves.front or standing.book.flyleaves.back:
        said += "; flyleaves are counted apart in roman numerals"
    return element("foliation", {}, element("p", {}, f"{said}."))


def _collation(standing: Standing) -> Element:
    parts = [element("formula", {}, formula_of(standing.collation)), _catchwords(standing), _signatures(standing)]
    return element("collation", {}, *listed(parts, " "))


def _catchwords(standing: Standing) -> Element | None:
    """The catchwords, each with the page it stands on."""
    if not standing.book.signing.catchwords:
        return None
    numbering = standing.book.signing.foliation
    found = [
        (element("q", {}, each.words), " ", locus(Span(each.page, each.page), numbering))
        for each in catchwords(standing).values()
    ]
    return (
        element("catchwords", {}, "At the foot of the last verso of a gathering: ", *listed(found)) if found else None
    )


def _signatures(standing: Standing) -> Element | None:
    """How gatherings are signed: the first and the last mark of each, or the number on its last verso."""
    habit, numbering = standing.book.signing.habit, standing.book.signing.foliation
    numbers = gathering_numbers(standing.collation)
    if habit == "none" or not numbers:
        return None
    if habit == "numbers":
        return element("signatures", {}, f"At the foot of the last verso of a gathering: {', '.join(numbers.values())}")
    marks = leaf_signatures(standing.collation)
    signed = [
        [
            page
            for leaf in standing.collation.leaf_numbers(gathering.number)
            if (page := Page(leaf, Side.RECTO)) in marks
        ]
        for gathering in standing.collation.gatherings
    ]
    told = [
        (_marks(marks[pages[0]], marks[pages[-1]]), " ", locus(Span(pages[0], pages[-1]), numbering))
        for pages in signed
        if pages
    ]
    return element("signatures", {}, "At the foot of the rectos before the fold: ", *listed(told))


def _marks(first: str, last: str) -> str:
    return first if first == last else f"{first}–{last}"


def _condition(standing: Standing) -> Element | None:
    """The flaws of the leaves."""
    numbering = standing.book.signing.foliation
    told = [
        element(
            "p",
            {},
            locus(Span(Page(leaf, Side.RECTO), Page(leaf, Side.VERSO)), numbering),
            f": a flaw {figure(found.flaw.from_head)} mm from the head edge and {figure(found.flaw.from_fold)} mm from "
            "the fold, as seen on the recto, ",
            dimensions("flaw", found.flaw.height, found.flaw.width),
        )
        for leaf, all_found in sorted(standing.flaws.items())
        for found in all_found
    ]
    return element("condition", {}, *told) if told else None


def _layouts(standing: Standing) -> Element:
    """A layout for each number of lines that pages are ruled with."""
    by_lines: dict[int, list[Page]] = {}
    for index in range(standing.collation.pages):
        by_lines.setdefault(standing.frame_of(index).lines, []).append(Page.at(index))
    usual = by_lines or {standing.layout.lines: []}
    return element("layoutDesc", {}, *(_layout(standing, lines, pages, len(usual)) for lines, pages in usual.items()))


def _layout(standing: Standing, lines: int, pages: list[Page], of: int) -> Element:
    layout = standing.layout
    ruled = lines + 1 if layout.first_line == "below" else lines
    said = f"{layout.columns} columns" if layout.columns > 1 else "One column"
    attributes = {"columns": layout.columns, "ruledLines": ruled, "writtenLines": lines}
    return element(
        "layout",
        attributes,
        loci(runs(pages), standing.book.signing.foliation) if of > 1 else None,
        " " if of > 1 else None,
        element(
            "p",
            {},
            f"{said}, the first line written {layout.first_line} the top ruled line; the written space measures ",
            dimensions("written", layout.written_height, layout.written_width),
        ),
    )
