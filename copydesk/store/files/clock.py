"""What the machine tells of itself: the time, and the name of the desk it stands at."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from datetime import datetime


def now() -> datetime:
    """The time, with its zone."""
    from datetime import datetime

    return datetime.now().astimezone()


def desk_name() -> str:
    """What this desk is called: as ``COPYDESK_DESK`` says, else as the machine is called in its network."""
    return os.environ.get("COPYDESK_DESK") or _machine_name() or "desk"


def _machine_name() -> str:
    if hasattr(os, "uname"):  # what a socket would say; its library is slow to load
        return os.uname().nodename
    import socket

    return socket.gethostname()
