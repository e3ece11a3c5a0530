"""Simulated books in which words were passed over on one page: what is told of the hand before the check, and after."""

from __future__ import annotations

from random import Random
from typing import TYPE_CHECKING, Any, NamedTuple

from copydesk.book.plan import Columns, Hand, Margins, PageSize, Ruling
from copydesk.book.structure.page import Page
from copydesk.tracking.state.strange_pages import strange_on
from text_book import TextBook, made_text

if TYPE_CHECKING:
    from copydesk.book.hands.hand_set import HandSet


LETTERS, LINES = 34.0, 24
TEXT = " ".join(made_text(2000, seed=seed) for seed in (21, 22, 23))


class Skipped(NamedTuple):
    """How a book with words passed over stands beside the same book without.

    ``before`` and ``after`` the check is how many letters a line the hand is thought to write more; ``held`` and
    ``held_after`` whether its range holds the truth, ``named`` whether the page is said to be strange.
    """

    before: float
    after: float
    held: bool
    held_after: bool
    named: bool


class Written(TextBook):
    """A book written page by page by a hand whose pages scatter, words passed over on one of them."""

    def __init__(self, seed: str, scatter: float, **changes: Any) -> None:
        self.chance = Random(seed)
        self.mean = LETTERS * (1 + self.chance.gauss(0, 0.03))
        self.scatter = scatter
        super().__init__(
            TEXT[self.chance.randrange(200) :].partition(" ")[2],
            sheets=4,
            count=4,
            page=PageSize(150.0, 220.0, Margins(15.0, 15.0, 25.0, 25.0)),
            columns=Columns(1),
            ruling=Ruling(lines=LINES),
            letter_widths="latin",
            **{"hands": (Hand("A", "first", LETTERS),), **changes},
        )

    def page(self, index: int, skip: int = 0) -> str:
        """Write a page, ``skip`` words in its middle passed over; returns those."""
        really = self.mean * (1 + self.chance.gauss(0, self.scatter))
        words, start = self.exemplar.words, self.state.copy.word(self.state.budget.pages[index].start)
        middle = start + 60
        end = self._end(start, really, range(middle, middle + skip))
        self.do(self.commands.write(Page.at(index), ends=" ".join(words[end - 6 : end])))
        self.state.refit()
        return " ".join(words[middle : middle + skip])

    def _end(self, start: int, letters: float, skip: range) -> int:
        """The word after the last on a page begun at ``start`` whose full lines hold so many letters."""
        copy, word = self.state.copy, start
        for _ in range(LINES):
            left = letters * copy.mean * copy.grain + copy.space
            while True:
                word = skip.stop if word in skip else word
                left -= copy.sums[word + 1] - copy.sums[word]
                if left < 0:
                    break
                word += 1
        return word

    @property
    def hand(self) -> HandSet:
        return self.state.sets["A"]


def skipped(words: int, seed: str, *, pages: int = 8, at: int = 7, scatter: float = 0.02) -> Skipped:
    """A book of so many pages, ``words`` passed over on the page at the index ``at``."""
    plain, book = Written(seed, scatter), Written(seed, scatter)
    left_out = ""
    for index in range(pages):
        plain.page(index)
        left_out += book.page(index, words if index == at else 0)
    before = book.hand
    named = strange_on(book.state, at) is not None
    book.do(book.commands.fault(Page.at(at), "omission", line=12, column=1, should=left_out, stands=""))
    book.do(book.commands.check(Page.at(at), read=True))
    book.state.refit()
    after, usual = book.hand, plain.hand
    return Skipped(
        before.letters_per_line - usual.letters_per_line,
        after.letters_per_line - usual.letters_per_line,
        before.low <= book.mean <= before.high,
        after.low <= book.mean <= after.high,
        named,
    )
