"""The lock file holds a version of everything that is asked for, each within its range."""

from __future__ import annotations

from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

import lock


def held() -> dict[str, str]:
    pairs = (line.split("==") for line in lock.LOCK.read_text("utf-8").splitlines())
    return dict(pairs)


def test_everything_asked_for_is_locked_within_its_range() -> None:
    versions = held()
    for each in lock.asked():
        assert each.specifier.contains(versions[canonicalize_name(each.name)]), each
    assert len(versions) > len(lock.asked()), "what they ask for themselves is locked too"


def test_every_library_of_the_program_has_a_lower_end() -> None:
    for_users = lock.asked(*lock.FOR_USERS)
    assert dict(lock.lowest(for_users)).keys() == {canonicalize_name(each.name) for each in for_users}
    assert dict(lock.lowest([Requirement("one>=1.2,<2"), Requirement("two==3")])) == {"one": "1.2", "two": "3"}
