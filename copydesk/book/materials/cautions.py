"""The cautions for what is at hand: materials, steps of making skins, acts on leaves, stages of spaces, papers.

``cautions_for`` is the one place they come from. Each list of them ends by deferring to the maker's safety data sheet,
local rules and trained practice, and to that sheet's first-aid section; what is not in the table is sent to its data
sheet before use. ``LABEL`` stands before every caution that is shown.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from copydesk.book.layout.space_stages import Stage
from copydesk.book.materials.hazards import DATA_SHEET, HAZARDS, Hazard
from copydesk.book.materials.material_table import materials_in, said_free_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from copydesk.book.materials.material_table import Found


LABEL = "Caution"
"""The word before a caution, everywhere."""


@dataclass(frozen=True, slots=True)
class Caution:
    """One sentence of caution and what it is about; ``hazard`` is None where it is general or about no one hazard."""

    materials: tuple[str, ...]
    hazard: Hazard | None
    sentence: str
    source: str

    def __str__(self) -> str:
        """What it is about, then the sentence."""
        return f"{', '.join(self.materials)}: {self.sentence}" if self.materials else self.sentence


_DEFER = Caution(
    (),
    None,
    "These are reminders only: read each maker's safety data sheet, keep your local rules, and work as you were "
    "trained to. For first aid see the data sheet's first-aid section; in need call the local emergency number.",
    DATA_SHEET,
)

_LOOK_UP = "look it up in the maker's safety data sheet before use."

WORD_END = r"(?![^\W\d_])"
"""No letter follows: ``lime2`` is lime, ``limestone`` is not."""
UNHAIRING = r"(?:un|de).?hair|hair.remov"
_DELIMING = r"de.?lim"

_STEPS: tuple[tuple[str, tuple[Hazard, ...]], ...] = (
    (r"soak|salt|wash|raw|green hide|flesh", (Hazard.RAW_HIDE, Hazard.WEIGHT)),
    (
        rf"(?:quick|re)?lim(?:e|es|ed|ing){WORD_END}|slak|{UNHAIRING}|scud|rins|{_DELIMING}|wet.?scrap",
        (Hazard.LIME, Hazard.WEIGHT),
    ),
    (rf"sulph|sulf|{UNHAIRING}|{_DELIMING}", (Hazard.SULPHIDE,)),
    (rf"{_DELIMING}|ammoni|bat(?:e|ing)\b|lye|caustic", (Hazard.ALKALI,)),
    (rf"scrap|shav|thin|flesh|{UNHAIRING}|scud|par(?:e|ing)\b|cut|trim", (Hazard.BLADE,)),
    (r"stretch|fram|lac(?:e|ing)\b|tension|herse|strain", (Hazard.TENSION, Hazard.WEIGHT)),
    (
        r"(?<!wet )(?<!wet-)(?:scrap|shav|thin)|pumic|sand|pounc|chalk|whit(?:e|ing)|polish|finish|buff",
        (Hazard.PARCHMENT_DUST,),
    ),
    (r"pumic|pounc|chalk|whiting", (Hazard.DUST,)),
    (r"degreas|solvent|spirit|acetone", (Hazard.SOLVENT,)),
)
"""What the names of steps tell of what is handled in them. Names are the workshop's own, so stems are looked for."""

_ACTS: Mapping[str, tuple[Hazard, ...]] = {
    "cancelled": (Hazard.BLADE,),
    "replaced": (Hazard.BLADE,),
    "singleton": (Hazard.BLADE,),
    "scraped": (Hazard.BLADE, Hazard.PARCHMENT_DUST),
    "ruled": (Hazard.POINT, Hazard.BLADE),
    "stint": (Hazard.CLOSE_WORK,),
    "bound": (Hazard.BLADE, Hazard.POINT, Hazard.HEAT, Hazard.PRESS),
}
_STAGES: Mapping[str, tuple[Hazard, ...]] = {
    Stage.DRAWN: (Hazard.CLOSE_WORK,),
    Stage.GILDED: (Hazard.CLOSE_WORK,),
    Stage.COLOURED: (Hazard.CLOSE_WORK,),
    Stage.OUTLINED: (Hazard.CLOSE_WORK,),
}
_PAPERS: Mapping[str, tuple[Hazard, ...]] = {
    "cutting": (Hazard.BLADE, Hazard.PARCHMENT_DUST),
    "ruling": (Hazard.POINT, Hazard.BLADE, Hazard.CLOSE_WORK),
    "binder": _ACTS["bound"],
}


def cautions_for(
    materials: Iterable[str] = (),
    *,
    steps: Iterable[str] = (),
    acts: Iterable[str] = (),
    stages: Iterable[str] = (),
    papers: Iterable[str] = (),
) -> tuple[Caution, ...]:
    """The cautions for what is at hand: one for each hazard, the gravest first, each naming what it is about.

    Then one for each material the table does not know or knows by a misspelt name, and last, whenever anything was
    named, the sentence that defers to data sheets, local rules and trained practice.

    Args:
        materials: as people write them.
        steps: steps of making skins, as the workshop calls them.
        acts: what is done, as it is recorded: a leaf ``cancelled``, ``replaced`` or a ``singleton``, a word
            ``scraped``, a page ``ruled``, a ``stint`` begun, the book ``bound``.
        stages: stages of a reserved space.
        papers: what is printed: ``cutting``, ``ruling``, ``binder``.
    """
    named = tuple(dict.fromkeys(kept for name in materials if (kept := " ".join(name.split()))))
    found = {name: materials_in(name) for name in named}
    about: list[tuple[str, Iterable[Hazard]]] = [
        (name, [hazard for each in known for hazard in each.hazards]) for name, known in found.items()
    ]
    about += ((step, step_hazards(step)) for step in steps)
    for kinds, names in ((_ACTS, acts), (_STAGES, stages), (_PAPERS, papers)):
        about += ((str(name), kinds.get(str(name), ())) for name in names)
    stated = tuple(_stated(about))
    unsure = tuple(each for name, known in found.items() for each in _unsure(name, known))
    return (*stated, *unsure, _DEFER) if named or stated else ()


def caution_words(cautions: Iterable[Caution]) -> tuple[str, ...]:
    """Cautions as they are shown: each with :data:`LABEL` before it."""
    return tuple(f"{LABEL}: {caution}" for caution in cautions)


def caution_paragraph(cautions: Iterable[Caution]) -> str:
    """Cautions in one paragraph behind one :data:`LABEL`, without what they are about; empty where there are none."""
    said = " ".join(caution.sentence for caution in cautions)
    return f"{LABEL}: {said}" if said else ""


def step_hazards(step: str) -> tuple[Hazard, ...]:
    """What can hurt in a step of making skins, by its name; in deliming the lime is in the skin still."""
    named, without = said_free_of(step)
    found = {hazard for stems, hazards in _STEPS if re.search(rf"\b(?:{stems})", named) for hazard in hazards}
    return tuple(hazard for hazard in Hazard if hazard in found - without)


def _stated(about: list[tuple[str, Iterable[Hazard]]]) -> Iterator[Caution]:
    for hazard, advice in sorted(HAZARDS.items(), key=lambda item: list(Hazard).index(item[0])):
        which = tuple(dict.fromkeys(name for name, hazards in about if hazard in hazards))
        if which:
            yield Caution(which, hazard, *advice)


def _unsure(name: str, known: tuple[Found, ...]) -> Iterator[Caution]:
    if not known:
        yield Caution((name,), None, f"not in our table; {_LOOK_UP}", DATA_SHEET)
    for each in known:
        if each.misspelt:
            said = f"taken to be {each.material.name}; if it is not, {_LOOK_UP}"
            yield Caution((name,), None, said, DATA_SHEET)
