"""A book in which every text field holds what a terminal would obey, what turns writing round, markup and formulas."""

from __future__ import annotations

import json
import os
from typing import TYPE_CHECKING, Any

from copydesk.store.journal.line_format import Header, entry_line, header_line
from copydesk.tracking.ledger.entry_kinds import KINDS

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

HIDDEN = "\u202eturned\u202c \u200bzero\u200d \u2066apart\u2069 \ufeff\u00ad\u061c"
"""What turns the direction of writing, and what takes no room."""
MARKUP = "[bold red]R[/] [@click=app.quit]Q[/] <b onload=x>&amp;\"'</b> ]]> <!ENTITY {{x}} %s $(x) `x`"
CONTROLS = "\x1b[31m\x1b]0;title\x07\x9b2J\x08\x00\r\x85\u2028\u2029\x7f"
"""What a terminal would obey; the plan and the exemplar are refused with it, a ledger may come from anywhere."""
PLANNED = f"=cmd|'x'!A1 {HIDDEN} {MARKUP}"
RECORDED = f"=cmd|'x'!A1 {CONTROLS} {HIDDEN} {MARKUP}"
NEVER_SHOWN = frozenset(HIDDEN + CONTROLS) - frozenset("turnedzeroapart ") - frozenset("[31m]0;title2J\r")
"""Characters that no output for people may hold. (A line end is what parts the lines of an output.)"""


def hostile_plan() -> str:
    """A plan with hostile text in every key that takes one."""
    text = json.dumps(PLANNED)
    return f"""
title: {text}
exemplar: {{text: exemplar.txt, lent_by: {text}, due: 2027-03-31}}
page: {{width: 170, height: 240, margins: {{inner: 18, head: 24, outer: 36, foot: 48}}}}
columns: {{count: 2, gap: 10}}
ruling: {{lines: 12}}
script: {{name: {text}, nib: 1.2, x_height: 4.5, ascender: 3, descender: 3,
  ink: {text}, pen: {text}, pounce: {text}}}
hands:
  A: {{name: {text}, letters_per_line: 34, sample: sample.txt}}
  "=B": {{name: {text}, letters_per_line: 30}}
gatherings: {{sheets: 2}}
skins: {{width: 700, height: 500, trim: 5, spoilage: 0.1, days: {{soak: 1, "=lime": 9}}}}
spaces:
  - {{id: "=frost", kind: miniature, at: {{division: 2}}, lines: 4, subject: {text}, instruction: {text},
     guide_letter: "=\u202eX", materials: [{text}, gold leaf], artist: {text}, hours: 3}}
  - {{id: ford, kind: initial, at: {{division: 1, paragraph: 1}}, lines: 3, subject: {text}}}
changes:
  - {{from_word: 20, to_word: 24, write: {text}, why: {text}, who: {text}}}
passes:
  - {{name: text, ink: {text}, hand: {text}}}
  - {{name: rubrics, ink: {text}, hand: {text}}}
  - {{name: titles, ink: {text}, artist: after}}
titles: {{words: {{1: {text}}}}}
readings: {{ways: [silently], readers: [{text}]}}
never_scraped:
  - {{words: {text}, why: {text}}}
workshop: {{artist: {text}, binder: {text}}}
"""


def hostile_text() -> str:
    """An exemplar whose words are hostile."""
    words = " ".join(f"w{at} {PLANNED}" if at % 9 == 0 else f"w{at}" for at in range(300))
    return f"# {PLANNED}\n{words}\n\n| {PLANNED}\n| {{3r 2}} a verse\n\n# {PLANNED}\n{words}\n"


def hostile_entries() -> Iterator[dict[str, Any]]:
    """An entry of every kind, each text in it hostile; first sound work for them to be about."""
    tick = 0
    common = {"at": "2026-03-02T10:00:00+00:00", "hand": "A", "desk": RECORDED}
    for page, label in (("1.1:r", "1r"), ("1.1:v", "1v"), ("1.2:r", "2r")):
        tick += 1
        facts = {"from_line": 1, "to_line": 24, "from_word": 0, "to_word": 40 * tick, "whole": True, "note": RECORDED}
        yield {
            **common,
            "entry": f"sound{tick}",
            "tick": tick,
            "what": "written",
            "about": page,
            "page": label,
            **facts,
        }
    for what, kind in KINDS.items():
        for about in _subjects(kind.about):
            tick += 1
            facts = {name: _fact(name, sort) for name, sort in kind.facts.items()}
            on_page = {"page": RECORDED} if kind.about == "page" and tick % 2 else {"page": "1r"}
            head = {"entry": f"e{tick}", "tick": tick, "what": what, "about": about}
            yield {**common, "hand": RECORDED if tick % 3 else "A", **head, **on_page, **facts}
    for at, what in (("soon \x1b[1m", "note"), (RECORDED, "at-desk"), ("", RECORDED)):
        tick += 1
        yield {"entry": RECORDED + str(tick), "tick": tick, "at": at, "desk": RECORDED, "what": what, "about": RECORDED}


def _subjects(about: str) -> list[str]:
    known = {"page": ["1.1:r", "1.2:r"], "space": ["=frost"], "sheet": ["1.1"], "leaf": ["1.3"], "skins": ["A\x1b"]}
    return [*known.get(about, [""]), RECORDED]


def _fact(name: str, sort: type) -> object:
    if sort is str:
        return RECORDED
    if sort is list:
        return [[RECORDED, 1, 1, 2, 0.5], RECORDED] if name == "placements" else [RECORDED]
    if sort is dict:
        return {
            "kind": RECORDED,
            "at": {"page": "1v"},
            "subject": RECORDED,
            "lines": 2,
            "id": RECORDED,
            "page": RECORDED,
        }
    return {int: 1, float: 2.5, bool: True}[sort]


def make_hostile_book(folder: Path) -> Path:
    """The folder, filled."""
    folder.mkdir()
    (folder / "book.yaml").write_text(hostile_plan(), "utf-8")
    (folder / "exemplar.txt").write_text(hostile_text(), "utf-8")
    (folder / "sample.txt").write_text(f"{PLANNED}\t110\nw1 w2 {HIDDEN}\n" * 12, "utf-8")
    lines = [entry_line(number, [entry]) for number, entry in enumerate(hostile_entries(), 1)]
    (folder / "ledger.jsonl").write_bytes(header_line(Header(1, os.urandom(8).hex())) + b"".join(lines))
    return folder
