"""The glossary is in order, complete and sourced; the cautions defer to data sheets."""

from __future__ import annotations

import re
from importlib.resources import files

import pytest

from copydesk.book.materials.hazards import Hazard
from copydesk.book.materials.material_table import material_named

HELP = files("copydesk") / "help"
PLAIN_WORDS = ("our own use", "common practice", "recipes after")


def page(name: str) -> str:
    return (HELP / name).read_text(encoding="utf-8")


def glossary() -> dict[str, str]:
    parts = re.split(r"^## ", page("glossary.md"), flags=re.MULTILINE)[1:]
    pairs = [part.split("\n", 1) for part in parts]
    return {word: " ".join(meaning.split()) for word, meaning in pairs}


def test_the_glossary_is_in_alphabetical_order_and_names_no_word_twice() -> None:
    words = re.findall(r"^## (.+)$", page("glossary.md"), flags=re.MULTILINE)
    keys = [word.casefold().replace("-", " ") for word in words]
    assert len(words) >= 70
    assert keys == sorted(set(keys))


@pytest.mark.parametrize("word", glossary())
def test_every_meaning_is_short_and_ends_with_its_source(word: str) -> None:
    meaning = glossary()[word]
    found = re.fullmatch(r"(.{15,230}[.]) \[([^\[\]]+)\]", meaning)
    assert found, meaning
    assert found[1].count(". ") <= 2
    known = re.findall(r"\*\*(.+?)\*\*", page("sources.md"))
    for source in found[2].split("; "):
        assert source.startswith((*known, *PLAIN_WORDS, "Hewitt", "the word", "after")), source


EXPECTED = """exemplar gathering sheet leaf page recto verso conjugate opening singleton stub signature catchword
    foliation ruling pricking measure rubric hand script stint set budget drift stretch gap overlap entry ledger desk
    handover miniature initial border eye-skip haplography substitution transposition omission addition anticipation
    pecia register colophon flyleaf pastedown"""


def test_the_words_of_the_desk_are_there() -> None:
    assert set(EXPECTED.split()) <= glossary().keys()


def test_the_cautions_defer_and_name_what_they_must() -> None:
    text = page("cautions.md")
    headings = re.findall(r"^## (.+)$", text, flags=re.MULTILINE)
    assert {"Lime", "Knives and scraping", "Gilding", "Lead, mercury, arsenic", "Long hours"} <= set(headings)
    for word in ("safety data sheet", "local rules", "trained"):
        assert word in text


@pytest.mark.parametrize(
    ("hazard", "names"),
    [
        (Hazard.LEAD, ["lead white", "minium", "massicot", "lead-tin yellow", "Naples yellow", "gesso"]),
        (Hazard.MERCURY, ["vermilion"]),
        (Hazard.ARSENIC, ["orpiment", "realgar"]),
        (Hazard.COPPER, ["azurite", "malachite", "verdigris"]),
        (Hazard.MANGANESE, ["umber"]),
        (Hazard.COBALT, ["smalt", "cobalt blue"]),
    ],
)
def test_the_cautions_name_a_metal_where_the_table_does(hazard: Hazard, names: list[str]) -> None:
    section = " ".join(page("cautions.md").split("## Lead, mercury, arsenic")[1].split("## ")[0].split())
    for name in names:
        material = material_named(name)
        assert material is not None
        assert hazard in material.hazards
        assert name in section


def test_the_licence_travels_in_the_package() -> None:
    assert page("LICENCE").startswith("MIT License\n\nCopyright (c) 2026 the copydesk makers\n")


def test_no_line_of_help_is_too_long_for_a_wide_editor() -> None:
    for name in ("glossary.md", "sources.md", "cautions.md"):
        assert max(map(len, page(name).split("\n"))) <= 120
