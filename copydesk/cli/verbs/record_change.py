"""What ``copydesk record`` takes of the text: departures from the exemplar made on purpose."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.errors import InvalidValueError, UnknownNameError
from copydesk.cli.open_book import add_words
from copydesk.tracking.commands.change_commands import change_text
from copydesk.tracking.views.page_view import page_account

if TYPE_CHECKING:
    from argparse import Namespace, _ArgumentGroup

    from copydesk.book.structure.page import Page
    from copydesk.tracking.ledger.entry import Act
    from copydesk.tracking.state.book_state import BookState


def add_change_facts(parser: _ArgumentGroup) -> None:
    """The facts of a change."""
    add_words(parser, "--from", dest="first", metavar="WORDS", help="a changed passage's first words")
    add_words(parser, "--to", dest="last", metavar="WORDS", help="its last words")
    add_words(parser, "--after", metavar="WORDS", help="the words after which new ones are added")
    parser.add_argument("--write", default="", metavar="WORDS", help="what is written instead; nothing if left out")
    parser.add_argument("--why", default="", metavar="REASON", help="the reason for a change")


def change_act(state: BookState, given: Namespace, page: Page | None = None) -> Act:
    """The act for ``text changed``, or for ``12r changed`` where the words are looked for near that page.

    Raises:
        CopydeskError: where the words are not given or not found, or the text is changed there already.
    """
    if given.what != "changed":
        raise UnknownNameError(f"{given.what!r} cannot be recorded of the text; give changed")
    if bool(given.first) == bool(given.after):
        raise InvalidValueError(
            "give --from with the passage's words, or --after with the words new ones are added after"
        )
    near = page_account(state, page.index).from_word if page is not None else None
    return change_text(
        state,
        first=given.first,
        last=given.last,
        after=given.after,
        write=given.write,
        why=given.why or given.note,
        who=given.who,
        near=near,
    )
