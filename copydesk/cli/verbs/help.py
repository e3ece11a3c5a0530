"""``copydesk help TOPIC``: the pages of help, the help of a verb, or a word of the trade."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.output import give_text, say
from copydesk.help.glossary import find_words
from copydesk.help.topics import read_topic, topics, without_marks

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace


SAYS = "Shows a page of help, the help of a verb, or what a word of the trade means."
EXAMPLES = (
    "copydesk help desk",
    "copydesk help record",
    "copydesk help conjugate",
    "copydesk help plan-file",
    "copydesk help json",
)

PLAN_FILE = "plan-file"
"""The page that lists every key of ``book.yaml``, made from the table that reads it."""
MADE = (PLAN_FILE, "json", "verbs")
"""The pages that are made from the code."""


def add_arguments(parser: ArgumentParser) -> None:
    """What to look up."""
    parser.add_argument("topic", metavar="TOPIC", nargs="+", help="a page, a verb, or a word")


def run(arguments: Namespace) -> ExitCode:
    """Show it."""
    from copydesk.cli.main import VERBS, load, parser_of

    wanted = " ".join(arguments.topic)
    if wanted in VERBS:
        give_text(parser_of(wanted, load(wanted)).format_help())
    if wanted in topics():
        page = without_marks(read_topic(wanted))
        give_text(f"\n{page}" if wanted in VERBS else page)
    if wanted in VERBS or wanted in topics():
        return ExitCode.DONE
    if wanted in MADE:
        _show_made(wanted)
        return ExitCode.DONE
    found = find_words(wanted)
    for word, meaning in found[:5]:
        say(word, f"    {meaning}", "")
    if not found:
        pages = ", ".join((*topics(), *MADE))
        say(f"There is no help on {wanted!r}. Pages: {pages}. Verbs: {', '.join(VERBS)}.")
    return ExitCode.DONE if found else ExitCode.NO


def _show_made(page: str) -> None:
    from copydesk.cli.json_reference import json_reference, verb_reference

    if page == PLAN_FILE:
        _show_plan_file()
    else:
        say(*(json_reference() if page == "json" else verb_reference()))


def _show_plan_file() -> None:
    from copydesk.store.plan_file.keys import known_keys

    say("Every key of book.yaml; those marked * must be there.", "")
    for key in known_keys():
        say(f"{'* ' if key.needed else '  '}{key.path}", f"      {key.help}: {key.wanted}")
