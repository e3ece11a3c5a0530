"""``copydesk serve BOOK``: the desk in a browser, as on the workshop's tablet."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from copydesk.book.common.errors import InvalidValueError, UnavailableError
from copydesk.book.common.typed_values import read_whole
from copydesk.cli.exit_codes import ExitCode, remark
from copydesk.cli.open_book import add_book, add_typed, open_book
from copydesk.cli.output import say

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace


SAYS = (
    "Serves the desk to a browser on this machine; --host lets others of the network in, and draws the\n"
    "address as a code to scan as well. It holds a secret, new at every start: whoever has the address has the desk.\n"
    "Needs the extra: pip install 'copydesk[serve]'."
)
EXAMPLES = (
    "copydesk serve my-book",
    "copydesk serve my-book --read-only",
    "copydesk serve my-book --host 192.168.1.20 --port 8000",
)
LOOPBACK = ("127.0.0.1", "localhost", "::1")
WIDER = (
    "anyone on the network who has the address can read this book{writes}, and what is sent can be read on its way. "
    "Serve only on a network you trust, and give the address only to those meant."
)


def add_arguments(parser: ArgumentParser) -> None:
    """The book, where to serve, and whether visitors may write."""
    from argparse import SUPPRESS

    add_book(parser, json=False)
    parser.add_argument("--host", default="127.0.0.1", help="the address to serve on; this machine alone otherwise")
    add_typed(parser, "--port", read_whole, default=8000, help="the port; 0 for a free one")
    parser.add_argument("--read-only", action="store_true", help="visitors can look and record nothing")
    add_typed(parser, "--desks", read_whole, default=8, help="how many may be open at once; 8 otherwise")
    parser.add_argument("--inside", action="store_true", help=SUPPRESS)


def run(arguments: Namespace) -> ExitCode:
    """Serve until interrupted."""
    if arguments.inside:
        from copydesk.cli.open_desk import open_book_at

        return open_book_at(Path(arguments.book), read_only=arguments.read_only)
    try:
        from copydesk.cli.browser_address import address_on_network, code_to_scan
        from copydesk.cli.browser_server import DeskServer, serve, take_port
    except ImportError as error:
        raise UnavailableError(
            "the desk in a browser needs a part that is not installed; run pip install 'copydesk[serve]'"
        ) from error
    import secrets

    open_book(arguments).close()
    secret = secrets.token_urlsafe(18)
    if arguments.desks < 1:
        raise InvalidValueError("at least one desk must be let open; give --desks 1 or more")
    on = take_port(arguments.host, arguments.port)
    reached = address_on_network(arguments.host)
    host = f"[{reached}]" if ":" in reached else reached
    address = f"http://{host}:{on.getsockname()[1]}/{secret}/"
    if arguments.host not in LOOPBACK:
        remark(WIDER.format(writes="" if arguments.read_only else " and write in it"))
    say(f"Open {address} in a browser; ctrl+c here ends it.")
    if arguments.host not in LOOPBACK:
        say(*code_to_scan(address))
    sys.stdout.flush()
    os.environ.setdefault("COPYDESK_DESK", "browser")
    serve(DeskServer(_command(arguments), secret, arguments.desks), on)
    return ExitCode.DONE


def _command(arguments: Namespace) -> list[str]:
    """What opens one desk."""
    words = [sys.executable, "-m", "copydesk", "serve", str(Path(arguments.book).resolve()), "--inside"]
    return [*words, "--read-only"] if arguments.read_only else words
