"""A person's own keys: which were changed, checked against the house's list and against one another."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from copydesk.book.common.errors import BadFileError, Problem

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from copydesk.desk.base.keys import KeyBinding


_NAMED = frozenset(
    (
        *("enter", "space", "tab", "escape", "backspace", "delete", "insert", "home", "end", "pageup", "pagedown"),
        *("up", "down", "left", "right", "question_mark", "colon", "semicolon", "comma", "full_stop", "slash"),
        *("backslash", "minus", "plus", "equals_sign", "underscore", "exclamation_mark", "quotation_mark"),
        *("apostrophe", "number_sign", "dollar_sign", "percent_sign", "ampersand", "asterisk", "left_parenthesis"),
        *("right_parenthesis", "left_square_bracket", "right_square_bracket", "left_curly_bracket"),
        *("right_curly_bracket", "vertical_line", "tilde", "grave_accent", "circumflex_accent", "at"),
        *("less_than_sign", "greater_than_sign"),
    )
)
_ARROWS = ("left", "right", "up", "down", "home", "end")
"""Keys that terminals tell apart with shift held down."""

_NEVER_SENT = {
    "ctrl+i": "tab",
    "ctrl+m": "enter",
    "ctrl+j": "enter",
    "ctrl+h": "backspace",
    "ctrl+left_square_bracket": "escape",
}
"""Keys that terminals send as another one."""


@dataclass(frozen=True, slots=True)
class Keymap:
    """Keys changed from those of the house, by id."""

    changed: Mapping[str, str] = field(default_factory=dict)

    def key_of(self, key: KeyBinding) -> str:
        """The key an act has now."""
        return self.changed.get(key.id, key.key)


def keymap_from(given: Mapping[str, object], file: str) -> Keymap:
    """A keymap from a person's file: ids with the key or keys (separated by commas) each is to have.

    Raises:
        CopydeskError: for unknown ids, keys no terminal sends, and keys given to two acts of one screen: all together.
    """
    from copydesk.desk.base.keys import KEYS

    known = {key.id: key for key in KEYS}
    changed: dict[str, str] = {}
    problems = [*_unknown(given, set(known))]
    for name, value in given.items():
        if name in known:
            wrong = _wrong_keys(value)
            problems += [f"{name!r} is given {value!r}: {why}" for why in wrong]
            if not wrong:
                changed[name] = ",".join(each.strip() for each in str(value).split(","))
    problems += _clashes(KEYS, changed)
    if problems:
        raise BadFileError(*(Problem(file, 0, 0, problem) for problem in problems))
    return Keymap(changed)


def _unknown(given: Mapping[str, object], known: set[str]) -> Iterator[str]:
    from difflib import get_close_matches

    for name in given:
        if name not in known:
            near = get_close_matches(name, known, 1)
            meant = f"did you mean {near[0]!r}?" if near else "copydesk keys lists them"
            yield f"{name!r} is no act of the desk; {meant}"


def _wrong_keys(value: object) -> list[str]:
    """Why a value cannot be the keys of an act."""
    if not isinstance(value, str) or not value.strip():
        return ["write the name of a key, as in w or f6 or ctrl+w"]
    return [why for key in value.split(",") if (why := _wrong_key(key.strip()))]


def _wrong_key(key: str) -> str:
    if key in _NEVER_SENT:
        return f"terminals send {_NEVER_SENT[key]} for {key}; take another key"
    bare = key.removeprefix("ctrl+")
    if bare.startswith("shift+"):
        bare = bare.removeprefix("shift+") if bare.endswith(_ARROWS) else bare
    if bare in _NAMED or re.fullmatch(r"f([1-9]|1[0-2])", bare) or (len(bare) == 1 and bare.isalnum()):
        return ""
    return f"{key!r} is no key that every terminal sends; take a letter, a digit, f1 to f12, or a name such as home"


def _clashes(keys: tuple[KeyBinding, ...], changed: Mapping[str, str]) -> Iterator[str]:
    """Keys that two acts of one screen would share; the acts of every screen count with each."""
    scopes = dict.fromkeys(key.id.split(".")[0] for key in keys)
    told: set[frozenset[str]] = set()
    for scope in scopes:
        holder: dict[str, str] = {}
        for key in keys:
            if key.id.split(".")[0] not in (scope, "all"):
                continue
            for each in changed.get(key.id, key.key).split(","):
                other = holder.setdefault(each, key.id)
                pair = frozenset((other, key.id))
                if other != key.id and pair & changed.keys() and pair not in told:
                    told.add(pair)
                    yield f"{each!r} is given to {other!r} and to {key.id!r}; give one of them another key"
