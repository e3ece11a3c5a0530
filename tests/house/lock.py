"""The versions everything was developed and tested with, and the lowest that people may have.

    python tests/house/lock.py > tests/lock.txt       # of the environment this runs in
    python tests/house/lock.py --lowest               # the lower end of each range that people install from

Both are for ``pip install -c``.
"""

from __future__ import annotations

import sys
import tomllib
from importlib.metadata import PackageNotFoundError, distribution
from pathlib import Path
from typing import TYPE_CHECKING

from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

ROOT = Path(__file__).parents[2]
LOCK = ROOT / "tests" / "lock.txt"


FOR_USERS = ("serve", "postgres")
"""The extras that people install; the others are for whoever works on the program."""


def asked(*extras: str) -> list[Requirement]:
    """What ``pyproject.toml`` asks for: by itself, and with these extras; with all where none is named."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    optional = project["optional-dependencies"]
    more = (each for extra in extras or optional for each in optional[extra])
    return [Requirement(each) for each in (*project["dependencies"], *more)]


def locked(asked_for: Iterable[Requirement]) -> dict[str, str]:
    """The version that is installed of each, and of all that they ask for themselves."""
    found: dict[str, str] = {}
    waiting = list(asked_for)
    while waiting:
        wanted = waiting.pop()
        name = canonicalize_name(wanted.name)
        try:
            there = distribution(name)
        except PackageNotFoundError:
            continue  # not for this system
        further = [Requirement(each) for each in there.requires or ()]
        known = name in found
        found[name] = there.version
        for each in further:
            in_extra = any(each.marker and each.marker.evaluate({"extra": extra}) for extra in wanted.extras)
            plain = not known and (each.marker is None or each.marker.evaluate({"extra": ""}))
            if (plain or in_extra) and canonicalize_name(each.name) not in found:
                waiting.append(each)
    return found


def lowest(asked_for: Iterable[Requirement]) -> Iterator[tuple[str, str]]:
    """The lower end of each range, where it has one."""
    for each in asked_for:
        ends = [part.version for part in each.specifier if part.operator in (">=", "==")]
        if ends:
            yield canonicalize_name(each.name), ends[0]


if __name__ == "__main__":
    chosen = dict(lowest(asked(*FOR_USERS))) if "--lowest" in sys.argv[1:] else locked(asked())
    sys.stdout.writelines(f"{name}=={version}\n" for name, version in sorted(chosen.items()))
