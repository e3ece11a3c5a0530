"""``copydesk lines BOOK``: the desk a line at a time, for screen readers, slow links and pipes."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.open_book import add_book, open_book
from copydesk.cli.output import in_sentences, prompt, say

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace
    from collections.abc import Callable


SAYS = (
    "Tells a page in the same order of lines always, then asks for an order: any act of the desk by its key or its\n"
    "name, a page's number, or a verb of copydesk without the book. Nothing is drawn, coloured or moved."
)
EXAMPLES = ("copydesk lines my-book", "printf '12v\\nwrite\\nquit\\n' | copydesk lines my-book")


def add_arguments(parser: ArgumentParser) -> None:
    """The book."""
    add_book(parser, json=False)


def run(arguments: Namespace) -> ExitCode:
    """Take orders until they end."""
    from copydesk.desk.base.keymap import keymap_from
    from copydesk.desk.line_desk import LineDesk
    from copydesk.store.files.environment import keys_file, read_own_keys

    if hasattr(sys.stdin, "reconfigure"):
        sys.stdin.reconfigure(errors="replace")
    keys = keymap_from(read_own_keys(), str(keys_file()))
    job = open_book(arguments)
    LineDesk(job, keys, prompt, say, _verb_on(arguments.book)).run()
    job.close()
    return ExitCode.DONE


def _verb_on(book: str) -> Callable[[str], None]:
    """Runs a verb of the command line on the book; its refusals are said as always, and orders go on."""

    def verb(words: str) -> None:
        import shlex

        from copydesk.book.common.errors import InvalidValueError, UnknownNameError
        from copydesk.cli.main import VERBS, main

        try:
            name, *rest = shlex.split(words)
        except ValueError as error:
            raise InvalidValueError(f"{words!r} has a quotation mark without its fellow; close it") from error
        if name not in VERBS or name in NOT_HERE:
            raise UnknownNameError(
                f"{words!r} is no order of the desk; help lists them, and what one needs is asked after it"
            )
        sys.stdout.flush()
        with in_sentences():
            main([name, *rest] if name in WITHOUT_BOOK else [name, book, *rest])

    return verb


NOT_HERE = ("lines", "serve", "new", "shelf", "restore", "completion")
"""Verbs that make no sense from within."""

WITHOUT_BOOK = ("formula", "keys", "help")
