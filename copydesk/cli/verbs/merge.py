"""``copydesk merge BOOK OTHER``: take over entries that were written apart."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

from copydesk.book.columns import Cell, Report, given, one_of
from copydesk.book.common.phrases import count_of
from copydesk.cli.exit_codes import ExitCode, remark
from copydesk.cli.open_book import add_book, open_book
from copydesk.cli.output import give_json, say
from copydesk.store.files.book_folder import BookFolder
from copydesk.store.files.environment import desk_name
from copydesk.store.folder.merge import Merged, merge, merge_to_server
from copydesk.store.folder.opening import open_server_ledger
from copydesk.store.plan_file.book_file import read_book
from copydesk.tracking.ledger.entry import Entry
from copydesk.tracking.log.entry_text import describe

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace
    from collections.abc import Mapping


SAYS = (
    "Takes over every entry of another ledger of the same book (a folder, or a ledger file such as the copy a synced\n"
    "folder leaves behind). Entries are told apart by their id, so merging twice adds nothing. What contradicts\n"
    "itself afterwards is listed for a person to resolve: each entry notes which entries were known where it was\n"
    "made, so two copies are told apart even where their desks have one name."
)
EXAMPLES = ("copydesk merge my-book ../laptop/my-book", 'copydesk merge my-book "my-book/ledger (copy).jsonl"')


JSON: Report[Mapping[str, Any]] = one_of(
    "merge",
    "Entries taken over.",
    given("added", Cell.TEXTS, "the entries taken over"),
    given("contradictions", Cell.TEXTS, "what cannot both be so"),
    given("left_out", Cell.TEXTS, "what could not be read"),
)
"""The keys of the verb's JSON."""


def add_arguments(parser: ArgumentParser) -> None:
    """The book, the other, and ``--json``."""
    add_book(parser)
    parser.add_argument("other", metavar="OTHER", help="another folder of this book, or a ledger file")
    parser.add_argument("--any-book", action="store_true", help="even where the other bears another book's mark")


def run(arguments: Namespace) -> ExitCode:
    """Merge, and list what contradicts itself."""
    merged = _merge(arguments)
    job = open_book(arguments)
    added = [Entry.from_document(document) for document in merged.added]
    found = job.contradictions
    if arguments.json:
        left_out = [str(problem) for problem in merged.left_out]
        names = [entry.entry for entry in added]
        give_json(JSON.data({"added": names, "contradictions": list(map(str, found)), "left_out": left_out}))
    else:
        say(
            f"{count_of(len(added), 'entry', 'entries')} taken over.",
            *(f"  {describe(entry, job.state)}" for entry in added[:20]),
        )
        say(*map(str, merged.left_out), *(f"Contradiction: {each}" for each in found))
    job.close()
    return ExitCode.NO if found or merged.left_out else ExitCode.DONE


def _merge(arguments: Namespace) -> Merged:
    folder, other = BookFolder.at(Path(arguments.book)), Path(arguments.other)
    book = read_book(folder.root)
    if not book.server:
        return merge(folder.root, other, any_book=arguments.any_book)
    store = open_server_ledger(folder.root, book, desk_name())
    try:
        return merge_to_server(store, other, any_book=arguments.any_book)
    finally:
        remark(*store.news())
        store.close()
