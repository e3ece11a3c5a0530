"""``copydesk new BOOK``: make a book folder."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

from copydesk.book.columns import Cell, Report, given, one_of
from copydesk.book.common.errors import InvalidValueError, NotAllowedError
from copydesk.book.common.phrases import count_of
from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.output import give_json, say
from copydesk.store.files.source_texts import LARGEST_SAMPLE
from copydesk.store.folder.new_book import copy_demo
from copydesk.store.folder.setup_answers import STARTING, make_book, raw_findings, text_at
from copydesk.store.folder.snapshot import SET_ASIDE

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace
    from collections.abc import Mapping, Sequence

    from copydesk.book.common.errors import Problem


SAYS = (
    "Makes a book folder with a plan to be read over. Lengths are mm or say their unit (7 in).\n"
    "Given nothing but BOOK it asks, in a terminal, shows what follows from the answers, and opens the desk.\n"
    "--demo copies the shipped book; --from makes again what copydesk export --as json wrote, its ledger too."
)
EXAMPLES = (
    "copydesk new my-book",
    "copydesk new --demo my-book",
    'copydesk new my-book --title "The Salt Road" --text salt-road.txt --page 170x240 --lines 32 --letters 34',
    'copydesk new my-book --title "The Salt Road" --words 24000 --page "7 in x 10 in" --columns 2',
    "copydesk new my-book --from exported.json",
)

_FLAGS = tuple(STARTING)
MOST_LISTED = 20
"""Entries set aside that are listed one by one."""


JSON: Report[Mapping[str, Any]] = one_of(
    "new",
    "The folder made.",
    given("book", Cell.TEXT, "the folder"),
    given("set_aside", Cell.TEXTS, "entries of an exported book that its ledger cannot hold, each with why"),
)
"""The keys of the verb's JSON."""


def add_arguments(parser: ArgumentParser) -> None:
    """The folder and what is to stand in the plan."""
    parser.add_argument("book", metavar="BOOK", help="the folder to be made")
    other = parser.add_mutually_exclusive_group()
    other.add_argument("--demo", action="store_true", help="copy the shipped book")
    other.add_argument("--from", dest="source", metavar="FILE", help="make again a book exported as JSON")
    parser.add_argument("--title", default="", help="the book's title")
    parser.add_argument("--text", metavar="FILE", help="the exemplar's text; it is copied into the folder")
    parser.add_argument("--mend", metavar="LETTERS", help="what to mend in the text, of what it was found to hold")
    parser.add_argument("--skin", metavar="WxH", help="a skin's usable part, where skins are to be counted")
    parser.add_argument("--spoilage", metavar="SHARE", help="the share of skins that spoil, as 10%%")
    parser.add_argument("--due", metavar="DATE", help="when the exemplar goes back")
    parser.add_argument("--lent-by", metavar="NAME", help="who lent it")
    parser.add_argument("--artist", metavar="NAME", help="who decorates the book")
    parser.add_argument("--sample", metavar="FILE", help="lines the first hand wrote, to measure it by")
    parser.add_argument("--words", help=f"where nobody has typed it: how many words it has ({STARTING['words']})")
    parser.add_argument("--page", metavar="WxH", help="page width and height (170x240)")
    parser.add_argument("--canon", help="the canon of the margins (ninths)")
    parser.add_argument("--columns", help="columns (1)")
    parser.add_argument("--gap", help="gap between columns (10)")
    parser.add_argument("--lines", help="written lines a column; worked out from the script otherwise")
    parser.add_argument("--script", help="what the script is called")
    parser.add_argument("--nib", help=f"nib width in mm ({STARTING['nib']})")
    parser.add_argument("--heights", help=f"of x, ascender and descender, in nib widths ({STARTING['heights']})")
    parser.add_argument("--hand", metavar="NAMES", help="who writes, with commas between")
    parser.add_argument("--letters", help="letters to a line of each hand; guessed from the script otherwise")
    parser.add_argument("--sheets", help="sheets a gathering (4)")
    parser.add_argument("--json", action="store_true", help="one JSON document instead of words")


def run(arguments: Namespace) -> ExitCode:
    """Make it."""
    folder = Path(arguments.book)
    if not (arguments.demo or arguments.source or _tells_any(arguments)) and _sits_someone():
        from copydesk.cli.open_desk import open_book_at

        return open_book_at(_set_up(folder), is_new=True)
    made, left_out = _made(folder, arguments)
    if arguments.json:
        give_json(JSON.data({"book": str(made), "set_aside": [str(each) for each in left_out]}))
    else:
        say(f"{folder} is ready. Open the desk on it: copydesk {folder}")
        if left_out:
            say(f"{count_of(len(left_out), 'entry was', 'entries were')} not taken, and put into {made / SET_ASIDE}:")
            say(*(f"  {each}" for each in left_out[:MOST_LISTED]))
            say(*([f"  and {len(left_out) - MOST_LISTED} more"] if len(left_out) > MOST_LISTED else []))
        found = {name: getattr(arguments, name, None) or "" for name in ("text", "mend")}
        for each in raw_findings(found):
            say(f"In the text {each}{' (done)' if each.letter in found['mend'] else f' (--mend {each.letter})'}")
        if arguments.skin and not arguments.spoilage:
            say("Nobody said how many skins spoil, so none is counted: give --spoilage, or set skins.spoilage.")
        if _guessed(arguments):
            say(f"No text and no count of words was given, so book.yaml says {STARTING['words']} words: correct it.")
    return ExitCode.NO if left_out else ExitCode.DONE


def _guessed(given: Namespace) -> bool:
    """Whether the length of the text is nobody's word."""
    return not (given.demo or given.source or given.text or given.words)


def _made(folder: Path, given: Namespace) -> tuple[Path, Sequence[Problem]]:
    """The folder made, and entries that were set aside."""
    if (given.demo or given.source) and (more := next((name for name in _FLAGS if getattr(given, name)), None)):
        whole = "--demo copies a book" if given.demo else "--from makes a book again"
        raise InvalidValueError(
            f"{whole} as it is, so --{more} changes nothing; leave it out, and change book.yaml afterwards"
        )
    if given.demo:
        return copy_demo(folder), ()
    if given.source is None:
        return _from_flags(folder, given), ()
    from copydesk.store.folder.snapshot import make_from_snapshot
    from copydesk.store.folder.snapshot_json import read_snapshot

    return make_from_snapshot(folder, read_snapshot(Path(given.source), given.source), given.source)


def _tells_any(given: Namespace) -> bool:
    """Whether any flag tells what the book is to be."""
    return given.json or any(getattr(given, name) for name in _FLAGS)


def _sits_someone() -> bool:
    return sys.stdin.isatty() and sys.stdout.isatty()


def _set_up(folder: Path) -> Path:
    """Ask the questions in the desk's own set-up.

    Raises:
        CopydeskError: where it was left, so that nothing was made.
    """
    from copydesk.desk.setup import SettingUp
    from copydesk.store.files.environment import read_look

    made = SettingUp(folder.parent, folder.name, read_look()).stay()
    if made is None:
        raise NotAllowedError("the set-up was left, so no book was made")
    return made


def _from_flags(folder: Path, given: Namespace) -> Path:
    answers = {name: getattr(given, name) for name in _FLAGS if getattr(given, name) is not None}
    if given.sample is not None:
        answers["sample"] = text_at(given.sample, given.mend or "", LARGEST_SAMPLE)
    return make_book(folder, answers)
