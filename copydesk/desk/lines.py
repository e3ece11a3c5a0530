"""A line of a panel, for whatever shows it. No Textual here, and nothing of the book."""

from __future__ import annotations

from typing import NamedTuple


class Line(NamedTuple):
    """A line of a panel: its heading (empty where it goes on) and what it says; ``wrong`` asks for the red."""

    head: str
    says: str
    wrong: bool = False
