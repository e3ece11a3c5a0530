"""The table of every key of ``book.yaml``: what it holds, its bounds, and one line of help.

Reading, the nearest known key for a slip, and the reference in the help all come from here. Bounds are those
beyond which no book of skin was ever made, so that a slipped finger is caught and an odd book is not.
"""

from __future__ import annotations

from functools import cache

from copydesk.book import plan as book
from copydesk.store.plan_file import scalars as kind
from copydesk.store.plan_file.sections import ByName, Key, KnownKey, ListOf, Loose, Section, _keys_of

_STARTS = kind.choice("run on", "line", "column", "page", "recto")
_LINE = kind.text()
_NEEDED = kind.text(needed=True)
_NOTE = kind.text(longest=20_000, lines=True)
_FILE = kind.text("the name of a file in the book's folder", needed=True)
_MARGIN = kind.length(0, 2_000)
_SIDE = kind.length(0, 3_000, above=True)
_LETTERS = kind.figure(1, 10_000)
_SURFACE = kind.choice("hair", "flesh")
_NIBS = kind.figure(0, 50, what="nib widths")
_HOURS = kind.figure(0, 10_000, above=True, what="hours")
_HOURS_A_WEEK = kind.figure(0, 168, above=True, what="hours")
_DAYS = kind.figure(0, 3_650, what="days")
_LEAF = kind.count(1, 200_000, "a leaf's number")

EXEMPLAR = Section(
    (
        Key("text", _FILE, "the text copied from, a UTF-8 file in the book's folder"),
        Key("lent_by", _LINE, "who lent the exemplar"),
        Key("due", kind.day(), "when the exemplar goes back"),
        Key("lines_per_page", kind.count(1, 1_000), "lines to a page of the exemplar"),
        Key("letters_per_line", _LETTERS, "letters and word-spaces to a line of the exemplar"),
    ),
    book.ExemplarLoan,
)
DIVISION = Section(
    (
        Key("title", _LINE, "what the division is called", needed=True),
        Key("words", kind.count(0, 100_000_000), "how many words it has"),
        Key("letters", kind.count(0, 1_000_000_000), "how many letters and word-spaces it has"),
        Key("lines", kind.count(0, 10_000_000), "how many lines it has in the exemplar"),
        Key("starts", _STARTS, "where it begins, if otherwise than the rest"),
    ),
    book.CountedDivision,
)
FLOW = Section(
    (
        Key("divisions", _STARTS, "where divisions begin"),
        Key(
            "starts", ByName(kind.count(1, 1_000_000, "a division's number"), _STARTS), "divisions that begin otherwise"
        ),
        Key("paragraphs", kind.choice("line", "run on"), "where paragraphs begin"),
        Key("rubrics", kind.choice("line", "share"), "whether a rubric may share the last line before it"),
    ),
    book.Flow,
)
MARGINS = Section(
    (
        Key("inner", _MARGIN, "from the fold to the text"),
        Key("head", _MARGIN, "from the upper edge to the text"),
        Key("outer", _MARGIN, "from the text to the fore-edge"),
        Key("foot", _MARGIN, "from the text to the lower edge"),
        Key("canon", _NEEDED, "a rule that gives all four"),
    ),
    book.Margins,
    short="canon",
)
PAGE = Section(
    (
        Key("width", _SIDE, "a page's width", needed=True),
        Key("height", _SIDE, "a page's height", needed=True),
        Key("margins", MARGINS, "the four margins, or a canon that gives them", needed=True),
    ),
    book.PageSize,
)
COLUMNS = Section(
    (
        Key("count", kind.count(1, 20), "how many columns"),
        Key("gap", kind.length(0, 1_000), "between two columns"),
    ),
    book.Columns,
    short="count",
)
RULING = Section(
    (
        Key("lines", kind.count(1, 1_000), "written lines to a column"),
        Key("unit", kind.length(0, 500, above=True), "from one ruled line to the next"),
        Key("first_line", kind.choice("below", "above"), "whether writing starts below or above the top ruled line"),
    ),
    book.Ruling,
)
SCRIPT = Section(
    (
        Key("name", _LINE, "what the script is called"),
        Key("nib", kind.length(0, 100, above=True), "the nib's width"),
        Key("x_height", kind.figure(0, 50, "nib widths", above=True), "height of x in nib widths"),
        Key("ascender", _NIBS, "height of ascenders above x, in nib widths"),
        Key("descender", _NIBS, "depth of descenders, in nib widths"),
        Key("interline", _NIBS, "clear space between lines, in nib widths"),
    ),
    book.Script,
)
HAND = Section(
    (
        Key("name", _LINE, "who writes it"),
        Key("letters_per_line", _LETTERS, "letters and word-spaces on one line of a column"),
        Key("sample", _FILE, "a file of lines this hand wrote"),
        Key("gatherings", ListOf(kind.numbers(), lone=True), "the gatherings it is meant to write"),
        Key("hours_a_week", _HOURS_A_WEEK, "hours it gives to writing"),
        Key("lines_an_hour", kind.figure(0, 10_000, above=True), "lines it writes in an hour"),
    ),
    dict,
)
GATHERINGS = Section(
    (
        Key("sheets", kind.count(1, 1_000), "sheets to a gathering"),
        Key("count", kind.count(1, 10_000), "how many gatherings, if that is settled"),
        Key("formula", kind.formula(), "the gatherings as a collation formula, in place of sheets and count"),
        Key("outside", _SURFACE, "the surface on the outside of each gathering"),
        Key("habit", kind.choice("alternate", "same"), "whether surfaces alternate from sheet to sheet"),
    ),
    dict,
)
LEAF = Section(
    (
        Key("leaf", _LEAF, "the leaf's number in the book as planned", needed=True),
        Key(
            "what",
            kind.choice("singleton", "cancelled", "wanting", "replaced", "added after"),
            "what is so about it",
            needed=True,
        ),
        Key("surface", _SURFACE, "the surface on its recto, if otherwise than the habit"),
    ),
    book.LeafException,
)
SKINS = Section(
    (
        Key("width", kind.length(0, 5_000, above=True), "width of a skin's usable rectangle", needed=True),
        Key("height", kind.length(0, 5_000, above=True), "height of a skin's usable rectangle", needed=True),
        Key("trim", kind.length(0, 500), "what a sheet is cut larger by, each way"),
        Key("spoilage", kind.figure(0, 0.95, what="a share"), "the share of skins that spoil; 0.1 is one in ten"),
        Key("grain", kind.choice("free", "fixed"), "whether the fold must lie one way of the skin"),
        Key("folds", kind.count(0, 3), "how often a skin is folded, where it is not cut"),
        Key("days", ByName(kind.name(), _DAYS), "days that each step of the making takes"),
    ),
    book.SkinPlan,
)
ANCHOR = Section(
    (
        Key("division", kind.count(1, 1_000_000, "a division's number"), "the division it stands at"),
        Key("paragraph", kind.count(1, 1_000_000, "a paragraph's number"), "the paragraph of that division"),
        Key("word", kind.count(0, 200_000_000, "a word's position"), "the word it stands at, counted from 0"),
        Key("exemplar", kind.exemplar_place(), "the exemplar's own leaf and line, where the text notes them"),
        Key("page", kind.page_name(), "the page it stands on"),
        Key("column", kind.count(1, 20, "a column's number"), "the column of that page"),
        Key("line", kind.count(1, 1_000, "a line's number"), "the line of that column it begins on"),
    ),
    book.Anchor,
)
SPACE = Section(
    (
        Key("id", kind.name(), "a short name, no other space's", needed=True),
        Key(
            "kind",
            kind.choice(
                "miniature",
                "initial",
                "historiated initial",
                "decorated initial",
                "flourished initial",
                "border",
                "line filler",
                "rubric",
            ),
            "what is to stand there",
            needed=True,
        ),
        Key("at", ANCHOR, "what it is tied to: a division, a word, a place of the exemplar or a page", needed=True),
        Key("lines", kind.count(0, 1_000), "lines it takes"),
        Key("across", kind.choice("column", "all"), "whether it takes one column or all"),
        Key("width", kind.length(0, 3_000, above=True), "an initial's width, if it is no square"),
        Key("subject", _LINE, "what it shows"),
        Key("instruction", _NOTE, "what the artist should know"),
        Key("guide_letter", kind.text(longest=20), "the small letter written for the artist"),
        Key("materials", ListOf(_LINE, lone=True), "gold and colours it needs"),
        Key("artist", _LINE, "who makes it"),
        Key("hours", _HOURS, "hours it is thought to take"),
        Key("stages", ListOf(kind.choice("drawn", "gilded", "coloured", "outlined")), "the stages it goes through"),
    ),
    book.SpacePlan,
)
FLYLEAVES = Section(
    (
        Key("front", kind.count(0, 100), "flyleaves before the text"),
        Key("back", kind.count(0, 100), "flyleaves after the text"),
        Key("pastedowns", kind.yes_no(), "whether the outermost are pasted to the boards"),
    ),
    book.Flyleaves,
)
FLAW = Section(
    (
        Key("leaf", _LEAF, "the leaf it is on", needed=True),
        Key("from_head", kind.length(0, 3_000), "from the head edge, seen on the recto", needed=True),
        Key("from_fold", kind.length(0, 3_000), "from the fold, seen on the recto", needed=True),
        Key("width", _SIDE, "its width", needed=True),
        Key("height", _SIDE, "its height", needed=True),
    ),
    book.Flaw,
)
CHANGE = Section(
    (
        Key("from_word", kind.count(0, 200_000_000, "a word's position"), "the first word changed", needed=True),
        Key("to_word", kind.count(0, 200_000_000, "a word's position"), "the first word after it", needed=True),
        Key(
            "write",
            kind.text(longest=1_000_000, wanted='the words to write, or "" for none'),
            "what to write",
            needed=True,
        ),
        Key("why", _LINE, "the reason"),
        Key("who", _LINE, "who decided it"),
    ),
    book.Change,
)
SIGNING = Section(
    (
        Key("habit", kind.choice("leaves", "numbers", "none"), "signatures on leaves, numbers at the end, or none"),
        Key("catchwords", kind.count(0, 20), "words of a catchword"),
        Key("foliation", kind.choice("arabic", "roman", "pages"), "how leaves are numbered"),
    ),
    book.Signing,
)
WORKSHOP = Section(
    (
        Key("weekdays", ListOf(kind.weekday()), "the days worked"),
        Key("days_off", ListOf(kind.day()), "days not worked"),
        Key("drying_days", _DAYS, "days a written page dries"),
        Key("rest_after_minutes", kind.count(1, 1_440), "minutes of writing before a rest"),
        Key("check_lines_an_hour", kind.figure(0, 100_000, above=True), "lines checked in an hour"),
        Key("artist", _LINE, "who decorates the book"),
        Key("artist_hours_a_week", _HOURS_A_WEEK, "hours an artist gives to the book"),
        Key("colour_first", kind.yes_no(), "whether colour comes before gold"),
        Key("binder", _LINE, "who sews and binds the book"),
    ),
    book.Workshop,
)
BOOK = Section(
    (
        Key("title", _NEEDED, "what the book is called", needed=True),
        Key("exemplar", EXEMPLAR, "the book copied from"),
        Key("divisions", ListOf(DIVISION), "the parts of a text that nobody has typed"),
        Key("flow", FLOW, "where the parts of the text begin"),
        Key("page", PAGE, "the page's size and margins", needed=True),
        Key("columns", COLUMNS, "the columns of text"),
        Key("ruling", RULING, "the ruled lines"),
        Key("script", SCRIPT, "the model the hands follow"),
        Key("hands", ByName(kind.name(), HAND), "who writes, each under a letter", needed=True),
        Key("letter_widths", kind.choice("relative", "equal"), "whether letters differ in width"),
        Key(
            "line_breaks",
            kind.choice("words", "syllables", "anywhere"),
            "where a line may end; syllables needs language:",
        ),
        Key("language", kind.language(), "the language of the text"),
        Key("gatherings", GATHERINGS, "how sheets are gathered"),
        Key("leaves", ListOf(LEAF), "leaves planned otherwise than their gathering"),
        Key("skins", SKINS, "the skins the sheets are cut from"),
        Key("spaces", ListOf(SPACE), "spaces kept for the artist"),
        Key("flyleaves", FLYLEAVES, "leaves before and after the text"),
        Key("flaws", ListOf(FLAW), "holes and short edges"),
        Key("changes", ListOf(CHANGE), "departures from the exemplar made on purpose"),
        Key("signing", SIGNING, "how gatherings are marked for the binder"),
        Key("workshop", WORKSHOP, "the days and rates of the work"),
        Key("allow", Loose(kind.allowance()), "differences that are no faults"),
        Key("unit", kind.choice("mm", "cm", "in"), "the unit that lengths are shown in"),
        Key("server", kind.name(), "the database service that keeps the ledger"),
    ),
    dict,
)


@cache
def known_keys() -> tuple[KnownKey, ...]:
    """Every key of ``book.yaml`` in its order; a key that people choose or an item of a list is left out of paths."""
    return tuple(_keys_of(BOOK, ""))
