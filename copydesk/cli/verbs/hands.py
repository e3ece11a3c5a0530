"""``copydesk hands BOOK``: how close, how fast and how surely each hand writes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.errors import InvalidValueError
from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.open_book import add_book, open_book
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
    parser.add_argument("--measure", type=float, default=0.0, metavar="MM", help="letters on a column of this measure")
    parser.add_argument("--nib", type=float, default=0.0, metavar="MM", help="letters written with this nib")


def run(arguments: Namespace) -> ExitCode:
    """Give the hands.

    Raises:
        CopydeskError: for a measure or a nib that is none.
    """
    for name in ("measure", "nib"):
        if not 0.0 <= getattr(arguments, name) <= 10_000.0:
            raise InvalidValueError(
                f"--{name} {getattr(arguments, name):g} is no length; give it in mm, as in --{name} 0.8"
            )
    hands = hands_now(open_book(arguments).state, arguments.measure, arguments.nib)
    if arguments.json:
        give_json(HANDS.all_data(hands))
    else:
        for hand in hands:
            say(f"{hand.hand}  {hand.name}".rstrip(), *(f"  {sentence}" for sentence in hand.sentences()))
    return ExitCode.DONE
