"""Simulated scribes write a whole book through the tool's own recording; what it says of them is set beside the truth.

What a simulated hand writes is worked out here, word by word, and shares no code with the tool but the widths of
letters: a line takes the words that go on it, the hand's full line strays from page to page and from line to line.
Only the last words of each page are recorded, as a scribe would give them. Source of the truth: the simulation itself.
"""

from __future__ import annotations

import random
from itertools import accumulate
from typing import TYPE_CHECKING

import pytest
from scipy import stats

from copydesk.book.flow import ExemplarLoan
from copydesk.book.plan import Book, Columns, GatheringPlan, Hand, Margins, PageSize, Ruling
from copydesk.book.structure.page import Page
from copydesk.book.text.exemplar import read_exemplar
from copydesk.book.text.letter_widths import RELATIVE, WordWidths
from copydesk.job import Job
from copydesk.tracking.commands.page_commands import Commands
from copydesk.tracking.ledger.entry import Entry
from copydesk.tracking.ledger.ledger import Ledger
from copydesk.tracking.state.book_state import BookState

if TYPE_CHECKING:
    from pathlib import Path

    from copydesk.tracking.ledger.entry import Act

WIDTHS = WordWidths(RELATIVE)
CLAIMED = 0.90
LINES, COLUMNS = 24, 2


def invented_words(count: int, seed: int = 20261125) -> list[str]:
    rng = random.Random(seed)
    lengths, shares = range(1, 13), (3, 17, 21, 16, 11, 9, 8, 6, 4, 3, 1, 1)
    vocabulary = ["".join(rng.choices("etaoinshrdlucmfwyp", k=rng.choices(lengths, shares)[0])) for _ in range(3000)]
    return rng.choices(vocabulary, [1 / (rank + 3) for rank in range(len(vocabulary))], k=count)


WORDS = invented_words(9000)
EXEMPLAR = read_exemplar(" ".join(WORDS))
SUMS = [0.0, *accumulate(WIDTHS[word] + WIDTHS.space for word in WORDS)]
MEAN = SUMS[-1] / (sum(map(len, WORDS)) + len(WORDS))


def page_written(start: int, letters: float, rng: random.Random, page: float, line: float) -> int:
    """The word after the last of a page that begins with the word ``start``."""
    here = letters * (1 + rng.gauss(0, page))
    at = start
    for _ in range(LINES * COLUMNS):
        room = here * (1 + rng.gauss(0, line)) * MEAN
        used = WIDTHS[WORDS[at]]
        at += 1
        while at < len(WORDS) and used + WIDTHS.space + WIDTHS[WORDS[at]] <= room:
            used += WIDTHS.space + WIDTHS[WORDS[at]]
            at += 1
    return at


class Workshop:
    """A book in memory, and hands that write it from its beginning."""

    def __init__(self, planned: dict[str, float], truth: dict[str, float], seed: int) -> None:
        hands = tuple(Hand(name, letters_per_line=letters) for name, letters in planned.items())
        plan = Book(
            title="A simulated book",
            page=PageSize(170.0, 240.0, Margins(18.0, 24.0, 36.0, 48.0)),
            hands=hands,
            exemplar=ExemplarLoan("exemplar.txt"),
            columns=Columns(COLUMNS, 10.0),
            ruling=Ruling(lines=LINES),
            gatherings=GatheringPlan(sheets=4, count=6),
        )
        self.truth, self.rng = truth, random.Random(seed)
        self.ledger = Ledger()
        self.state = BookState(plan, EXEMPLAR, self.ledger)
        self.at, self.page = 0, 0

    def write(self, hand: str, *, page: float = 0.02, line: float = 0.01, letters: float | None = None) -> None:
        """The next page, by one hand, its real last words recorded."""
        end = page_written(self.at, letters or self.truth[hand], self.rng, page, line)
        act = Commands(self.state).write(Page.at(self.page), ends=" ".join(WORDS[end - 8 : end]))
        assert act.facts["to_word"] == end
        self.take(act, hand)
        self.at, self.page = end, self.page + 1

    def take(self, act: Act, hand: str) -> None:
        """Record an act of a hand."""
        tick = self.ledger.last_tick + 1
        entry = Entry(
            f"e{tick}", tick, "2026-11-25T10:00:00+00:00", hand, "desk", act.what, act.about, act.page, act.facts
        )
        subject = self.ledger.add(entry)
        assert subject is not None
        self.state.touch(subject)


def true_to_claim(hits: int, runs: int, margin: float = 0.04) -> bool:
    """Whether ranges true to their claim, or nearly, would hold so often but for one chance in a thousand each way."""
    too_few = stats.binom.cdf(hits, runs, CLAIMED - margin) < 0.001
    too_many = stats.binom.sf(hits - 1, runs, min(CLAIMED + 2 * margin, 0.99)) < 0.001
    return not too_few and not too_many


@pytest.mark.parametrize(("planned", "truth"), [(34.0, 31.0), (30.0, 33.5), (34.0, 34.2)])
def test_the_set_of_a_hand_is_found_from_the_pages_it_wrote(planned: float, truth: float) -> None:
    shop = Workshop({"A": planned}, {"A": truth}, seed=4)
    for _ in range(14):
        shop.write("A")
    assert shop.state.refit()
    known = shop.state.sets["A"]
    assert (known.source, known.pages) == ("pages", 14)
    assert known.letters_per_line == pytest.approx(truth, rel=0.02)
    assert known.low < truth < known.high


def test_two_hands_are_told_apart_page_by_page() -> None:
    shop = Workshop({"A": 34.0, "B": 34.0}, {"A": 35.0, "B": 30.0}, seed=8)
    for hand in "AABABBAABBAB":
        shop.write(hand)
    shop.state.refit()
    for hand, truth in shop.truth.items():
        assert shop.state.sets[hand].letters_per_line == pytest.approx(truth, rel=0.02)


def test_a_hand_that_closes_up_is_followed() -> None:
    shop = Workshop({"A": 30.0}, {"A": 30.0}, seed=5)
    for number in range(16):
        shop.write("A", letters=30.0 * 1.01**number)
    shop.state.refit()
    known = shop.state.sets["A"]
    assert known.per_page > 0
    assert known.letters_per_line == pytest.approx(30.0 * 1.01**16, rel=0.03)


def test_ranges_hold_the_truth_as_often_as_they_claim() -> None:
    """150 hands of six pages each, planned a few hundredths off, as a scribe's own figure would be."""
    rng = random.Random(77)
    runs, hits, off = 150, 0, 0.0
    for run in range(runs):
        truth = rng.uniform(27, 38)
        shop = Workshop({"A": truth * (1 + rng.gauss(0, 0.04))}, {"A": truth}, seed=run)
        for _ in range(6):
            shop.write("A", page=0.025, line=0.02)
        shop.state.refit()
        known = shop.state.sets["A"]
        hits += known.low <= truth <= known.high
        off += known.letters_per_line / truth - 1
    assert true_to_claim(hits, runs), f"held {hits} of {runs}"
    assert abs(off / runs) < 0.005


def test_the_plan_comes_right_as_the_hand_is_known() -> None:
    """Planned by the hand's real set, the next page ends within a line of where the hand then ends it."""
    shop = Workshop({"A": 34.0}, {"A": 30.5}, seed=12)
    for _ in range(10):
        shop.write("A", page=0.0, line=0.0)
    shop.state.refit()
    planned = shop.state.copy.word(shop.state.budget.pages[shop.page].end)
    real = page_written(shop.at, 30.5, random.Random(1), 0.0, 0.0)
    assert abs(planned - real) <= 8

    assert abs(page_written(shop.at, 34.0, random.Random(1), 0.0, 0.0) - real) > 20


def test_it_is_found_the_same_from_the_files(tmp_path: Path) -> None:
    """Written through a book folder, closed and opened again: the same set from the same ledger."""
    folder = tmp_path / "book"
    folder.mkdir()
    (folder / "exemplar.txt").write_text(" ".join(WORDS), "utf-8")
    (folder / "book.yaml").write_text(
        "title: A simulated book\nexemplar: {text: exemplar.txt}\n"
        "page: {width: 170, height: 240, margins: {inner: 18, head: 24, outer: 36, foot: 48}}\n"
        f"columns: {{count: {COLUMNS}, gap: 10}}\nruling: {{lines: {LINES}}}\n"
        "hands:\n  A: {letters_per_line: 34}\n",
        "utf-8",
    )
    rng, at = random.Random(4), 0
    job = Job.open(folder, desk="window")
    for index in range(8):
        end = page_written(at, 31.0, rng, 0.02, 0.01)
        job.record(job.commands.write(Page.at(index), ends=" ".join(WORDS[end - 8 : end])))
        at = end
    job.state.refit()
    known = job.state.sets["A"]
    job.close()
    again = Job.open(folder, desk="stove")
    assert again.state.sets == {"A": known}
    assert known.low < 31.0 < known.high
    again.close()


@pytest.mark.parametrize("skipped", [20, 40])
def test_words_found_left_out_do_not_move_the_hand(skipped: int) -> None:
    """An eye-skip on the tenth page, found at its check word for word: the hand is where it was, within 0.2 letters."""
    shops = [Workshop({"A": 34.0}, {"A": 32.0}, seed=21) for _ in range(2)]
    for number in range(12):
        for shop, skips in zip(shops, (0, skipped), strict=True):
            if number == 9 and skips:
                slip(shop, skips)
            else:
                shop.write("A", page=0.0, line=0.01)
    for shop in shops:
        shop.state.refit()
    true, after = (shop.state.sets["A"] for shop in shops)
    assert abs(after.letters_per_line - true.letters_per_line) <= 0.2
    assert after.low <= 32.0 <= after.high


def slip(shop: Workshop, skipped: int) -> None:
    """A page whose scribe leaves out words in the middle of it, so that it ends as many later; then its check."""
    before = shop.at
    end = page_written(shop.at, shop.truth["A"], shop.rng, 0.0, 0.01) + skipped
    commands, page = Commands(shop.state), Page.at(shop.page)
    gone = before + (end - before) // 2
    shop.take(commands.write(page, ends=" ".join(WORDS[end - 8 : end])), "A")
    words = " ".join(WORDS[gone : gone + skipped])
    shop.take(Commands(shop.state).fault(page, "eye-skip", column=1, line=12, should=words), "A")
    shop.at, shop.page = end, shop.page + 1
