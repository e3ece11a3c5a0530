"""The table of every key of ``book.yaml``: what it holds, its bounds, and one line of help.

Reading, the nearest known key for a slip, and the reference in the help all come from here. Bounds are those
beyond which no book of skin was ever made, so that a slipped finger is caught and an odd book is not.
"""

from __future__ import annotations

from functools import cache
from typing import get_args

from copydesk.book import checks, flow
from copydesk.book import plan as book
from copydesk.book.layout.space_stages import STAGES
from copydesk.store.plan_file import scalars as kind
from copydesk.store.plan_file.sections import ByName, KnownKey, ListOf, Loose, PlanKey, keys_under, section

_STARTS = kind.choice(*get_args(flow.Starts))
_LINE = kind.text()
_NEEDED = kind.text(needed=True)
_NOTE = kind.text(longest=20_000, lines=True)
_FILE = kind.text("the name of a file in the book's folder", needed=True)
_MARGIN = kind.length(0, 2_000)
_SIDE = kind.length(0, 3_000, above=True)
_LETTERS = kind.figure(1, 10_000)
_SURFACE = kind.choice("hair", "flesh")
_NIBS = kind.figure(0, 50, what="nib widths")
_HOURS = kind.hours(10_000)
_HOURS_A_WEEK = kind.hours(168)
_DAYS = kind.figure(0, 3_650, what="days")
_LEAF = kind.count(1, 200_000, "a leaf's number")
_DIVISION = kind.count(1, 1_000_000, "a division's number")
_WORD = kind.count(0, 200_000_000, "a word's position")
_ABOVE_OR_BELOW = kind.choice("below", "above")
_LEAF_EXCEPTION = kind.choice("singleton", "cancelled", "wanting", "replaced", "added after")
_WRITE = kind.text('the words to write, or "" for none', longest=1_000_000)
_COPIED = kind.choice("freely", "line for line", "page for page", "line and page")
_LINE_BREAKS = kind.choice("words", "syllables", "anywhere")

EXEMPLAR = section(
    flow.ExemplarLoan,
    PlanKey("text", _FILE, "the text copied from, a UTF-8 file in the book's folder"),
    PlanKey("lent_by", _LINE, "who lent the exemplar"),
    PlanKey("due", kind.day(), "when the exemplar goes back"),
    PlanKey("lines_per_page", kind.count(1, 1_000), "lines to a page of the exemplar"),
    PlanKey("letters_per_line", _LETTERS, "letters and word-spaces to a line of the exemplar"),
)
DIVISION = section(
    flow.CountedDivision,
    PlanKey("title", _LINE, "what the division is called", needed=True),
    PlanKey("words", kind.count(0, 100_000_000), "how many words it has"),
    PlanKey("letters", kind.count(0, 1_000_000_000), "how many letters and word-spaces it has"),
    PlanKey("lines", kind.count(0, 10_000_000), "how many lines it has in the exemplar"),
    PlanKey("starts", _STARTS, "where it begins, if otherwise than the rest"),
)
FLOW = section(
    flow.Flow,
    PlanKey("divisions", _STARTS, "where divisions begin"),
    PlanKey("starts", ByName(_DIVISION, _STARTS, "the number of a division"), "divisions that begin otherwise"),
    PlanKey("paragraphs", kind.choice("line", "run on"), "where paragraphs begin"),
    PlanKey("rubrics", kind.choice("line", "share"), "whether a rubric may share the last line before it"),
    PlanKey("keep_with_next", kind.count(0, 100), "lines after a rubric that stand in one column with it"),
    PlanKey("pictures", kind.choice("in order", "as they fit"), "whether pictures that wait keep the text's order"),
    PlanKey("holes", kind.choice("both sides", "one side"), "whether a line goes on beyond a hole in its middle"),
    PlanKey("line_ends", kind.choice("as they come", "even"), "whether a paragraph's lines end as evenly as they can"),
    PlanKey("line_fillers", kind.figure(0, 1_000, "letters"), "letters a line's end is short that wants a line filler"),
    PlanKey("between_stanzas", kind.count(0, 100), "blank lines between two stanzas"),
    PlanKey("hanging", kind.figure(0, 1_000, "letters"), "letters that the further lines of a long verse are indented"),
    PlanKey("long_verses", kind.choice("next line", "line above", "line below"), "where the end of a long verse goes"),
    PlanKey("copied", _COPIED, "whether lines or pages hold what those of the exemplar hold"),
)
MARGINS = section(
    book.Margins,
    PlanKey("inner", _MARGIN, "from the fold to the text"),
    PlanKey("head", _MARGIN, "from the upper edge to the text"),
    PlanKey("outer", _MARGIN, "from the text to the fore-edge"),
    PlanKey("foot", _MARGIN, "from the text to the lower edge"),
    PlanKey("canon", _NEEDED, "a rule that gives all four"),
    short="canon",
)
PAGE = section(
    book.PageSize,
    PlanKey("width", _SIDE, "a page's width", needed=True),
    PlanKey("height", _SIDE, "a page's height", needed=True),
    PlanKey("margins", MARGINS, "the four margins, or a canon that gives them", needed=True),
)
COLUMNS = section(
    book.Columns,
    PlanKey("count", kind.count(1, 20), "how many columns"),
    PlanKey("gap", kind.length(0, 1_000), "between two columns"),
    short="count",
)
RULING = section(
    book.Ruling,
    PlanKey("lines", kind.count(1, 1_000), "written lines to a column"),
    PlanKey("unit", kind.length(0, 500, above=True), "from one ruled line to the next"),
    PlanKey("first_line", _ABOVE_OR_BELOW, "whether writing starts below or above the top ruled line"),
)
SCRIPT = section(
    book.Script,
    PlanKey("name", _LINE, "what the script is called"),
    PlanKey("nib", kind.length(0, 100, above=True), "the nib's width"),
    PlanKey("x_height", kind.figure(0, 50, "nib widths", above=True), "height of x in nib widths"),
    PlanKey("ascender", _NIBS, "height of ascenders above x, in nib widths"),
    PlanKey("descender", _NIBS, "depth of descenders, in nib widths"),
    PlanKey("interline", _NIBS, "clear space between lines, in nib widths"),
    PlanKey("ink", _LINE, "the ink written with"),
    PlanKey("pen", _LINE, "the pen written with"),
    PlanKey("pounce", _LINE, "the powder rubbed on the skin before writing"),
)
HAND = section(
    dict,
    PlanKey("name", _LINE, "what this scribe is called"),
    PlanKey("letters_per_line", _LETTERS, "letters and word-spaces on one line of a column"),
    PlanKey("sample", _FILE, "a file of lines this hand wrote"),
    PlanKey("gatherings", ListOf(kind.numbers(), lone=True), "the gatherings this hand is meant to write"),
    PlanKey("hours_a_week", _HOURS_A_WEEK, "hours a week this hand gives to writing"),
    PlanKey("lines_an_hour", kind.figure(0, 10_000, above=True), "lines this hand writes in an hour"),
    PlanKey("days_off", ListOf(kind.day()), "days this hand does not write"),
)
GATHERINGS = section(
    dict,
    PlanKey("sheets", kind.count(1, 1_000), "sheets to a gathering"),
    PlanKey("count", kind.count(1, 10_000), "how many gatherings, if that is fixed"),
    PlanKey("formula", kind.formula(), "the gatherings as a collation formula, in place of sheets and count"),
    PlanKey("outside", _SURFACE, "the surface on the outside of each gathering"),
    PlanKey("habit", kind.choice("alternate", "same"), "whether surfaces alternate from sheet to sheet"),
)
LEAF = section(
    book.LeafException,
    PlanKey("leaf", _LEAF, "the leaf's number in the book as planned", needed=True),
    PlanKey("what", _LEAF_EXCEPTION, "what is so about it", needed=True),
    PlanKey("surface", _SURFACE, "the surface on its recto, if otherwise than the habit"),
)
SKINS = section(
    book.SkinPlan,
    PlanKey("width", kind.length(0, 5_000, above=True), "width of a skin's usable rectangle", needed=True),
    PlanKey("height", kind.length(0, 5_000, above=True), "height of a skin's usable rectangle", needed=True),
    PlanKey("trim", kind.length(0, 500), "what a sheet is cut larger by, each way"),
    PlanKey("spoilage", kind.figure(0, 0.95, what="a share"), "the share of skins that spoil; 0.1 is one in ten"),
    PlanKey("grain", kind.choice("free", "fixed"), "whether the fold must lie one way of the skin"),
    PlanKey("folds", kind.count(0, 3), "how often a skin is folded, where it is not cut"),
    PlanKey("days", ByName(kind.name(), _DAYS, "the name of a step"), "days that each step of the making takes"),
)
ANCHOR = section(
    book.Anchor,
    PlanKey("division", _DIVISION, "the division it stands at"),
    PlanKey("paragraph", kind.count(1, 1_000_000, "a paragraph's number"), "the paragraph of that division"),
    PlanKey("word", _WORD, "the word it stands at, counted from 0"),
    PlanKey("exemplar", kind.exemplar_place(), "the exemplar's own leaf and line, where the text notes them"),
    PlanKey("page", kind.page_name(), "the page it stands on"),
    PlanKey("column", kind.count(1, 20, "a column's number"), "the column of that page"),
    PlanKey("line", kind.count(1, 1_000, "a line's number"), "the line of that column it begins on"),
)
SPACE = section(
    book.SpacePlan,
    PlanKey("id", kind.name(), "a short name, no other space's", needed=True),
    PlanKey("kind", kind.choice(*get_args(book.SpaceKind)), "what is to stand there", needed=True),
    PlanKey("at", ANCHOR, "what it is tied to: a division, a word, a place of the exemplar or a page", needed=True),
    PlanKey("lines", kind.count(0, 1_000), "lines it takes"),
    PlanKey("across", kind.choice("column", "all"), "whether it takes one column or all"),
    PlanKey("width", kind.length(0, 3_000, above=True), "an initial's width, if it is no square"),
    PlanKey("subject", _LINE, "what it shows"),
    PlanKey("instruction", _NOTE, "what the artist should know"),
    PlanKey("guide_letter", kind.text(longest=20), "the small letter written for the artist"),
    PlanKey("materials", ListOf(_LINE, lone=True), "gold and colours it needs"),
    PlanKey("artist", _LINE, "who makes it"),
    PlanKey("hours", _HOURS, "hours it is thought to take"),
    PlanKey("stages", ListOf(kind.choice(*STAGES)), "the stages it goes through"),
)
PASS = section(
    book.PassPlan,
    PlanKey("name", kind.choice(*get_args(book.PassName)), "which pass it is", needed=True),
    PlanKey("ink", _LINE, "the ink it is done with"),
    PlanKey("hand", _LINE, "who does it: a hand, or the artist"),
    PlanKey("drying_days", _DAYS, "days its ink dries, if others than a page's"),
    PlanKey("artist", kind.choice("before", "after"), "whether it goes before or after the artist's work"),
    short="name",
)
TITLES = section(
    book.RunningTitles,
    PlanKey("words", ByName(_DIVISION, _NEEDED, "the number of a division"), "words above the text of a division"),
    PlanKey("across", kind.choice("page", "opening"), "whether a title stands on each page, or runs across two"),
    PlanKey("numbers", kind.choice("none", "roman", "arabic"), "how divisions are numbered in the margin"),
    PlanKey("from_head", kind.length(0, 2_000), "from the upper edge to the foot of the words"),
)
CONTENTS = section(
    book.Contents,
    PlanKey("divisions", ListOf(_DIVISION, lone=True), "the divisions named in the list of contents, if not all"),
    short="divisions",
)
FLYLEAVES = section(
    book.Flyleaves,
    PlanKey("front", kind.count(0, 100), "flyleaves before the text"),
    PlanKey("back", kind.count(0, 100), "flyleaves after the text"),
    PlanKey("pastedowns", kind.yes_no(), "whether the outermost are pasted to the boards"),
)
FLAW = section(
    book.Flaw,
    PlanKey("leaf", _LEAF, "the leaf it is on", needed=True),
    PlanKey("from_head", kind.length(0, 3_000), "from the head edge, seen on the recto", needed=True),
    PlanKey("from_fold", kind.length(0, 3_000), "from the fold, seen on the recto", needed=True),
    PlanKey("width", _SIDE, "its width", needed=True),
    PlanKey("height", _SIDE, "its height", needed=True),
)
CHANGE = section(
    book.Change,
    PlanKey("from_word", _WORD, "the first word changed", needed=True),
    PlanKey("to_word", _WORD, "the first word after it", needed=True),
    PlanKey("write", _WRITE, "what to write", needed=True),
    PlanKey("why", _LINE, "the reason"),
    PlanKey("who", _LINE, "who decided it"),
)
SIGNING = section(
    book.Signing,
    PlanKey("habit", kind.choice("leaves", "numbers", "none"), "signatures on leaves, numbers at the end, or none"),
    PlanKey("catchwords", kind.count(0, 20), "words of a catchword"),
    PlanKey("foliation", kind.choice("arabic", "roman", "pages"), "how leaves are numbered"),
)
WORKSHOP = section(
    book.Workshop,
    PlanKey("weekdays", ListOf(kind.weekday()), "the days worked"),
    PlanKey("days_off", ListOf(kind.day()), "days not worked"),
    PlanKey("drying_days", _DAYS, "days a written page dries"),
    PlanKey("rest_after_minutes", kind.count(1, 1_440), "minutes of writing before a rest"),
    PlanKey("check_lines_an_hour", kind.figure(0, 100_000, above=True), "lines checked in an hour"),
    PlanKey("artist", _LINE, "who decorates the book"),
    PlanKey("artist_hours_a_week", _HOURS_A_WEEK, "hours an artist gives to the book"),
    PlanKey("colour_first", kind.yes_no(), "whether colour comes before gold"),
    PlanKey("binder", _LINE, "who sews and binds the book"),
)
READINGS = section(
    checks.ReadingRules,
    PlanKey("ways", ListOf(kind.choice(*get_args(checks.Way)), lone=True), "each reading a page needs, by its way"),
    PlanKey("by", kind.choice(*get_args(checks.Readers)), "who may read a page"),
    PlanKey("readers", ListOf(_LINE, lone=True), "people who read and do not write"),
    short="ways",
)
NEVER_SCRAPED = section(
    checks.NeverScraped,
    PlanKey("words", _LINE, "words, wherever they stand"),
    PlanKey("from_word", _WORD, "the first word of a passage"),
    PlanKey("to_word", _WORD, "the first word after it"),
    PlanKey("page", kind.page_name(), "a page"),
    PlanKey("column", kind.count(1, 20, "a column's number"), "a column of that page"),
    PlanKey("line", kind.count(1, 1_000, "a line's number"), "a line of that column"),
    PlanKey("why", _LINE, "the reason"),
)
BOOK = section(
    dict,
    PlanKey("title", _NEEDED, "what the book is called", needed=True),
    PlanKey("exemplar", EXEMPLAR, "the book copied from"),
    PlanKey("divisions", ListOf(DIVISION), "the parts of a text that nobody has typed"),
    PlanKey("flow", FLOW, "where the parts of the text begin"),
    PlanKey("page", PAGE, "the page's size and margins", needed=True),
    PlanKey("columns", COLUMNS, "the columns of text"),
    PlanKey("ruling", RULING, "the ruled lines"),
    PlanKey("script", SCRIPT, "the model the hands follow"),
    PlanKey("hands", ByName(kind.name(), HAND, "the name of a hand"), "who writes, each under a letter", needed=True),
    PlanKey("letter_widths", kind.choice("relative", "equal"), "whether letters differ in width"),
    PlanKey("line_breaks", _LINE_BREAKS, "where a line may end; syllables needs language:"),
    PlanKey("language", kind.language(), "the language of the text"),
    PlanKey("gatherings", GATHERINGS, "how sheets are gathered"),
    PlanKey("leaves", ListOf(LEAF), "leaves planned otherwise than their gathering"),
    PlanKey("skins", SKINS, "the skins the sheets are cut from"),
    PlanKey("spaces", ListOf(SPACE), "spaces kept for the artist"),
    PlanKey("passes", ListOf(PASS), "how the pages are gone over: text first, then what is left to later inks"),
    PlanKey("titles", TITLES, "the words above the text, where a pass writes them"),
    PlanKey("contents", CONTENTS, "the list of contents, where a pass writes it"),
    PlanKey("flyleaves", FLYLEAVES, "leaves before and after the text"),
    PlanKey("flaws", ListOf(FLAW), "holes and short edges"),
    PlanKey("changes", ListOf(CHANGE), "departures from the exemplar made on purpose"),
    PlanKey("signing", SIGNING, "how gatherings are marked for the binder"),
    PlanKey("workshop", WORKSHOP, "the days and rates of the work"),
    PlanKey("readings", READINGS, "how each page is read against the exemplar before it counts as checked"),
    PlanKey("never_scraped", ListOf(NEVER_SCRAPED), "words and places that no knife may touch"),
    PlanKey("allow", Loose(kind.allowance()), "differences that are no faults"),
    PlanKey("unit", kind.choice("mm", "cm", "in"), "the unit that lengths are shown in"),
    PlanKey("server", kind.name(), "the database service that keeps the ledger"),
)


@cache
def known_keys() -> tuple[KnownKey, ...]:
    """Every key of ``book.yaml`` in its order; a key that people choose or an item of a list is left out of paths."""
    return tuple(keys_under(BOOK))
