"""Materials are found by any of their names, and their cautions come gravest first and always defer."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.layout.space_stages import Stage
from copydesk.book.materials.cautions import _ACTS, _PAPERS, _STAGES, LABEL, caution_words, cautions_for, step_hazards
from copydesk.book.materials.hazards import DATA_SHEET, HAZARDS, Hazard
from copydesk.book.materials.material_table import all_materials, material_named, materials_in

_CODE = sorted((Path(__file__).parents[3] / "copydesk").rglob("*.py"))
ALL_NAMES = [(name, material) for material in all_materials() for name in (material.name, *material.also)]


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("vermilion", "vermilion"),
        ("Cinnabar", "vermilion"),
        ("  dry  natural cinnabar ", "vermilion"),
        ("red lead", "minium"),
        ("Flake White", "lead white"),
        ("King’s yellow", "orpiment"),
        ("iron gall ink", "oak-gall ink"),
        ("oak-gall, the second jar", "oak-gall ink"),
        ("Lead-Tin Yellow", "lead-tin yellow"),
        ("gold powder", "shell gold"),
        ("burnt umber", "umber"),
        ("lapis", "ultramarine"),
    ],
)
def test_a_material_is_known_by_its_other_names(written: str, meant: str) -> None:
    found = material_named(written)
    assert found is not None
    assert found.name == meant


@pytest.mark.parametrize(
    "written", ["vermilion hue", "imitation vermilion", "moonlight", "", "white", "pigment", "paper"]
)
def test_what_the_table_does_not_know_is_not_guessed(written: str) -> None:
    assert material_named(written) is None


@pytest.mark.parametrize(
    ("written", "hazard"),
    [
        ("vermilion (genuine)", Hazard.MERCURY),
        ("orpiment (natural)", Hazard.ARSENIC),
        ("Orpiment, genuine, 20 g", Hazard.ARSENIC),
        ("king yellow", Hazard.ARSENIC),
        ("red lead (minium)", Hazard.LEAD),
        ("lead-tin yellow II", Hazard.LEAD),
        ("minium tube", Hazard.LEAD),
        ("lead point", Hazard.LEAD),
        ("vermillon", Hazard.MERCURY),
        ("orpimant", Hazard.ARSENIC),
        ("malakite", Hazard.COPPER),
        ("gamboge", Hazard.PURGATIVE),
        ("oak-gall ink", Hazard.ACID),
        ("pricking wheel", Hazard.POINT),
    ],
)
def test_the_hazard_is_found_inside_what_people_write(written: str, hazard: Hazard) -> None:
    assert hazard in [caution.hazard for caution in cautions_for([written])]


@pytest.mark.parametrize(
    ("written", "not_this", "but_these"),
    [
        ("lead-free gesso", Hazard.LEAD, {Hazard.DUST}),
        ("gesso, lead free", Hazard.LEAD, {Hazard.DUST}),
        ("Leadfree gesso", Hazard.LEAD, {Hazard.DUST}),
        ("gesso without lead", Hazard.LEAD, {Hazard.DUST}),
        ("gesso (no lead)", Hazard.LEAD, {Hazard.DUST}),
        ("gesso, free from lead and arsenic", Hazard.LEAD, {Hazard.DUST}),
        ("lead-free vermilion", Hazard.LEAD, {Hazard.MERCURY, Hazard.DUST}),
        ("cadmium-free red", Hazard.CADMIUM, {None}),
        ("ochre without cadmium", Hazard.CADMIUM, {Hazard.DUST}),
        ("arsenic- and lead-free chalk", Hazard.ARSENIC, {Hazard.DUST}),
        ("solvent-free varnish", Hazard.SOLVENT, {None}),
    ],
)
def test_what_a_thing_is_free_of_is_not_warned_of(
    written: str, not_this: Hazard, but_these: set[Hazard | None]
) -> None:
    found = {caution.hazard for caution in cautions_for([written])}
    assert not_this not in found
    assert but_these <= found


@pytest.mark.parametrize("written", ["not lead-free gesso", "no lead white", "gesso, dust-free", "lead, free of dust"])
def test_a_hazard_that_is_not_denied_is_still_warned_of(written: str) -> None:
    assert Hazard.LEAD in {caution.hazard for caution in cautions_for([written])}


@pytest.mark.parametrize(
    ("written", "hazards", "not_these"),
    [
        ("imitation vermilion and real orpiment", {Hazard.ARSENIC}, {Hazard.MERCURY}),
        ("orpiment over vermilion hue", {Hazard.ARSENIC}, {Hazard.MERCURY}),
        ("vermilion, imitation", set(), {Hazard.MERCURY}),
        ("vermilion (hue)", set(), {Hazard.MERCURY}),
        ("vermilion, not a hue", {Hazard.MERCURY}, set()),
        ("vermilion (no imitation)", {Hazard.MERCURY}, set()),
        ("lead-free gesso under lead white", {Hazard.LEAD}, set()),
        ("gesso, lead free, then vermilion", {Hazard.MERCURY}, {Hazard.LEAD}),
        ("vermillon over chalk", {Hazard.MERCURY}, set()),
        ("gold leaf, vermillon, orpimant", {Hazard.MERCURY, Hazard.ARSENIC}, set()),
        ("minum", {Hazard.LEAD}, set()),
        ("limed oak", set(), {Hazard.LIME}),
    ],
)
def test_each_thing_in_a_line_is_looked_at_by_itself(
    written: str, hazards: set[Hazard], not_these: set[Hazard]
) -> None:
    found = {caution.hazard for caution in cautions_for([written])}
    assert hazards <= found
    assert not found & not_these


def test_a_misspelt_name_beside_a_known_one_is_told_too() -> None:
    said = [str(caution) for caution in cautions_for(["gold leaf, vermillon"])]
    assert any("taken to be vermilion" in words for words in said)


@pytest.mark.parametrize("kinds", [_ACTS, _STAGES, _PAPERS])
def test_every_act_stage_and_paper_in_the_table_is_used_where_it_happens(kinds: dict[str, object]) -> None:
    code = "".join(path.read_text("utf-8") for path in _CODE if path.name != "cautions.py")
    for name in kinds:
        assert isinstance(name, Stage) or f'"{name}"' in code, name


def test_every_material_in_one_line_is_found_the_longest_name_first() -> None:
    found = [each.material.name for each in materials_in("vermilion over lead-tin yellow, then shell gold")]
    assert found == ["vermilion", "lead-tin yellow", "shell gold"]
    assert [each.material.name for each in materials_in("pencil lead")] == ["graphite"]


def test_a_misspelt_name_is_said_to_be_taken_for_another() -> None:
    said = [str(caution) for caution in cautions_for(["vermillon"])]
    assert (
        "vermillon: taken to be vermilion; if it is not, look it up in the maker's safety data sheet before use."
        in said
    )


@pytest.mark.parametrize(
    ("step", "hazards"),
    [
        ("soak", {Hazard.RAW_HIDE, Hazard.WEIGHT}),
        ("liming", {Hazard.LIME, Hazard.WEIGHT}),
        ("quicklime", {Hazard.LIME, Hazard.WEIGHT}),
        ("second lime", {Hazard.LIME, Hazard.WEIGHT}),
        ("sulphide", {Hazard.SULPHIDE}),
        ("unhairing", {Hazard.SULPHIDE, Hazard.LIME, Hazard.BLADE, Hazard.WEIGHT}),
        ("deliming", {Hazard.SULPHIDE, Hazard.LIME, Hazard.ALKALI, Hazard.WEIGHT}),
        ("wet scraping", {Hazard.LIME, Hazard.BLADE, Hazard.WEIGHT}),
        ("scraping", {Hazard.BLADE, Hazard.PARCHMENT_DUST}),
        ("pumice", {Hazard.DUST, Hazard.PARCHMENT_DUST}),
        ("stretch", {Hazard.TENSION, Hazard.WEIGHT}),
        ("second_lime", {Hazard.LIME, Hazard.WEIGHT}),
        ("re-liming", {Hazard.LIME, Hazard.WEIGHT}),
        ("wet-scraping", {Hazard.LIME, Hazard.BLADE, Hazard.WEIGHT}),
        ("wet_scrape", {Hazard.LIME, Hazard.BLADE, Hazard.WEIGHT}),
        ("lime2", {Hazard.LIME, Hazard.WEIGHT}),
        ("limestone", set()),
        ("de-hairing", {Hazard.SULPHIDE, Hazard.LIME, Hazard.BLADE, Hazard.WEIGHT}),
        ("de-liming", {Hazard.SULPHIDE, Hazard.LIME, Hazard.ALKALI, Hazard.WEIGHT}),
        ("rinse", {Hazard.LIME, Hazard.WEIGHT}),
        ("degrease", {Hazard.SOLVENT}),
        ("sublime", set()),
        ("sulphide-free unhairing", {Hazard.LIME, Hazard.BLADE, Hazard.WEIGHT}),
        ("liming without sulphide", {Hazard.LIME, Hazard.WEIGHT}),
        ("rest", set()),
    ],
)
def test_what_the_name_of_a_step_tells(step: str, hazards: set[Hazard]) -> None:
    assert set(step_hazards(step)) == hazards


def test_acts_stages_and_papers_have_their_cautions() -> None:
    assert {caution.hazard for caution in cautions_for(acts=["cancelled"])} == {Hazard.BLADE, None}
    assert {caution.hazard for caution in cautions_for(acts=["scraped"])} == {
        Hazard.BLADE,
        Hazard.PARCHMENT_DUST,
        None,
    }
    assert Hazard.LEAD in {caution.hazard for caution in cautions_for(["lead white"], stages=["coloured"])}
    assert Hazard.BLADE in {caution.hazard for caution in cautions_for(papers=["cutting"])}
    assert cautions_for(acts=["no such act"], stages=["none"], papers=["none"], steps=["rest"]) == ()


def test_no_name_stands_for_two_materials() -> None:
    for name, material in ALL_NAMES:
        assert material_named(name) is material, name


def test_every_hazard_has_its_sentence_and_source() -> None:
    assert set(HAZARDS) == set(Hazard)
    for hazard, (sentence, source) in HAZARDS.items():
        assert sentence.endswith("."), hazard
        assert source, hazard


def test_every_material_names_its_source() -> None:
    assert all(material.source for material in all_materials())


def test_every_dry_colour_raises_dust() -> None:
    dry = [material for material in all_materials() if material.kind in ("pigment", "dye")]
    assert len(dry) > 30
    assert all(Hazard.DUST in material.hazards for material in dry)


def test_nothing_named_gives_no_caution() -> None:
    assert cautions_for([]) == ()
    assert cautions_for(["", "  "]) == ()


def test_one_caution_a_hazard_names_all_it_is_about() -> None:
    found = {caution.hazard: caution for caution in cautions_for(["red lead", "lead white", "azurite", "red lead"])}
    assert found[Hazard.LEAD].materials == ("red lead", "lead white")
    assert found[Hazard.COPPER].materials == ("azurite",)
    assert found[Hazard.DUST].materials == ("red lead", "lead white", "azurite")
    assert str(found[Hazard.COPPER]).startswith("azurite: Copper")


def test_the_gravest_comes_first_and_the_deferring_sentence_last() -> None:
    cautions = cautions_for(["chalk", "malachite", "orpiment", "vermilion"])
    order = [caution.hazard for caution in cautions]
    assert order == [Hazard.ARSENIC, Hazard.MERCURY, Hazard.COPPER, Hazard.DUST, None]
    assert "safety data sheet" in cautions[-1].sentence
    assert "trained" in cautions[-1].sentence
    assert cautions[-1].source == DATA_SHEET
    assert str(cautions[-1]) == cautions[-1].sentence


def test_an_unknown_material_is_sent_to_its_data_sheet() -> None:
    stranger, last = cautions_for(["powder of mummy"])
    assert stranger.materials == ("powder of mummy",)
    assert stranger.hazard is None
    assert "safety data sheet" in str(stranger)
    assert last.materials == ()


def test_a_harmless_material_still_defers() -> None:
    (only,) = cautions_for(["gum arabic"])
    assert "safety data sheet" in only.sentence


@settings(max_examples=150)
@given(st.lists(st.one_of(st.sampled_from([name for name, _ in ALL_NAMES]), st.text(max_size=20)), max_size=12))
def test_every_named_material_is_answered_for(names: list[str]) -> None:
    cautions = cautions_for(names)
    given_names = {kept for name in names if (kept := " ".join(name.split()))}
    assert bool(cautions) == bool(given_names)
    spoken_of = {material for caution in cautions for material in caution.materials}
    for name in given_names:
        material = material_named(name)
        if material is None or material.hazards:
            assert name in spoken_of
    assert caution_words(cautions) == tuple(f"{LABEL}: {caution}" for caution in cautions)
    assert spoken_of <= given_names
    hazards = [caution.hazard for caution in cautions if caution.hazard]
    assert hazards == [hazard for hazard in Hazard if hazard in hazards]
