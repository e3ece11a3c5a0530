"""The parts of a ``book.yaml`` as people change them one at a time: each with its keys, what stands there, and help."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

from copydesk.store.files.book_folder import BOOK_FILE
from copydesk.store.plan_file.allow_lines import allow_lines
from copydesk.store.plan_file.keys import BOOK
from copydesk.store.plan_file.plan_edits import holds_at
from copydesk.store.plan_file.reading import named
from copydesk.store.plan_file.sections import ByName, ListOf, Loose, Section
from copydesk.store.plan_file.yaml_places import Entries, Items, Scalar, read_tree

if TYPE_CHECKING:
    from collections.abc import Iterator

    from copydesk.store.plan_file.reading import Path
    from copydesk.store.plan_file.sections import PlanKey
    from copydesk.store.plan_file.yaml_places import Tree


class PlanField(NamedTuple):
    """One key of a part: where it stands, its row in the table of keys, and what the file says, as people type it."""

    path: Path
    key: PlanKey
    said: str


class PlanPart(NamedTuple):
    """A part of the plan: where it stands, what it is called, one line of help, its keys."""

    path: Path
    says: str
    help: str
    fields: tuple[PlanField, ...]

    @property
    def said(self) -> str:
        """What the file says of it, in short."""
        return ", ".join(f"{field.key.name} {field.said}" for field in self.fields if field.said)


ADDED = ("hands", "divisions", "spaces", "passes", "flaws", "leaves", "changes", "never_scraped")
"""The parts of which there may be several."""


def plan_parts(text: str) -> list[PlanPart]:
    """The parts of a ``book.yaml``, in the order of the table of keys: those it has, and those it could have.

    Raises:
        BadPlanError: where it is no YAML.
    """
    tree = read_tree(text, BOOK_FILE)[0] or Entries((), 0, 0)
    single = tuple(PlanField((key.name,), key, _said(tree, (key.name,))) for key in BOOK.keys if _is_value(key.holds))
    return [PlanPart((), "the book", "what the book is, and how it is shown", single), *_parts(tree)]


def new_part(text: str, key: str, name: str = "") -> PlanPart:
    """One more hand (called ``name``), division, space, flaw or leaf, with nothing said of it yet."""
    tree = read_tree(text, BOOK_FILE)[0] or Entries((), 0, 0)
    path: Path = (key, name or sum(part.path[0] == key for part in _parts(tree)))
    return _part(Entries((), 0, 0), path, _help(key))


def _parts(tree: Tree) -> Iterator[PlanPart]:
    for key in BOOK.keys:
        stands = _at(tree, (key.name,))
        if isinstance(key.holds, Section):
            yield _part(tree, (key.name,), key.help)
        elif isinstance(key.holds, Loose):
            fields = tuple(PlanField(*line) for line in allow_lines(stands))
            yield PlanPart((key.name,), key.name, key.help, fields)
        elif key.name in ADDED and isinstance(stands, Items):
            yield from (_part(tree, (key.name, at), key.help) for at in range(len(stands.items)))
        elif key.name in ADDED and isinstance(stands, Entries):
            yield from (_part(tree, (key.name, name.text), key.help) for name, _ in stands.entries)


def _help(name: str) -> str:
    return next(key.help for key in BOOK.keys if key.name == name)


def _part(tree: Tree, path: Path, help_line: str) -> PlanPart:
    return PlanPart(path, named(path).replace(", ", " "), help_line, tuple(_fields(tree, path, holds_at(path))))


def _fields(tree: Tree, path: Path, section: Section) -> Iterator[PlanField]:
    for key in section.keys:
        here = (*path, key.name)
        if isinstance(key.holds, Section):
            yield from _fields(tree, here, key.holds)
        else:
            yield PlanField(here, key, _said(tree, here))


def _is_value(holds: Any) -> bool:
    inner = holds.sort if isinstance(holds, ListOf | ByName) else holds
    return not isinstance(inner, Section) and not isinstance(holds, Loose)


def _at(tree: Tree | None, path: Path) -> Tree | None:
    for at, part in enumerate(path):
        if isinstance(tree, Entries):
            tree = next((value for name, value in tree.entries if name.text == str(part)), None)
        elif isinstance(tree, Items) and isinstance(part, int):
            tree = tree.items[part] if part < len(tree.items) else None
        elif isinstance(tree, Scalar) and getattr(holds_at(path[:at]), "short", "") == part:
            continue
        else:
            return None
    return tree


def _said(tree: Tree, path: Path) -> str:
    return _typed(_at(tree, path))


def _typed(tree: Tree | None) -> str:
    if isinstance(tree, Items):
        return ", ".join(map(_typed, tree.items))
    if isinstance(tree, Entries):
        return ", ".join(f"{name.text} {_typed(value)}" for name, value in tree.entries)
    return tree.text if tree is not None else ""
