"""``copydesk changes BOOK``: where the text departs from the exemplar on purpose."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.open_book import add_book, open_book
from copydesk.cli.output import give_json, say, table_of
from copydesk.tracking.views.change_report import CHANGES, change_accounts

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace


SAYS = (
    "Every departure from the exemplar made on purpose: those of book.yaml and those recorded. Recording one:\n"
    'copydesk record BOOK text changed --from "first words" --to "last words" --write "new words" --why REASON'
)
EXAMPLES = ("copydesk changes my-book", "copydesk changes my-book --json", "copydesk print my-book changes")


def add_arguments(parser: ArgumentParser) -> None:
    """The book and ``--json``."""
    add_book(parser)


def run(arguments: Namespace) -> ExitCode:
    """Give the changes."""
    state = open_book(arguments).state
    found = change_accounts(state)
    if arguments.json:
        give_json(CHANGES.all_data(found))
    elif found:
        table_of(CHANGES, found, state.book)
    else:
        say("the text is copied as the exemplar has it; nothing is changed on purpose")
    return ExitCode.DONE
