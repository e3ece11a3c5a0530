"""Keys of ``book.yaml`` as people name and type them, at the desk or on the command line."""

from __future__ import annotations

import re
from difflib import get_close_matches
from typing import TYPE_CHECKING, Any

from copydesk.book.common.errors import CopydeskError, InvalidValueError, UnknownNameError
from copydesk.book.common.typed_values import number_of, read_day
from copydesk.store.plan_file.allow_lines import typed_groups
from copydesk.store.plan_file.keys import known_keys
from copydesk.store.plan_file.plan_edits import holds_at, put
from copydesk.store.plan_file.plan_text import AsWritten
from copydesk.store.plan_file.reading import named
from copydesk.store.plan_file.scalars import ValueKind, Wrong
from copydesk.store.plan_file.sections import ByName, ListOf, Section
from copydesk.store.plan_file.yaml_places import Scalar

if TYPE_CHECKING:
    from collections.abc import Mapping

    from copydesk.store.plan_file.reading import Path


_PAIR = re.compile(r"\s*(.+?)\s*[:=\s]\s*([^:=]+?)\s*")


def typed_in(text: str, given: Mapping[Path, str]) -> str:
    """The text of a ``book.yaml`` with these keys set as people type them; an empty one is taken out.

    Raises:
        InvalidValueError: where a value is not of its key's kind.
    """
    for path, said in given.items():
        text = put(text, path, typed_value(path, said))
    return text


def key_path(key: str) -> Path:
    """The path of a key as people name it: ``page.width``, ``hands.A.name``, ``spaces.2.lines`` (items count from 1).

    Raises:
        UnknownNameError: where there is no such key.
    """
    path: list[str | int] = []
    for part in key.strip().split("."):
        is_item = isinstance(holds_at(tuple(path)), ListOf) and part.isdecimal() and int(part) > 0
        path.append(int(part) - 1 if is_item else part)
        if holds_at(tuple(path)) is None or (isinstance(holds_at(tuple(path[:-1])), ListOf) and not is_item):
            raise UnknownNameError(f"there is no key {key!r} in book.yaml; give one as {_near(key)}")
    return tuple(path)


def _near(key: str) -> str:
    """The key most like one that there is not, of the same item of a list where it is one of those."""
    first, *rest = key.split(".")
    near = next(iter(get_close_matches(key, [known.path for known in known_keys()], 1, 0.4)), "title")
    of_an_item = len(rest) > 1 and near.startswith(f"{first}.") and not isinstance(holds_at((first,)), Section)
    return near.replace(".", f".{rest[0]}.", 1) if of_an_item else near


def typed_value(path: Path, said: str) -> object:
    """What is typed for a key, as plain data; None where nothing is.

    Raises:
        InvalidValueError: where it is not of the key's kind.
    """
    if not said.strip():
        return None
    if (groups := typed_groups(path, said)) is not None:
        return groups
    try:
        return _typed(holds_at(path), said.strip())
    except Wrong as wrong:
        raise InvalidValueError(f"{_field(path)} {wrong}") from None


def _field(path: Path) -> str:
    """A key as people know it from its form: ``days under skins``, ``lines under spaces 2``."""
    *above, key = path
    return f"{key} under {named(tuple(above))}" if above and isinstance(key, str) else named(path)


def _read(holds: ValueKind, said: str) -> object:
    """The value typed; days as people write them too."""
    try:
        return holds.read(Scalar(said, False, 0, 0))
    except Wrong as wrong:
        try:
            return holds.read(Scalar(read_day(said).isoformat(), False, 0, 0))
        except (CopydeskError, Wrong):
            raise wrong from None


def _typed(holds: Any, said: str) -> object:
    if isinstance(holds, ListOf):
        return [_typed(holds.sort, part.strip()) for part in said.split(",") if part.strip()]
    if isinstance(holds, ByName) and isinstance(holds.sort, ValueKind):
        pairs = [(part, _PAIR.fullmatch(part)) for part in said.split(",") if part.strip()]
        if wrong := next((part for part, pair in pairs if pair is None), None):
            raise Wrong(f"cannot be {wrong.strip()!r}; write each name with its value, as in soak 2, lime 9")
        return {_typed(holds.key, pair[1]): _typed(holds.sort, pair[2]) for _, pair in pairs if pair}
    if isinstance(holds, Section) and holds.short:
        key = next(key for key in holds.keys if key.name == holds.short)
        return {key.name: _typed(key.holds, said)}
    if not isinstance(holds, ValueKind):
        raise Wrong(f"cannot be typed whole; write {holds.wanted}")
    read = _read(holds, said)
    if isinstance(read, int | float) and number_of(said) is not None:
        return AsWritten(said.lstrip("+").replace(",", "."))
    if isinstance(read, tuple):  # ranges of numbers
        return AsWritten(said)
    return said if isinstance(read, str | float) else holds.write(read)
