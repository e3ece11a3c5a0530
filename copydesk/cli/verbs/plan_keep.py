"""The part of ``copydesk plan`` that changes ``book.yaml``: what was tried, chosen or set, shown and written."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.columns import Cell, Report, given, one_of
from copydesk.book.common.errors import InvalidValueError
from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.output import give_json, say
from copydesk.store.folder.kept_plan import change_to, keep, plan_change, put_back
from copydesk.store.plan_file.typed_plan import key_path, typed_in

if TYPE_CHECKING:
    from argparse import Namespace
    from collections.abc import Mapping
    from typing import Any

    from copydesk.job import Job
    from copydesk.store.folder.kept_plan import PlanChange


KEPT: Report[Mapping[str, Any]] = one_of(
    "plan --keep",
    "What changes in book.yaml, with --keep, --set or --put-back.",
    given("difference", Cell.TEXTS, "the lines that go, behind -, and that come, behind +"),
    given("written", Cell.YES_NO, "whether they were written"),
)


def change_plan(job: Job, arguments: Namespace) -> ExitCode:
    """Show what changes in ``book.yaml``, and write it where that is asked."""
    change = put_back(job.folder, job.state) if arguments.put_back else _change(job, arguments)
    written = (arguments.keep or arguments.put_back) and change.after != change.before
    if written:
        keep(job.folder, change)
    if arguments.json:
        give_json(KEPT.data({"difference": change.difference, "written": written}))
        return ExitCode.DONE
    say(*change.difference)
    if written:
        say("Written to book.yaml; --put-back takes it back.")
    else:
        say("Nothing is written; --keep writes it." if change.difference else "book.yaml says so already.")
    return ExitCode.DONE


def _change(job: Job, arguments: Namespace) -> PlanChange:
    planned = bool(arguments.trial) or arguments.ways is not None
    if planned and arguments.keys:
        raise InvalidValueError("--set goes by itself; keep what was tried first, then set the keys")
    if arguments.keys:
        pairs = [each.partition("=") for each in arguments.keys]
        if wrong := next((key for key, sign, _ in pairs if not sign), ""):
            raise InvalidValueError(f"{wrong!r} says no value; write a key and its value, as in page.width=170")
        return plan_change(
            job.folder, job.state, lambda text: typed_in(text, {key_path(key): value for key, _, value in pairs})
        )
    if not planned:
        raise InvalidValueError("there is nothing to keep; give --try, --ways N or --set with it")
    return _tried(job, arguments)


def _tried(job: Job, arguments: Namespace) -> PlanChange:
    from copydesk.tracking.planning.planner import Planner
    from copydesk.tracking.planning.ways_report import book_to_write, read_trial

    planner = Planner(job.state)
    trial = read_trial(planner, arguments.trial)
    way = None
    if arguments.ways is not None:
        ways = planner.ways(trial)
        if not 1 <= arguments.ways <= len(ways):
            raise InvalidValueError(f"there is no way {arguments.ways} to keep; give a number from 1 to {len(ways)}")
        way = ways[arguments.ways - 1]
    return change_to(job.folder, job.state, book_to_write(planner, trial, planner.outcome(trial), way))
