"""A small sound plan, and changes to it, for the tests of reading."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.errors import CopydeskError
from copydesk.store.plan_file.book_file import parse_plan

if TYPE_CHECKING:
    from copydesk.book.plan import Book

SOUND = """\
title: A small book
divisions:
  - {title: One, words: 200}
  - {title: Two, words: 100}
page:
  width: 170
  height: 240
  margins: {inner: 18, head: 24, outer: 36, foot: 48}
columns: {count: 2, gap: 10}
ruling: {lines: 32}
hands:
  A: {name: first scribe, letters_per_line: 34}
"""


def book_of(text: str) -> Book:
    return parse_plan(text, "book.yaml").finish()


def mistakes(text: str) -> list[str]:
    """Every mistake in a plan, as people are told it; none where it is sound."""
    try:
        book_of(text)
    except CopydeskError as refused:
        return [str(problem) for problem in refused.problems]
    return []


def changed(old: str, new: str) -> str:
    assert SOUND.count(old) == 1, old
    return SOUND.replace(old, new)
