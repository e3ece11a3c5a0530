"""``copydesk remedies BOOK PAGE``: what would make the text around a page fit; with ``--choose``, doing it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from copydesk.book.columns import Cell, Report, given, one_of
from copydesk.book.common.errors import UnknownNameError
from copydesk.book.common.sanitize import sanitize
from copydesk.book.common.typed_values import read_whole
from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.open_book import add_book, add_typed, add_words, leave_book, open_book
from copydesk.cli.output import give_json, say
from copydesk.tracking.fit.remedies import (
    LOOK_AGAIN,
    REMEDIES_OF_PAGE,
    fit_words,
    need_for,
    need_in_short,
    only_help_words,
    remedies_for,
    remedy_lines,
    shown_at_first,
)
from copydesk.tracking.log.entry_text import describe
from copydesk.tracking.views.page_lookup import page_called

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace
    from collections.abc import Iterator, Mapping, Sequence

    from copydesk.book.structure.page import Page
    from copydesk.job import Job
    from copydesk.tracking.fit.remedies import Remedy


SAYS = (
    "For text that must end where a page begins already, or that passes the last page: what would make it fit, each\n"
    "way with its effect, its chance, its cost and what it assumes. Ways that help but do not make it fit are shown\n"
    "with --all. Nothing is done unless one is chosen by its number; undo takes it back."
)
EXAMPLES = (
    "copydesk remedies my-book 12r",
    "copydesk remedies my-book 12r --choose 2 --hand A",
    "copydesk remedies my-book 12r --json",
)


CHOSEN: Report[Mapping[str, Any]] = one_of(
    "remedies --choose",
    "The remedy done.",
    given("page", Cell.PAGE, "the page asked for"),
    given("chosen", Cell.NUMBER, "the number of the remedy"),
    given("entries", Cell.TEXTS, "the entries made"),
)


def add_arguments(parser: ArgumentParser) -> None:
    """The book, the page, and what to choose."""
    add_book(parser)
    parser.add_argument("page", metavar="PAGE", help="a page of the stretch, as 12r")
    parser.add_argument("--all", action="store_true", help="the ways too that help but do not make it fit")
    add_typed(parser, "--choose", read_whole, metavar="N", help="do the remedy of this number")
    add_words(parser, "--hand", help="who decides; the hand at this desk otherwise")


def run(arguments: Namespace) -> ExitCode:
    """Give the remedies, or do one.

    Raises:
        CopydeskError: where there is no such page, nothing to mend there, or no such remedy.
    """
    job = open_book(arguments)
    page = page_called(job.state, arguments.page)
    need = need_for(job.state, page)
    remedies = remedies_for(job.state, need)
    if arguments.choose is not None:
        return _choose(job, page, remedies, arguments)
    if arguments.json:
        give_json(REMEDIES_OF_PAGE.data((page, need, remedies)))
        return ExitCode.DONE
    say(need_in_short(need, job.book))
    say(*_told(remedies, everything=arguments.all))
    return ExitCode.DONE


def _told(remedies: Sequence[Remedy], *, everything: bool) -> Iterator[str]:
    """The remedies by their numbers; those that do not make the text fit only where asked for, or where none does."""
    shown = len(remedies) if everything else shown_at_first(remedies)
    for number, remedy in enumerate(remedies[:shown], start=1):
        yield f"{number:>2}  {sanitize(remedy.says)}: {fit_words(remedy)}"
        yield from (f"    {words}" for words in remedy_lines(remedy))
    if shown < len(remedies):
        yield f"{only_help_words(len(remedies) - shown)}: --all shows {'it' if len(remedies) - shown == 1 else 'them'}."
    if remedies:
        yield LOOK_AGAIN


def _choose(job: Job, page: Page, remedies: list[Remedy], arguments: Namespace) -> ExitCode:
    number = arguments.choose
    if not 1 <= number <= len(remedies):
        raise UnknownNameError(f"there is no remedy {number}; {_known(len(remedies))}")
    entries = job.record_all(remedies[number - 1].acts, hand=arguments.hand)
    leave_book(job)
    if arguments.json:
        names = [entry.entry for entry in entries]
        give_json(CHOSEN.data({"page": str(page), "chosen": number, "entries": names}))
    else:
        say(*(describe(entry, job.state) for entry in entries))
    return ExitCode.DONE


def _known(count: int) -> str:
    if not count:
        return "the text fits already"
    return "there is only one" if count == 1 else f"they are numbered 1 to {count}"
