"""Rules of ``readings:`` and ``never_scraped:`` in ``book.yaml``: who can read at all, and what each entry names.

Each rule notes everything it finds, and says nothing of values that are themselves wrong.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book import plan as book
from copydesk.book.checks import ALOUD, NeverScraped, ReadingRules
from copydesk.book.common.phrases import count_of
from copydesk.store.plan_file.reference_rules import only

if TYPE_CHECKING:
    from collections.abc import Iterator

    from copydesk.store.plan_file.reading import Path, Reading

    Found = Iterator[tuple[Path, str]]


_TIES = ("words", "from_word", "page")
_BESIDE = {"to_word": "from_word", "column": "page", "line": "page"}


def check(reading: Reading) -> None:
    """Note in ``reading`` everything that cannot be."""
    rules = reading.value(ReadingRules, "readings")
    if rules is not None and reading.sound("readings"):
        reading.reject_all(_readers(reading, rules))
    for at, entry in reading.items(NeverScraped, "never_scraped"):
        if reading.sound("never_scraped", at):
            reading.reject_all(_entry(reading, ("never_scraped", at), entry))


def _readers(reading: Reading, rules: ReadingRules) -> Found:
    """Enough people for what is wanted: others than the writer of a page, another each time, two to read aloud."""
    hands = {str(name) for name in reading.value(dict, "hands") or {}}
    for name in dict.fromkeys(rules.readers):
        if name in hands:
            yield ("readings", "readers"), f"names {name}, who writes and may read as any hand may; take {name} out"
    if not rules.ways:
        if rules.by != "anyone":
            yield ("readings", "by"), "says who reads, and no reading is named; write ways:, as in [silently]"
        return
    workshop = reading.value(book.Workshop, "workshop") or book.Workshop()
    people = {*hands, *rules.readers, *workshop.others}
    others = len(people) - 1
    needed = {"anyone": 0, "not a writer": 1, "a new reader each time": len(rules.ways)}[rules.by]
    if others < needed and hands:
        who = count_of(others, "other person", "other people") if others else "nobody else"
        what = f"needs {count_of(needed, 'reader')} beside the writer of a page, and the book names {who}"
        yield ("readings", "by"), f"{what}; name who reads under readers:"
    if ALOUD in rules.ways and hands and len(people) < 2:
        yield (
            ("readings", "ways"),
            "names a reading by two, and the book names one person; name who reads under readers:",
        )


def _entry(reading: Reading, path: Path, entry: NeverScraped) -> Found:
    """An entry says one thing, and whole."""
    ties = [tie for tie in _TIES if getattr(entry, tie) not in ("", None)]
    if len(ties) != 1:
        fault = f"names {ties[0]} and {ties[1]}" if ties else "names nothing"
        yield path, f"{fault}; give one of words, from_word with to_word, or page"
        return
    for key, tie in _BESIDE.items():
        if getattr(entry, key) is not None and tie not in ties:
            yield (*path, key), f"means something only beside {tie}:; take it out"
    if entry.from_word is not None and entry.to_word is None:
        yield path, "begins a passage and does not end it; give to_word: too, the first word after it"
    if entry.from_word is not None and entry.to_word is not None and entry.to_word <= entry.from_word:
        yield (*path, "to_word"), f"must be above from_word, {entry.from_word}; write the first word after the passage"
    columns = reading.value(book.Columns, "columns") or book.Columns()
    if entry.page and entry.column is not None and reading.sound("columns") and entry.column > columns.count:
        yield (*path, "column"), only(columns.count, "column")
