"""What can hurt in the making of a book, and the usual caution for each.

The cautions are reminders. None of them gives first aid: that stands in the data sheet's first-aid section, and help
comes by the local emergency number. Guides age, and a data sheet of this year outweighs any of them. What is said of
each hazard was read in the source beside it, except where that is common practice.
"""

from __future__ import annotations

from enum import StrEnum
from typing import NamedTuple

_K = "Kremer Pigmente, Pigments with toxic heavy metals"
_B = "A. Babin, Pigment safety, Center for Safety in the Arts"
_C = "common practice"
DATA_SHEET = "AIC, Pigment Health & Safety Quick Guide, November 2017"


class Hazard(StrEnum):
    """What can hurt, the gravest first; cautions are given in this order."""

    ARSENIC = "arsenic"
    SULPHIDE = "sulphide"
    LEAD = "lead"
    MERCURY = "mercury"
    LIME = "lime"
    RAW_HIDE = "raw"
    ALKALI = "alkali"
    ACID = "acid"
    BLADE = "blade"
    POINT = "point"
    TENSION = "tension"
    WEIGHT = "weight"
    PRESS = "press"
    SOLVENT = "solvent"
    HEAT = "heat"
    CADMIUM = "cadmium"
    ANTIMONY = "antimony"
    CHROMATE = "chromate"
    COPPER = "copper"
    COBALT = "cobalt"
    MANGANESE = "manganese"
    NICKEL = "nickel"
    PURGATIVE = "purgative"
    SOOT = "soot"
    IRRITANT = "irritant"
    PARCHMENT_DUST = "parchment dust"
    DUST = "dust"
    CLOSE_WORK = "close work"


class Advice(NamedTuple):
    """The caution that goes with a hazard, and where it comes from."""

    sentence: str
    source: str


_FOOD = "never eat, drink or point a brush with the lips while it is out, and wash your hands after"

HAZARDS: dict[Hazard, Advice] = {
    Hazard.ARSENIC: Advice(
        "Arsenic: poisonous, may cause cancer, and can kill at once; use a substitute if you can, keep it wet, "
        f"locked and labelled; {_FOOD}.",
        _K,
    ),
    Hazard.SULPHIDE: Advice(
        "Sulphide: with acid, and in deliming, it gives off hydrogen sulphide, a gas that kills and that the nose "
        "soon no longer smells; keep acids away, work only with extraction and the breathing protection its data "
        "sheet names, and never alone.",
        "J. Fennen and others, TFL Ledertechnik, Improved leather quality using less sulphide; UNIDO 2015, How to deal "
        "with hydrogen sulphide gas in tanneries; of deliming TFL Ledertechnik, Delime and bating: toxic gases, from "
        "memory",
    ),
    Hazard.LEAD: Advice(
        "Lead: builds up in the body and harms nerves, blood and kidneys; not for children or anyone expecting a "
        f"child; raise no dust, do not sand or scrape it dry; {_FOOD}.",
        f"{_K}; {_B}",
    ),
    Hazard.MERCURY: Advice(
        "Mercury: builds up in the body and harms the nerves; raise no dust and never heat it; not for children or "
        f"anyone expecting a child; {_FOOD}.",
        _K,
    ),
    Hazard.LIME: Advice(
        "Lime: burns skin and can blind; goggles, long gloves, covered arms and legs, a mask where it is dry; "
        "quicklime boils when it meets water: put lime into water, never water on lime, out of doors.",
        "Low-impact.org, Lime: health and safety; of blindness and clothes a county health notice, Clay County Free "
        "Press, from memory",
    ),
    Hazard.RAW_HIDE: Advice(
        "Raw hides: may carry disease, anthrax among them; take hides with papers of inspection, wear gloves, mask "
        "and eye protection, cover cuts, do not shake or beat them, and wash your hands.",
        "Centers for Disease Control, Anthrax: protection from exposure; Health and Safety Executive, HSG174, Anthrax, "
        "1997",
    ),
    Hazard.ALKALI: Advice(
        "Strong alkali: its liquid burns and its fumes sting eyes and lungs; goggles and gloves, extraction at the "
        "bench, and never mix it with bleach or acid.",
        _C,
    ),
    Hazard.ACID: Advice(
        "Acid: oak-gall ink is sour and so are its makings; keep it off skin and out of eyes, and away from "
        "sulphides, alkalis and bleach.",
        _C,
    ),
    Hazard.BLADE: Advice(
        "Blade: keep it short and sharp, cut on a firm board and away from the hand; hold the skin down with a "
        "weight or a bone, not with fingers near the edge; let a falling blade fall, and cover it when you lay it "
        "down.",
        f"{_C}; hand-knife advice after the Health and Safety Executive, Be safe with knives",
    ),
    Hazard.POINT: Advice(
        "Points: awl, pricking wheel, needle and dividers go through a hand as through a skin; prick on a pad, keep "
        "the other hand out of the way, and put the point into a cork or a case.",
        _C,
    ),
    Hazard.TENSION: Advice(
        "Stretched frame: a skin drying on its frame pulls hard, and cords and pegs fly when they give; eye "
        "protection, face to one side, and the frame made fast so that it cannot fall.",
        _C,
    ),
    Hazard.WEIGHT: Advice(
        "Heavy load: a wet skin is heavy and slippery; lift it between two or with a pole, and keep the floor dry.",
        _C,
    ),
    Hazard.SOLVENT: Advice(
        "Solvent: burns readily and its vapour makes one ill; extraction at the bench, flames away, the bottle "
        "closed, and soaked rags in a lidded metal bin.",
        _C,
    ),
    Hazard.PRESS: Advice(
        "Press: it crushes; keep fingers out from between its boards, and stand it so that it cannot fall.", _C
    ),
    Hazard.HEAT: Advice("Heat: hot size, glue and wax scald; warm them in a water bath and never leave them.", _C),
    Hazard.CADMIUM: Advice(
        "Cadmium: its dust may cause lung cancer and its smoke is poisonous; raise no dust, keep it from flame; "
        f"{_FOOD}. The maker holds the risk of the pigment itself to be low unless it is burnt.",
        f"{_B}; {_K}",
    ),
    Hazard.ANTIMONY: Advice(f"Antimony: harms the lungs with time; raise no dust; {_FOOD}.", _K),
    Hazard.CHROMATE: Advice(
        f"Chromate: may cause cancer and skin rash; wear gloves and raise no dust; {_FOOD}.",
        _B,
    ),
    Hazard.COPPER: Advice(f"Copper: harmful if breathed in or swallowed; raise no dust; {_FOOD}.", _K),
    Hazard.COBALT: Advice(f"Cobalt: harmful if breathed in or swallowed, and may build up; {_FOOD}.", _K),
    Hazard.MANGANESE: Advice(f"Manganese: with time it harms the nerves; raise no dust; {_FOOD}.", _K),
    Hazard.NICKEL: Advice(f"Nickel: with time it harms the kidneys and may cause allergy; raise no dust; {_FOOD}.", _K),
    Hazard.PURGATIVE: Advice(
        f"Gamboge: purges violently if swallowed, and much of it poisons; {_FOOD}.",
        "Winsor & Newton, Colour story: Gamboge; A. F. M. Willich, Domestic Encyclopaedia, 1802, Gamboge",
    ),
    Hazard.SOOT: Advice(
        "Soot: may hold impurities that can cause skin cancer, and flies about; wet it before you grind, and wear "
        "gloves.",
        _B,
    ),
    Hazard.IRRITANT: Advice(
        "Irritant: keep it out of eyes and cuts, wear gloves, keep it from children, and wipe up what spills.",
        _C,
    ),
    Hazard.PARCHMENT_DUST: Advice(
        "Parchment dust: shavings and pumice fly and are breathed in; work damp or with extraction, wear a "
        "well-fitting dust mask, and wipe up wet. Where colour with lead, mercury or arsenic stands, do not scrape.",
        _C,
    ),
    Hazard.DUST: Advice(
        "Dust: any dry powder harms the lungs; wet it before you grind, wear a well-fitting dust mask, wipe up wet "
        "and do not sweep.",
        f"{_B}; {_C}",
    ),
    Hazard.CLOSE_WORK: Advice(
        "Close work: good light from the side, a short break in every hour, and a straight back; stop where pain or "
        "numbness does not go.",
        "Health and Safety Executive, guidance on display screen work; Hong Kong Labour Department 2003",
    ),
}
