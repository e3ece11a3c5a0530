"""What no book can be: rules between the values of ``book.yaml`` that each on its own are possible.

Each rule says everything it finds. A rule is silent about values that are themselves wrong, since those have
been spoken of already.
"""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from copydesk.book.book import Change, CountedDivision, ExemplarLoan, Flaw, Flow, LeafException, PageSize, Workshop
from copydesk.store import page_rules, space_rules
from copydesk.store.text_rules import only

if TYPE_CHECKING:
    from copydesk.store.sections import Reading

MOST_LEAVES = 200_000


def check(reading: Reading) -> None:
    """Note in ``reading`` everything that cannot be."""
    for rule in (_text, _divisions, _hands, _gatherings, _leaves, _flaws, _changes, _work):
        rule(reading)
    space_rules.check(reading, page_rules.check(reading))


def _text(reading: Reading) -> None:
    """One source of the text: a file, or counted divisions."""
    if not reading.sound("exemplar") or not reading.sound("divisions"):
        return
    loan = reading.value(ExemplarLoan, "exemplar")
    has_text, has_counts = loan is not None and loan.text is not None, bool(reading.value(tuple, "divisions"))
    if has_text and has_counts:
        reading.say(("divisions",), "and the exemplar's text are both given; take one of them out")
    if not has_text and not has_counts:
        what = "gives no text; name its file as text: under it, or count the text's divisions under divisions:"
        reading.say(("exemplar",), what)


def _divisions(reading: Reading) -> None:
    """Each counted once; exemplar lines only where their letters are known."""
    loan = reading.value(ExemplarLoan, "exemplar")
    for at, division in reading.items(CountedDivision, "divisions"):
        path = ("divisions", at)
        if not reading.sound(*path):
            continue
        counts = [count for count in (division.words, division.letters, division.lines) if count is not None]
        if len(counts) != 1:
            told = "has no count" if not counts else "is counted more than once"
            reading.say(path, f"{told}; give one of words, letters or lines")
        elif division.lines is not None and reading.sound("exemplar") and not (loan and loan.letters_per_line):
            reading.say(path, "is counted in lines of the exemplar; give letters_per_line: under exemplar too")
    flow, count = reading.value(Flow, "flow"), len(reading.value(tuple, "divisions") or ())
    if flow is not None and count and reading.sound("divisions"):
        for number in flow.starts:
            if number > count:
                reading.say(("flow", "starts", str(number)), only(count, "divisions"))


def _hands(reading: Reading) -> None:
    """Somebody writes."""
    hands = reading.value(dict, "hands")
    if hands is not None and not hands and reading.sound("hands"):
        reading.say(("hands",), "names nobody; write who writes, as in A: {name: first scribe, letters_per_line: 34}")
    for name, hand in (hands or {}).items():
        path = ("hands", str(name))
        if reading.sound(*path) and "letters_per_line" in hand and "sample" in hand:
            reading.say(path, "has both letters_per_line and a sample; take one of them out")


def _gatherings(reading: Reading) -> None:
    """A formula or a number of sheets, and no more leaves than a book can have."""
    plan = reading.value(dict, "gatherings")
    if plan is None or not reading.sound("gatherings"):
        return
    if "formula" in plan and (double := next((key for key in ("sheets", "count") if key in plan), None)):
        reading.say(("gatherings", double), "is given beside a formula, which says it already; take one out")
    leaves = leaves_planned(reading)
    if leaves is not None and leaves > MOST_LEAVES:
        reading.say(("gatherings",), f"come to {leaves} leaves, more than {MOST_LEAVES}; look at the figures")


def leaves_planned(reading: Reading) -> int | None:
    """The most leaves the book can have, or None where that follows from its text."""
    plan: dict[str, int] = reading.value(dict, "gatherings") or {}
    added = sum(leaf.what == "added after" for _, leaf in reading.items(LeafException, "leaves"))
    if "count" not in plan or "formula" in plan:
        return None
    return plan["count"] * plan.get("sheets", 4) * 2 + added


def _leaves(reading: Reading) -> None:
    """No leaf is two things at once."""
    said: dict[int, int] = {}
    for at, leaf in reading.items(LeafException, "leaves"):
        if leaf.what != "added after" and said.setdefault(leaf.leaf, at) != at:
            reading.say(("leaves", at), f"speaks of leaf {leaf.leaf} a second time; take one of the two out")


def _flaws(reading: Reading) -> None:
    """A flaw lies on its leaf."""
    page = reading.value(PageSize, "page")
    for at, flaw in reading.items(Flaw, "flaws"):
        if page is None or not reading.sound("flaws", at):
            continue
        if flaw.from_head >= page.height:
            what = f"lies below the page, which is {page.height:g} mm high; measure again"
            reading.say(("flaws", at, "from_head"), what)
        if flaw.from_fold >= page.width:
            what = f"lies beyond the page, which is {page.width:g} mm wide; measure again"
            reading.say(("flaws", at, "from_fold"), what)


def _work(reading: Reading) -> None:
    """Some day of the week is worked."""
    workshop = reading.value(Workshop, "workshop")
    if workshop is not None and not workshop.weekdays and reading.sound("workshop", "weekdays"):
        reading.say(("workshop", "weekdays"), "names no day; write the days worked, as in [mon, tue, wed]")


def _changes(reading: Reading) -> None:
    """Changes run forward and keep off each other."""
    changes = [pair for pair in reading.items(Change, "changes") if reading.sound("changes", pair[0])]
    for at, change in changes:
        if change.to_word < change.from_word:
            what = f"stands before from_word, {change.from_word}; write the position of the word after the passage"
            reading.say(("changes", at, "to_word"), what)
    forward = [pair for pair in changes if reading.sound("changes", pair[0])]
    forward.sort(key=lambda pair: (pair[1].from_word, pair[1].to_word))
    reach = -1
    for at, change in forward:
        if change.from_word < reach:
            what = f"begins at word {change.from_word}, inside another change; join the two"
            reading.say(("changes", at), what)
        reach = max(reach, change.to_word)
    twice = Counter(change.from_word for _, change in forward if change.from_word == change.to_word)
    for at, change in forward:
        if twice[change.from_word] > 1 and change.from_word == change.to_word:
            twice[change.from_word] = 0
            reading.say(("changes", at), f"adds words before word {change.from_word} as another does; join the two")
