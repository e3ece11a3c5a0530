"""Recording who sits at this desk (``record BOOK desk at-desk``) and the clock of a stint (``stint started``)."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.errors import AlreadyDoneError, NotAllowedError, UnknownNameError
from copydesk.cli.open_book import add_words
from copydesk.tracking.ledger.entry import Act
from copydesk.tracking.scribes.desk_clock import desk_clock, pause_stint, start_stint, stop_stint
from copydesk.tracking.state.writing_tools import Tools

if TYPE_CHECKING:
    from argparse import Namespace, _ArgumentGroup

    from copydesk.job import Job


def add_stint_facts(parser: _ArgumentGroup) -> None:
    """What is written with from this stint on."""
    add_words(parser, "--ink", help="the ink of a stint that starts, and of those after it")
    add_words(parser, "--pen", help="its pen, and how it was cut")
    add_words(parser, "--pounce", help="the powder rubbed on the skin before writing")


def is_stint_act(where: str) -> bool:
    """Whether an entry is about this desk itself."""
    return where in ("desk", "stint")


def stint_act(job: Job, given: Namespace) -> Act:
    """The act: a hand sits down, or its stint is started, paused, stopped.

    Raises:
        UnknownNameError: where nothing of the kind can be recorded of the desk.
    """
    desk = job.store.desk
    if given.where == "stint":
        _expect_turn(job, given)
    match (given.where, given.what):
        case ("desk", "at-desk"):
            return Act("at-desk", desk, "", {})
        case ("stint", "started"):
            tools = Tools(given.ink, given.pen, given.pounce)
            return start_stint(desk, round(job.book.workshop.rest_after_minutes), tools)
        case ("stint", "paused"):
            return pause_stint(desk)
        case ("stint", "stopped"):
            return stop_stint(desk, given.minutes)
    known = "at-desk" if given.where == "desk" else "started, paused or stopped"
    raise UnknownNameError(f"{given.what!r} cannot be recorded of the {given.where}; give {known}")


def _expect_turn(job: Job, given: Namespace) -> None:
    """See that the clock can be turned so from where it stands.

    Raises:
        CopydeskError: where no stint is open that could be paused or ended, or it is in that state already.
    """
    now = desk_clock(job.ledger, job.store.desk, job.clock(), job.book.workshop.rest_after_minutes)
    if given.what in ("paused", "stopped") and not now.open:
        raise NotAllowedError("no stint is open at this desk; begin one with stint started; nothing was recorded")
    if given.what == "paused" and now.paused:
        raise AlreadyDoneError(f"the stint of {now.hand} is paused already; nothing was recorded")
    running = now.open and not now.paused and not now.shows.forgotten
    if given.what == "started" and running and now.hand == (given.hand or job.hand):
        raise AlreadyDoneError(f"the stint of {now.hand} runs already; end it with stint stopped; nothing was recorded")
