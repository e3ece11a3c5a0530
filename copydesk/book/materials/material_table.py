"""The table of materials, and how what people write is found in it.

A material is known wherever one of its names stands in what was written, in any case and between any other words
("vermilion (genuine)"), and in near misspellings; but what is called a hue or an imitation is another composition, and
what is said to be free of something ("lead-free gesso") has not that hazard. Sources stand beside each row.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.materials.hazards import Hazard

if TYPE_CHECKING:
    from collections.abc import Iterator


_K = "Kremer Pigmente, Pigments with toxic heavy metals"
_B = "A. Babin, Pigment safety, Center for Safety in the Arts"
_L = "Low-impact.org, Lime: health and safety"
_CAMEO = "Museum of Fine Arts Boston, CAMEO, Emerald green"
_SCHEELE = "Museum of Fine Arts Boston, CAMEO, Scheele's green"
_COOLEY = "A. J. Cooley, Cyclopaedia of Practical Receipts, Green"
_COBALT = "Museum of Fine Arts Boston, CAMEO, Cobalt pigments"
_VIOLET = "Museum of Fine Arts Boston, CAMEO, Cobalt violet"
_FENNEN = "J. Fennen and others, TFL Ledertechnik, Improved leather quality using less sulphide"
_GAMBOGE = "Winsor & Newton, Colour story: Gamboge"
_CDC = "Centers for Disease Control, Anthrax: protection from exposure"
_C = "common practice"


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


# Name; kind; hazards; other names; source. A dry pigment or dye also raises dust, which is added below.
_ROWS: tuple[tuple[str, str, str, str, str], ...] = (
    ("orpiment", "pigment", "arsenic", "king's yellow, king yellow, kings yellow, auripigment, arsenic yellow", _K),
    ("realgar", "pigment", "arsenic", "ruby of arsenic, arsenic red", _K),
    (
        "emerald green",
        "pigment",
        "arsenic copper",
        "Paris green, Schweinfurt green, Vienna green, imperial green, parrot green, Mitis green, king's green, "
        "copper acetoarsenite",
        _CAMEO,
    ),
    ("Scheele's green", "pigment", "arsenic copper", "ash green, copper arsenite", _SCHEELE),
    (
        "mountain green",
        "pigment",
        "arsenic copper",
        "mineral green",
        f"{_COOLEY}; {_CAMEO}; a name of more than one green",
    ),
    ("conichalcite", "pigment", "arsenic copper", "", _K),
    ("arsenic", "pigment", "arsenic", "arsenic sulphide, arsenic sulfide, yellow arsenic", _K),
    ("lead white", "pigment", "lead", "white lead, flake white, Cremnitz white, ceruse, biacca", f"{_K}; {_B}"),
    ("minium", "pigment", "lead", "red lead, lead red, saturn red", _K),
    ("massicot", "pigment", "lead", "litharge, lead yellow", _K),
    ("lead-tin yellow", "pigment", "lead", "giallorino, lead tin yellow light, lead tin yellow dark", _K),
    ("Naples yellow", "pigment", "lead antimony", "giallolino, lead antimonate", _K),
    ("zinc white", "pigment", "", "Chinese white, zinc oxide", _C),
    ("zinc white, white seal", "pigment", "lead", "", f"{_K}; this grade only"),
    ("galena", "pigment", "lead", "lead glance", _K),
    ("coloured glass powder", "pigment", "lead cadmium", "colored glass powder, coloured glass, colored glass", _K),
    ("antimony", "pigment", "antimony", "antimony red", _K),
    ("Indian yellow imitation", "pigment", "nickel", "nickel titanium yellow", _K),
    ("lead", "tool", "lead", "lead point, leadpoint, metalpoint of lead, plummet, lead carbonate, lead stylus", _K),
    ("graphite", "tool", "", "pencil lead, black lead, pencil, graphite pencil", _C),
    ("chrome yellow", "pigment", "lead chromate", "lead chromate, chrome orange", _B),
    ("zinc yellow", "pigment", "chromate", "zinc chromate", _B),
    ("vermilion", "pigment", "mercury", "cinnabar, vermillion, mercury red", _K),
    ("mercury", "pigment", "mercury", "mercury sulphide, mercuric sulphide", _K),
    ("cadmium yellow", "pigment", "cadmium", "cadmium, cadmium orange, cadmium red", f"{_K}; {_B}"),
    ("azurite", "pigment", "copper", "mountain blue, azure, blue bice, citramarine", _K),
    ("malachite", "pigment", "copper", "green bice, verdeazzurro", _K),
    ("verdigris", "pigment", "copper", "copper green, Spanish green, viride aeris, verdegris", _K),
    ("chrysocolla", "pigment", "copper", "", _K),
    ("Egyptian blue", "pigment", "copper", "blue frit, calcium copper silicate", _K),
    ("Han blue", "pigment", "copper", "Han purple, barium copper silicate", _K),
    ("copper", "pigment", "copper", "copper resinate", _K),
    ("blue verditer", "pigment", "copper", "verditer, copper blue, Ploss blue", _K),
    ("phthalo blue", "pigment", "copper", "phthalo green, phthalocyanine blue, phthalocyanine green", _K),
    ("smalt", "pigment", "cobalt", "cobalt glass", _K),
    ("cobalt blue", "pigment", "cobalt", "cobalt, cobalt green, cobalt yellow, aureolin, cerulean blue", _K),
    ("cobalt violet", "pigment", "arsenic cobalt", "", f"{_K}; {_VIOLET}; {_COBALT}: it may be an arsenate"),
    ("umber", "pigment", "manganese", "raw umber, burnt umber", _K),
    (
        "manganese brown",
        "pigment",
        "manganese",
        "manganese black, manganese violet, manganese grey, manganese purple",
        _K,
    ),
    ("lamp black", "pigment", "soot", "soot, carbon black, lampblack", _B),
    ("bone black", "pigment", "", "ivory black, charcoal black, vine black", _C),
    ("ultramarine", "pigment", "", "lapis lazuli, lapis, lazurite, French ultramarine", _C),
    ("yellow ochre", "pigment", "", "ochre, ocher, red ochre, brown ochre, gold ochre", _C),
    ("sienna", "pigment", "", "raw sienna, burnt sienna, terra di Siena", _C),
    ("iron oxide red", "pigment", "", "haematite, hematite, sinopia, caput mortuum, Venetian red, red earth", _C),
    ("green earth", "pigment", "", "terre verte, terra verde, Verona green", _C),
    ("titanium white", "pigment", "", "titanium dioxide", _C),
    ("mosaic gold", "pigment", "", "purpurinus, aurum musivum", _C),
    ("gamboge", "dye", "purgative", "gummigutta, gutti, camboge", _GAMBOGE),
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
    (
        "oak-gall ink",
        "ink",
        "acid irritant",
        "iron-gall ink, gall ink, oak-gall, iron-gall, iron gall",
        _C,
    ),
    ("copperas", "ink", "irritant dust", "iron sulphate, ferrous sulphate, green vitriol, iron sulfate, vitriol", _C),
    ("blue vitriol", "ink", "copper irritant", "copper sulphate, copper sulfate", _C),
    ("carbon ink", "ink", "", "carbon, Chinese ink, Indian ink, stick ink", _C),
    ("alum", "ink", "irritant", "", _C),
    ("lime", "skin-making", "lime dust", "slaked lime, hydrated lime, calcium hydroxide, lime bath, lime water", _L),
    ("quicklime", "skin-making", "lime dust", "burnt lime, calcium oxide, unslaked lime", _L),
    ("sulphide", "skin-making", "sulphide alkali", "sulfide, sodium sulphide, sodium sulfide, sulphides", _FENNEN),
    ("raw hide", "skin-making", "raw", "raw skin, raw hides, raw skins, fresh skin, salted skin, salted skins", _CDC),
    ("ammonia", "skin-making", "alkali", "ammonia water, stale urine", _C),
    ("potash", "skin-making", "alkali", "lye, caustic soda, washing soda, wood ash lye", _C),
    ("knife", "tool", "blade", "knives, penknife, pen knife, quill knife, scalpel, craft knife, parer", _C),
    ("scraper", "tool", "blade dust", "lunellum, half-moon knife, scraping knife, eraser knife", _C),
    ("awl", "tool", "point", "pricking awl, bodkin, needle, dividers, pricker, pricking wheel", _C),
    ("shears", "tool", "blade", "scissors, guillotine, board shears", _C),
    ("burnisher", "tool", "", "agate burnisher, dog-tooth burnisher, bone folder, brush, quill, pen", _C),
)


_SUBSTITUTES = frozenset(("hue", "imitation"))
_CLOSE = 0.82  # how like a known name a misspelt one must be; below it "paper" would be a parer
_SHORTEST = 5  # letters: shorter words are like too many others
_CLOSE_SHORT = 0.9  # for a name of so few letters: "limed" would be lime
_WORD = r"[^\W_]+(?:'[^\W_]+)*"
_MARK = "\0"  # stands for what a thing is said to be free of, while the words are parted
_APART = re.compile(r"([,;+/&]|\b(?:and|or|over|under|on|with|then|plus)\b)")
_NO_SUBSTITUTE = re.compile(r"\b(?:not?|never)\s+(?:an?\s+|the\s+)?(?:hue|imitation)s?\b")


def _read_row(name: str, kind: str, hazards: str, also: str, source: str) -> Material:
    found = {Hazard(hazard) for hazard in hazards.split()}
    if kind in ("pigment", "dye"):
        found.add(Hazard.DUST)
    others = tuple(other.strip() for other in also.split(",") if other)
    return Material(name, kind, tuple(hazard for hazard in Hazard if hazard in found), others, source)


@cache
def all_materials() -> tuple[Material, ...]:
    """Everything in the table, by hazard and kind; read once, and only where somebody looks for a material."""
    return tuple(_read_row(*row) for row in _ROWS)


def _words(name: str) -> tuple[str, ...]:
    """The words of a name as they are looked up: small letters, no marks but the apostrophe."""
    return tuple(re.findall(_WORD, name.replace("’", "'").casefold()))


@cache
def _by_name() -> dict[tuple[str, ...], Material]:
    return {_words(name): material for material in all_materials() for name in (material.name, *material.also)}


@cache
def _spellings() -> dict[str, Material]:
    return {" ".join(words): material for words, material in _by_name().items()}


@cache
def _longest() -> int:
    """Words of the longest name."""
    return max(map(len, _by_name()))


_FREE_OF: dict[str, Hazard] = {
    **{str(hazard): hazard for hazard in Hazard if " " not in hazard},
    "chrome": Hazard.CHROMATE,
    "chromium": Hazard.CHROMATE,
    "sulfide": Hazard.SULPHIDE,
    "ammonia": Hazard.ALKALI,
}
"""What a thing may be said to be free of, and the hazard it then has not."""
_SUBSTANCE = rf"(?:{'|'.join(_FREE_OF)})s?"
_SUBSTANCES = rf"{_SUBSTANCE}(?:(?:\s*-?\s*(?:,|/|&|and|or|nor)\s*(?:any\s+)?)+{_SUBSTANCE})*"
_WITHOUT = re.compile(
    rf"(?<!\bnot )\b(?:(?P<before>{_SUBSTANCES})[\s-]*free\b|(?:free\s+(?:of|from)|without|no|non)[\s-]+"
    rf"(?:any\s+|added\s+)?(?P<after>{_SUBSTANCES})\b(?!\s+(?:white|red|yellow|blue|green|violet|tin)))"
)


class Found(NamedTuple):
    """A material found in what was written.

    ``misspelt`` where its name is only like what was written; ``without`` are hazards it is said to be free of.
    """

    material: Material
    misspelt: bool = False
    without: frozenset[Hazard] = frozenset()

    @property
    def hazards(self) -> tuple[Hazard, ...]:
        """The hazards of the material, less those it is said to be free of."""
        return tuple(hazard for hazard in self.material.hazards if hazard not in self.without)


def said_free_of(written: str) -> tuple[str, frozenset[Hazard]]:
    """What was written without the words that say what it is free of, and the hazards it so has not.

    ``lead-free gesso`` gives ``gesso`` and lead; so do ``gesso without lead`` and ``gesso, free of lead``.
    """
    lower = written.casefold().replace("_", " ")  # a step of the skins may be called second_lime
    return _WITHOUT.sub(" ", lower), frozenset(
        hazard for match in _WITHOUT.finditer(lower) for hazard in _denied(match)
    )


def _denied(match: re.Match[str]) -> Iterator[Hazard]:
    words = re.findall(r"[a-z]+", match["before"] or match["after"])
    named = (word if word in _FREE_OF else word.removesuffix("s") for word in words)
    return (_FREE_OF[name] for name in named if name in _FREE_OF)


class _Part(NamedTuple):
    """Words that speak of one thing, what it is said to be free of, and whether it is called a hue or an imitation."""

    words: tuple[str, ...]
    without: frozenset[Hazard]
    substitute: bool


def _parts(written: str) -> Iterator[_Part]:
    """What was written, one thing at a time: ``lead-free gesso under lead white`` speaks of two.

    Words behind a comma that say only what the thing before is free of, or that it is a hue, belong to that.
    """
    denied: list[frozenset[Hazard]] = []

    def mark(match: re.Match[str]) -> str:
        denied.append(frozenset(_denied(match)))
        return f" {_MARK}{len(denied) - 1} "

    marked = _WITHOUT.sub(mark, _NO_SUBSTITUTE.sub(" ", written.casefold().replace(_MARK, " ")))
    parts: list[list[str]] = []
    for at, piece in enumerate(_APART.split(marked)):
        if at % 2:
            behind_comma = piece.strip() in (",", ";")
            continue
        words = re.findall(rf"{_MARK}\d+|{_WORD}", piece)
        qualifies = all(word in _SUBSTITUTES or word.startswith(_MARK) for word in words)
        if parts and qualifies and behind_comma:
            parts[-1] += words
        elif words:
            parts.append(words)
    for found in parts:
        without = (denied[int(word.removeprefix(_MARK))] for word in found if word.startswith(_MARK))
        names = tuple(word for word in found if not word.startswith(_MARK))
        yield _Part(names, frozenset().union(*without), bool(_SUBSTITUTES.intersection(names)))


def materials_in(written: str) -> tuple[Found, ...]:
    """The materials that stand in what a person wrote, in order; none in a part called a hue or an imitation."""
    whole = _by_name().get(_words(written))
    if whole is not None:
        return (Found(whole),)
    return tuple(dict.fromkeys(each for part in _parts(written) if not part.substitute for each in _found_in(part)))


def _found_in(part: _Part) -> Iterator[Found]:
    """Names that stand in the words, the longest first at every place: lead-tin yellow is not lead.

    What lies between is looked at for misspelt names.
    """
    words, at, strange = part.words, 0, 0
    while at < len(words):
        for size in range(min(_longest(), len(words) - at), 0, -1):
            material = _by_name().get(words[at : at + size]) or _plural(words[at : at + size])
            if material is not None:
                yield from (Found(near, True, part.without) for near in _near(words[strange:at]))
                yield Found(material, without=part.without)
                at += size
                strange = at
                break
        else:
            at += 1
    yield from (Found(near, True, part.without) for near in _near(words[strange:]))


def _plural(words: tuple[str, ...]) -> Material | None:
    last = words[-1]
    return _by_name().get((*words[:-1], last[:-1])) if last.endswith("s") and len(last) > 3 else None


def _near(words: tuple[str, ...]) -> Iterator[Material]:
    """Materials whose names are much like some of these words, the longest likenesses first."""
    for size in range(min(_longest(), len(words)), 0, -1):
        for at in range(len(words) - size + 1):
            spelt = " ".join(words[at : at + size])
            if len(spelt) < _SHORTEST:
                continue
            cutoff = _CLOSE if len(spelt) > _SHORTEST else _CLOSE_SHORT
            if near := get_close_matches(spelt, _spellings(), n=1, cutoff=cutoff):
                yield from _near(words[:at])
                yield _spellings()[near[0]]
                yield from _near(words[at + size :])
                return


def material_named(name: str) -> Material | None:
    """The first material that stands in ``name``, or None where the table knows none."""
    found = materials_in(name)
    return found[0].material if found else None
