"""A whole book as one JSON document, and documents that are refused."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from unicodedata import category

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.common.errors import CopydeskError
from copydesk.book.common.sanitize import sanitize
from copydesk.book.structure.page import Page
from copydesk.job import Job
from copydesk.store.folder.snapshot import make_from_snapshot
from copydesk.store.folder.snapshot_json import snapshot_as_json, snapshot_from_json
from copydesk.tracking.commands.leaf_commands import cancel_leaf
from snapshot_books import MARKED, PLAN, a_book, document, told


def test_a_document_stands_a_line_an_entry_and_holds_nothing_a_terminal_obeys(tmp_path):
    job = Job.open(a_book(tmp_path / "book", MARKED))
    job.record(job.commands.rule(Page.parse("1r")))
    job.record(job.commands.rule(Page.parse("1v")))
    text = document(tmp_path / "book", job)
    assert all(mark == "\n" or mark.isprintable() for mark in text)
    assert [json.loads(line.rstrip(","))["page"] for line in text.splitlines() if line.startswith('{"entry"')] == [
        "1r",
        "1v",
    ]
    assert json.loads(text)["exemplar"] == MARKED


def do(job: Job, act: str, index: int, hand: str) -> None:
    page, acts = Page.at(index), job.commands
    steps = {
        "rule": lambda: job.record(acts.rule(page), hand=hand),
        "write": lambda: job.record(acts.write(page), hand=hand),
        "part": lambda: job.record(acts.write(page, to_line=index + 1), hand=hand),
        "check": lambda: job.record(acts.check(page), hand=hand),
        "fault": lambda: job.record(acts.fault(page, "omission", line=1, should="w3 \U0001f58b"), hand=hand),
        "space": lambda: job.record(acts.space("pond", ("drawn", "coloured", "left-empty")[index % 3]), hand=hand),
        "cancel": lambda: job.record(cancel_leaf(job.state, page.leaf), hand=hand),
        "undo": job.undo,
        "redo": job.redo,
    }
    try:
        steps[act]()
    except CopydeskError:
        return


@cache
def sound() -> str:
    """The document of a small book with a few entries."""
    with TemporaryDirectory() as temp:
        job = Job.open(a_book(Path(temp) / "book"), desk="window")
        for act in ("rule", "write", "check", "fault", "space", "cancel"):
            do(job, act, 0, "A")
        job.undo()
        return document(Path(temp) / "book", job)


def changed(**changes: object) -> str:
    parts = json.loads(sound()) | changes
    return json.dumps({key: value for key, value in parts.items() if value != "left out"})


def entries(*changes: dict[str, object]) -> str:
    """The document with changes to its first entries."""
    found = json.loads(sound())["entries"]
    return changed(entries=[entry | change for entry, change in zip(found, changes, strict=False)])


def refused(text: str, folder: Path) -> str:
    with pytest.raises(CopydeskError) as caught:
        make_from_snapshot(folder / "again", snapshot_from_json(text, "x.json"), "x.json")
    assert list(folder.iterdir()) == []
    return str(caught.value)


PLAN_AS_DATA = {"title": "t", "page": {"width": 0}}


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "x.json:1:1: this is not JSON (expecting value)"),
        ('{"a": 1,\n "b": }', "x.json:2:7: this is not JSON"),
        ("[]", "x.json: is no book: it holds no keys with values"),
        ("{}", "x.json: has no 'copydesk'; write a text: the version that wrote it"),
        ('{"a": NaN}', "x.json: holds NaN, which is no number"),
        ('{"a": 1, "b": 2, "a": 3}', "x.json: the key 'a' is given twice"),
        ("[" * 100_000, "x.json: values are nested too deeply"),
        (f'{{"a": {"9" * 5000}}}', "x.json: holds a number of thousands of figures"),
        (lambda: changed(schema=2), "x.json: was written by a newer copydesk (its form is 2, this program knows 1)"),
        (lambda: changed(schema=True), "has a 'schema' that cannot be; write a whole number"),
        (lambda: changed(entries={}), "has a 'entries' that cannot be; write a list of entries"),
        (lambda: changed(entries="left out"), "has no 'entries'; write a list of entries"),
        (lambda: changed(entires=[]), "has the key 'entires', which means nothing here; it may have copydesk, schema"),
        (lambda: changed(plan="left out", book_yaml="left out"), "has no 'plan'; write the plan"),
        (lambda: changed(book_yaml="pgae: 1"), "x.json, book_yaml:1:1: 'pgae' is no key; did you mean page?"),
        (lambda: changed(plan=PLAN_AS_DATA), "x.json, plan: page, width cannot be '0'"),
        (lambda: changed(book_yaml=PLAN.replace("small", "large")), "its plan and its book_yaml say different things"),
        (lambda: changed(exemplar=None), "the plan names an exemplar's file and there is no exemplar"),
        (lambda: changed(exemplar="\ud800"), "the text for 'texts/words.txt' holds half of a character"),
        (lambda: changed(samples={}), "the plan names the file 'b.txt', whose text is not here"),
        (lambda: changed(samples={"b.txt": 7}), "the sample 'b.txt' is no text"),
        (lambda: changed(samples={"b.txt": "a\tlong"}), "x.json, b.txt:1:3: "),
        (lambda: changed(samples={"b.txt": "a b", "c.txt": ""}), "no hand has the sample 'c.txt'; take it out"),
        (lambda: entries({"note": "\ud800"}), "holds half a character"),
        (lambda: entries({"note": float("inf")}), "x.json: holds Infinity, which is no number"),
    ],
)
def test_what_is_no_such_document_is_refused_and_nothing_is_made(text, said, tmp_path):
    assert said in refused(text if isinstance(text, str) else text(), tmp_path)


def test_the_plan_as_data_alone_is_enough(tmp_path):
    make_from_snapshot(tmp_path / "again", snapshot_from_json(changed(book_yaml="left out"), "x.json"), "x.json")
    assert Job.open(tmp_path / "again").book.title == "A small book"


ROWS: list[list[list[object]]] = [
    [],
    [[]],
    [["a", 1, 1, 1, 0.0]],
    [["a", "b", 1, 10**9, 2.0]],
    [["a", 1, 1, 10**14, 0.0]],
]


VALUES = [None, True, -1, 0, 1, 2**31, 10**14, 0.5, 1e300, "", "x", "1.1:r", "1.1", "0.0:r", "9.9:v", "\x1b", "\ud800"]


STRANGE = st.sampled_from([*VALUES, [], *([row] for row in ROWS), {}, {"word": -5}, ["1.1"] * 3])


@settings(max_examples=100, deadline=None)
@given(st.sampled_from(sorted(json.loads(sound()))), STRANGE)
def test_whatever_stands_under_a_key_it_is_refused_or_makes_a_book(key, value):
    with TemporaryDirectory() as temp:
        try:
            make_from_snapshot(Path(temp) / "again", snapshot_from_json(changed(**{key: value}), "x.json"), "x.json")
        except CopydeskError:
            assert list(Path(temp).iterdir()) == []
        else:
            told(Job.open(Path(temp) / "again"))


HIDDEN = "\x00\x1b\x7f\xad\u061c\u180e\u200b\u200f\u2028\u2029\u202e\u2066\ufeff\ufff9"


UNSEEN = st.sampled_from([*map(chr, range(0x80, 0xA0)), *HIDDEN])


@given(st.text(UNSEEN | st.characters(exclude_categories=["Cs"]), max_size=30))
def test_no_sign_that_cannot_be_seen_stands_in_a_document(text):
    whole = snapshot_from_json(sound(), "x.json")
    whole = whole._replace(texts={**whole.texts, "texts/words.txt": text}, entries=[])
    made = snapshot_as_json(whole, "0.1.0")
    assert [mark for mark in made if category(mark) in ("Cc", "Zl", "Zp") and mark != "\n"] == []
    assert [mark for mark in made if sanitize(f"x{mark}x") == "xx"] == []
    assert snapshot_from_json(made, "x.json") == whole
