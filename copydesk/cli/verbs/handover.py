"""``copydesk handover BOOK``: the stopping point and all the next hand needs; ``--to`` hands the desk over."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.open_book import add_book, add_words, leave_book, open_book
from copydesk.cli.output import give_json, say
from copydesk.tracking.log.entry_text import entry_sentence
from copydesk.tracking.scribes.handover import HANDOVER, TAKEN, handover, leave_note, take_desk
from copydesk.tracking.scribes.handover_text import handover_lines
from copydesk.tracking.views.page_lookup import page_called

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace
    from collections.abc import Sequence

    from copydesk.book.structure.page import Page
    from copydesk.job import Job
    from copydesk.tracking.ledger.entry import Entry
    from copydesk.tracking.scribes.handover import Handover
    from copydesk.tracking.scribes.stopping_point import RunLine


SAYS = (
    "Where the pen stopped, the next words, how tight the room is, what to watch, what is open. Nothing is recorded\n"
    "unless --to names the hand that takes the desk over, or --note leaves a note for whoever comes next."
)
EXAMPLES = (
    "copydesk handover my-book",
    "copydesk handover my-book --page 20r --json",
    'copydesk handover my-book --note "the ink is the thin one, stir it"',
    "copydesk handover my-book --to B",
)
_HEAD = 8


def add_arguments(parser: ArgumentParser) -> None:
    """The book, the page, who takes over, a note."""
    add_book(parser)
    parser.add_argument("--page", metavar="PAGE", help="the page, as 20r; where the pen stopped last otherwise")
    add_words(parser, "--to", metavar="HAND", help="the hand that takes the desk over")
    parser.add_argument("--note", default="", help="a note for the next hand")


def run(arguments: Namespace) -> ExitCode:
    """Give the handover as it stood before, and record it where that is asked."""
    job = open_book(arguments)
    page = page_called(job.state, arguments.page) if arguments.page else None
    found = handover(job.state, page)
    entries = _record(job, page, arguments)
    if arguments.json:
        note = {"note": arguments.note.strip()} if arguments.note.strip() else {}
        recorded = {"to": arguments.to or None, "entry": entries[-1].entry} if entries else {}
        give_json(HANDOVER.data(found) | TAKEN.data({**note, **recorded}))
    else:
        if entries:
            say(entry_sentence(entries[-1], job.state), "")
        _show(job, found)
    leave_book(job)
    return ExitCode.DONE


def _record(job: Job, page: Page | None, arguments: Namespace) -> list[Entry]:
    """Record what is asked; gives the entries, the handover last."""
    if arguments.to:
        acts = take_desk(job.state, arguments.to, job.store.desk, page=page, note=arguments.note)
        return job.record_all(acts, hand=arguments.to)
    if arguments.note:
        return [job.record(leave_note(job.state, page, arguments.note))]
    return []


def _show(job: Job, found: Handover) -> None:
    for told in handover_lines(job.state, found):
        say(f"{told.head:{_HEAD}} {told.says}")
    _lines(job, "Ran", found.before)
    _lines(job, "To run", found.after)


def _lines(job: Job, head: str, lines: Sequence[RunLine]) -> None:
    for at, line in enumerate(lines):
        say(f"{head if not at else '':{_HEAD}} {job.book.named(line.page)} {line.column}.{line.line:<3} {line}")
