"""Where the desk in a browser is found: the machine's address on its network, and a code to scan."""

from __future__ import annotations

from contextlib import suppress

EVERYWHERE = {"0.0.0.0": "192.0.2.1", "::": "2001:db8::1"}  # noqa: S104 - what is told apart, with an address for tests
"""The hosts that stand for every address of the machine, each with one beyond it, kept free for examples (RFC 5737,
RFC 3849)."""

_QUIET = 4  # light cells round the code, as ISO/IEC 18004 asks
_BLOCKS = {(False, False): "█", (False, True): "▀", (True, False): "▄", (True, True): " "}
"""Two cells above one another in a place: the light ones are drawn, since most terminals are dark."""


def address_on_network(host: str) -> str:
    """The address others of the network reach ``host`` at; ``host`` where it names one, or none is known."""
    import socket

    beyond = EVERYWHERE.get(host)
    if beyond is None:
        return host
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    with suppress(OSError), socket.socket(family, socket.SOCK_DGRAM) as asked:
        asked.connect((beyond, 9))  # nothing is sent: the system only says from which address it would be
        return str(asked.getsockname()[0])
    return host


def code_to_scan(address: str) -> list[str]:
    """The address as a QR code in the lines of a terminal; nothing where the library for it is not installed."""
    try:
        import segno
    except ImportError:
        return []
    rows = [list(map(bool, row)) for row in segno.make_qr(address, error="l").matrix_iter(border=_QUIET)]
    rows += [[True] * len(rows[0])] if len(rows) % 2 else []
    return [
        "".join(map(_BLOCKS.__getitem__, zip(*pair, strict=True))) for pair in zip(rows[::2], rows[1::2], strict=True)
    ]
