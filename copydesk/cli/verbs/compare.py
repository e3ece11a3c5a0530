"""``copydesk compare BOOK PAGE FILE``: a copied page's transcription against the exemplar."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

from copydesk.book.common.phrases import count_of
from copydesk.cli.exit_codes import ExitCode, remark
from copydesk.cli.open_book import add_book, add_words, leave_book, open_book
from copydesk.cli.output import give_json, say, table
from copydesk.comparing.compare import FIRST_FEW
from copydesk.store.files.source_texts import read_transcription_file, transcription_from
from copydesk.tracking.checking.page_compare import COMPARED, compare_page, compared_page
from copydesk.tracking.checking.text_to_write import allowed_too
from copydesk.tracking.commands.check_commands import note_comparison, remarks_on, sort_faults
from copydesk.tracking.views.page_lookup import page_called

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace

    from copydesk.book.plan import Book
    from copydesk.job import Job
    from copydesk.tracking.checking.page_compare import PageComparison


SAYS = (
    "Compares the transcription of a copied page with the exemplar, as the text is to be written. Its lines are taken\n"
    "as the page's lines, column after column, where they fit; a page typed in part will do. The differences allowed\n"
    "are those under allow: in book.yaml and those given here. Exit code 1 where faults are found."
)
EXAMPLES = (
    "copydesk compare my-book 12r page.txt",
    "copydesk compare my-book 12r - --record < page.txt",
    "copydesk compare my-book 12r page.txt --whole --checked --hand B",
    "copydesk compare my-book 12r page.txt --allow accents --allow u/v=no --allow colour=color",
)


def add_arguments(parser: ArgumentParser) -> None:
    """The page, its transcription, what is allowed, what is recorded."""
    add_book(parser)
    parser.add_argument("page", metavar="PAGE", help="the page copied, as in 12r")
    parser.add_argument("file", metavar="FILE", help="its transcription, UTF-8 text; - for standard input")
    parser.add_argument(
        "--whole", action="store_true", help="it is typed to the page's end, so what is wanting is a fault"
    )
    parser.add_argument("--allow", action="append", default=[], metavar="RULE", help="a difference that is no fault")
    parser.add_argument("--record", action="store_true", help="note each fault found, and keep the transcription")
    parser.add_argument("--checked", action="store_true", help="the same, and record the page as checked by this")
    add_words(parser, "--hand", help="who found them; the hand at this desk otherwise")


def run(arguments: Namespace) -> ExitCode:
    """Compare; record what was found where that is asked."""
    text = _text(arguments.file)
    job = open_book(arguments)
    page = page_called(job.state, arguments.page)
    allow = allowed_too(job.state.book, arguments.allow)
    compared = compare_page(job.state, page.index, text, whole=arguments.whole, allow=allow)
    noted = _record(job, compared, text, arguments) if arguments.record or arguments.checked else None
    leave_book(job)
    if arguments.json:
        give_json(COMPARED.data(compared_page(job.state, compared, noted)))
    else:
        _say(compared, job.book)
    return ExitCode.DONE if compared.comparison.clean else ExitCode.NO


def _text(name: str) -> str:
    if name == "-":
        return transcription_from(sys.stdin.buffer.read(), "standard input")
    return read_transcription_file(Path(name), name)


def _record(job: Job, compared: PageComparison, text: str, given: Namespace) -> list[str]:
    """Note what is new, all at once; gives the ids of the faults noted."""
    hand = given.hand or job.hand
    sorted_faults = sort_faults(job.state.record(job.state.skin_at(compared.page.index)), compared, text)
    acts = note_comparison(job.state, compared, text, sorted_faults.new, checked=given.checked, hand=hand)
    entries = job.record_all(acts, hand=hand) if acts else []
    remark(*(said for each in entries if each.what == "checked" for said in remarks_on(job.state, each)))
    if sorted_faults.noted:
        remark(f"{count_of(len(sorted_faults.noted), 'fault')} noted before, and not again")
    remark(
        f"{job.book.named(compared.page)}: {count_of(len(sorted_faults.new), 'fault')} noted, the transcription is kept"
    )
    return [entry.entry for entry in entries if entry.what == "fault"]


def _say(compared: PageComparison, book: Book) -> None:
    say(f"{book.named(compared.page)}: {compared.comparison.sentence}")
    if compared.goes_on:
        say(
            f"the copy goes on {count_of(compared.goes_on, 'word')} past the end on record; record the page's real "
            f"last words (copydesk record BOOK {compared.page} written --ends WORDS), or they come twice"
        )
    faults = compared.comparison.faults
    shown = faults[:FIRST_FEW] if compared.flood else faults
    if shown:
        table(
            ("column", "line", "kind", "what happened"),
            ((fault.column, fault.line, fault.kind, fault.sentence) for fault in shown),
        )
    if len(shown) < len(faults):
        say(f"and {count_of(len(faults) - len(shown), 'difference')} more; --json lists them all")
