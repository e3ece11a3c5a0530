"""The walk round the desk, step by step."""

from __future__ import annotations

from typing import NamedTuple

from copydesk.help.topics import read_topic


class Step(NamedTuple):
    """One step: its heading and what it says; keys in it stand between pairs of asterisks."""

    head: str
    says: str


def tour_steps() -> tuple[Step, ...]:
    """Every step in order."""
    parts = (part.partition("\n") for part in read_topic("tour").split("\n## ")[1:])
    return tuple(Step(head.strip(), " ".join(says.split())) for head, _, says in parts)
