"""``copydesk print BOOK WHAT``: a paper for the workshop, as PDF, SVG or text."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

from copydesk.book.common.errors import InvalidValueError
from copydesk.book.common.phrases import decimal
from copydesk.book.structure.gathering import SheetSide
from copydesk.book.structure.sheets import find_sheet
from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.open_book import add_book, open_book
from copydesk.cli.output import give_bytes, give_text, say
from copydesk.papers.catalogue import CATALOGUE, ENDINGS, PaperRequest, kind_named, make, usual_name
from copydesk.store.files.output_file import write_file
from copydesk.tracking.views.page_lookup import page_called

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace

    from copydesk.papers.catalogue import Form


_WIDEST = max(map(len, CATALOGUE))
SAYS = "WHAT is one of:\n" + "\n".join(
    f"  {name:{_WIDEST}}  {kind.says}; {', '.join(kind.forms)}" for name, kind in CATALOGUE.items()
)
EXAMPLES = (
    "copydesk print my-book sheets",
    "copydesk print my-book sheets --as text",
    "copydesk print my-book ruling --page 12r --paper letter -o 12r.pdf",
    "copydesk print my-book guide --page 12r --strips",
    "copydesk print my-book guide --sheet 3.2 --side inner",
    "copydesk print my-book dummy --paper letter",
    "copydesk print my-book cutting --as svg -o - > cutting.svg",
)


def add_arguments(parser: ArgumentParser) -> None:
    """The book, the paper, its form, and where it goes."""
    add_book(parser, json=False)
    parser.add_argument("what", metavar="WHAT", help=", ".join(CATALOGUE))
    parser.add_argument(
        "--as",
        dest="form",
        choices=tuple(ENDINGS),
        help="what to make it as; if not, what FILE's name ends in, or its usual form",
    )
    parser.add_argument("--page", metavar="PAGE", help="the page it is for, as 12r, where it is for one")
    parser.add_argument("--sheet", metavar="SHEET", help="for the guide: the loose sheet it is for, as 3.2")
    parser.add_argument("--side", choices=[side.value for side in SheetSide], help="that side of the sheet alone")
    parser.add_argument("--strips", action="store_true", help="for the guide: lines to cut apart, to lay above the pen")
    parser.add_argument("--paper", default="a4", metavar="PAPER", help="a4 or letter, for PDF")
    parser.add_argument("-o", "--output", metavar="FILE", help="the file to write; - for standard output")
    parser.add_argument("-f", "--force", action="store_true", help="write over a file that bears the name already")


def run(arguments: Namespace) -> ExitCode:
    """Make it, and write it where it is wanted."""
    kind = kind_named(arguments.what)
    job = open_book(arguments)
    page = page_called(job.state, arguments.page) if arguments.page else None
    form = arguments.form or _form_named(arguments.output) or kind.forms[0]
    sheet = find_sheet(job.state.collation, arguments.sheet) if arguments.sheet else None
    side = SheetSide(arguments.side) if arguments.side else None
    order = PaperRequest(job, form, page, arguments.paper, sheet, side, arguments.strips)
    made = make(arguments.what, order)
    job.close()
    if arguments.output == "-" or (arguments.output is None and form == "text"):
        _show(made, form)
        return ExitCode.DONE
    name = arguments.output or usual_name(job.folder.root.name, arguments.what, order)
    written = write_file(Path(name), made, force=arguments.force)
    say(f"{written}: {decimal(len(made) / 1000, 1)} kB")
    return ExitCode.DONE


def _form_named(output: str | None) -> Form | None:
    """The form that the name of the file to be written tells; None where its name has no ending.

    Raises:
        InvalidValueError: where it ends as no paper does.
    """
    ending = Path(output or "").suffix.lower().removeprefix(".")
    named = next((form for form, usual in ENDINGS.items() if usual == ending), None)
    if ending and named is None:
        endings = ", ".join(f".{each}" for each in ENDINGS.values())
        raise InvalidValueError(f"{output}: papers are made as {endings}; name the file so, or say --as")
    return named


def _show(made: bytes, form: str) -> None:
    """Give it on standard output; a terminal is spared what only programs read."""
    if form == "text":
        give_text(made.decode())
    elif sys.stdout.isatty():
        raise InvalidValueError(
            f"a {form.upper()} file is not for reading in a terminal; name a file with -o, or use --as text"
        )
    else:
        give_bytes(made)
