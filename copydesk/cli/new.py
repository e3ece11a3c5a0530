"""``copydesk new BOOK``: make a book folder."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from copydesk.cli.exits import ExitCode
from copydesk.cli.output import give_json, say
from copydesk.store.new_folder import book_from_answers, copy_demo, new_book
from copydesk.store.text_file import decode, read_bytes

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace

SAYS = (
    "Makes a book folder with a plan to be read over. Lengths are mm or say their unit (7 in).\n"
    "--demo copies the shipped book; --from makes again what copydesk export --as json wrote, its ledger too."
)
EXAMPLES = (
    "copydesk new --demo my-book",
    'copydesk new my-book --title "The Salt Road" --text salt-road.txt --page 170x240 --lines 32 --letters 34',
    'copydesk new my-book --title "The Salt Road" --words 24000 --page "7 in x 10 in" --columns 2',
    "copydesk new my-book --from exported.json",
)
_LARGEST = 1_000_000_000


def add_arguments(parser: ArgumentParser) -> None:
    """The folder and what is to stand in the plan."""
    parser.add_argument("book", metavar="BOOK", help="the folder to be made")
    other = parser.add_mutually_exclusive_group()
    other.add_argument("--demo", action="store_true", help="copy the shipped book")
    other.add_argument("--from", dest="source", metavar="FILE", help="make again a book exported as JSON")
    parser.add_argument("--title", default="", help="the book's title")
    parser.add_argument("--text", metavar="FILE", help="the exemplar's text; it is copied into the folder")
    parser.add_argument("--words", help="where nobody has typed it: how many words it has")
    parser.add_argument("--page", default="170x240", metavar="WxH", help="page width and height (170x240)")
    parser.add_argument("--canon", default="ninths", help="the canon of the margins (ninths)")
    parser.add_argument("--columns", default="1", help="columns (1)")
    parser.add_argument("--gap", default="10", help="gap between columns (10)")
    parser.add_argument("--lines", help="written lines a column; worked out from the script otherwise")
    parser.add_argument("--nib", default="1.2", help="nib width in mm (1.2)")
    parser.add_argument("--letters", help="letters to a line of the first hand; guessed from the script otherwise")
    parser.add_argument("--hand", default="the scribe", help="the first hand's name")
    parser.add_argument("--sheets", default="4", help="sheets a gathering (4)")
    parser.add_argument("--json", action="store_true", help="one JSON document instead of words")


def run(arguments: Namespace) -> ExitCode:
    """Make it."""
    folder = Path(arguments.book)
    made = _made(folder, arguments)
    if arguments.json:
        give_json({"book": str(made)})
    else:
        say(f"{folder} is ready. Open the desk on it: copydesk {folder}")
    return ExitCode.DONE


def _made(folder: Path, given: Namespace) -> Path:
    if given.demo:
        return copy_demo(folder)
    if given.source is None:
        return _from_flags(folder, given)
    from copydesk.store.whole_book import make
    from copydesk.store.whole_json import read_whole

    return make(folder, read_whole(Path(given.source), given.source), given.source)


def _from_flags(folder: Path, given: Namespace) -> Path:
    width, _, height = given.page.replace("×", "x").partition("x")
    answers = {
        "title": given.title or folder.name,
        "page.width": width.strip(),
        "page.height": height.strip(),
        "page.margins.canon": given.canon,
        "columns.count": given.columns,
        "columns.gap": given.gap if given.columns != "1" else "0",
        "script.nib": given.nib,
        "hands.A.name": given.hand,
        "gatherings.sheets": given.sheets,
    }
    if given.lines:
        answers["ruling.lines"] = given.lines
    if given.letters:
        answers["hands.A.letters_per_line"] = given.letters
    files = {}
    if given.text:
        files["exemplar.txt"] = decode(read_bytes(Path(given.text), given.text, _LARGEST), given.text)
        answers["exemplar.text"] = "exemplar.txt"
    else:
        answers |= {"divisions.1.title": given.title or folder.name, "divisions.1.words": given.words or "10000"}
    return new_book(folder, book_from_answers(answers), files)
