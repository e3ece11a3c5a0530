"""Reading a YAML text by a table of keys: every value by its key's own rule, every mistake noted with its place."""

from __future__ import annotations

from difflib import get_close_matches
from typing import TYPE_CHECKING, Any, NamedTuple, TypeVar

from copydesk.book.common.errors import Problem
from copydesk.store.files.text_file import shown
from copydesk.store.plan_file.scalars import ValueKind, Wrong
from copydesk.store.plan_file.sections import ByName, ListOf, Loose, PlanKey, Section, keys_under
from copydesk.store.plan_file.yaml_places import Entries, Items, Scalar

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from copydesk.store.plan_file.yaml_places import Tree


Path = tuple[str | int, ...]
"""Where a value stands: keys, and for lists the number of the item from 0."""

T = TypeVar("T")
MOST_GUESSES = 100
"""Unknown keys for which the nearest known one is looked for."""


class ValuePlaces(NamedTuple):
    """Where each value of a book's file stands."""

    file: str
    places: Mapping[Path, tuple[int, int]]

    def problem(self, path: Path, what: str) -> Problem:
        """What is wrong with the value at ``path``, at its place or that of the nearest value around it."""
        return Problem(self.file, *self.at(path), f"{named(path)} {what}" if path else what)

    def at(self, path: Path) -> tuple[int, int]:
        """Line and column of the value at ``path``, or of the nearest value around it."""
        while path and path not in self.places:
            path = path[:-1]
        return self.places.get(path, (0, 0))


def named(path: Path) -> str:
    """A path as people say it: ``spaces 3, lines``; the items of lists count from 1."""
    parts: list[str] = []
    for part in path:
        if isinstance(part, int):
            parts[-1] += f" {part + 1}"
        else:
            parts.append(part if part.isprintable() and len(part) <= 40 else shown(part))
    return ", ".join(parts)


class Reading:
    """A book's file being read: the values so far, where they stand, what is wrong.

    ``whole`` is the section that all of the file is read by.
    """

    def __init__(self, file: str, whole: Section) -> None:
        self.file = file
        self._whole = whole
        self.values: dict[Path, object] = {}
        self.places: dict[Path, tuple[int, int]] = {}
        self.problems: list[Problem] = []
        self._wrong: set[Path] = set()
        self._around_wrong: set[Path] = set()
        self._guesses = 0

    def reject(self, path: Path, what: str) -> None:
        """Note that the value at ``path`` is wrong."""
        self.problems.append(ValuePlaces(self.file, self.places).problem(path, what))
        self.mark_wrong(path)

    def reject_with(self, path: Path, sentence: str) -> None:
        """Note what is wrong with the value at ``path`` in a sentence that speaks for itself."""
        line, column = ValuePlaces(self.file, self.places).at(path)
        self.problems.append(Problem(self.file, line, column, sentence))
        self.mark_wrong(path)

    def reject_all(self, found: Iterable[tuple[Path, str]]) -> None:
        """Note everything ``found``: where, and what is wrong there."""
        for path, what in found:
            self.reject(path, what)

    def mark_wrong(self, path: Path) -> None:
        """Remember that the value at ``path`` is wrong, for ``sound``."""
        self._wrong.add(path)
        self._around_wrong.update(path[:length] for length in range(len(path)))

    def value(self, sort: type[T], *path: str | int) -> T | None:
        """The value at ``path``, where it was given and is of this sort."""
        found = self.values.get(path)
        return found if isinstance(found, sort) else None

    def items(self, sort: type[T], key: str) -> Iterator[tuple[int, T]]:
        """The items of the list under ``key`` that are of this sort, with their number from 0."""
        at = 0
        while (key, at) in self.places:
            if isinstance(found := self.values.get((key, at)), sort):
                yield at, found
            at += 1

    def sound(self, *path: str | int) -> bool:
        """Whether nothing is wrong with the value at ``path``, within it or around it; it need not be given."""
        if path in self._around_wrong:
            return False
        return not any(path[:length] in self._wrong for length in range(len(path) + 1))

    def read(self, holds: Any, tree: Tree, path: Path) -> object | None:
        """The value of ``tree``, or None where it is wrong or left empty."""
        self.places[path] = (tree.line, tree.column)
        if isinstance(tree, Scalar) and not tree.text and not tree.quoted:
            return None
        try:
            value = self._read(holds, tree, path)
        except Wrong as error:
            self.places[path] = (tree.line, tree.column + error.at)
            self.reject(path, str(error))
            return None
        if value is not None:
            self.values[path] = value
        return value

    def _read(self, holds: Any, tree: Tree, path: Path) -> object | None:
        """The value itself.

        Raises:
            Wrong: where there is a list instead of keys, or the like, or a single value that is not of its kind.
        """
        if isinstance(holds, Section):
            return self._section(holds, tree, path)
        if isinstance(holds, ByName) and isinstance(tree, Entries):
            return self._by_name(holds, tree, path)
        if isinstance(holds, ListOf) and isinstance(tree, Items):
            read = [self.read(holds.sort, item, (*path, index)) for index, item in enumerate(tree.items)]
            return tuple(value for value in read if value is not None)
        if isinstance(holds, ListOf) and holds.lone:
            value = self.read(holds.sort, tree, path)
            return None if value is None else (value,)
        if isinstance(holds, Loose) and (len(path) > 1 or isinstance(tree, Entries)):
            return self._loose(holds, tree, path)
        if isinstance(holds, ValueKind) and isinstance(tree, Scalar):
            return holds.read(tree)
        raise _misfit(holds, tree)

    def _loose(self, holds: Loose, tree: Tree, path: Path) -> object:
        if isinstance(tree, Entries):
            return {key.text: self.read(holds, value, (*path, key.text)) for key, value in tree.entries}
        if isinstance(tree, Items):
            return [self.read(holds, item, (*path, at)) for at, item in enumerate(tree.items)]
        return holds.sort.read(tree)

    def _by_name(self, holds: ByName, tree: Entries, path: Path) -> dict[object, object]:
        read: dict[object, object] = {}
        for key, value_tree in tree.entries:
            try:
                name = holds.key.read(key)
            except Wrong as error:
                self._beside(key, f"{named(path)}: {holds.called} {error}")
                self.mark_wrong(path)
                continue
            if (*path, str(name)) in self.places:
                self._beside(key, f"{shown(key.text)} says the same as a key above it; keep one")
                continue
            value = self.read(holds.sort, value_tree, (*path, str(name)))
            if value is not None:
                read[name] = value
        return read

    def _beside(self, key: Scalar, sentence: str) -> None:
        """Note what is wrong with a key itself."""
        self.problems.append(Problem(self.file, key.line, key.column, sentence))

    def _section(self, section: Section, tree: Tree, path: Path) -> object | None:
        if not isinstance(tree, Entries):
            if not section.short or not isinstance(tree, Scalar):
                raise _misfit(section, tree)
            tree = Entries(((Scalar(section.short, False, tree.line, tree.column), tree),), tree.line, tree.column)
        given = self._keys(section, tree, path)
        if any(key.needed and key.name not in given for key in section.keys):
            return None
        return section.make(**given)

    def _keys(self, section: Section, tree: Entries, path: Path) -> dict[str, object]:
        by_name = {key.name: key for key in section.keys}
        given: dict[str, object] = {}
        suggested: set[str] = set()
        for name, value_tree in tree.entries:
            key = by_name.get(name.text)
            if key is None:
                suggested.add(self._unknown(name, value_tree, section, path))
                continue
            value = self.read(key.holds, value_tree, (*path, key.name))
            if value is not None:
                given[key.name] = value
        for key in section.keys:
            if key.needed and key.name not in given and key.name not in suggested and self.sound(*path, key.name):
                self._missing(key, path)
        return given

    def _missing(self, key: PlanKey, path: Path) -> None:
        where = f"{named(path)} has no {key.name}" if path else f"there is no {key.name}"
        what = f"{where}: {key.help}; write {key.name}: with {key.holds.wanted}"
        line, column = self.places.get((*path, key.name)) or self.places.get(path, (0, 0))
        self.problems.append(Problem(self.file, line, column, what))
        self.mark_wrong((*path, key.name))

    def _unknown(self, name: Scalar, value: Tree, section: Section, path: Path) -> str:
        """Say that a key is unknown; gives the known key nearest to it, or nothing."""
        self._guesses += 1
        names = [key.name for key in section.keys]
        likely, advice = "", "take it out"
        if self._guesses <= MOST_GUESSES:
            likely, advice = suggest_key(name.text, value, names, self._whole)
        where = f" under {named(path)}" if path else ""
        self._beside(name, f"{shown(name.text)} is no key{where}; {advice}")
        self.mark_wrong((*path, "", name.text))
        return likely


def _misfit(holds: Any, tree: Tree) -> Wrong:
    """What is wrong with a list that stands where keys should, or the like."""
    found = (
        shown(tree.text) if isinstance(tree, Scalar) else "a list" if isinstance(tree, Items) else "keys with values"
    )
    return Wrong(f"cannot be {found}; write {holds.wanted}")


def suggest_key(written: str, value: Tree, names: Sequence[str], whole: Section) -> tuple[str, str]:
    """The known key most like an unknown one (empty where none is near), and the advice for it.

    Args:
        written: the unknown key.
        value: what stands under it.
        names: the keys that may stand in its place.
        whole: the section all of ``book.yaml`` is read by, for keys that belong elsewhere.
    """
    before, colon, _ = written.partition(":")
    if colon and before in names and isinstance(value, Scalar) and not value.text:
        return before, f"put a space after the colon of {before}:"
    plain = written.strip().lower().replace("-", "_").replace(" ", "_")
    if near := get_close_matches(plain, names, 1, 0.8):
        return near[0], f"did you mean {near[0]}?"
    paths = [key.path.rpartition(".") for key in keys_under(whole)]
    if elsewhere := [above for above, dot, key in paths if dot and key == plain]:
        return "", f"it belongs under {' or '.join(elsewhere)}"
    if near := get_close_matches(plain, names, 1, 0.6):
        return near[0], f"did you mean {near[0]}?"
    shown_names = ", ".join(names) if len(names) <= 12 else f"{', '.join(names[:11])} and so on"
    return "", f"take it out, or write one of {shown_names}"
