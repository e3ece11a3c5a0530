"""Reserved spaces: what each kind needs, how much room it takes, where it is tied to the text."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.casting import Anchored, Placement, Shape
from copydesk.book.page import Page

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping

    from copydesk.book.book import SpacePlan
    from copydesk.book.exemplar import Exemplar

NEEDS: Mapping[str, tuple[str, ...]] = {
    "miniature": ("drawn", "gilded", "coloured", "outlined"),
    "historiated initial": ("drawn", "gilded", "coloured", "outlined"),
    "decorated initial": ("drawn", "gilded", "coloured", "outlined"),
    "flourished initial": ("drawn", "coloured"),
    "initial": ("drawn", "coloured"),
    "border": ("drawn", "gilded", "coloured", "outlined"),
    "line filler": ("coloured",),
    "rubric": ("coloured",),
}
"""The stages each kind of space goes through unless the book says otherwise (common practice)."""


def stages_of(plan: SpacePlan, *, colour_first: bool) -> tuple[str, ...]:
    """The stages a space needs, in the order the workshop works.

    Gold is usually laid and burnished before colour (S. Farnsworth, *Illumination*, 1922, ch. XVIII); laying it
    after keeps it from being dimmed by breath and warmth (Graily Hewitt, appendix to E. Johnston, *Writing &
    Illuminating, & Lettering*, 1906). ``colour_first`` chooses the second.
    """
    needed = plan.stages if plan.stages is not None else NEEDS.get(plan.kind, ("drawn", "coloured"))
    order = ("drawn", "coloured", "gilded", "outlined") if colour_first else ("drawn", "gilded", "coloured", "outlined")
    return tuple(stage for stage in order if stage in needed)


def is_initial(kind: str) -> bool:
    """Whether a kind of space is an initial, which indents its paragraph's first lines."""
    return kind.endswith("initial")


def takes_lines(kind: str) -> bool:
    """Whether a kind takes room from the text; a border, a line filler and a rubric to be coloured take none."""
    return kind == "miniature" or is_initial(kind)


def size_mm(
    plan: SpacePlan, lines: int, *, measure: float, written_width: float, line_height: float
) -> tuple[float, float]:
    """Width and height of a space in mm; an initial is square unless its width is given.

    A space of k lines is k ruling units high (E. Johnston, 1906, p. 256: initials stand one, two, three or more
    writing-line spaces high).
    """
    height = lines * line_height
    if is_initial(plan.kind):
        return (min(plan.width if plan.width is not None else height, measure), height)
    if plan.width is not None:
        return (plan.width, height)
    return (written_width if plan.across == "all" else measure, height)


def shape_of(plan: SpacePlan, *, measure: float, line_height: float) -> Shape:
    """What a space takes from the ruled lines; an initial leaves at least a fifth of the measure to the text."""
    if not takes_lines(plan.kind):
        return Shape(plan.id, 0, False, 0.0)
    if not is_initial(plan.kind):
        return Shape(plan.id, plan.lines, plan.across == "all", 0.0)
    width, _ = size_mm(plan, plan.lines, measure=measure, written_width=measure, line_height=line_height)
    return Shape(plan.id, plan.lines, False, min(width / measure, 0.8) if measure else 0.0)


def anchor_words(
    plans: Iterable[SpacePlan], exemplar: Exemplar | None, division_starts: Mapping[int, int]
) -> dict[str, int]:
    """The word each text-tied space stands before, by its id; spaces tied to a page are left out."""
    found: dict[str, int] = {}
    for plan in plans:
        at = plan.at
        if at.word is not None:
            found[plan.id] = at.word
        elif at.division is not None:
            word = exemplar.paragraph_start(at.division, at.paragraph) if exemplar else None
            word = word if word is not None else division_starts.get(at.division)
            if word is not None:
                found[plan.id] = word
    return found


def anchors(words: Mapping[str, int], shapes: Mapping[str, Shape], piece: Callable[[int], int]) -> list[Anchored]:
    """The spaces tied to the text in the order the text meets them, whole-line spaces before an initial."""
    found = [Anchored(piece(word), shapes[space]) for space, word in words.items() if space in shapes]
    return sorted(found, key=lambda each: (each.piece, each.shape.share > 0.0))


def placed_by_page(plans: Iterable[SpacePlan], shapes: Mapping[str, Shape]) -> dict[Page, tuple[Placement, ...]]:
    """Spaces the plan ties to a page: at the head of its first column unless a column and line are given."""
    found: dict[Page, tuple[Placement, ...]] = {}
    for plan in plans:
        if plan.at.page is None or plan.id not in shapes:
            continue
        shape = shapes[plan.id]
        column = 0 if shape.across else plan.at.column or 1
        placement = Placement(plan.id, column, plan.at.line or 1, shape.lines, shape.share)
        page = Page.parse(plan.at.page)
        found[page] = (*found.get(page, ()), placement)
    return found
