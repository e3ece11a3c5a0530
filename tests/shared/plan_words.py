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

TWO_HANDS = """
title: A small book
exemplar: {text: exemplar.txt}
page: {width: 100, height: 140, margins: {inner: 10, head: 10, outer: 20, foot: 30}}
ruling: {lines: 10}
hands:
  A: {name: first, letters_per_line: 20}
  B: {name: second, letters_per_line: 16}
letter_widths: equal
gatherings: {sheets: 2, count: 3}
"""
"""A plan of two hands, ten lines to a page, whose text stands in a file."""


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
