"""Rules between the values of ``book.yaml`` that are each possible on their own.

Each rule notes everything it finds. A rule says nothing about values that are themselves wrong, since those are
noted already.
"""

from __future__ import annotations

from collections import Counter
from itertools import chain
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book import plan as book
from copydesk.book.checks import ALOUD, NeverScraped, ReadingRules
from copydesk.book.common.errors import CopydeskError
from copydesk.book.common.phrases import count_of
from copydesk.book.flow import CountedDivision, ExemplarLoan, Flow
from copydesk.book.layout.flaws import flaw_problem
from copydesk.store.plan_file import layout_rules
from copydesk.store.plan_file import reference_rules as beyond

if TYPE_CHECKING:
    from collections.abc import Iterator

    from copydesk.store.plan_file.reading import Path, Reading


def check(reading: Reading) -> None:
    """Note in ``reading`` everything that cannot be."""
    rules = (
        _text,
        _divisions,
        _counted_text,
        _hands,
        _flaws,
        _changes,
        _passes,
        _titles,
        _work,
        _allow,
        _breaking,
        _gatherings,
        _readings,
    )
    for rule in rules:
        rule(reading)
    layout_rules.check(reading)


def _text(reading: Reading) -> None:
    """One source of the text: a file, or counted divisions."""
    if not reading.sound("exemplar") or not reading.sound("divisions"):
        return
    loan = reading.value(ExemplarLoan, "exemplar")
    has_text, has_counts = loan is not None and loan.text is not None, bool(reading.value(tuple, "divisions"))
    if has_text and has_counts:
        reading.reject(("divisions",), "and the exemplar's text are both given; take one of them out")
    if not has_text and not has_counts:
        what = "gives no text; name its file as text: under it, or count the text's divisions under divisions:"
        reading.reject(("exemplar",), what)


def _divisions(reading: Reading) -> None:
    """Each counted once; exemplar lines only where their letters are known."""
    loan = reading.value(ExemplarLoan, "exemplar")
    for at, division in reading.items(CountedDivision, "divisions"):
        path = ("divisions", at)
        if not reading.sound(*path):
            continue
        counts = [count for count in (division.words, division.letters, division.lines) if count is not None]
        if len(counts) != 1:
            fault = "has no count" if not counts else "is counted more than once"
            reading.reject(path, f"{fault}; give one of words, letters or lines")
        elif division.lines is not None and reading.sound("exemplar") and not (loan and loan.letters_per_line):
            reading.reject(path, "is counted in lines of the exemplar; give letters_per_line: under exemplar too")


def _counted_text(reading: Reading) -> None:
    """Where the text is counted, nothing points beyond its divisions; how many paragraphs they have is not known."""
    count, flow = len(reading.value(tuple, "divisions") or ()), reading.value(Flow, "flow") or Flow()
    if count and reading.sound("divisions"):
        reading.reject_all(beyond.starts_beyond(flow.starts, count))
        reading.reject_all(beyond.titles_beyond(reading, count))
        reading.reject_all(beyond.spaces_beyond_divisions(reading.items(book.SpacePlan, "spaces"), [None] * count))
        reading.reject_all(beyond.spaces_at_no_place(reading.items(book.SpacePlan, "spaces"), None))


def _titles(reading: Reading) -> None:
    """Words above the text stand above it; a pass writes them, and the list of contents."""
    page, titles = reading.value(book.PageSize, "page"), reading.value(book.RunningTitles, "titles")
    names = {each.name for _, each in reading.items(book.PassPlan, "passes")}
    head = page.margins.head if page is not None and page.margins.canon is None else None
    from_head = titles.from_head if titles is not None else None
    if head is not None and from_head is not None and from_head > head:
        what = f"is {from_head:g}, and the text begins {head:g} mm from the head; write less"
        reading.reject(("titles", "from_head"), what)
    for key in ("titles", "contents"):
        value = reading.value(tuple, key)
        says_more = value is not None and value != type(value)()  # an edit may leave the key with nothing under it
        if says_more and key not in names and reading.sound("passes"):
            reading.reject((key,), f"needs a pass that writes it; add {key} to the list under passes:")


def _hands(reading: Reading) -> None:
    """Somebody writes."""
    hands = reading.value(dict, "hands")
    if hands is not None and not hands and reading.sound("hands"):
        reading.reject(("hands",), "names nobody; write who writes, as in A: {name: first, letters_per_line: 34}")


def _flaws(reading: Reading) -> None:
    """A flaw lies on its leaf."""
    page = reading.value(book.PageSize, "page")
    for at, flaw in reading.items(book.Flaw, "flaws"):
        if page is None or not reading.sound("flaws", at):
            continue
        problem = flaw_problem(page.width, page.height, flaw, layout_rules.unit_of(reading))
        if problem is not None:
            across = flaw.from_fold + flaw.width > page.width
            reading.reject_with(("flaws", at, "from_fold" if across else "from_head"), problem)


def _passes(reading: Reading) -> None:
    """The text first, each pass once, none before the artist that follows one after; done by people of the book."""
    known = {*map(str, reading.value(dict, "hands") or {})}
    workshop = reading.value(book.Workshop, "workshop")
    listed_in = [space for _, space in reading.items(book.SpacePlan, "spaces") if space.kind == "contents"]
    artist, names, after = workshop.artist if workshop is not None else "", set[str](), ""
    for at, each in reading.items(book.PassPlan, "passes"):
        path = ("passes", at)
        if at == 0 and each.name != "text":
            reading.reject((*path, "name"), f"is {each.name}, and no pass comes before the text; write text above it")
        elif each.name in names:
            reading.reject((*path, "name"), f"is {each.name} a second time; take one of the two out")
        elif each.name == "text" and each.artist == "after":
            reading.reject((*path, "artist"), "is after, and the artist paints on written pages; take it out")
        elif after and each.artist == "before":
            what = f"is before, and {after} above it comes after the artist; put {each.name} above {after}"
            reading.reject((*path, "artist"), what)
        after = each.name if each.artist == "after" else after
        names.add(each.name)
        if each.name == "contents" and not listed_in:
            what = "is contents, and no space keeps its room; add a space of the kind contents, tied to a page"
            reading.reject((*path, "name"), what)
        if each.hand and known and each.hand not in known | {artist}:
            artists = f", or {artist}, who decorates the book" if artist else ""
            reading.reject((*path, "hand"), f"is {each.hand}; name one of the hands, {', '.join(known)}{artists}")


def _work(reading: Reading) -> None:
    """Some day of the week is worked."""
    workshop = reading.value(book.Workshop, "workshop")
    if workshop is not None and not workshop.weekdays and reading.sound("workshop", "weekdays"):
        reading.reject(("workshop", "weekdays"), "names no day; write the days worked, as in [mon, tue, wed]")


def _breaking(reading: Reading) -> None:
    """Words are broken by the rules of a language that is named and known."""
    if reading.value(str, "line_breaks") != "syllables":
        return
    language = reading.value(str, "language")
    if language is None and reading.sound("language"):
        reading.reject(("line_breaks",), "is syllables, and no language is named; add language: with its code, as en")
    if language is None:
        return
    from copydesk.book.text.hyphenation import divider

    try:
        divider(language)
    except CopydeskError as refused:
        reading.reject_with(("language",), str(refused.problems[0].what))


def _changes(reading: Reading) -> None:
    """Changes run forward and keep off each other."""
    changes = [pair for pair in reading.items(book.Change, "changes") if reading.sound("changes", pair[0])]
    for at, change in changes:
        if change.to_word < change.from_word:
            what = f"stands before from_word, {change.from_word}; write the position of the word after the passage"
            reading.reject(("changes", at, "to_word"), what)
    forward = [pair for pair in changes if reading.sound("changes", pair[0])]
    forward.sort(key=lambda pair: (pair[1].from_word, pair[1].to_word))
    reach = -1
    for at, change in forward:
        if change.from_word < reach:
            what = f"begins at word {change.from_word}, inside another change; join the two"
            reading.reject(("changes", at), what)
        reach = max(reach, change.to_word)
    twice = Counter(change.from_word for _, change in forward if change.from_word == change.to_word)
    for at, change in forward:
        if twice[change.from_word] > 1 and change.from_word == change.to_word:
            twice[change.from_word] = 0
            reading.reject(("changes", at), f"adds words before word {change.from_word} as another does; join the two")


def _allow(reading: Reading) -> None:
    """Only what comparing can overlook is allowed."""
    given = reading.value(dict, "allow")
    if given:
        from copydesk.comparing.normalization import Allowances

        for key, value in given.items():
            try:
                Allowances.from_mapping({key: value})
            except CopydeskError as error:
                reading.reject_with(("allow", key), error.problems[0].what)


_TIES = ("words", "from_word", "page")
_BESIDE = {"to_word": "from_word", "column": "page", "line": "page"}


def _readings(reading: Reading) -> None:
    """Pages are read by people there are; what may not be scraped is one thing, named whole."""
    rules = reading.value(ReadingRules, "readings")
    if rules is not None and reading.sound("readings"):
        reading.reject_all(_readers(reading, rules))
    for at, entry in reading.items(NeverScraped, "never_scraped"):
        if reading.sound("never_scraped", at):
            reading.reject_all(_entry(reading, ("never_scraped", at), entry))


def _readers(reading: Reading, rules: ReadingRules) -> Iterator[tuple[Path, str]]:
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


def _entry(reading: Reading, path: Path, entry: NeverScraped) -> Iterator[tuple[Path, str]]:
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
        yield (*path, "column"), beyond.only(columns.count, "column")


MOST_LEAVES = 200_000


class Size(NamedTuple):
    """How many gatherings and leaves a plan fixes."""

    gatherings: int
    leaves: int


def _gatherings(reading: Reading) -> None:
    """Note what is wrong with the gatherings, the leaves planned otherwise, and what points at leaves."""
    _leaves(reading)
    plan = reading.value(dict, "gatherings")
    if plan is None or not reading.sound("gatherings"):
        return
    size = _by_formula(reading, plan) if "formula" in plan else _by_number(plan)
    if size is None:
        return
    if size.leaves > MOST_LEAVES:
        reading.reject(("gatherings",), f"come to {size.leaves} leaves, more than {MOST_LEAVES}; look at the figures")
        return
    _pages(reading, size)


def _by_formula(reading: Reading, plan: dict[str, str]) -> Size | None:
    from copydesk.book.formula.collation_formula import parse

    if double := next((key for key in ("sheets", "count") if key in plan), None):
        reading.reject(("gatherings", double), "is given beside a formula, which says it already; take one out")
    parsed = parse(plan["formula"])
    try:
        parsed.collation()
    except CopydeskError as error:
        reading.reject_with(("gatherings", "formula"), error.problems[0].what)
        return None
    return Size(len(parsed.gatherings), parsed.leaves)


def _by_number(plan: dict[str, int]) -> Size | None:
    """What the plan fixes, or None where that follows from the text."""
    if "count" not in plan:
        return None
    return Size(plan["count"], plan["count"] * plan.get("sheets", 4) * 2)


def _leaves(reading: Reading) -> None:
    """No leaf is two things at once."""
    said: dict[int, int] = {}
    for at, leaf in reading.items(book.LeafException, "leaves"):
        if leaf.what != "added after" and said.setdefault(leaf.leaf, at) != at:
            reading.reject(("leaves", at), f"speaks of leaf {leaf.leaf} a second time; take one of the two out")


def _pages(reading: Reading, size: Size) -> None:
    """Pages are counted with the leaves that are added; leaves planned otherwise, without."""
    added = sum(leaf.what == "added after" for _, leaf in reading.items(book.LeafException, "leaves"))
    hands = reading.value(dict, "hands") or {}
    numbers = ((str(name), tuple(chain(*hand.get("gatherings", ())))) for name, hand in hands.items())
    reading.reject_all(beyond.spaces_beyond_leaves(reading.items(book.SpacePlan, "spaces"), size.leaves + added))
    unscraped = reading.items(NeverScraped, "never_scraped")
    reading.reject_all(beyond.unscraped_beyond_leaves(unscraped, size.leaves + added))
    reading.reject_all(beyond.leaves_beyond("flaws", reading.items(book.Flaw, "flaws"), size.leaves + added))
    reading.reject_all(beyond.leaves_beyond("leaves", reading.items(book.LeafException, "leaves"), size.leaves))
    reading.reject_all(beyond.hands_beyond(numbers, size.gatherings))
