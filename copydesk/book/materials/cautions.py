"""Pigments, grounds, media, metals, inks and tools: what can hurt in each, and the usual caution.

The cautions are reminders. Each list of them ends by deferring to the maker's safety data sheet, local rules and
trained practice, and a material that is not in the table is sent to its data sheet. Sources stand beside each
hazard and each row; guides age, and a data sheet of this year outweighs any of them.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Iterable


_K = "Kremer Pigmente, Pigments with toxic heavy metals"
_B = "A. Babin, Pigment safety, Center for Safety in the Arts"
_L = "county health notice on lime, Clay County Free Press"
_C = "common practice"
DATA_SHEET = "AIC, Pigment Health & Safety Quick Guide, November 2017"


class Hazard(StrEnum):
    """What can hurt, the gravest first; cautions are given in this order."""

    ARSENIC = "arsenic"
    LEAD = "lead"
    MERCURY = "mercury"
    LIME = "lime"
    ALKALI = "alkali"
    BLADE = "blade"
    SOLVENT = "solvent"
    HEAT = "heat"
    CADMIUM = "cadmium"
    ANTIMONY = "antimony"
    CHROMATE = "chromate"
    COPPER = "copper"
    COBALT = "cobalt"
    MANGANESE = "manganese"
    SOOT = "soot"
    IRRITANT = "irritant"
    DUST = "dust"


class Advice(NamedTuple):
    """The caution that goes with a hazard, and where it comes from."""

    sentence: str
    source: str


_FOOD = "never eat, drink or point a brush with the lips while it is out, and wash your hands after"

HAZARDS: dict[Hazard, Advice] = {
    Hazard.ARSENIC: Advice(
        "Arsenic: poisonous, may cause cancer, and a little can kill; use a substitute if you can, keep it wet, "
        f"locked and labelled; {_FOOD}.",
        _K,
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
        "Lime: burns skin and can blind; goggles, long gloves, covered arms and legs, and running water at hand; "
        "quicklime boils when it meets water; brush off what is dry, flush with much water, and for eyes see a "
        "doctor at once.",
        _L,
    ),
    Hazard.ALKALI: Advice(
        "Strong alkali: its liquid burns and its fumes sting eyes and lungs; goggles and gloves, open windows, and "
        "never mix it with bleach or acid.",
        _C,
    ),
    Hazard.BLADE: Advice(
        "Blade: keep it sharp, cut away from the hand that holds the skin, on a firm board, and cover it when you "
        "lay it down.",
        "hand-knife advice after the Health and Safety Executive, Be safe with knives",
    ),
    Hazard.SOLVENT: Advice(
        "Solvent: burns readily and its vapour makes one ill; air the room, keep flames away, close the bottle, and "
        "put soaked rags in a lidded metal bin.",
        _C,
    ),
    Hazard.HEAT: Advice("Heat: hot size and wax scald; warm them in a water bath and never leave them.", _C),
    Hazard.CADMIUM: Advice(
        f"Cadmium: harmful as dust and poisonous when burnt; raise no dust, keep it from flame; {_FOOD}.",
        f"{_K}; {_B}",
    ),
    Hazard.ANTIMONY: Advice(f"Antimony: harms the lungs with time; raise no dust; {_FOOD}.", _K),
    Hazard.CHROMATE: Advice(
        f"Chromate: may cause cancer and skin rash; wear gloves and raise no dust; {_FOOD}.",
        _B,
    ),
    Hazard.COPPER: Advice(f"Copper: harmful if breathed in or swallowed; raise no dust; {_FOOD}.", _K),
    Hazard.COBALT: Advice(f"Cobalt: harmful if breathed in or swallowed, and may build up; {_FOOD}.", _K),
    Hazard.MANGANESE: Advice(f"Manganese: breathed in for long it harms the nerves; raise no dust; {_FOOD}.", _K),
    Hazard.SOOT: Advice(
        "Soot: may hold impurities that harm the skin, and flies about; wet it before you grind, and wear gloves.",
        _B,
    ),
    Hazard.IRRITANT: Advice(
        "Irritant: keep it out of eyes and cuts, wear gloves, keep it from children, and wipe up what spills.",
        _C,
    ),
    Hazard.DUST: Advice(
        "Dust: any dry powder harms the lungs; wet it before you grind, wear a well-fitting dust mask, wipe up wet "
        "and do not sweep.",
        f"{_B}; {_C}",
    ),
}


@dataclass(frozen=True, slots=True)
class Material:
    """A thing on the artist's, scribe's or parchment maker's bench, by its usual name.

    ``kind`` is pigment, dye, metal, ground, medium, ink, skin-making or tool; ``also`` are other names for it;
    ``source`` says who puts it under its hazards.
    """

    name: str
    kind: str
    hazards: tuple[Hazard, ...]
    also: tuple[str, ...]
    source: str


@dataclass(frozen=True, slots=True)
class Caution:
    """One sentence of caution for some materials; ``hazard`` is None where it is general or the material unknown."""

    materials: tuple[str, ...]
    hazard: Hazard | None
    sentence: str
    source: str

    def __str__(self) -> str:
        """The materials it is about, then the sentence."""
        return f"{', '.join(self.materials)}: {self.sentence}" if self.materials else self.sentence


_DEFER = Caution(
    (),
    None,
    "These are reminders only: read each maker's safety data sheet, keep your local rules, and work as you were "
    "trained to.",
    DATA_SHEET,
)

# Name; kind; hazards; other names; source. A dry pigment or dye also raises dust, which is added below.
_ROWS: tuple[tuple[str, str, str, str, str], ...] = (
    ("orpiment", "pigment", "arsenic", "king's yellow, auripigment, arsenic yellow", _K),
    ("realgar", "pigment", "arsenic", "ruby of arsenic, arsenic red", _K),
    ("emerald green", "pigment", "arsenic copper", "Paris green, Schweinfurt green, Scheele's green", _C),
    ("lead white", "pigment", "lead", "white lead, flake white, Cremnitz white, ceruse, biacca", f"{_K}; {_B}"),
    ("minium", "pigment", "lead", "red lead, lead red, saturn red", _K),
    ("massicot", "pigment", "lead", "litharge, lead yellow", _K),
    ("lead-tin yellow", "pigment", "lead", "giallorino, lead tin yellow light, lead tin yellow dark", _K),
    ("Naples yellow", "pigment", "lead antimony", "giallolino, lead antimonate", _K),
    ("zinc white", "pigment", "lead", "", f"{_K} (one grade)"),
    ("galena", "pigment", "lead", "lead glance", _K),
    ("chrome yellow", "pigment", "lead chromate", "lead chromate, chrome orange", _B),
    ("zinc yellow", "pigment", "chromate", "zinc chromate", _B),
    ("vermilion", "pigment", "mercury", "cinnabar, vermillion, mercury red", _K),
    ("cadmium yellow", "pigment", "cadmium", "cadmium, cadmium orange, cadmium red", f"{_K}; {_B}"),
    ("azurite", "pigment", "copper", "mountain blue, azure, blue bice, citramarine", _K),
    ("malachite", "pigment", "copper", "mountain green, green bice, verdeazzurro", _K),
    ("verdigris", "pigment", "copper", "copper green, Spanish green, viride aeris, verdegris", _K),
    ("chrysocolla", "pigment", "copper", "", _K),
    ("Egyptian blue", "pigment", "copper", "blue frit, Han blue", _K),
    ("blue verditer", "pigment", "copper", "verditer, copper blue", _K),
    ("phthalo blue", "pigment", "copper", "phthalo green, phthalocyanine blue, phthalocyanine green", _K),
    ("smalt", "pigment", "cobalt", "cobalt glass", _K),
    ("cobalt blue", "pigment", "cobalt", "cobalt green, cobalt yellow, cobalt violet, cerulean blue", _K),
    ("umber", "pigment", "manganese", "raw umber, burnt umber", _K),
    ("manganese brown", "pigment", "manganese", "manganese black, manganese violet, manganese grey", _K),
    ("lamp black", "pigment", "soot", "soot, carbon black, lampblack", _B),
    ("bone black", "pigment", "", "ivory black, charcoal black, vine black", _C),
    ("ultramarine", "pigment", "", "lapis lazuli, lapis, lazurite, French ultramarine", _C),
    ("yellow ochre", "pigment", "", "ochre, ocher, red ochre, brown ochre, gold ochre", _C),
    ("sienna", "pigment", "", "raw sienna, burnt sienna, terra di Siena", _C),
    ("iron oxide red", "pigment", "", "haematite, hematite, sinopia, caput mortuum, Venetian red, red earth", _C),
    ("green earth", "pigment", "", "terre verte, terra verde, Verona green", _C),
    ("titanium white", "pigment", "", "titanium dioxide", _C),
    ("mosaic gold", "pigment", "", "purpurinus, aurum musivum", _C),
    ("indigo", "dye", "", "woad, indigotin", _C),
    ("madder", "dye", "", "madder lake, rose madder, alizarin", _C),
    ("brazilwood", "dye", "", "brazil, brazilwood lake, sappanwood", _C),
    ("carmine", "dye", "", "cochineal, kermes, lac, crimson lake", _C),
    ("weld", "dye", "", "weld lake, arzica, dyer's rocket", _C),
    ("saffron", "dye", "", "", _C),
    ("turnsole", "dye", "", "folium, turnsole violet", _C),
    ("dragon's blood", "dye", "", "", _C),
    ("gold leaf", "metal", "", "loose gold, transfer gold, gold", _C),
    ("shell gold", "metal", "", "gold powder, powdered gold, gold ink", _C),
    ("silver leaf", "metal", "", "shell silver, silver, tin leaf", _C),
    ("brass leaf", "metal", "copper", "Dutch metal, schlag metal, bronze powder", _C),
    ("gesso", "ground", "lead dust", "gesso sottile, raised gesso, gilding gesso, assiso", f"{_B}; {_C}"),
    ("chalk", "ground", "dust", "whiting, calcite, French chalk, talc", _C),
    ("plaster", "ground", "dust", "gypsum, slaked plaster, plaster of Paris", _C),
    ("bole", "ground", "dust", "Armenian bole, gilder's clay, clay", _C),
    ("pumice", "ground", "dust", "pumice powder, pumice stone, powdered glass", _C),
    ("pounce", "ground", "dust", "sandarac, gum sandarac, stanchgrain, cuttlefish bone", _C),
    ("gum ammoniac", "medium", "irritant", "ammoniac, ammoniacum", _C),
    ("gum arabic", "medium", "", "gum, acacia gum, cherry gum", _C),
    ("glair", "medium", "", "egg white, white of egg, egg yolk, egg, honey, sugar", _C),
    ("parchment size", "medium", "heat", "size, hide glue, rabbit-skin glue, isinglass, fish glue, gelatine", _C),
    ("garlic juice", "medium", "irritant", "garlic", _C),
    ("beeswax", "medium", "heat", "wax", _C),
    ("linseed oil", "medium", "solvent", "drying oil, boiled oil", _C),
    ("turpentine", "medium", "solvent", "white spirit, mineral spirits, oil of spike", _C),
    ("alcohol", "medium", "solvent", "spirit, ethanol, methylated spirit, acetone", _C),
    ("shellac", "medium", "solvent", "varnish, fixative, spray fixative", _C),
    ("ox gall", "medium", "", "oxgall", _C),
    ("oak-gall ink", "ink", "irritant", "iron-gall ink, gall ink, iron gall ink", _C),
    ("copperas", "ink", "irritant dust", "iron sulphate, ferrous sulphate, green vitriol, iron sulfate, vitriol", _C),
    ("blue vitriol", "ink", "copper irritant", "copper sulphate, copper sulfate", _C),
    ("carbon ink", "ink", "", "Chinese ink, Indian ink, stick ink", _C),
    ("alum", "ink", "irritant", "", _C),
    ("lime", "skin-making", "lime dust", "slaked lime, hydrated lime, calcium hydroxide, lime bath, lime water", _L),
    ("quicklime", "skin-making", "lime dust", "burnt lime, calcium oxide, unslaked lime", _L),
    ("ammonia", "skin-making", "alkali", "ammonia water, stale urine", _C),
    ("potash", "skin-making", "alkali", "lye, caustic soda, washing soda, wood ash lye", _C),
    ("knife", "tool", "blade", "knives, penknife, pen knife, quill knife, scalpel, craft knife, parer", _C),
    ("scraper", "tool", "blade dust", "lunellum, half-moon knife, scraping knife, eraser knife", _C),
    ("awl", "tool", "blade", "pricking awl, bodkin, needle, dividers, pricker", _C),
    ("shears", "tool", "blade", "scissors, guillotine, board shears", _C),
    ("burnisher", "tool", "", "agate burnisher, dog-tooth burnisher, bone folder, brush, quill, pen", _C),
)

_LOOSE = frozenset(
    ("dry", "genuine", "natural", "synthetic", "powdered", "powder", "pigment", "paint", "pure", "fine", "prepared")
)
"""Words that do not change what a material is."""


def _read_row(name: str, kind: str, hazards: str, also: str, source: str) -> Material:
    found = {Hazard(hazard) for hazard in hazards.split()}
    if kind in ("pigment", "dye"):
        found.add(Hazard.DUST)
    others = tuple(other.strip() for other in also.split(",") if other)
    return Material(name, kind, tuple(hazard for hazard in Hazard if hazard in found), others, source)


MATERIALS: tuple[Material, ...] = tuple(_read_row(*row) for row in _ROWS)
"""Everything in the table, by hazard and kind."""


def _plain(name: str) -> str:
    """A name as it is looked up: small letters, no hyphens, one space between words, a straight apostrophe."""
    return " ".join(name.replace("’", "'").replace("-", " ").casefold().split())


_BY_NAME: dict[str, Material] = {
    _plain(name): material for material in MATERIALS for name in (material.name, *material.also)
}


def material_named(name: str) -> Material | None:
    """The material a person means by ``name``, or None where the table does not know it.

    Case, hyphens and words such as ``dry`` or ``genuine`` do not matter. A ``hue`` is a substitute of another
    composition, so it is not taken for the pigment it is named after.
    """
    plain = _plain(name)
    if found := _BY_NAME.get(plain):
        return found
    return _BY_NAME.get(" ".join(word for word in plain.split() if word not in _LOOSE))


def cautions_for(names: Iterable[str]) -> tuple[Caution, ...]:
    """The cautions for a list of materials: one for each hazard, the gravest first, each naming what it is about.

    Then one for each material the table does not know, and last, whenever anything was named, the sentence that
    defers to data sheets, local rules and trained practice.
    """
    named = tuple(dict.fromkeys(kept for name in names if (kept := " ".join(name.split()))))
    if not named:
        return ()
    known = {name: material for name in named if (material := material_named(name))}
    about = {hazard: tuple(name for name, found in known.items() if hazard in found.hazards) for hazard in Hazard}
    stated = (Caution(which, hazard, *HAZARDS[hazard]) for hazard, which in about.items() if which)
    unknown = (_unknown(name) for name in named if name not in known)
    return (*stated, *unknown, _DEFER)


def _unknown(name: str) -> Caution:
    return Caution((name,), None, "not in our table; read its safety data sheet before you open it.", DATA_SHEET)
