"""``copydesk record BOOK WHERE WHAT``: an entry, safe on disk when the command returns."""

from __future__ import annotations

from argparse import Namespace
from typing import TYPE_CHECKING, Any

from copydesk.book.checks import WAYS
from copydesk.book.columns import Cell, Report, given, one_of
from copydesk.book.common.errors import InvalidValueError, UnknownNameError, UnlikelyError
from copydesk.book.common.typed_values import read_minutes, read_whole, read_wholes
from copydesk.book.layout.passes import TAKES
from copydesk.cli.exit_codes import ExitCode, remark
from copydesk.cli.open_book import add_book, add_typed, add_words, leave_book, open_book
from copydesk.cli.output import give_json, say
from copydesk.cli.verbs.record_binding import binding_act, is_binding_act
from copydesk.cli.verbs.record_change import add_change_facts, change_act
from copydesk.cli.verbs.record_leaf import add_leaf_facts, is_leaf_act, leaf_act
from copydesk.cli.verbs.record_skins import add_skin_facts, is_skin_act, skin_act
from copydesk.cli.verbs.record_space import add_space_facts, space_act_given
from copydesk.cli.verbs.record_stint import add_stint_facts, is_stint_act, stint_act
from copydesk.comparing.faults import KIND_WORDS
from copydesk.tracking.commands.check_commands import read_to, remarks_on
from copydesk.tracking.commands.page_commands import Commands
from copydesk.tracking.commands.several import each_place
from copydesk.tracking.log.entry_text import describe
from copydesk.tracking.views.consequences import ALSO
from copydesk.tracking.views.entry_cautions import shown_cautions

if TYPE_CHECKING:
    from argparse import ArgumentParser
    from collections.abc import Mapping
    from datetime import datetime

    from copydesk.book.structure.page import Page
    from copydesk.job import Job
    from copydesk.tracking.ledger.entry import Act, Entry
    from copydesk.tracking.state.book_state import BookState


SAYS = (
    "Records what happened at WHERE; it is safe on disk when the command returns.\n"
    "  a page, 12r       ruled, begun, written, checked, read-to, fault, settled, held, released, changed, or a pass\n"
    "  text              changed: left out or put differently on purpose\n"
    "  sheet:3.2         desk, drying, checker, artist, press, walked, replaced, added-inside, cut (from --batch)\n"
    "  space:frost       drawn, gilded, coloured, outlined, done, left-empty, resized\n"
    "                    (--lines), moved (--at), added (--kind --at --lines), given-up\n"
    "  leaf:5            cancelled, replaced, wanting, added-after (or -before), flaw\n"
    "  gathering:3       added-round (a sheet), added-gathering (at the end)\n"
    "  flyleaf:ii        walked (found there); flyleaf:front and :back pasted down\n"
    "  skins:A           soak, lime ... as the book names its steps, next, ready\n"
    "  book, desk, stint bound (--who); at-desk (--hand); started, paused, stopped\n"
    "Several take ruled, written, checked, a place or a stage at once, all or nothing: 17v-24v, 9r,10v, gathering:3."
)
EXAMPLES = (
    "copydesk record my-book 12r written",
    'copydesk record my-book 12r written --hand B --to-line 15 --ends "and the ford"',
    "copydesk record my-book 12r rubrics --left 2",
    "copydesk record my-book 12r fault --kind omission --column 1 --line 7 --should water",
    'copydesk record my-book 12r checked --hand B --how "aloud by two" --with Mera',
    "copydesk record my-book sheet:3.2 artist",
    "copydesk record my-book gathering:3 ruled",
    "copydesk record my-book space:frost gilded",
    "copydesk record my-book space:frost resized --lines 14",
    'copydesk record my-book space:frost moved --at "division 3 paragraph 2"',
    'copydesk record my-book space:owl added --kind miniature --at "page 12r" --lines 8 --subject "an owl"',
    'copydesk record my-book text changed --from "the old mill" --to "no longer" --why "at the owner\'s wish"',
    "copydesk record my-book skins:A lime --skins 6",
    'copydesk record my-book stint started --ink "oak-gall, the second jar" --pen "goose quill"',
    "copydesk record my-book sheet:3.2 cut --batch A --skin 4",
    "copydesk record my-book leaf:5 replaced",
    "copydesk record my-book leaf:8 added-after --tipped --recto hair",
    "copydesk record my-book leaf:11 flaw --from-head 120 --from-fold 60 --width 15 --height 9",
)


JSON: Report[Mapping[str, Any]] = one_of(
    "record",
    "The entry made.",
    given("entry", Cell.TEXT, "its name"),
    given("page", Cell.PAGE, "the page it is about"),
    given("sheet", Cell.TEXT, "the sheet it is about"),
    given("space", Cell.TEXT, "the space it is about"),
    given("leaf", Cell.TEXT, "the leaf it is about"),
    given("flyleaf", Cell.TEXT, "the flyleaf it is about"),
    given("skins", Cell.TEXT, "the batch of skins it is about"),
    given("text", Cell.TEXT, "the text it is about"),
    given("book", Cell.TEXT, "the book it is about"),
    given("desk", Cell.TEXT, "the desk it is about"),
    given("what", Cell.TEXT, "what it records"),
    ALSO,
    given("entries", Cell.OBJECT, "where several were made: each of them, a list"),
    given("cautions", Cell.TEXTS, "the cautions for it that were not given today at this desk, where there are any"),
)
"""The keys of the verb's JSON."""


def add_arguments(parser: ArgumentParser) -> None:
    """Where, what, and the facts."""
    add_book(parser)
    where = "12r, sheet:3.2, space:ID, leaf:N, gathering:N, flyleaf:ii, text, book"
    parser.add_argument("where", metavar="WHERE", help=where)
    parser.add_argument("what", metavar="WHAT", help="what happened")
    parser.add_argument("--try", action="store_true", dest="only_try", help="tell what would follow; record nothing")
    add_words(parser, "--hand", help="who did it; the hand at this desk otherwise")
    parser.add_argument("--note", default="", help="anything to be remembered")
    add_typed(parser, "--minutes", read_minutes, help="how long it took")
    add_words(parser, "--who", help="who has the sheet now, decided a change, or bound the book")
    page = parser.add_argument_group("of a page")
    add_typed(page, "--to-line", read_whole, metavar="N", help="the last text line, through the columns")
    add_words(page, "--begins", metavar="WORDS", help="the page's first words, if not as planned")
    ends = "the last words written, if not as planned; of a counted text their place, 'division 2 word 812'"
    add_words(page, "--ends", metavar="WORDS", help=ends)
    sure = "record an end or a beginning though hardly any hand can have reached it; a pass before its turn"
    page.add_argument("--sure", action="store_true", help=sure)
    add_typed(page, "--left", read_wholes, metavar="N,N", help="of a pass: the things left open, by their numbers")
    page.add_argument("--in-line", action="store_true", help="the pen stopped within the line of --to-line")
    page.add_argument("--read", action="store_true", help="every line of the page checked was read")
    add_words(page, "--how", help=f"how it was read: {', '.join(WAYS)}")
    add_words(page, "--with", dest="beside", metavar="WHO", help="who read aloud, where two did")
    fault = parser.add_argument_group("of a fault")
    add_words(fault, "--kind", help="its kind, as in omission; of a space added, its kind")
    add_typed(fault, "--column", read_whole, help="its column")
    add_typed(fault, "--line", read_whole, help="its line in that column")
    fault.add_argument("--stands", help="what stands there")
    fault.add_argument("--should", help="what should stand there")
    add_words(fault, "--fault", metavar="NUMBER", help="the number of the fault that is mended, from copydesk faults")
    add_words(fault, "--remedy", help="scraped, expunged, struck, interlined, ...")
    add_change_facts(parser.add_argument_group("of a change of the text"))
    add_leaf_facts(parser.add_argument_group("of a leaf or a flaw"))
    add_skin_facts(parser.add_argument_group("of skins"))
    add_space_facts(parser.add_argument_group("of a space"))
    add_stint_facts(parser.add_argument_group("of a stint"))


def run(arguments: Namespace) -> ExitCode:
    """Record it."""
    job = open_book(arguments)
    if is_stint_act(arguments.where):
        acts = [stint_act(job, arguments)]
    else:
        acts = _acts(Commands(job.state, arguments.hand or job.hand), arguments, job.clock())
    if arguments.only_try:
        return _tried(job, acts, arguments)
    entries = job.record_all(acts, hand=arguments.hand)
    state, entry = job.state, entries[-1]
    beside = list(dict.fromkeys(said for each in entries for said in _beside(state, each)))
    also, cautions = _untold(job.also, beside), shown_cautions(job.cautions())
    leave_book(job)
    if arguments.json:
        cautioned = {"cautions": cautions} if cautions else {}
        several = {"entries": [JSON.data(_named(each)) for each in entries]} if len(entries) > 1 else {}
        give_json(JSON.data({**_named(entry), "also": [*beside, *also], **cautioned, **several}))
    else:
        say(*(describe(each, state) for each in entries), *also)
        remark(*cautions)
    remark(*dict.fromkeys(said for each in entries for said in remarks_on(state, each)), *beside)
    return ExitCode.DONE


def _tried(job: Job, acts: list[Act], given: Namespace) -> ExitCode:
    from copydesk.tracking.planning.space_effect import effect_of

    effect = effect_of(job.state, acts)
    leave_book(job)
    if given.json:
        give_json(JSON.data({"what": given.what, "also": effect}))
    else:
        say(*effect, "Nothing is recorded.")
    return ExitCode.DONE


def _named(entry: Entry) -> dict[str, object]:
    """What an entry is about, for other programs."""
    kind = entry.subject[0]
    about = {"page": entry.page} if kind == "page" else {kind: entry.about}
    sheet = {"sheet": entry.text("sheet")} if entry.text("sheet") else {}
    return {"entry": entry.entry, **about, **sheet, "what": entry.what}


_OF_ONE = ("to_line", "begins", "ends", "in_line", "left")


def _acts(commands: Commands, given: Namespace, now: datetime) -> list[Act]:
    """The acts, one for each place that is named."""
    places = each_place(commands.state, given.where, given.what)
    if len(places) == 1:
        given.where = places[0]
        return [_act(commands, given, now)]
    if told := next((name for name in _OF_ONE if getattr(given, name) not in ("", None, False)), None):
        raise InvalidValueError(f"--{told.replace('_', '-')} is said of one page; leave it out for several")
    minutes = None if given.minutes is None else given.minutes / len(places)
    shared = {**vars(given), "minutes": minutes}
    return [_act(commands, Namespace(**{**shared, "where": place}), now) for place in places]


def _beside(state: BookState, entry: Entry) -> list[str]:
    """What an entry about a page has made of the text beside it: skipped, written twice, tight or loose."""
    from copydesk.desk.wording.stretch_words import after_sentences

    return after_sentences(state, entry)


def _untold(also: list[str], beside: list[str]) -> list[str]:
    from copydesk.desk.wording.stretch_words import untold

    return untold(also, " ".join(beside))


def _act(commands: Commands, given: Namespace, now: datetime) -> Act:
    kind, colon, name = given.where.partition(":")
    if given.where == "text":
        return change_act(commands.state, given)
    if is_binding_act(kind, given.what):
        return binding_act(commands.state, kind, name, given)
    if not colon:
        return _page_act(commands, commands.state.book.page_called(given.where), given, now)
    if is_skin_act(kind, given.what):
        return skin_act(commands.state, kind, name, given, now.date())
    if is_leaf_act(kind, given.what):
        return leaf_act(commands.state, kind, name, given)
    if kind == "sheet":
        return commands.sheet(name, given.what, given.who, note=given.note, at=now.isoformat())
    if kind == "space":
        return space_act_given(commands.state, name, given)
    known = "a page as 12r, or text, book, desk, stint, sheet:3.2, space:ID, leaf:5, flyleaf:ii, skins:A"
    raise UnknownNameError(f"{given.where!r} is not a place; write {known}")


_PAGE_FACTS = {
    "ruled": ("minutes", "note"),
    "begun": ("begins", "sure", "minutes", "note"),
    "written": ("to_line", "begins", "ends", "in_line", "sure", "minutes", "note"),
    "checked": ("read", "how", "beside", "minutes", "note"),
    "read-to": ("to_line",),
    "fault": ("kind", "column", "line", "stands", "should", "note"),
    "settled": ("fault", "remedy", "note"),
    "held": ("begins", "sure", "note"),
    "released": (),
    **dict.fromkeys(TAKES, ("left", "sure", "minutes", "note")),
}
"""What can be said of each thing that happens to a page; the rest would be lost without a word."""


_OPTIONS = {"beside": "with"}
"""Names of options that are not those of what they give."""


def _expect_fitting(given: Namespace) -> None:
    """See that nothing is said that the entry does not keep.

    Raises:
        InvalidValueError: naming what does not belong.
    """
    fitting = _PAGE_FACTS.get(given.what)
    if fitting is None:
        return
    known = dict.fromkeys(name for names in _PAGE_FACTS.values() for name in names)
    for name in known:
        if name not in fitting and getattr(given, name) not in ("", None, False):
            raise InvalidValueError(
                f"--{_OPTIONS.get(name, name.replace('_', '-'))} says nothing of a page {given.what}; leave it out"
            )


def _fault_kind(kind: str) -> str:
    """A fault's kind as it is known, or in people's own words where it is none of those.

    Raises:
        CopydeskError: where it looks like a slip of the pen for a known one, which no list or count would then find.
    """
    from difflib import get_close_matches

    known = [str(each) for each in KIND_WORDS]
    plain_kind = " ".join(kind.casefold().replace("_", " ").split())
    meant = {each.replace("-", " "): each for each in known}.get(plain_kind.replace("-", " "))
    if meant is None and (near := get_close_matches(plain_kind, known, 1, 0.8)):
        raise UnknownNameError(f"{kind!r} is not a kind of fault; did you mean {near[0]}?")
    return meant or kind


def _page_act(commands: Commands, page: Page, given: Namespace, now: datetime) -> Act:
    _expect_fitting(given)
    try:
        if given.what in TAKES:
            how = {name: getattr(given, name) for name in ("minutes", "note", "sure")}
            return commands.go_over(page, given.what, left=given.left or (), now=now, **how)
        return _page_act_given(commands, page, given)
    except UnlikelyError as doubt:
        *others, last = map(str, doubt.problems)
        raise UnlikelyError(*others, f"{last}. Nothing was recorded; --sure records it") from None


def _page_act_given(commands: Commands, page: Page, given: Namespace) -> Act:
    told: dict[str, Any] = {"note": given.note, "sure": given.sure}
    match given.what:
        case "ruled":
            return commands.rule(page, minutes=given.minutes, note=given.note)
        case "begun":
            return commands.begin(page, given.begins, minutes=given.minutes, **told)
        case "written":
            words = {"begins": given.begins, "ends": given.ends, "within": given.in_line}
            return commands.write(page, to_line=given.to_line, minutes=given.minutes, **words, **told)
        case "checked":
            reading = {name: getattr(given, name) for name in ("read", "how", "beside")}
            return commands.check(page, **reading, minutes=given.minutes, note=given.note)
        case "fault":
            facts = {name: getattr(given, name) for name in ("column", "line", "stands", "should")}
            return commands.fault(page, _fault_kind(given.kind), note=given.note or None, **facts)
        case "settled":
            return commands.mend(page, given.fault, given.remedy, given.note)
        case "held" | "released":
            return commands.hold(page, given.begins, **told) if given.what == "held" else commands.release(page)
        case "read-to":
            return read_to(commands.state, page, given.to_line or 0)
        case "changed":
            return change_act(commands.state, given, page)
    raise UnknownNameError(
        f"{given.what!r} cannot be recorded of a page; give ruled, begun, written, checked, read-to, fault, settled, "
        "held, released, changed or a pass of the book"
    )
