"""Simulated scribes write real words of a book whose text is known by its counts only.

What a hand's lines hold in letters of the count is known here from the words themselves: how many of them the hand
would put on its lines in the long run, at the letters the count allows a word. The tool is told only how many words
stand before each page's end. Source of the truth: the simulation itself.
"""

from __future__ import annotations

import random
from bisect import bisect_right
from itertools import accumulate
from typing import TYPE_CHECKING

import pytest
from scipy import stats

from copydesk.book.flow import CountedDivision, ExemplarLoan
from copydesk.book.plan import Book, Columns, GatheringPlan, Hand, Margins, PageSize, Ruling
from copydesk.book.structure.page import Page
from copydesk.book.text.copy_text import LETTERS_A_WORD
from copydesk.tracking.commands.page_commands import Commands
from copydesk.tracking.ledger.entry import Entry
from copydesk.tracking.ledger.ledger import Ledger
from copydesk.tracking.state.book_state import BookState

if TYPE_CHECKING:
    from copydesk.book.hands.hand_set import HandSet

CLAIMED = 0.90
LINES, WORDS = 24, 3000


def invented_text(count: int, rng: random.Random) -> list[int]:
    """The letters and spaces up to each of so many words, their lengths as frequent as in a language."""
    lengths = rng.choices(range(1, 13), (3, 17, 21, 16, 11, 9, 8, 6, 4, 3, 1, 1), k=count)
    return [0, *accumulate(length + 1 for length in lengths)]


LONG = invented_text(60_000, random.Random(20261125))


def words_after(text: list[int], start: int, lines: list[float]) -> int:
    """The word after the last that goes on lines of so many letters, from the word ``start`` on."""
    for room in lines:
        start = max(bisect_right(text, text[start] + room + 1, start) - 1, start + 1)
    return start


def letters_of_the_count(letters: float) -> float:
    """What a line of so many letters holds in the long run, in letters of the count."""
    return words_after(LONG, 0, [letters] * 5000) * LETTERS_A_WORD / 5000


class Workshop:
    """A book of counts in memory, and one hand that writes it."""

    def __init__(self, planned: float) -> None:
        plan = Book(
            title="A counted book",
            page=PageSize(170.0, 240.0, Margins(18.0, 24.0, 36.0, 48.0)),
            hands=(Hand("A", letters_per_line=planned),),
            exemplar=ExemplarLoan(),
            divisions=(CountedDivision("All", words=WORDS),),
            columns=Columns(1),
            ruling=Ruling(lines=LINES),
            gatherings=GatheringPlan(sheets=4, count=2),
        )
        self.ledger = Ledger()
        self.state = BookState(plan, None, self.ledger)

    def write(self, page: int, end: int | None) -> None:
        """A page, its end given or only ticked."""
        act = Commands(self.state).write(Page.at(page), ends=f"word {end}" if end is not None else "")
        tick = self.ledger.last_tick + 1
        at = "2026-11-25T10:00:00+00:00"
        subject = self.ledger.add(Entry(f"e{tick}", tick, at, "A", "desk", act.what, act.about, act.page, act.facts))
        assert subject is not None
        self.state.touch(subject)


def learnt(letters: float, pages: int, every: int, rng: random.Random) -> HandSet:
    """The set after so many pages of a hand, the end of every so many given."""
    shop = Workshop(letters_of_the_count(letters) * (1 + rng.gauss(0, 0.04)))
    text, at = invented_text(WORDS, rng), 0
    for page in range(pages):
        here = letters * (1 + rng.gauss(0, 0.02))
        at = words_after(text, at, [here * (1 + rng.gauss(0, 0.01)) for _ in range(LINES)])
        shop.write(page, at if (page + 1) % every == 0 else None)
    shop.state.refit()
    return shop.state.sets["A"]


@pytest.mark.parametrize(("pages", "every"), [(2, 1), (6, 1), (12, 1), (12, 3)])
def test_ranges_hold_what_the_hand_puts_on_its_lines(pages: int, every: int) -> None:
    rng = random.Random(f"{pages} {every}")
    runs, hits, off = 120, 0, 0.0
    for _ in range(runs):
        letters = rng.uniform(27, 38)
        truth, known = letters_of_the_count(letters), learnt(letters, pages, every, rng)
        assert known.pages == pages
        hits += known.low <= truth <= known.high
        off += known.letters_per_line / truth - 1
    assert stats.binom.cdf(hits, runs, CLAIMED - 0.04) > 0.001, f"held {hits} of {runs}"
    assert stats.binom.sf(hits - 1, runs, 0.98) > 0.001, f"held {hits} of {runs}"
    assert abs(off / runs) < 0.012
