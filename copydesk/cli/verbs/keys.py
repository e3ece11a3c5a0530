"""``copydesk keys``: every key of the desk, and the file to change them in."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from copydesk.book.columns import Cell, Report, given, rows_of
from copydesk.cli.exit_codes import ExitCode, remark
from copydesk.cli.output import give_json, say, table
from copydesk.desk.base.keymap import keymap_from
from copydesk.desk.base.keys import KEYS
from copydesk.store.files.environment import keys_file, read_own_keys

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace
    from collections.abc import Mapping


SAYS = (
    "Lists every act of the desk with its key. To change keys, write the lines that --toml prints, with your own\n"
    "keys, into the file named; unknown acts and keys given twice are told when the desk opens."
)
EXAMPLES = ("copydesk keys", "copydesk keys --toml", "copydesk keys --check")


JSON: Report[Mapping[str, Any]] = rows_of(
    "keys",
    "One row a key of the desk.",
    given("id", Cell.TEXT, "its name in keys.toml"),
    given("key", Cell.TEXT, "the key now"),
    given("way", Cell.TEXT, "how it is reached, as people know the keys: m b through a list"),
    given("says", Cell.TEXT, "what it does, in short"),
    given("more", Cell.TEXT, "at length"),
)
"""The keys of the verb's JSON."""


def add_arguments(parser: ArgumentParser) -> None:
    """How to show them."""
    parser.add_argument("--toml", action="store_true", help="in the form of the file")
    parser.add_argument("--check", action="store_true", help="only look the file over")
    parser.add_argument("--json", action="store_true", help="one JSON document instead of words")


def run(arguments: Namespace) -> ExitCode:
    """Give the keys."""
    own = keymap_from(read_own_keys(), str(keys_file()))
    if arguments.check:
        say(f"{keys_file()}: {len(own.changed)} keys changed, no fault in them", *own.told)
    elif arguments.json:
        rows = (
            {"id": key.id, "key": own.key_of(key), "way": own.way_to(key), "says": key.says, "more": key.more}
            for key in KEYS
        )
        give_json(JSON.all_data(rows))
    elif arguments.toml:
        say("[keys]", *(f'"{key.id}" = "{own.key_of(key)}"' for key in KEYS if own.key_of(key)))
    else:
        table(("act", "key", "what it does"), ((key.id, own.way_to(key), key.more) for key in KEYS))
        remark(f"your own keys are read from {keys_file()}")
    return ExitCode.DONE
