"""``copydesk faults BOOK``: every fault of the book, and what they tell."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.open_book import add_book, add_words, open_book
from copydesk.cli.output import give_json, say, table, table_of
from copydesk.tracking.checking.fault_report import FAULTS, STATES, choose_faults, fault_accounts, fault_numbered
from copydesk.tracking.checking.open_faults import fault_words

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace

    from copydesk.tracking.state.book_state import BookState


SAYS = (
    "Every fault found, by page; those not mended with --open. With --tell: faults in a hundred lines by hand and\n"
    "kind, over the day and over a sitting, with their ranges. With --fit: the room at a fault, the ways to mend it."
)
EXAMPLES = (
    "copydesk faults my-book --open",
    "copydesk faults my-book --hand B --kind omission --json",
    "copydesk faults my-book --fit 3",
    "copydesk faults my-book --tell",
)


def add_arguments(parser: ArgumentParser) -> None:
    """Which faults, or what they tell."""
    add_book(parser)
    parser.add_argument("--open", action="store_true", help="only those not mended")
    parser.add_argument("--state", default="", choices=("", *STATES), metavar="STATE", help="open, settled or gone")
    add_words(parser, "--page", help="only those on this page, as in 12r")
    add_words(parser, "--hand", help="only those in this hand's writing")
    add_words(parser, "--kind", help="only those of this kind, as in omission")
    add_words(parser, "--fit", metavar="NUMBER", help="whether a correction of that fault fits, and its cost")
    parser.add_argument("--tell", action="store_true", help="what the faults tell instead of the list")


def run(arguments: Namespace) -> ExitCode:
    """Give the list, or what it tells."""
    state = open_book(arguments).state
    if arguments.tell:
        _tell(state, json=arguments.json)
        return ExitCode.DONE
    if arguments.fit:
        _fit(state, arguments.fit, json=arguments.json)
        return ExitCode.DONE
    chosen = choose_faults(
        fault_accounts(state),
        page=str(state.book.page_called(arguments.page)) if arguments.page else "",
        hand=arguments.hand,
        kind=arguments.kind,
        state="open" if arguments.open else arguments.state,
    )
    if arguments.json:
        give_json(FAULTS.all_data(chosen))
    elif chosen:
        table_of(FAULTS, chosen, state.book)
    else:
        say("no such fault is on record")
    return ExitCode.DONE


def _fit(state: BookState, number: str, *, json: bool) -> None:
    from copydesk.tracking.fit.correction_fit import FIT, WAYS, correction_fit, room_lines, skin_lines

    page, fault = fault_numbered(state, number)
    found = correction_fit(state, page, fault)
    if json:
        give_json(FIT.data(found))
        return
    say(f"{state.book.named(page)}: {fault_words(fault)}", *room_lines(found), *skin_lines(found))
    table_of(WAYS, found.ways, state.book)


def _tell(state: BookState, *, json: bool) -> None:
    from copydesk.tracking.checking.fault_rates_report import (
        FAULT_RATES,
        RATES,
        fault_rate_rows,
        fault_rate_sentences,
        fault_rates,
    )

    told = fault_rates(state)
    if json:
        give_json(FAULT_RATES.data(told))
        return
    say(*fault_rate_sentences(told))
    if told.lines:
        rows = ((by, name, *RATES.cells(rate, state.book)) for by, name, rate in fault_rate_rows(told))
        table(("by", "", *RATES.headings()), rows)
