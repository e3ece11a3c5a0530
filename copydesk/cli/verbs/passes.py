"""``copydesk passes BOOK``: every page in every pass, and which sheets may be taken up with an ink now."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.errors import UnknownNameError
from copydesk.book.common.phrases import listed
from copydesk.book.common.text_table import laid_out
from copydesk.book.layout.passes import TAKES
from copydesk.book.materials.cautions import caution_words, cautions_for
from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.open_book import add_book, add_words, open_book
from copydesk.cli.output import give_json, say
from copydesk.tracking.passes.pass_report import (
    PASSES,
    cell_words,
    item_words,
    pass_rows,
    sheets_ready,
    state_words,
    turn_words,
)
from copydesk.tracking.passes.pass_status import PassState, all_statuses, statuses_on
from copydesk.tracking.views.page_lookup import expect_page

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace

    from copydesk.book.plan import Book
    from copydesk.tracking.passes.pass_status import PassStatus
    from copydesk.tracking.state.book_state import BookState


SAYS = (
    "How far each page has come in each pass of the book (passes: in book.yaml): done, may begin, or waits and for\n"
    "what. With --page also everything to be written there: place, exact words, width and room. With --ink or --pass\n"
    "and --ready, the dry sheets that may be taken up now. A pass is recorded with copydesk record BOOK 12r rubrics."
)
EXAMPLES = (
    "copydesk passes my-book",
    "copydesk passes my-book --page 12r",
    "copydesk passes my-book --ready --ink vermilion",
    "copydesk passes my-book --pass rubrics --json",
)


def add_arguments(parser: ArgumentParser) -> None:
    """The book, what of it, and ``--json``."""
    add_book(parser)
    add_words(parser, "--page", metavar="PAGE", help="one page, with all that is to be written on it")
    parser.add_argument("--pass", dest="name", metavar="PASS", choices=[*TAKES], help=f"one pass: {', '.join(TAKES)}")
    add_words(parser, "--ink", metavar="INK", help="the passes done with one ink, in the plan's words")
    parser.add_argument("--ready", action="store_true", help="only what may begin now, by loose sheets")


def run(arguments: Namespace) -> ExitCode:
    """Give the passes."""
    job = open_book(arguments)
    state, now = job.state, job.clock()
    if not state.book.passes:
        if arguments.json:
            give_json([])
        else:
            say("This book has no passes: all is written with the text. Write passes: into book.yaml to have them.")
        return ExitCode.DONE
    names = _names(state.book, arguments)
    if arguments.page:
        page = state.book.page_called(arguments.page)
        expect_page(state, page)
        rows = [statuses_on(state, page.index, now)]
    else:
        rows = all_statuses(state, now)
    wanted = [
        each
        for row in rows
        for each in row
        if each.name in names and each.state is not PassState.NOTHING
        if not arguments.ready or each.state in (PassState.READY, PassState.LEFT)
    ]
    if arguments.json:
        give_json(PASSES.all_data(pass_rows(state, wanted)))
    elif arguments.ready:
        turns = sheets_ready(rows, names)
        say(*(turn_words(turn, state.book) for turn in turns), *([] if turns else ["No sheet may be taken up now."]))
    elif arguments.page:
        _say_page(state, wanted)
    else:
        _say_table(state.book, rows, names)
    inks = [plan.ink for plan in state.book.passes if plan.ink and plan.name in names]
    if not arguments.json:
        say(*caution_words(cautions_for(inks)))
    return ExitCode.DONE


def _names(book: Book, given: Namespace) -> list[str]:
    """The passes asked for.

    Raises:
        UnknownNameError: where the book has no such pass, or none with such an ink.
    """
    planned = [plan.name for plan in book.passes]
    if given.name and given.name not in planned:
        raise UnknownNameError(f"this book has no pass {given.name}; it has {listed(planned)}")
    ink = given.ink.casefold()
    found = [plan.name for plan in book.passes if given.name in (None, plan.name) and ink in ("", plan.ink.casefold())]
    if not found:
        inks = [plan.ink for plan in book.passes if plan.ink]
        raise UnknownNameError(f"no pass is done with {given.ink!r}; the inks are {listed(inks) or 'not named'}")
    return list(map(str, found))


def _say_page(state: BookState, found: list[PassStatus]) -> None:
    for row in pass_rows(state, found):
        ink = f" ({row.status.work.plan.ink})" if row.status.work.plan.ink else ""
        say(f"{state.book.named(row.status.page)} {row.status.name}{ink}: {state_words(row.status, state.book)}")
        say(*(f"  {item_words(item, state.book)}" for item in row.items))


def _say_table(book: Book, rows: list[list[PassStatus]], names: list[str]) -> None:
    cells = [
        (book.named(row[0].page), row[0].sheet, *(cell_words(each, book) for each in row if each.name in names))
        for row in rows
    ]
    say(*laid_out(("page", "sheet", *names), cells))
