"""The pages of help, one topic a Markdown file, read from inside the package."""

from __future__ import annotations

from importlib.resources import files
from typing import NamedTuple

from copydesk.book.common.errors import UnknownNameError


def topics() -> list[str]:
    """The names of all topics."""
    found = (page.name for page in files("copydesk.help").iterdir())
    return sorted(name.removesuffix(".md") for name in found if name.endswith(".md"))


def read_topic(name: str) -> str:
    """The Markdown of a topic.

    Raises:
        UnknownNameError: where there is no such topic.
    """
    if name not in topics():
        raise UnknownNameError(f"there is no help on {name!r}; there is on {', '.join(topics())}")
    return files("copydesk.help").joinpath(f"{name}.md").read_text("utf-8")


def without_marks(text: str) -> str:
    """A topic as it is read out or shown without style: no marks of Markdown but those of tables and lists."""
    bare = (line.lstrip("#").lstrip() if line.startswith("#") else line for line in text.splitlines())
    return "\n".join(bare).replace("**", "").replace("`", "")


class TourStep(NamedTuple):
    """One step: its heading and what it says; keys in it stand between pairs of asterisks."""

    head: str
    says: str


def tour_steps(topic: str = "tour") -> tuple[TourStep, ...]:
    """Every step of a walk in order."""
    parts = (part.partition("\n") for part in read_topic(topic).split("\n## ")[1:])
    return tuple(TourStep(head.strip(), " ".join(says.split())) for head, _, says in parts)
