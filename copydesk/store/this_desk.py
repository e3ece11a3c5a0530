"""What a desk is called in the ledger: as the environment says, else as the machine is called."""

from __future__ import annotations

import os


def desk_name() -> str:
    """This desk's name: ``COPYDESK_DESK``, or the machine's."""
    import socket

    return os.environ.get("COPYDESK_DESK") or socket.gethostname() or "desk"
