"""What ``allow:`` of ``book.yaml`` says, a line for each difference that may be allowed, as people type it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.store.plan_file.scalars import allowance
from copydesk.store.plan_file.sections import PlanKey
from copydesk.store.plan_file.yaml_places import Entries, Items, Scalar

if TYPE_CHECKING:
    from collections.abc import Iterator

    from copydesk.store.plan_file.reading import Path
    from copydesk.store.plan_file.yaml_places import Tree


ALLOW = "allow"

_GROUPS = ("letters", "spellings", "abbreviations")
"""Those that hold groups of words; the others are yes or no."""


def _key(name: str, usual: str, says: str) -> PlanKey:
    return PlanKey(name, allowance()._replace(wanted=f"yes or no; {usual} where nothing stands here"), says)


def _groups_key(name: str, says: str) -> PlanKey:
    return PlanKey(name, allowance()._replace(wanted="words side by side, with commas between groups"), says)


KEYS = (
    _key("u/v", "yes", "u and v count as one letter"),
    _key("i/j", "yes", "i and j count as one letter"),
    _key("ampersand", "yes", "& and the Tironian sign count as the word for and"),
    _key("signs", "yes", "common abbreviations count as what they stand for"),
    _key("case", "yes", "capitals and small letters count alike"),
    _key("punctuation", "yes", "points, hyphens and other marks do not count"),
    _key("accents", "no", "marks over and under letters do not count"),
    _key("bare divisions", "no", "a word may be divided at a line's end without a hyphen"),
    _groups_key("letters", "letters that count alike, in pairs, as in þ th, ð d"),
    _groups_key("spellings", "words that count alike, as in colour color, grey gray"),
    _groups_key("abbreviations", "each with what it may stand for, as in pb presbyter, dns dominus domini"),
)
"""Every difference that may be allowed, with what counts where the book says nothing."""


def allow_lines(stands: Tree | None) -> Iterator[tuple[Path, PlanKey, str]]:
    """Where each key stands (as the file spells it), its row of the table, and what the file says of it."""
    entries = stands.entries if isinstance(stands, Entries) else ()
    there = {_plain(name.text): (name.text, value) for name, value in entries}
    for key in KEYS:
        name, value = there.get(_plain(key.name), (key.name, None))
        groups = key.name in _GROUPS
        yield (ALLOW, name), key, ", ".join(map(" ".join, _groups(value))) if groups else " ".join(_words(value))


def typed_groups(path: Path, said: str) -> list[list[str]] | None:
    """The groups of words that are typed for a key of ``allow``; None for any other key."""
    if path[:1] != (ALLOW,) or len(path) != 2 or _plain(str(path[1])) not in _GROUPS:
        return None
    return [part.split() for part in said.split(",") if part.strip()]


def _plain(name: str) -> str:
    return name.strip().replace("/", "_").replace(" ", "_").replace("-", "_")


def _groups(value: Tree | None) -> list[list[str]]:
    if isinstance(value, Entries):
        return [[name.text, *_words(other)] for name, other in value.entries]
    return [_words(item) for item in value.items] if isinstance(value, Items) else []


def _words(value: Tree | None) -> list[str]:
    if isinstance(value, Items):
        return [word for item in value.items for word in _words(item)]
    return [value.text] if isinstance(value, Scalar) else []
