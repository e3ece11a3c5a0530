"""Reserved spaces: what each kind needs, how much room it takes, where it is tied to the text."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from copydesk.book.layout.page_frame import Anchored, Placement, Shape
from copydesk.book.layout.space_stages import NEEDS, Stage, stages_in_order
from copydesk.book.text.exemplar import read_place

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping

    from copydesk.book.layout.page_layout import PageLayout
    from copydesk.book.plan import SpacePlan
    from copydesk.book.text.exemplar import Exemplar


_METALS = ("gold", "silver", "leaf")
_ALSO_METAL = frozenset(("gold powder", "powdered gold", "gold ink", "dutch metal", "schlag metal", "bronze powder"))
_POWDER = ("shell", "powder", "ink")  # how metal is called that is painted on and not laid as leaf


def stages_of(plan: SpacePlan, *, colour_first: bool) -> tuple[Stage, ...]:
    """The stages a space needs, in the order the workshop works.

    Those of the plan, else those of its kind; but where its materials are named, it is gilded exactly if a metal
    is among them. Leaf is laid and burnished before colour, unless the workshop colours first; powdered gold or
    silver is painted like a colour, and usually upon colour, so a space whose metals are all powder is coloured
    first (E. Johnston, Writing & Illuminating, & Lettering, 1906, p. 183).
    """
    order = stages_in_order(colour_first=colour_first or is_painted_metal(plan.materials))
    if plan.stages is not None:
        return tuple(stage for stage in order if stage in plan.stages)
    needed = set(NEEDS.get(plan.kind, (Stage.DRAWN, Stage.COLOURED)))
    if plan.materials:
        needed.discard(Stage.GILDED)
        if any(map(is_metal, plan.materials)):
            needed.add(Stage.GILDED)
    return tuple(stage for stage in order if stage in needed)


def is_metal(material: str) -> bool:
    """Whether a material is laid as gold is: leaf or powder of a metal. Mosaic gold is a pigment.

    What stands behind the name does not matter: ``shell gold (genuine)``, ``gold leaf, 24 ct``.
    """
    name = " ".join(re.split(r"[(,;:\[]", material.casefold())[0].split())
    return name in _ALSO_METAL or (name.endswith(_METALS) and name != "mosaic gold")


def is_painted_metal(materials: Iterable[str]) -> bool:
    """Whether there is metal among these materials and all of it is powder, which is painted on."""
    metals = [" ".join(material.casefold().split()) for material in materials if is_metal(material)]
    return bool(metals) and all(any(word in metal for word in _POWDER) for metal in metals)


def is_initial(kind: str) -> bool:
    """Whether a kind of space is an initial, which indents its paragraph's first lines."""
    return kind.endswith("initial")


def takes_lines(kind: str) -> bool:
    """Whether a kind takes room from the text; a border, a line filler and a rubric to be coloured take none."""
    return kind in ("miniature", "contents") or is_initial(kind)


def goes_with_text(plan: SpacePlan) -> bool:
    """Whether a space stands wherever its text stands, ruled or not: it takes no room, and is tied to no page."""
    return plan.at.page is None and not takes_lines(plan.kind)


def size_mm(plan: SpacePlan, lines: int, layout: PageLayout) -> tuple[float, float]:
    """Width and height of a space in mm; an initial is square unless its width is given.

    A space of k lines is k ruling units high (E. Johnston, 1906, p. 256: initials stand one, two, three or more
    writing-line spaces high). A border has the whole page, the written space left out.
    """
    if plan.kind == "border":
        return (layout.width, layout.height)
    height = (lines if takes_lines(plan.kind) else lines or 1) * layout.line_height
    if is_initial(plan.kind):
        return (min(plan.width if plan.width is not None else height, layout.measure), height)
    if plan.width is not None:
        return (plan.width, height)
    return (layout.written_width if plan.across == "all" else layout.measure, height)


def shape_of(plan: SpacePlan, layout: PageLayout) -> Shape:
    """What a space takes from the ruled lines; an initial leaves at least a fifth of the measure to the text."""
    if not takes_lines(plan.kind):
        return Shape(plan.id, 0, False, 0.0)
    if not is_initial(plan.kind):
        return Shape(plan.id, plan.lines, plan.across == "all", 0.0)
    width, _ = size_mm(plan, plan.lines, layout)
    return Shape(plan.id, plan.lines, False, min(width / layout.measure, 0.8))


def anchor_word(plan: SpacePlan, exemplar: Exemplar | None, division_starts: Mapping[int, int]) -> int | None:
    """The word a space stands before; None where it is tied to a page, or to what the text does not have."""
    at = plan.at
    if at.word is not None:
        return at.word
    if at.exemplar is not None:
        place = read_place(at.exemplar)
        return exemplar.word_at(place) if exemplar is not None and place is not None else None
    if at.division is None:
        return None
    word = exemplar.paragraph_start(at.division, at.paragraph) if exemplar is not None else None
    return word if word is not None else division_starts.get(at.division)


def anchor_words(
    plans: Iterable[SpacePlan], exemplar: Exemplar | None, division_starts: Mapping[int, int]
) -> dict[str, int]:
    """The word each text-tied space stands before, by its id; spaces tied to a page are left out."""
    found = ((plan.id, anchor_word(plan, exemplar, division_starts)) for plan in plans)
    return {space: word for space, word in found if word is not None}


def anchors(words: Mapping[str, int], shapes: Mapping[str, Shape], piece: Callable[[int], int]) -> list[Anchored]:
    """The spaces tied to the text in the order the text meets them, whole-line spaces before an initial."""
    found = [Anchored(piece(word), shapes[space]) for space, word in words.items() if space in shapes]
    return sorted(found, key=lambda each: (each.piece, each.shape.share > 0.0))


def placed_on_page(plan: SpacePlan, shape: Shape, beside: Iterable[Placement] = ()) -> Placement:
    """Where a space tied to a page stands on it: in the first column, below the spaces ``beside`` it there.

    The column and the line that the plan gives go before both.
    """
    column = 0 if shape.across else plan.at.column or 1
    meets = (each for each in beside if each.lines and (0 in (column, each.column) or column == each.column))
    free = max((each.from_line + each.lines for each in meets), default=1) if shape.lines else 1
    return Placement(plan.id, column, plan.at.line or free, shape.lines, shape.share)
