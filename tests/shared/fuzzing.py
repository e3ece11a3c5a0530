"""What strange input is made of, and looking at everything a book tells, for the short trials and the long ones."""

from __future__ import annotations

import contextlib
import io
import tempfile
from pathlib import Path
from typing import TYPE_CHECKING, Any
from unittest import mock

from hypothesis import strategies as st

from copydesk.book.common.errors import CopydeskError
from copydesk.book.structure.page import Page
from copydesk.cli.main import main
from copydesk.job import Job
from copydesk.store.journal.audit import audit
from copydesk.store.journal.line_format import Header, entry_line, header_line
from copydesk.tracking.ledger.entry_kinds import KINDS

if TYPE_CHECKING:
    from collections.abc import Sequence

PLAN = """title: A small book
exemplar: {text: %s}
page: {width: 100, height: 140, margins: {inner: 10, head: 10, outer: 20, foot: 30}}
columns: {count: 2, gap: 4}
ruling: {lines: 8}
hands:
  A: {name: first, letters_per_line: 14, sample: sample.txt}
  B: {name: second, letters_per_line: 12}
gatherings: {sheets: 2, count: 3}
skins: {width: 700, height: 500}
spaces:
  - {id: frost, kind: miniature, at: {page: 1v}, lines: 3}
  - {id: ford, kind: initial, at: {page: 1r}, lines: 2}
workshop: {artist: Ines}
"""
TEXT = " ".join(f"w{number}" for number in range(260))
READERS = (
    ("pages",),
    ("plan",),
    ("sheets",),
    ("sheets", "--where"),
    ("spaces",),
    ("skins",),
    ("hands",),
    ("stints",),
    ("faults",),
    ("faults", "--tell"),
    ("changes",),
    ("handover",),
    ("forecast",),
    ("assemble",),
    ("colophon",),
    ("log",),
    ("ledger",),
)
"""Verbs that only read, and take nothing but the book."""


def make_book(folder: Path, *, text: str = TEXT, sample: str = "w1 w2 w3\n" * 9, name: str = "exemplar.txt") -> Path:
    """A small book."""
    folder.mkdir(exist_ok=True)
    (folder / "book.yaml").write_text(PLAN % name, "utf-8")
    (folder / name).write_text(text, "utf-8", "surrogatepass", newline="")
    (folder / "sample.txt").write_text(sample, "utf-8", "surrogatepass", newline="")
    return folder


def run(*arguments: str) -> tuple[int, str, str]:
    """A command in this process; what it says on standard output and standard error."""
    out, err = io.TextIOWrapper(io.BytesIO(), encoding="utf-8"), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        code = int(main(arguments))
    out.flush()
    return code, out.buffer.getvalue().decode(), err.getvalue()  # type: ignore[attr-defined]


def look_at_everything(folder: Path) -> None:
    """Every verb that reads gives an answer; the book is read once for all of them."""
    job = Job.open(folder)
    with mock.patch.object(Job, "open", return_value=job):
        for verb, *more in READERS:
            for form in ([], ["--json"]):
                code, out, err = run(verb, str(folder), *more, *form)
                assert code in (0, 1), (verb, more, form, err)
                assert "\x1b" not in out + err
    job.close()


def look_at_input(folder: Path) -> None:
    """A book of strange input is told of, or refused in sentences with their places."""
    code, out, err = run("pages", str(folder))
    if code == 0:
        look_at_everything(folder)
        assert run("audit", str(folder))[0] in (0, 1)
    else:
        assert code == 2
        assert err.startswith("copydesk: ")
        assert len(err) < 60_000
    assert "\x1b" not in out + err


# --- one trial of each kind -----------------------------------------------------------------------------------------


def try_ledger(entries: Sequence[dict[str, Any]]) -> None:
    """A ledger of these entries is told of, can be written on, and is told of again."""
    with tempfile.TemporaryDirectory() as top:
        folder = make_book(Path(top) / "book")
        lines = [entry_line(number, [entry]) for number, entry in enumerate(entries, 1)]
        (folder / "ledger.jsonl").write_bytes(header_line(Header(1, "b")) + b"".join(lines))
        look_at_everything(folder)
        work_on(folder)
        look_at_everything(folder)


def work_on(folder: Path) -> None:
    """Record and take back on whatever there is; what cannot be is refused, what was recorded is there."""
    job = Job.open(folder, desk="window")
    for index in (0, 1, 5):
        for act in (job.commands.rule, job.commands.write, job.commands.check):
            with contextlib.suppress(CopydeskError):
                made = job.record(act(Page.at(index)))
                assert job.ledger.find(made.entry) == made
    with contextlib.suppress(CopydeskError):
        job.undo()
        job.redo()
    kept = {entry.entry for entry in job.ledger}
    job.close()
    assert {entry.entry for entry in Job.open(folder).ledger} == kept
    named = ("given to another entry", "it counts for nothing")  # two entries of one id; facts that nothing can have
    assert not [problem for problem in audit(folder) if not any(each in problem.what for each in named)]


def try_ledger_bytes(data: bytes) -> None:
    """A ledger's file of any bytes whatever: what can be read is told of, the rest is named."""
    with tempfile.TemporaryDirectory() as top:
        folder = make_book(Path(top) / "book")
        (folder / "ledger.jsonl").write_bytes(data)
        look_at_input(folder)
        before = (folder / "ledger.jsonl").read_bytes()
        code, _, err = run("audit", str(folder), "--mend")
        assert code in (0, 1, 2), err
        kept = [path.read_bytes() for path in folder.rglob("*ledger*") if path.is_file()]
        assert not before or any(path.startswith(before) for path in kept), "the damaged bytes are kept aside"


def try_exemplar(text: str) -> None:
    """An exemplar is told of or refused."""
    with tempfile.TemporaryDirectory() as top:
        look_at_input(make_book(Path(top) / "book", text=text))


def try_sample(sample: str) -> None:
    """A sample is told of or refused."""
    with tempfile.TemporaryDirectory() as top:
        look_at_input(make_book(Path(top) / "book", sample=sample))


def try_plan(text: str) -> None:
    """A plan is told of or refused."""
    with tempfile.TemporaryDirectory() as top:
        folder = make_book(Path(top) / "book")
        (folder / "book.yaml").write_text(text, "utf-8", "surrogatepass")
        look_at_input(folder)


def try_tei(text: str) -> None:
    """A TEI file is told of or refused; one that declares entities is refused."""
    with tempfile.TemporaryDirectory() as top:
        folder = make_book(Path(top) / "book", text=text, name="exemplar.xml")
        look_at_input(folder)
        if "<!ENTITY" in text:
            assert run("pages", str(folder))[0] == 2


def try_formula(text: str) -> None:
    """A formula is read or refused."""
    for form in ([], ["--json"]):
        code, out, err = run("formula", *form, "--", text)
        assert code in (0, 1, 2)
        assert "\x1b" not in out + err
        assert "\u202e" not in out + err


# --- ledgers --------------------------------------------------------------------------------------------------------

ODD = "\x1b[31m\u202e"
WORDS = st.sampled_from(
    [
        "",
        "A",
        "B",
        "frost",
        "ford",
        "1.1",
        "1.1:r",
        "hair",
        "5r",
        "page",
        "none",
        "e1",
        "miniature",
        "9999-12-31",
        "0001-01-01",
        ODD,
    ]
)
TIMES = ["9999-12-31T23:59:59+00:00", "0001-01-01T00:00:00", "0001-01-01T00:00:00+14:00", "9999-99-99", "2026-03-02"]
NUMBERS = st.integers(-3, 60) | st.sampled_from([10**4, 10**9, 2**53, 10**30, -(10**30)])
VALUES = st.recursive(
    st.none() | st.booleans() | NUMBERS | st.floats(allow_nan=False, allow_infinity=False) | WORDS,
    lambda inner: (
        st.lists(inner, max_size=4)
        | st.dictionaries(st.sampled_from(["kind", "at", "lines", "page", "word", "id", "x"]), inner, max_size=4)
    ),
    max_leaves=6,
)
ABOUTS = [
    "1.1:r",
    "1.1:v",
    "2.2:r",
    "9.9:r",
    "x:r",
    "1.1",
    "2.3",
    "1.0",
    "4.0",
    "frost",
    "owl",
    "A",
    "e1",
    "e2",
    "window",
    "",
    ODD,
]
FACTS = sorted({name for kind in KINDS.values() for name in kind.facts} | {"scent"})
COMMON = [
    "ruled",
    "begun",
    "written",
    "written",
    "checked",
    "fault",
    "settled",
    "voided",
    "stint-started",
    "stint-stopped",
]


@st.composite
def documents(draw: st.DrawFn) -> list[dict[str, Any]]:
    """Entries as a ledger may hold them, by whatever program: each has an id and a tick, and anything besides."""
    found = []
    for number in range(draw(st.integers(1, 10))):
        what = draw(st.sampled_from([*KINDS, *COMMON * 5, "perfumed"]))
        entry: dict[str, Any] = {
            "entry": draw(st.sampled_from([f"e{number}", "e1", ODD])),
            "tick": draw(st.integers(0, 12)),
            "at": draw(st.sampled_from(["2026-03-02T10:00:00+00:00", "2026-03-02T11:00:00", *TIMES, "", ODD])),
            "hand": draw(st.sampled_from(["A", "B", "Ines", "", ODD])),
            "desk": draw(st.sampled_from(["window", "door", ODD])),
            "what": what,
            "about": draw(st.sampled_from(ABOUTS)),
            "page": draw(WORDS),
        }
        if draw(st.integers(0, 2)):
            entry |= {name: draw(_plausible(sort)) for name, sort in KINDS[what].facts.items()} if what in KINDS else {}
        else:
            entry |= draw(st.dictionaries(st.sampled_from([*FACTS, "at", "hand", "about", "what"]), VALUES, max_size=5))
        found.append(entry)
    return found


def _plausible(sort: type) -> st.SearchStrategy[Any]:
    rows = st.lists(st.tuples(WORDS, NUMBERS, NUMBERS, NUMBERS, st.floats(0, 2)).map(list), max_size=2)
    known: dict[type, st.SearchStrategy[Any]] = {
        int: st.integers(0, 40),
        float: st.floats(0, 90) | st.sampled_from([1e9, 1e300]),
        bool: st.booleans(),
        str: WORDS,
        list: rows | st.lists(WORDS, max_size=2),
        dict: st.fixed_dictionaries(
            {"page": WORDS}, optional={"kind": WORDS, "lines": NUMBERS, "at": VALUES, "id": WORDS}
        ),
    }
    return known[sort]


# --- texts ----------------------------------------------------------------------------------------------------------

_PIECES = [
    "# ",
    "#",
    "| ",
    "|",
    "\n",
    "\n\n",
    "\r\n",
    "\r",
    "\t",
    "{12r}",
    "{12r 14}",
    "{x}",
    "{",
    "}",
    " ",
    "word",
    "a\u0301",
]
TEXTS = st.lists(
    st.sampled_from([*_PIECES, "漢字", ODD, "\0", "\ufeff", "w" * 300, "-", "\u00ad"]) | st.text(max_size=4)
).map("".join)
SAMPLES = st.lists(
    st.sampled_from(["w1 w2 w3", "\t", "52.5", "\t52", "\n", "0", "-1", "1e9", " mm", "é", ODD]), max_size=30
).map("".join)
FORMULAS = st.lists(
    st.sampled_from([*"0123456789-^()+,; ", "⁸", "wants ", "cancelled", "1-6", "^8", "i", "a", ODD]), max_size=14
).map("".join)
_TAGS = ["text", "body", "div", "head", "p", "lg", "l", "pb", "lb", "note", "choice", "sic", "corr", "teiHeader", "x"]
_ATTRIBUTES = ["", ' n="12r"', ' n="3"', ' break="no"', ' n="&lt;"']


@st.composite
def tei(draw: st.DrawFn) -> str:
    """TEI, more or less: well-formed or not, with declarations that must not be obeyed."""
    head = draw(
        st.sampled_from(
            ["", '<?xml version="1.0"?>', '<!DOCTYPE TEI [<!ENTITY a "aa"><!ENTITY b SYSTEM "file:///etc/hosts">]>']
        )
    )
    pieces, opened = [head, '<TEI xmlns="http://www.tei-c.org/ns/1.0"><text><body>'], ["TEI", "text", "body"]
    for _ in range(draw(st.integers(0, 20))):
        step = draw(st.integers(0, 9))
        if step < 4:
            opened.append(draw(st.sampled_from(_TAGS)))
            pieces.append(f"<{opened[-1]}{draw(st.sampled_from(_ATTRIBUTES))}>")
        elif step < 7 and len(opened) > 3:
            pieces.append(f"</{opened.pop()}>")
        else:
            pieces.append(
                draw(
                    st.sampled_from(
                        [
                            "word ",
                            "&amp;",
                            "&a;",
                            "&b;",
                            "&#27;",
                            "&#x202e;",
                            "<!-- -->",
                            "<![CDATA[# ]]>",
                            "<",
                            "\n\n",
                            "# ",
                        ]
                    )
                )
            )
    closing = "".join(f"</{tag}>" for tag in reversed(opened))
    return "".join(pieces) + (closing if draw(st.integers(0, 5)) else "")
