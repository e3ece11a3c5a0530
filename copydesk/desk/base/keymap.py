"""A person's own keys: which were changed, checked against the house's list and against one another."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from copydesk.book.common.errors import BadFileError, Problem
from copydesk.desk.base.keys import KEYS, NO_KEY, OFFERED, key_named, offered_by, scope_of
from copydesk.desk.base.screen_table import SCREENS

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from copydesk.desk.base.keys import KeyBinding


_PLAIN_NAMES = ("enter", "space", "tab", "backspace", "delete", "insert", "home", "end")
"""Keys called as Textual calls them."""

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


def shown(key: str) -> str:
    """A key as people know it, the first of several: ``←``, ``?``, ``F5``, ``ctrl+s``; empty where there is none."""
    first = key.split(",", maxsplit=1)[0].strip()
    held, plus, bare = first.rpartition("+")
    return f"{held}{plus}{_SHOWN.get(bare, bare.upper() if re.fullmatch(r'f[0-9]+', bare) else bare)}"


def all_shown(key: str) -> str:
    """Every key of an act as people know it."""
    return ", ".join(shown(each) for each in key.split(",") if each.strip())


_SHOWN = {
    "left": "←",
    "right": "→",
    "up": "↑",
    "down": "↓",
    "escape": "esc",
    "pageup": "pgup",
    "pagedown": "pgdn",
    "question_mark": "?",
    "colon": ":",
    "semicolon": ";",
    "comma": ",",
    "full_stop": ".",
    "slash": "/",
    "backslash": "\\",
    "minus": "-",
    "plus": "+",
    "equals_sign": "=",
    "underscore": "_",
    "exclamation_mark": "!",
    "quotation_mark": '"',
    "apostrophe": "'",
    "number_sign": "#",
    "dollar_sign": "$",
    "percent_sign": "%",
    "ampersand": "&",
    "asterisk": "*",
    "left_parenthesis": "(",
    "right_parenthesis": ")",
    "left_square_bracket": "[",
    "right_square_bracket": "]",
    "left_curly_bracket": "{",
    "right_curly_bracket": "}",
    "vertical_line": "|",
    "tilde": "~",
    "grave_accent": "`",
    "circumflex_accent": "^",
    "at": "@",
    "less_than_sign": "<",
    "greater_than_sign": ">",
}
"""Keys that bear a sign or another name than Textual's."""


@dataclass(frozen=True, slots=True)
class Keymap:
    """Keys changed from those of the house, by id; ``told`` says which acts of the house lost their key to one."""

    changed: Mapping[str, str] = field(default_factory=dict)
    told: tuple[str, ...] = ()

    def key_of(self, key: KeyBinding) -> str:
        """The key an act has now; empty where it has none."""
        found = self.changed.get(key.id, key.key)
        return "" if found == NO_KEY else found

    def way_to(self, key: KeyBinding) -> str:
        """How an act is reached, as people know the keys: ``w``, ``F5``; ``m b`` through a list; empty by name only."""
        own = self.key_of(key)
        if own:
            return all_shown(own)
        scope, _, name = key.id.partition(".")
        for opener, offered in OFFERED.items():
            letter = next((letter for letter, each in offered if each == name), "")
            if letter and opener.startswith(f"{scope}."):
                return f"{shown(self.key_of(key_named(opener)))} {letter}"
        letter = next((entry.letter for entry in SCREENS if entry.key == key.id), "")
        return f"{shown(self.key_of(key_named('all.others')))} {letter}" if letter else ""


def keymap_from(given: Mapping[str, object], file: str) -> Keymap:
    """A keymap from a person's file: ids with the key or keys (separated by commas) each is to have.

    Raises:
        CopydeskError: for unknown ids, keys no terminal sends, and keys given to two acts of one screen: all together.
    """
    known = {key.id: key for key in KEYS}
    changed: dict[str, str] = {}
    problems = [*_unknown(given, set(known))]
    for name, value in given.items():
        if name in known:
            wrong = _wrong_keys(value)
            problems += [f"{name!r} is given {value!r}: {why}" for why in wrong]
            if not wrong:
                changed[name] = ",".join(each.strip() for each in str(value).split(","))
    problems += _clashes(changed)
    if problems:
        raise BadFileError(*(Problem(file, 0, 0, problem) for problem in problems))
    lost = dict(_lost(changed))
    return Keymap({**changed, **lost}, tuple(_told(changed, lost)))


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
    if (
        bare in _PLAIN_NAMES
        or bare in _SHOWN
        or re.fullmatch(r"f([1-9]|1[0-2])", bare)
        or (len(bare) == 1 and bare.isalnum())
    ):
        return ""
    return f"{key!r} is no key that every terminal sends; take a letter, a digit, f1 to f12, or a name such as home"


def _sharing(changed: Mapping[str, str]) -> Iterator[tuple[str, KeyBinding, KeyBinding]]:
    """Each key that two acts of one screen would share, by a person's own choice; the acts of every screen count."""
    told: set[frozenset[str]] = set()
    for scope in dict.fromkeys(map(scope_of, KEYS)):
        holder: dict[str, KeyBinding] = {}
        for key in KEYS:
            if scope_of(key) not in (scope, "all"):
                continue
            for each in filter(None, changed.get(key.id, key.key).split(",")):
                other = holder.setdefault(each, key)
                pair = frozenset((other.id, key.id))
                own = any(changed.get(one.id, one.key) != one.key for one in (other, key))
                if other is not key and own and pair not in told:
                    told.add(pair)
                    yield each, other, key


def _clashes(changed: Mapping[str, str]) -> Iterator[str]:
    """Keys a person gave to two acts of one screen, or took from an act that every screen has."""
    for each, other, key in _sharing(changed):
        both = other.id in changed and key.id in changed
        if both or "all" in (scope_of(other), scope_of(key)):
            yield f"{shown(each)!r} is given to {other.id!r} and to {key.id!r}; give one of them another key"


def _lost(changed: Mapping[str, str]) -> Iterator[tuple[str, str]]:
    """The acts whose key of the house a person gave to another act, with the keys they keep."""
    taken: dict[str, set[str]] = {}
    for each, other, key in _sharing(changed):
        house = other if key.id in changed else key
        taken.setdefault(house.id, set()).add(each)
    for name, keys in taken.items():
        kept = [each for each in key_named(name).key.split(",") if each not in keys]
        yield name, ",".join(kept) or NO_KEY


def _told(changed: Mapping[str, str], lost: Mapping[str, str]) -> Iterator[str]:
    """What is said of those keys when the desk opens."""
    for name, kept in lost.items():
        house = key_named(name)
        gone = [each for each in house.key.split(",") if each not in kept.split(",")]
        owner = next(
            own for own, keys in changed.items() if set(keys.split(",")) & set(gone) and _meet(key_named(own), house)
        )
        yield f"{shown(gone[0])} is your own key for {owner}, so {house.id} ({house.says}) no longer has it"


def _meet(one: KeyBinding, other: KeyBinding) -> bool:
    return scope_of(one) == scope_of(other) or "all" in (scope_of(one), scope_of(other))


_RECORDING = {
    *("rule", "write", "write_to", "check", "fault", "mend", "hand", "begin", "hold", "leaf", "rule_sheet"),
    *("rule_gathering", "do_next", "clock", "undo", "redo", "take_back", "take", "other", "note", "bound", "keep"),
    *("new", "move_on", "step", "cut", "stage", "size", "move", "drop", "someone", "add", "change", "remove"),
    *("go_over", "some"),
}
_RECORDING_WITH = ("leaf(", "fill(", "sheet(", "place(", "change(")
_RECORDING_HERE = ("assembly.tick", "colophon.words", "remedies.choose")
"""Acts that record on one screen, while acts of this name elsewhere do not."""


def records(key: KeyBinding) -> bool:
    """Whether an act writes into the ledger or the plan, or only offers acts that do."""
    if key.id in OFFERED:
        return all(records(each) for _, each in offered_by(key.id))
    here = f"{scope_of(key)}.{key.action}"
    return key.action in _RECORDING or key.action.startswith(_RECORDING_WITH) or here in _RECORDING_HERE
