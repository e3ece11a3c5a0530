"""How a person likes the desk to look, in ``look.txt`` beside their own keys."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.store.own_keys import keys_file

if TYPE_CHECKING:
    from pathlib import Path

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
