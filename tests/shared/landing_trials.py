"""Simulated scribes who follow the advice on a stretch, or agree on a remedy and do not look again."""

from __future__ import annotations

from random import Random
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.plan import Columns, Hand, Margins, PageSize, Ruling
from copydesk.book.structure.page import Page
from copydesk.tracking.fit.asked import with_asked
from copydesk.tracking.fit.remedies import remedies_for
from copydesk.tracking.fit.stretches import need_at
from copydesk.tracking.fit.trial_casting import cast_closer
from text_book import TextBook, made_text

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from copydesk.tracking.fit.stretches import Need


LETTERS, LINES, KNOWN = 34.0, 24, 4
"""Letters a line that are stated, lines of a page, and pages written before the stretch."""

TEXT = " ".join(made_text(2000, seed=seed) for seed in (11, 12, 13))


class Scribe(NamedTuple):
    """How a scribe really writes: the mean beside what was stated, the scatter of pages, how the mean moves a page.

    One who ``counts`` comes to the letters asked for; another writes closer or wider than usual by the share asked for.
    """

    mean: float = 1.0
    scatter: float = 0.025
    drift: float = 0.0
    counts: bool = True


class Landing(NamedTuple):
    """How one stretch came out, and what was said of it before: lines over at its end, and the chances told."""

    pages: int
    over: int
    fits: float
    within: float | None


def scribes(chance: Random) -> Scribe:
    """A scribe as they differ: stated about right, pages that scatter, some of them moving."""
    moving = chance.choice((0.0, 0.0, chance.gauss(0, 0.003)))
    return Scribe(chance.gauss(1.0, 0.03), chance.choice((0.015, 0.02, 0.025)), moving)


class Stretch:
    """A book of which some pages are written and a later one is held, so that the pages between make a stretch."""

    def __init__(self, pages: int, chance: Random, scribe: Scribe) -> None:
        self.chance, self.scribe = chance, scribe
        self.book = TextBook(
            TEXT[chance.randrange(200) :].partition(" ")[2],
            sheets=4,
            count=4,
            page=PageSize(150.0, 220.0, Margins(15.0, 15.0, 25.0, 25.0)),
            columns=Columns(1),
            ruling=Ruling(lines=LINES),
            hands=(Hand("A", "first", LETTERS),),
            letter_widths="latin",
        )
        for index in range(KNOWN):
            self._write(index, self._as_usual(index))
        self.first, self.last = KNOWN, KNOWN + pages - 1
        state = self.book.state
        word = state.copy.word(state.budget.pages[self.last + 1].start)
        word += round(chance.uniform(-0.04, 0.04) * pages * LINES * LETTERS / 7.5)
        begins = " ".join(self.book.exemplar.words[word : word + 6])
        self.book.do(self.book.commands.hold(Page.at(self.last + 1), begins))

    def need(self) -> Need:
        """What the stretch asks now."""
        found = need_at(self.book.state, self.last)
        assert found is not None
        return found

    def _as_usual(self, index: int) -> float:
        return self.book.state.letters_on(index)

    def _asked(self, index: int) -> float:
        need = need_at(self.book.state, index)
        asked = need.needed if need is not None and need.over else None
        return asked or self._as_usual(index)

    def _really(self, index: int, meant: float) -> float:
        """The letters a line the scribe comes to who means to write so many."""
        believed = self.book.state.letters_of("A")
        own = LETTERS * self.scribe.mean * (1 + self.scribe.drift * index)
        aims = meant if self.scribe.counts else meant / believed * own
        return aims * (1 + self.chance.gauss(0, self.scribe.scatter))

    def _write(self, index: int, meant: float) -> None:
        state, really = self.book.state, self._really(index, meant)
        cast = cast_closer(state, index, index, state.copy.pieces, lambda _: really)
        assert cast is not None
        word = state.copy.word(cast.pages[0].end.piece)
        ends = " ".join(self.book.exemplar.words[word - 6 : word])
        act = self.book.commands.write(Page.at(index), ends=ends)
        self.book.do(act._replace(facts=with_asked(state, act)))
        self.book.state.refit()

    def _ends(self, meant: float) -> int:
        """Lines over once the last page is written: its text in full, whatever room there is."""
        state, really = self.book.state, self._really(self.last, meant)
        end = state.budget.pages[self.last].end
        cast = cast_closer(state, self.last, self.last, end, lambda _: really)
        assert cast is not None
        return cast.beyond

    def followed(self) -> int:
        """Lines over where the scribe looks after each page and writes as is then asked."""
        for index in range(self.first, self.last):
            self._write(index, self._asked(index))
        return self._ends(self._asked(self.last))

    def agreed(self) -> Landing | None:
        """How it comes out where a closeness is agreed on and nobody looks again; None where none is offered."""
        need = self.need()
        found = [each for each in remedies_for(self.book.state, need) if each.name in ("closer", "wider")]
        if not found or found[0].verdict == "impossible":
            return None
        for act in found[0].acts:
            self.book.do(act)
        meant, told = self.book.state.letters_on(self.first), found[0].landing
        for index in range(self.first, self.last):
            self._write(index, meant)
        return Landing(self.last - self.first + 1, self._ends(meant), told.fits, told.within_a_line)


def trials(count: int, seed: int) -> Iterator[tuple[int, Random, Scribe]]:
    """So many stretches: pages, chances to draw from, the scribe."""
    for number in range(count):
        chance = Random(f"{seed} {number}")
        yield chance.randint(2, 10), chance, scribes(chance)


def share_within(found: Sequence[int]) -> float:
    """The share of stretches that land within a line."""
    return sum(abs(over) <= 1 for over in found) / len(found)


def followed(count: int, seed: int, *, counts: bool = True) -> list[int]:
    """Lines over at the end of so many stretches whose scribes followed the advice page by page."""
    found = []
    for pages, chance, scribe in trials(count, seed):
        stretch = Stretch(pages, chance, scribe._replace(counts=counts))
        if stretch.need().verdict != "impossible":
            found.append(stretch.followed())
    return found


def agreed(count: int, seed: int) -> list[Landing]:
    """How so many stretches came out whose scribes agreed on a closeness and did not look again."""
    found = (Stretch(pages, chance, scribe).agreed() for pages, chance, scribe in trials(count, seed))
    return [each for each in found if each is not None]
