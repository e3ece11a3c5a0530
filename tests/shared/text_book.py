"""A small book with a text of its own, and a text made of invented words that never wearies."""

from __future__ import annotations

from itertools import count
from random import Random
from typing import Any

from copydesk.book.structure.page import Page
from copydesk.book.text.exemplar import read_exemplar
from copydesk.tracking.state.book_state import BookState
from copydesk.tracking.state.page_content import lines_of_page
from small_book import SmallBook

_PARTS = (
    "bra",
    "ten",
    "lo",
    "misk",
    "ar",
    "udd",
    "fen",
    "gor",
    "pell",
    "ith",
    "sed",
    "wan",
    "corr",
    "ove",
    "ni",
    "tam",
)


def made_text(words: int = 400, seed: int = 5, *, small: str = "the") -> str:
    """Words of two or three syllables, all different, with a small word between now and then."""
    chance = Random(seed)
    seen: set[str] = set()
    found: list[str] = []
    for number in count():
        if len(found) >= words:
            return " ".join(found[:words])
        word = "".join(chance.sample(_PARTS, 2 + number % 2))
        if word not in seen:
            seen.add(word)
            found += [word, *([small] if small and number % 7 == 3 else [])]
    return ""


class TextBook(SmallBook):
    """The small book with another text."""

    def __init__(self, text: str = "", **changes: Any) -> None:
        super().__init__(10, **changes)
        self.exemplar = read_exemplar(text or made_text())
        self.state = BookState(self.plan, self.exemplar, self.ledger)

    def lines(self, page: str) -> list[str]:
        """The lines of a page as they should stand."""
        copy = self.state.copy
        return [copy.line_text(line.start, line.end) for line in lines_of_page(self.state, Page.parse(page).index)]
