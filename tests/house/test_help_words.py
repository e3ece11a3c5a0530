"""The glossary is in order, complete and sourced; the cautions defer to data sheets."""

from __future__ import annotations

import re
from importlib.resources import files
from pathlib import Path

import pytest

import copydesk
from copydesk.book.layout.space_stages import NEEDS
from copydesk.book.materials.hazards import DATA_SHEET, HAZARDS, Hazard
from copydesk.book.materials.material_table import all_materials, material_named
from copydesk.comparing.corrections import remedy
from copydesk.comparing.faults import KIND_WORDS
from copydesk.papers.cutting import KNIFE_CAUTION

HELP = files("copydesk") / "help"
PLAIN_WORDS = ("our own use", "common practice", "from memory", "recipes after")


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
    pecia register colophon flyleaf pastedown endleaf"""


def test_the_words_of_the_desk_are_there() -> None:
    assert set(EXPECTED.split()) <= glossary().keys()


ON_SCREENS = """
    abbreviation; ascender; assembly; batch; budget; burnishing; cancelled leaf; catchword; changed on
    purpose; checking; collation formula; colophon; conjugate; corrected; descender; division; drift; entry;
    exemplar; expunging; eye-skip; eye-skip watch; fault; flaw; flesh side; flyleaf; gap; gathering; gilding;
    grain; guide letter; hair side; hand; handover; held page; inner side; interlining; leaf; ledger; letters
    to a line; line skipped; lost leaf; margin; measure; mended; nib width; octonion; omission; opening; outer
    side; overlap; page; paraph; pile; pounce; press; quaternion; recto; register; replacement leaf; reserved
    space; ruling; scraping; script; sheet; signature; singleton; skin; spoilage; stage; state; stint;
    stretch; stub; substitution; tally; tipped in; transcription; transposition; unlike opening; verso;
    wanting; written space; x-height
"""
"""Terms of the trade, and plain words used in one sense, that stand on screens of the desk."""


def test_every_term_on_a_screen_has_its_entry() -> None:
    assert {" ".join(term.split()) for term in ON_SCREENS.split(";")} <= glossary().keys()


def test_every_kind_of_space_and_of_fault_has_its_entry_or_is_said_in_plain_words() -> None:
    plain = {"word divided", "words joined", "line displaced", "leaf skipped"}
    assert {*NEEDS, *map(str, KIND_WORDS)} - plain <= glossary().keys()


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


def short_names() -> list[str]:
    return re.findall(r"\*\*(.+?)\*\*", page("sources.md"))


def is_listed(cited: str) -> bool:
    """Whether a citation names a source on the list, by its short name or by its author and year."""
    for name in short_names():
        author, _, year = name.rpartition(" ")
        first = author.split(" & ")[0].split()[-1] if author and year.isdecimal() else ""
        if name in cited or (first and first in cited and year in cited):
            return True
    return False


def test_every_source_of_a_caution_is_on_the_list() -> None:
    cited = {source for advice in HAZARDS.values() for source in advice.source.split("; ")}
    cited |= {source for material in all_materials() for source in material.source.split("; ")}
    plain = ("common practice", "from memory", "this grade only", "a name of more than one green")
    assert {source for source in cited if source not in plain and not is_listed(source)} <= {DATA_SHEET}
    assert "AIC 2017" in short_names()


def test_every_source_in_brackets_in_the_cautions_is_on_the_list() -> None:
    cited = [each for found in re.findall(r"\[([^\]]+)\]", page("cautions.md")) for each in found.split("; ")]
    assert len(cited) > 10
    for source in cited:
        assert source in PLAIN_WORDS or is_listed(" ".join(source.split())), source


AUTHOR = re.compile(
    r"(?<![\w.])(?:[A-Z][a-z]?\.[ -]?)+(?:de |van de )?(?!Amand|Catal)"
    r"(?P<surname>[A-ZÉ][a-zéèœ]+(?:-[A-Z][a-z]+)?)"
)
"""A person cited by initials and surname; St. Amand is the name of a manuscript."""
CITING = tuple(
    path
    for folder in (Path(copydesk.__file__).parent, Path(__file__).parents[1] / "against")
    for path in sorted(folder.rglob("*.py"))
)


def plain_text(path: Path) -> str:
    """A file's docstrings, comments and strings as one line, so that no citation is broken in two."""
    lines = (re.sub(r"^\s*#:?\s?|^\s*\"|\"\s*$", " ", line) for line in path.read_text(encoding="utf-8").split("\n"))
    return " ".join(" ".join(lines).split())


@pytest.mark.parametrize("path", CITING, ids=lambda path: "/".join(path.parts[-3:]))
def test_every_author_cited_anywhere_is_on_the_list_with_the_year(path: Path) -> None:
    listed, text = page("sources.md"), plain_text(path)
    for cited in AUTHOR.finditer(text):
        assert cited["surname"] in listed, cited[0]
        title = re.match(r"[^;.]{0,140}", text[cited.end() :])
        years = set(re.findall(r"\b1[5-9]\d\d\b|\b20[0-2]\d\b", title[0] if title else ""))
        assert all(year in listed for year in years), text[cited.start() : cited.end() + 140]


def remembered() -> dict[str, list[str]]:
    """The surnames of every source that was not seen again, by its short name."""
    entries = re.findall(r"^- \*\*(.+?)\*\*(.*?)(?=^- |^\*|\Z)", page("sources.md"), re.MULTILINE | re.DOTALL)
    kept = (name for name, said in entries if "from memory" in " ".join(said.split()))
    return {name: surnames for name in kept if (surnames := re.findall(r"[A-ZÉ][a-zéèœ]{3,}", name))}


@pytest.mark.parametrize("path", CITING, ids=lambda path: "/".join(path.parts[-3:]))
def test_what_was_not_seen_again_says_so_where_it_is_cited(path: Path) -> None:
    text = plain_text(path)
    cited = {match["surname"] for match in AUTHOR.finditer(text)}
    for name, surnames in remembered().items():
        assert "from memory" in text or not cited.issuperset(surnames), name


def test_citations_are_found() -> None:
    assert {"Gotoh 1982", "Gelman and others 2013", "Wehlte 1975"} <= set(remembered())
    found = {cited["surname"] for path in CITING for cited in AUTHOR.finditer(plain_text(path))}
    known = "Ker Hanna Gregory Johnston Farnsworth Lindsay Lowe Rand Gotoh Feller Garwood Aitken Robinson Hamel Macé"
    assert set(known.split()) <= found


def test_no_listed_source_goes_uncited() -> None:
    cited = " ".join(map(plain_text, CITING)) + " ".join(
        page(f"{name}.md") for name in ("glossary", "cautions", "check")
    )
    cited += " ".join(
        path.read_text(encoding="utf-8") for path in sorted(Path(str(HELP)).glob("*.md")) if "sources" not in path.name
    )
    for name in short_names():
        first = re.findall(r"[A-ZÉ][\w-]+", name)
        assert any(word in cited for word in first), name


def test_a_year_behind_a_title_in_the_code_belongs_to_a_listed_source() -> None:
    years = set(re.findall(r"\b(1[89]\d\d|20[01]\d)\b", page("sources.md")))
    cited = {
        year
        for path in sorted(Path(copydesk.__file__).parent.rglob("*.py"))
        for year in re.findall(r"\*,? \(?(1[89]\d\d|20[01]\d)\b", path.read_text(encoding="utf-8"))
    }
    assert cited <= years


def test_knives_are_told_of_in_one_way() -> None:
    section = page("cautions.md").split("## Knives and scraping")[1].split("## ")[0]
    for told in (" ".join(section.split()), HAZARDS[Hazard.BLADE].sentence, remedy("scraped").caution, KNIFE_CAUTION):
        assert "weight or a bone, not with fingers near the edge" in told
        assert "let a falling blade fall" in told.lower()
        assert "away from the hand" in told


def test_no_first_aid_is_given() -> None:
    text = " ".join(page("cautions.md").split())
    assert "first-aid section of the data sheet" in text
    assert "local emergency number" in text
    assert not re.search(r"flush|see a doctor|rinse|brush off|induce", text)
