"""How a book is to be read against its exemplar, which readings made are those, and what may never be scraped.

Sources: the corrector is usually another than the copyist, and the whole text is compared: R. Clemens and T. Graham,
*Introduction to Manuscript Studies* (2007), p. 35. One reads the exemplar aloud and another follows the copy: common
practice where texts are compared by two. That a corrector who reads aloud needs a second person is all that is
taken from it; which readings a book wants is its maker's to say.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable

Way = Literal["any way", "silently", "aloud by two", "by typing"]
"""How a page is read: by one in silence, aloud by two of whom one follows, typed and compared, or as one likes."""

ANY: Way = "any way"
SILENTLY: Way = "silently"
ALOUD: Way = "aloud by two"
TYPED: Way = "by typing"

WAYS: tuple[Way, ...] = (SILENTLY, ALOUD, TYPED)
"""The ways in which a reading can have been made."""

Readers = Literal["anyone", "not a writer", "a new reader each time"]
"""Who may read a page: anyone; whoever wrote nothing on it; the same, and each reading by another reader."""


class ReadingRules(NamedTuple):
    """The readings that every page needs before it counts as checked, each by its way; none where one check will do.

    ``readers`` are people who read and neither write nor decorate.
    """

    ways: tuple[Way, ...] = ()
    by: Readers = "anyone"
    readers: tuple[str, ...] = ()

    @property
    def persons(self) -> int:
        """How many times somebody goes through a page for all its readings; one where no readings are named."""
        return persons_for(self.ways) or 1


class PageReading(NamedTuple):
    """One time that a page was gone through against the exemplar.

    ``how`` is empty where nobody said; ``beside`` is who read aloud while ``by`` followed the page. A page that was
    only ticked is not ``read``.
    """

    by: str
    how: str
    beside: str
    at: str
    read: bool
    entry: str


class NeverScraped(NamedTuple):
    """Words or a place that no knife may touch, and why.

    One of ``words``, which hold wherever they stand; ``from_word`` up to ``to_word`` of the exemplar; a ``page``, or a
    column or a line of it.
    """

    words: str = ""
    from_word: int | None = None
    to_word: int | None = None
    page: str | None = None
    column: int | None = None
    line: int | None = None
    why: str = ""


def persons_for(ways: Iterable[str]) -> int:
    """How many times somebody goes through the page for readings of these ways: aloud it takes two."""
    return sum(2 if way == ALOUD else 1 for way in ways)


def counted_readings(
    rules: ReadingRules, readings: Iterable[PageReading], writers: Collection[str]
) -> tuple[tuple[PageReading, ...], tuple[Way, ...]]:
    """The readings of a page that count, in their order, and the ways of those still to be made.

    A reading takes the place of one wanted of its own way, else of one wanted in any way; one that was only ticked, or
    by somebody who may not, or aloud by one alone, takes none.

    Args:
        rules: what the book wants.
        readings: those made since the page was written, the oldest first.
        writers: the hands that wrote on the page.
    """
    left, counted = list(rules.ways), list[PageReading]()
    for reading in readings:
        place = next((way for way in (reading.how, ANY) if way in left), None)
        if place is None or refusal(rules, reading, counted, writers):
            continue
        left.remove(place)
        counted.append(reading)
    return tuple(counted), tuple(left)


def refusal(rules: ReadingRules, reading: PageReading, before: Iterable[PageReading], writers: Collection[str]) -> str:
    """Why a reading cannot count for the book, in words that follow the page's name; empty where it can."""
    if not reading.read:
        return "was only ticked, and this book wants its pages read"
    if reading.how == ALOUD and reading.beside in ("", reading.by):
        return "is read aloud by two; name the other person too"
    if rules.by != "anyone" and reading.by in writers:
        return f"was written by {reading.by}, and this book wants it read by somebody who wrote nothing on it"
    if rules.by == "a new reader each time" and any(reading.by == each.by for each in before):
        return f"was read by {reading.by} before, and this book wants a new reader each time"
    return ""


def ways_in_words(ways: Iterable[str]) -> str:
    """``silently, aloud by two``; several of one way with their number, ``2 in any way``."""
    counts: dict[str, int] = {}
    for way in ways:
        counts[way] = counts.get(way, 0) + 1
    said: dict[str, str] = {ANY: "in any way"}
    return ", ".join(f"{f'{count} ' if count > 1 else ''}{said.get(way, way)}" for way, count in counts.items())
