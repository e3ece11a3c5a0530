"""``copydesk ends BOOK [PAGE]``: what each line is short or over at its end."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.errors import NotAllowedError
from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.open_book import add_book, open_book
from copydesk.cli.output import give_json, say, table_of
from copydesk.tracking.fit.line_ends import LINE_ENDS, all_line_ends, filler_words, fillers, line_ends, too_full_words
from copydesk.tracking.views.page_lookup import page_called

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace


SAYS = (
    "What each line is short at its end, or over, in letters and mm, and how much wider or closer the spaces between\n"
    "its words would fill it. Without a page, every line of the book."
)
EXAMPLES = (
    "copydesk ends my-book 12r",
    "copydesk ends my-book --over",
    "copydesk ends my-book --fillers --json",
)


def add_arguments(parser: ArgumentParser) -> None:
    """The book, a page, and which lines."""
    add_book(parser)
    parser.add_argument("page", metavar="PAGE", nargs="?", default="", help="the page, as 12r")
    which = parser.add_mutually_exclusive_group()
    which.add_argument("--over", action="store_true", help="only lines that do not hold their words")
    which.add_argument("--fillers", action="store_true", help="only ends that want a line filler")


def run(arguments: Namespace) -> ExitCode:
    """Give the lines."""
    state = open_book(arguments).state
    if state.exemplar is None:
        raise NotAllowedError("the text of this book is known by its counts only, so nobody knows how its lines end")
    if arguments.fillers and not state.book.flow.line_fillers:
        raise NotAllowedError(
            "this book has no line fillers; write flow: {line_fillers: 4} into book.yaml to have ends filled that are "
            "4 letters short or more"
        )
    book, page = state.book, arguments.page
    ends = line_ends(state, page_called(state, page).index) if page else list(all_line_ends(state))
    if arguments.over:
        ends = [each for each in ends if each.is_over]
    elif arguments.fillers:
        ends = fillers(ends, book)
    if arguments.json:
        give_json(LINE_ENDS.all_data(ends))
        return ExitCode.DONE
    if not ends:
        say("there is no such line")
        return ExitCode.DONE
    table_of(LINE_ENDS, ends, book)
    over = [each for each in ends if each.is_over]
    words = filler_words(ends, book) if arguments.fillers else too_full_words(over, book)
    if words:
        say(words)
    return ExitCode.DONE
