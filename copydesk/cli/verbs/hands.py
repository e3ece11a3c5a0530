"""``copydesk hands BOOK``: how close, how fast and how surely each hand writes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.typed_values import read_length
from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.open_book import add_book, add_typed, open_book
from copydesk.cli.output import give_json, say
from copydesk.tracking.scribes.hands_now import HANDS, hands_now

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace


SAYS = (
    "Each hand's letters a line with their range, and how they moved as it wrote; its lines an hour; its faults.\n"
    "A hand that has written no page is a guess, or what its sample tells, until it has."
)
EXAMPLES = ("copydesk hands my-book", "copydesk hands my-book --measure 60 --nib 0.8", "copydesk hands my-book --json")


def add_arguments(parser: ArgumentParser) -> None:
    """The book, ``--json``, and another size of script."""
    add_book(parser)
    add_typed(parser, "--measure", read_length, default=0.0, metavar="MM", help="letters on a column of this measure")
    add_typed(parser, "--nib", read_length, default=0.0, metavar="MM", help="letters written with this nib")


def run(arguments: Namespace) -> ExitCode:
    """Give the hands."""
    hands = hands_now(open_book(arguments).state, arguments.measure, arguments.nib)
    if arguments.json:
        give_json(HANDS.all_data(hands))
    else:
        for hand in hands:
            say(f"{hand.hand}  {hand.name}".rstrip(), *(f"  {sentence}" for sentence in hand.sentences()))
    return ExitCode.DONE
