"""``copydesk completion SHELL``: a script that lets the shell complete verbs and options."""

from __future__ import annotations

from argparse import ArgumentParser
from typing import TYPE_CHECKING

from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.output import give_text

if TYPE_CHECKING:
    from argparse import Namespace


SAYS = "Prints a completion script for bash, zsh, fish or tcsh; put it where the shell looks for such scripts."
EXAMPLES = (
    "copydesk completion bash > ~/.local/share/bash-completion/completions/copydesk",
    "copydesk completion fish > ~/.config/fish/completions/copydesk.fish",
)


def add_arguments(parser: ArgumentParser) -> None:
    """Which shell."""
    parser.add_argument("shell", choices=("bash", "zsh", "fish", "tcsh"), help="the shell")


def run(arguments: Namespace) -> ExitCode:
    """Print the script, made by the shtab library from the verbs' own parsers."""
    import shtab

    from copydesk.cli.main import VERBS, load

    whole = ArgumentParser(prog="copydesk", allow_abbrev=False)
    verbs = whole.add_subparsers()
    for name, says in VERBS.items():
        verb = verbs.add_parser(name, help=says.replace("%", "%%"), allow_abbrev=False)
        load(name).add_arguments(verb)
    give_text(shtab.complete(whole, shell=arguments.shell))
    return ExitCode.DONE
