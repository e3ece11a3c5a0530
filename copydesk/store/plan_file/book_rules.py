"""What no book can be: rules between the values of ``book.yaml`` that each on its own are possible.

Each rule says everything it finds. A rule is silent about values that are themselves wrong, since those have
been spoken of already.
"""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from copydesk.book.common.errors import Refused
from copydesk.book.layout.flaws import flaw_problem
from copydesk.book.plan import Change, CountedDivision, ExemplarLoan, Flaw, Flow, PageSize, SpacePlan, Workshop
from copydesk.store.plan_file import gathering_rules, page_rules, space_rules
from copydesk.store.plan_file.text_rules import spaces_at_no_place, spaces_beyond_divisions, starts_beyond

if TYPE_CHECKING:
    from copydesk.store.plan_file.reading import Reading


def check(reading: Reading) -> None:
    """Note in ``reading`` everything that cannot be."""
    for rule in (_text, _divisions, _counted_text, _hands, _flaws, _changes, _work, _allow, _breaking):
        rule(reading)
    gathering_rules.check(reading)
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


def _counted_text(reading: Reading) -> None:
    """Where the text is counted, nothing points beyond its divisions; how many paragraphs they have is not known."""
    count, flow = len(reading.value(tuple, "divisions") or ()), reading.value(Flow, "flow") or Flow()
    if count and reading.sound("divisions"):
        reading.say_all(starts_beyond(flow.starts, count))
        reading.say_all(spaces_beyond_divisions(reading.items(SpacePlan, "spaces"), [None] * count))
        reading.say_all(spaces_at_no_place(reading.items(SpacePlan, "spaces"), None))


def _hands(reading: Reading) -> None:
    """Somebody writes."""
    hands = reading.value(dict, "hands")
    if hands is not None and not hands and reading.sound("hands"):
        reading.say(("hands",), "names nobody; write who writes, as in A: {name: first scribe, letters_per_line: 34}")


def _flaws(reading: Reading) -> None:
    """A flaw lies on its leaf."""
    page = reading.value(PageSize, "page")
    for at, flaw in reading.items(Flaw, "flaws"):
        if page is None or not reading.sound("flaws", at):
            continue
        problem = flaw_problem(page.width, page.height, flaw, page_rules.unit_of(reading))
        if problem is not None:
            across = flaw.from_fold + flaw.width > page.width
            reading.tell(("flaws", at, "from_fold" if across else "from_head"), problem)


def _work(reading: Reading) -> None:
    """Some day of the week is worked."""
    workshop = reading.value(Workshop, "workshop")
    if workshop is not None and not workshop.weekdays and reading.sound("workshop", "weekdays"):
        reading.say(("workshop", "weekdays"), "names no day; write the days worked, as in [mon, tue, wed]")


def _breaking(reading: Reading) -> None:
    """Words are broken by the rules of a language that is named and known."""
    if reading.value(str, "line_breaks") != "syllables":
        return
    language = reading.value(str, "language")
    if language is None:
        if reading.sound("language"):
            reading.say(("line_breaks",), "is syllables, and no language is named; add language: with its code, as en")
        return
    from copydesk.book.text.hyphenation import divider

    try:
        divider(language)
    except Refused as refused:
        reading.tell(("language",), str(refused.problems[0].what))


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


def _allow(reading: Reading) -> None:
    """Only what comparing can overlook is allowed."""
    given = reading.value(dict, "allow")
    if given:
        from copydesk.comparing.normalization import Allowances

        for key, value in given.items():
            try:
                Allowances.from_mapping({key: value})
            except Refused as error:
                reading.tell(("allow", key), error.problems[0].what)
