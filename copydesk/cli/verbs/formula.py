"""``copydesk formula TEXT``: leaves and gatherings that a collation formula gives."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from copydesk.book.columns import Cell, Report, given, one_of
from copydesk.book.common.phrases import count_of
from copydesk.book.formula.collation_formula import facts, parse
from copydesk.book.formula.formatter import show
from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.output import give_json, say

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace
    from collections.abc import Mapping


SAYS = "Reads a collation formula, counts its leaves, writes it the house's way, warns of doubts, gives back remarks."
EXAMPLES = ('copydesk formula "1-6^8 7^6 (wants 6)"', 'copydesk formula "A-D^4" --json')


JSON: Report[Mapping[str, Any]] = one_of(
    "formula",
    "What a collation formula comes to.",
    given("gatherings", Cell.NUMBER, "gatherings"),
    given("leaves", Cell.NUMBER, "leaves"),
    given("formula", Cell.TEXT, "the formula as copydesk writes it"),
    given("flyleaves", Cell.OBJECT, "flyleaves in `front` and `behind`, counted apart"),
    given("warnings", Cell.TEXTS, "what cannot be right, or was not understood"),
    given("remarks", Cell.TEXTS, "words that change no leaf, and those not understood"),
)
"""The keys of the verb's JSON."""


def add_arguments(parser: ArgumentParser) -> None:
    """The formula and ``--json``."""
    parser.add_argument("formula", metavar="TEXT", help="the formula, in quotation marks")
    parser.add_argument("--json", action="store_true", help="one JSON document instead of words")


def run(arguments: Namespace) -> ExitCode:
    """Give what it comes to."""
    if arguments.json:
        give_json(JSON.data(facts(arguments.formula)))
        return ExitCode.DONE
    found = parse(arguments.formula)
    leaves, gatherings = count_of(found.leaves, "leaf", "leaves"), count_of(len(found.gatherings), "gathering")
    say(
        f"{show(found)}: {gatherings}, {leaves}",
        *(f"Look at it: {warning}" for warning in found.warnings),
        *(f"Remark: {remark}" for remark in found.remarks),
    )
    return ExitCode.DONE
