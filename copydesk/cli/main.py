"""The command ``copydesk``: finds the verb, runs it, turns refusals into sentences and exit codes."""

from __future__ import annotations

import os
import sys
from importlib import import_module
from typing import TYPE_CHECKING, NoReturn, Protocol, cast

from copydesk.book.common.errors import CopydeskError, InvalidValueError, UnavailableError, UnknownNameError
from copydesk.book.common.phrases import speak_as
from copydesk.cli import exit_codes as exits
from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.open_book import close_all
from copydesk.store.files.gc_tuning import collect_rarely

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace
    from collections.abc import Iterator, Sequence

    from _typeshed import SupportsWrite


class Verb(Protocol):
    """What the module of a verb holds."""

    SAYS: str
    EXAMPLES: tuple[str, ...]

    def add_arguments(self, parser: ArgumentParser) -> None:
        """Tell the parser what the verb takes."""

    def run(self, arguments: Namespace) -> ExitCode:
        """Do it."""


VERBS: dict[str, str] = {
    "new": "make a book folder; --demo copies the shipped book",
    "shelf": "the books of a folder, and how far each has come",
    "plan": "lines, pages, gatherings, sheets, skins; what is left over or does not fit",
    "forecast": "when it will be done, against the day the exemplar goes back",
    "remedies": "what would make the text around a page fit; doing it",
    "hands": "how close, how fast and how surely each hand writes",
    "pages": "one row a page: state, budget, text, hands, sheet and side",
    "ends": "what each line is short or over at its end; lines too full; ends that want a filler",
    "sheets": "which pages stand on which sheet, side and half; with --where, who has each sheet",
    "spaces": "the reserved spaces, waiting first: size, stage, what may leave the desk; --tally of small work",
    "passes": "pages in their passes: done, may begin, waits; the sheets that may take an ink now",
    "skins": "the skins in the making, and what they ask for today",
    "record": "record that a page was ruled, begun, written or checked, and the rest",
    "undo": "take an entry back",
    "compare": "a copied page's transcription against the exemplar",
    "faults": "every fault found, open or mended; --tell for what they tell",
    "changes": "departures from the exemplar made on purpose",
    "handover": "the stopping point and all the next hand needs; --to hands the desk over",
    "stints": "who wrote what, a row for each hand's share",
    "assemble": "ready to sew, or what is not ready yet",
    "colophon": "a draft of who wrote, checked and decorated the book",
    "log": "every entry, oldest first",
    "print": "a paper: the sheet map, the ruling to prick through, the cutting of a skin",
    "export": "the book for other programs: TEI, CSV lists, or everything as JSON",
    "formula": "leaves and gatherings a collation formula gives",
    "audit": "whether the folder is sound; --mend brings back what can be",
    "ledger": "where the ledger is kept; move takes it to a server or back",
    "merge": "take over entries that were written apart",
    "backup": "a dated copy of the whole folder, read back",
    "restore": "unpack such a copy",
    "serve": "the desk in a browser, as on the workshop's tablet",
    "lines": "the desk a line at a time, for screen readers, slow links and pipes",
    "keys": "every key of the desk, and where to change them",
    "about": "what a report of a fault needs: versions, terminal, folders, counts",
    "help": "a page of help, a verb, or a word of the trade",
    "completion": "a script that lets the shell complete verbs and options",
}
"""Every verb with what it answers, in the order of the help."""

SCREEN, MANY_OPTIONS = 24, 30
"""Lines of a terminal of the usual size; so many options that a list of their names says nothing."""

_FIRST = """copydesk projects/twelve-waters             open the desk on a book
copydesk new --demo my-book                 copy the shipped book and look round
copydesk plan my-book                       lines, pages, sheets and skins
copydesk record my-book 12r written         record a page
copydesk pages my-book --json               the same figures for other programs"""


def entry() -> NoReturn:
    """Run the command on the arguments given to the program, and end it."""
    if hasattr(sys.stdout, "reconfigure"):
        sys.stdout.reconfigure(errors="replace")  # a terminal of another time shows ? where it has no such letter
    collect_rarely()
    speak_as(_locale_of("LC_TIME"), _locale_of("LC_NUMERIC"))
    try:
        ended = main(sys.argv[1:])
    except Exception as error:  # nobody at a desk can do anything with a traceback
        if "COPYDESK_TRACEBACK" in os.environ:
            raise
        ended = exits.broken(error)
    sys.exit(int(ended))


def _locale_of(sort: str) -> str:
    """The locale that the surroundings ask for, for one sort of thing."""
    return next(filter(None, map(os.environ.get, ("LC_ALL", sort, "LANG"))), "")


def main(arguments: Sequence[str]) -> ExitCode:
    """Run the command on ``arguments``; gives how it ended."""
    try:
        ended = _run(list(arguments))
        sys.stdout.flush()
        return ended
    except CopydeskError as refused:
        return exits.refuse(refused)
    except KeyboardInterrupt:
        return ExitCode.INTERRUPTED
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return ExitCode.DONE


def _run(arguments: list[str]) -> ExitCode:
    first = arguments[0] if arguments else ""
    if first in ("-h", "--help") or (first == "help" and len(arguments) == 1):
        return _help()
    if first == "--version" and "--verbose" in arguments[1:]:
        return _run_verb("about", [each for each in arguments[1:] if each != "--verbose"])
    if first == "--version":
        from copydesk import __version__
        from copydesk.cli.output import say

        say(f"copydesk {__version__}")
        return ExitCode.DONE
    if first in VERBS:
        return _run_verb(first, arguments[1:])
    return _open_desk(arguments)


def _run_verb(name: str, arguments: list[str]) -> ExitCode:
    verb = load(name)
    try:
        parsed = parser_of(name, verb).parse_args(arguments)
    except SystemExit as stopped:
        return ExitCode.REFUSED if stopped.code else ExitCode.DONE
    try:
        return verb.run(parsed)
    finally:
        close_all()


def load(name: str) -> Verb:
    """The module of a verb; only the one asked for is read."""
    return cast("Verb", import_module(f"copydesk.cli.verbs.{name}"))


def parser_of(name: str, verb: Verb) -> ArgumentParser:
    """The parser of a verb, its help beginning with examples."""
    from argparse import ArgumentParser, RawDescriptionHelpFormatter
    from shutil import get_terminal_size

    class VerbParser(ArgumentParser):
        """Refuses what it cannot read in one sentence; its ``--help`` fits a screen."""

        def error(self, message: str) -> NoReturn:
            raise InvalidValueError(f"{message}; see {self.prog} --help")

        def print_help(self, file: SupportsWrite[str] | None = None) -> None:
            width = get_terminal_size().columns
            fitting = (told for told in self._shorter_and_shorter(width) if _lines(told, width) <= SCREEN)
            self._print_message(next(fitting, self.format_usage()), file or sys.stdout)

        def _shorter_and_shorter(self, width: int) -> Iterator[str]:
            says = _reflowed(verb.SAYS, width)
            for few in (len(verb.EXAMPLES), 3, 1):
                self.description = f"{_shown(verb.EXAMPLES[:few])}\n\n{says}"
                yield self.format_help()
            self._positionals._group_actions.clear()  # the line of usage shows them
            self._optionals._group_actions.pop(0)  # --help itself
            yield self.format_help()
            more = f"\n`copydesk help {name}` tells every option.\n"
            self.usage = None if len(self._actions) < MANY_OPTIONS else self.usage  # None: argparse names them all
            yield from (f"{self.format_usage()}\n{_shown(verb.EXAMPLES[:few])}\n\n{says}\n{more}" for few in (3, 2, 1))
            yield f"{self.format_usage()}\n{_shown(verb.EXAMPLES[:1])}\n{more}"

    parser = VerbParser(
        prog=f"copydesk {name}",
        description=f"{_shown(verb.EXAMPLES)}\n\n{verb.SAYS}",
        formatter_class=RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    verb.add_arguments(parser)
    places = [str(each.metavar or each.dest) for each in parser._actions if not each.option_strings]
    parser.usage = " ".join([parser.prog, *places, "[options]"])
    return parser


def _shown(examples: Sequence[str]) -> str:
    return "\n".join(["examples:", *(f"  {example}" for example in examples)])


def _reflowed(text: str, width: int) -> str:
    """A text with its lines as long as there is room; a line set in stands for itself."""
    from textwrap import fill

    lines: list[str] = []
    for line in text.splitlines():
        if lines and not line.startswith(" ") and not lines[-1].startswith(" "):
            lines[-1] += f" {line}"
        else:
            lines.append(line)
    return "\n".join(fill(line, width, subsequent_indent=" " * _hang(line), break_on_hyphens=False) for line in lines)


def _hang(line: str) -> int:
    """How far the rest of a line is set in that does not fit: below its second column where it has one."""
    import re

    columns = re.match(r" +(?:\S.*?  +)?", line)
    return columns.end() if columns else 0


def _lines(text: str, width: int) -> int:
    """How many lines of a terminal a text takes."""
    return sum(max(-(-len(line) // width), 1) for line in text.splitlines())


def _help() -> ExitCode:
    from copydesk.cli.output import say

    widest = max(map(len, VERBS))
    say("copydesk: a copying tracker for a manuscript book on loose sheets", "")
    say(*(f"  {line}" for line in _FIRST.splitlines()), "")
    say("copydesk BOOK opens the desk on a book folder; --look dark, light, contrast or terminal, --no-mouse.")
    say("Other verbs:", "")
    say(*(f"  {name:{widest}}  {says}" for name, says in VERBS.items()), "")
    say("Each takes --help, and --json where it gives figures. Exit codes: 0 done, 1 the answer is no, 2 refused.")
    return ExitCode.DONE


def _open_desk(arguments: list[str]) -> ExitCode:
    """Open the desk on the folder named, if a person sits there to see it."""
    from copydesk.cli.desk_options import read_options

    options = read_options(arguments)
    if options.folder and not os.path.lexists(options.folder):
        raise UnknownNameError(f"{options.folder!r} is neither a verb nor a folder that is there; see copydesk --help")
    if not (sys.stdin.isatty() and sys.stdout.isatty()):
        raise UnavailableError(
            "the desk needs a terminal to be shown in; for figures use copydesk pages BOOK or copydesk plan BOOK "
            "(--json for other programs)"
        )
    from copydesk.cli.open_desk import open_desk

    return open_desk(options)
