"""The passes a page can go through, declared once: what each writes that the pass of the text left to later.

Headings in colour, capitals and pen flourishes done after the text, by sheet and each with its own ink, are common
practice; so is the rubricator who sees to the paragraph marks where nobody else does.
"""

from __future__ import annotations

from enum import StrEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping


TEXT = "text"
"""The pass every page begins with; it writes all that no later pass takes."""


class Sort(StrEnum):
    """What may be left to a later pass."""

    HEADINGS = "headings"
    SMALL_INITIALS = "small initials"
    PARAGRAPH_MARKS = "paragraph marks"
    VERSE_LETTERS = "verse letters"
    FLOURISHES = "flourishes"
    RUNNING_TITLES = "running titles"
    CHAPTER_NUMBERS = "chapter numbers"
    CONTENTS_LINES = "lines of contents"


OF_TEXT = (Sort.HEADINGS, Sort.SMALL_INITIALS, Sort.PARAGRAPH_MARKS, Sort.VERSE_LETTERS)
"""The sorts that the text itself holds, and that are left out of it until their pass."""


TAKES: Mapping[str, tuple[Sort, ...]] = {
    TEXT: (),
    "marks": (Sort.PARAGRAPH_MARKS,),
    "rubrics": (Sort.HEADINGS, Sort.PARAGRAPH_MARKS),
    "capitals": (Sort.SMALL_INITIALS, Sort.VERSE_LETTERS),
    "penwork": (Sort.FLOURISHES,),
    "titles": (Sort.RUNNING_TITLES, Sort.CHAPTER_NUMBERS),
    "contents": (Sort.CONTENTS_LINES,),
}
"""What each pass takes. Where a book has two that take the same, it goes to the one that stands here first."""


def pass_of(sort: Sort, names: Iterable[str]) -> str:
    """The pass among ``names`` that takes things of a sort; the text's where no later one does."""
    planned = set(names)
    return next((name for name, takes in TAKES.items() if sort in takes and name in planned), TEXT)
