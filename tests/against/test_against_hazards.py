"""Hazards against lists published by others; the expected values are theirs, not ours."""

from __future__ import annotations

import pytest

from copydesk.book.materials.cautions import cautions_for
from copydesk.book.materials.hazards import HAZARDS, Hazard
from copydesk.book.materials.material_table import material_named

# Kremer Pigmente, "Pigments with toxic heavy metals" (kremer-pigmente.com): each metal and the colours listed under
# it that a book painter may meet. Its borate entries are left out.
KREMER = {
    "arsenic": ["orpiment", "realgar", "conichalcite"],
    "antimony": ["Naples yellow", "antimony red"],
    "nickel": ["nickel titanium yellow", "Indian yellow imitation"],
    "lead": [
        "Naples yellow",
        "lead white",
        "red lead",
        "massicot",
        "zinc white (white seal)",
        "galena",
        "lead tin yellow",
        "coloured glass powder",
    ],
    "cadmium": ["cadmium yellow", "cadmium orange", "cadmium red"],
    "cobalt": ["cobalt blue", "cobalt green", "cobalt yellow", "cobalt violet", "smalt"],
    "copper": [
        "azurite",
        "malachite",
        "chrysocolla",
        "verdigris",
        "Egyptian blue",
        "Han blue",
        "blue verditer",
        "Ploss blue",
        "phthalo blue",
        "phthalo green",
    ],
    "manganese": ["manganese brown", "manganese black", "manganese violet", "manganese purple", "umber"],
    "mercury": ["natural vermilion", "synthetic vermilion"],
}

# The same page, what each does, as words our sentence must not leave out.
KREMER_EFFECTS = {
    "arsenic": ["kill", "cancer"],
    "lead": ["builds up", "nerves"],
    "mercury": ["builds up", "nerves"],
    "antimony": ["lungs"],
    "nickel": ["kidneys", "allergy"],
    "manganese": ["nerves"],
    "copper": ["breathed in", "swallowed"],
    "cobalt": ["breathed in", "swallowed"],
    "cadmium": ["burnt"],
}


@pytest.mark.parametrize(("metal", "colours"), KREMER.items())
def test_colours_listed_by_kremer_stand_under_the_same_metal(metal: str, colours: list[str]) -> None:
    for colour in colours:
        material = material_named(colour)
        assert material is not None, colour
        assert Hazard(metal) in material.hazards, colour


@pytest.mark.parametrize(("metal", "effects"), KREMER_EFFECTS.items())
def test_cautions_name_the_harm_kremer_names(metal: str, effects: list[str]) -> None:
    sentence = HAZARDS[Hazard(metal)].sentence
    for effect in effects:
        assert effect in sentence


@pytest.mark.parametrize("hazard", ["lead", "mercury"])
def test_not_for_children_nor_in_pregnancy(hazard: str) -> None:
    # Kremer, same page: keep from children, not during pregnancy.
    sentence = HAZARDS[Hazard(hazard)].sentence
    assert "children" in sentence
    assert "expecting a child" in sentence


@pytest.mark.parametrize("hazard", ["arsenic", "lead", "mercury", "cadmium", "cobalt", "chromate", "manganese"])
def test_swallowing_is_the_main_risk(hazard: str) -> None:
    # A. Babin, "Pigment safety", Center for Safety in the Arts, Hazards no. 1: accidental ingestion by eating,
    # drinking, hand to mouth, pointing the brush with the lips.
    sentence = HAZARDS[Hazard(hazard)].sentence
    for habit in ("eat", "drink", "lips", "wash your hands"):
        assert habit in sentence


def test_white_lead_harms_what_babin_says() -> None:
    # A. Babin, same sheet, no. 2: anaemia, nerves, kidneys.
    sentence = HAZARDS[Hazard.LEAD].sentence
    for part in ("blood", "nerves", "kidneys"):
        assert part in sentence


@pytest.mark.parametrize("colour", ["chrome yellow", "zinc yellow"])
def test_chromates(colour: str) -> None:
    # A. Babin, same sheet, nos. 3 and 4: may cause lung cancer; rashes.
    material = material_named(colour)
    assert material is not None
    assert Hazard.CHROMATE in material.hazards
    sentence = HAZARDS[Hazard.CHROMATE].sentence
    assert "cancer" in sentence
    assert "rash" in sentence


@pytest.mark.parametrize("colour", ["lamp black", "carbon black"])
def test_blacks_that_may_hold_impurities(colour: str) -> None:
    # A. Babin, same sheet, no. 3.
    material = material_named(colour)
    assert material is not None
    assert Hazard.SOOT in material.hazards


@pytest.mark.parametrize("name", ["lime", "hydrated lime", "quicklime", "lime bath"])
def test_lime(name: str) -> None:
    # County health notice on lime (Clay County Free Press): eyes (permanent damage) and skin burns; goggles, gloves,
    # covered arms and legs; dust irritates. Its first aid is left to the data sheet.
    # Low-impact.org, "Lime: health and safety": lime into water, never water on lime; out of doors; a mask.
    material = material_named(name)
    assert material is not None
    assert Hazard.LIME in material.hazards
    assert Hazard.DUST in material.hazards
    sentence = HAZARDS[Hazard.LIME].sentence
    for part in (
        "burns skin",
        "blind",
        "goggles",
        "gloves",
        "mask",
        "arms and legs",
        "lime into water",
        "never water on lime",
    ):
        assert part in sentence


@pytest.mark.parametrize("name", ["scraper", "penknife"])
def test_blades(name: str) -> None:
    # Health and Safety Executive advice on knives, as given at maidahillplace.co.uk: sharp, stable surface, stored
    # securely. Cutting away from the hand: common practice.
    (blade, *_) = cautions_for([name])
    for part in ("sharp", "away from the hand", "firm board", "cover it"):
        assert part in blade.sentence


@pytest.mark.parametrize("colour", ["lead white", "zinc white", "titanium white"])
def test_only_lead_white_is_lead(colour: str) -> None:
    # Kremer, same page: of zinc white only the grade "white seal" is listed under lead.
    material = material_named(colour)
    assert material is not None
    assert (Hazard.LEAD in material.hazards) == (colour == "lead white")


ARSENITES = (
    "emerald green, Paris green, Schweinfurt green, mineral green, imperial green, Mitis green, parrot green, "
    "Vienna green, king's green, Scheele's green, ash green"
)


@pytest.mark.parametrize("colour", ARSENITES.split(", "))
def test_green_arsenites_of_copper(colour: str) -> None:
    # Museum of Fine Arts Boston, CAMEO, "Emerald green": copper acetoarsenite, with the names it is known by;
    # "Scheele's green": copper arsenite, also ash green.
    material = material_named(colour)
    assert material is not None
    assert {Hazard.ARSENIC, Hazard.COPPER} <= set(material.hazards)


def test_greens_and_blues_that_are_not_one_another() -> None:
    # CAMEO: Scheele's green is another pigment; Kremer lists Egyptian and Han blue apart.
    pairs = [("emerald green", "Scheele's green"), ("Egyptian blue", "Han blue"), ("malachite", "mountain green")]
    assert all(material_named(one) is not material_named(other) for one, other in pairs)


def test_mountain_green_may_hold_orpiment() -> None:
    # A. J. Cooley, Cyclopaedia of Practical Receipts, 6th ed., "Green": ground malachite, with or without a little
    # orpiment; also called mineral green.
    for name in ("mountain green", "Mountain green (natural)", "mountian green", "mineral green"):
        material = material_named(name)
        assert material is not None
        assert {Hazard.ARSENIC, Hazard.COPPER} <= set(material.hazards)


def test_cobalt_violet_may_be_an_arsenate() -> None:
    # CAMEO, "Cobalt violet": the first were cobalt arsenate, highly toxic.
    material = material_named("cobalt violet")
    assert material is not None
    assert {Hazard.ARSENIC, Hazard.COBALT} <= set(material.hazards)


def test_cadmium_and_soot_by_their_sources() -> None:
    # Babin, no. 3: cadmium pigments may cause lung cancer; lamp and carbon black may hold what causes skin cancer.
    # Kremer: the risk of cadmium pigments is low, but burning them is toxic.
    assert all(part in HAZARDS[Hazard.CADMIUM].sentence for part in ("lung cancer", "burnt", "low"))
    assert "skin cancer" in HAZARDS[Hazard.SOOT].sentence


def test_sulphide_and_acid_make_a_gas_that_kills() -> None:
    # Fennen and others: acid frees it; the nose is blocked at 500 ppm, 5,000 kill at a breath. Deliming: from memory.
    sentence = HAZARDS[Hazard.SULPHIDE].sentence
    assert all(part in sentence for part in ("acid", "deliming", "hydrogen sulphide", "kills", "no longer smells"))


def test_raw_hides_as_the_centers_for_disease_control_say() -> None:
    # CDC, "Anthrax: protection from exposure": inspected hides, gloves, mask, eye protection, no shaking or beating.
    sentence = HAZARDS[Hazard.RAW_HIDE].sentence
    for part in ("anthrax", "inspection", "gloves", "mask", "eye protection", "shake or beat", "wash your hands"):
        assert part in sentence


def test_first_aid_is_left_to_the_data_sheet() -> None:
    for sentence, _ in HAZARDS.values():
        assert not any(word in sentence for word in ("doctor", "flush", "rinse", "vomit", "brush off"))
    last = cautions_for(["vermilion"])[-1].sentence
    assert "first-aid section" in last
    assert "local emergency number" in last


def test_the_makers_data_sheet_outweighs_the_table() -> None:
    # AIC, Pigment Health & Safety Quick Guide, November 2017: check each maker's data sheet; guides age.
    for names in (["vermilion"], ["chalk"], ["gum arabic"], ["something new"]):
        assert "safety data sheet" in cautions_for(names)[-1].sentence
