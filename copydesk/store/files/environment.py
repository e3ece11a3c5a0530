"""What the computer and the person at it say: the time, the desk's name, own keys and the look chosen last."""

from __future__ import annotations

import os
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

from copydesk.store.files.text_file import bad_file

if TYPE_CHECKING:
    from collections.abc import Mapping
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


def copy_name(folder: Path) -> str:
    """What the copy of a book in ``folder`` is called: no other copy, on this machine or another, has the same name.

    It is worked out from the machine and the folder's place on it, so that a copied folder never brings it along.
    """
    from hashlib import blake2b

    place, machine = folder.resolve(), ""
    with suppress(OSError, UnicodeDecodeError):  # names of machines are often alike; Linux gives each a mark besides
        machine = Path("/etc/machine-id").read_text("utf-8")
    said = "\0".join((_machine_name(), machine, str(place), str(place.stat().st_ino)))
    return blake2b(said.encode(errors="surrogateescape"), digest_size=4).hexdigest()


def state_folder() -> Path:
    """Where what copydesk knows besides its books is kept: ``COPYDESK_STATE``, else the system's place for it."""
    if named := os.environ.get("COPYDESK_STATE"):
        return Path(named)
    from platformdirs import user_state_path

    return user_state_path("copydesk")


_LARGEST = 200_000


def keys_file() -> Path:
    """Where the file is looked for: ``COPYDESK_KEYS``, else the system's place for configuration."""
    named = os.environ.get("COPYDESK_KEYS")
    if named:
        return Path(named)
    from platformdirs import user_config_path

    return user_config_path("copydesk") / "keys.toml"


def read_own_keys() -> Mapping[str, object]:
    """The ``[keys]`` of the file, ids with keys; nothing where there is no file.

    Raises:
        BadFileError: where the file cannot be read, or is not TOML (with its place).
    """
    path = keys_file()
    if not path.is_file():
        return {}
    import tomllib

    try:
        if path.stat().st_size > _LARGEST:
            raise bad_file(str(path), "is too long to be a list of keys; shorten it")
        found = tomllib.loads(path.read_text("utf-8"))
    except (OSError, UnicodeDecodeError) as error:
        raise bad_file(str(path), f"cannot be read ({error}); mend or remove it") from error
    except tomllib.TOMLDecodeError as error:
        raise bad_file(str(path), f"is not TOML: {error}; mend it, as copydesk keys --toml shows") from error
    keys = found.get("keys", {})
    if not isinstance(keys, dict) or set(found) - {"keys"}:
        raise bad_file(str(path), "must hold one table, [keys]; copydesk keys --toml shows it")
    return keys


_LONGEST = 40


def look_file() -> Path:
    """Where it is kept."""
    return keys_file().with_name("look.txt")


def read_look() -> str:
    """The name kept, whatever it is; empty where there is none, or it cannot be read: looks stop nobody."""
    try:
        with look_file().open(encoding="utf-8", errors="replace") as kept:
            return kept.read(_LONGEST).strip()
    except OSError:
        return ""


def keep_look(name: str) -> None:
    """Keep a name for the next time; where it cannot be kept, the next time begins as this one did."""
    path = look_file()
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(f"{name}\n", "utf-8")
    except OSError:
        return
