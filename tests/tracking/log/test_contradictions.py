"""What two desks record without knowing of each other stands, and is told, until a person settles it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from copydesk.book.plan import Signing
from copydesk.book.structure.page import Page
from copydesk.tracking.ledger.entry import Act, Entry
from copydesk.tracking.ledger.ledger import Ledger
from copydesk.tracking.log.contradictions import contradictions, contradictions_about
from small_book import SmallBook

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

FIRST = Page.parse("1r")


class TwoDesks:
    """One book at two desks that hear of each other only when told to."""

    def __init__(self) -> None:
        self.window, self.door = SmallBook(), SmallBook()
        self.made: list[Entry] = []

    def at(self, desk: str, make: Callable[[SmallBook], Act], hand: str) -> Entry:
        """Record at one desk."""
        book = self.window if desk == "window" else self.door
        act = make(book)
        name, tick = f"{desk}{len(self.made)}", book.ledger.last_tick + 1
        entry = Entry(name, tick, "2026-03-02T10:00:00+00:00", hand, desk, act.what, act.about, act.page, act.facts)
        self.made.append(entry)
        self._take(book, [entry])
        return entry

    def meet(self) -> None:
        """Let both know everything."""
        for book in (self.window, self.door):
            self._take(book, self.made)

    def _take(self, book: SmallBook, entries: Sequence[Entry]) -> None:
        for entry in entries:
            subject = book.ledger.add(entry)
            if subject is not None:
                book.state.touch(subject)

    def told(self) -> tuple[str, ...]:
        """What both desks are told, in the same words."""
        self.meet()
        found = contradictions(self.window.ledger)
        assert all(entry in each.sentence for each in found for entry in each.entries)
        assert found == contradictions(self.door.ledger) == contradictions(Ledger(reversed(self.made)))
        return tuple(map(str, found))


@pytest.fixture
def desks() -> TwoDesks:
    return TwoDesks()


def write(book: SmallBook) -> Act:
    return book.commands.write(FIRST)


def check(book: SmallBook) -> Act:
    return book.commands.check(FIRST)


def test_a_page_written_at_two_desks_is_told_and_the_later_counts(desks: TwoDesks) -> None:
    desks.at("window", write, "A")
    second = desks.at("door", write, "B")
    (sentence,) = desks.told()
    first, last = sorted(desks.made, key=lambda entry: (entry.tick, entry.desk))
    assert sentence == (
        f"1r was recorded as written at {first.desk} by {first.hand} and again at {last.desk} by {last.hand}; the "
        f"later one counts now: to keep it undo {first.entry}, to have the earlier one instead undo {last.entry}"
    )
    assert desks.window.state.record(desks.window.state.skin_at(0)).stints[-1].hand == last.hand
    desks.at("door", lambda _: Act("voided", second.entry, "", {}), "B")
    assert desks.told() == ()


def test_the_page_is_called_as_the_book_counts(desks: TwoDesks) -> None:
    desks.at("window", write, "A")
    desks.at("door", write, "B")
    desks.meet()
    plan = SmallBook(signing=Signing(foliation="roman")).plan
    (sentence,) = contradictions(desks.window.ledger, plan)
    assert str(sentence).startswith("i r was recorded as written at ")
    assert contradictions_about(desks.window.ledger, desks.made[0].subject, plan) == (sentence,)


def test_a_page_written_anew_on_purpose_is_no_contradiction(desks: TwoDesks) -> None:
    desks.at("window", write, "A")
    desks.meet()
    desks.at("door", lambda book: book.commands.write(FIRST, begins="w0"), "B")
    assert desks.told() == ()


def test_pages_and_lines_apart_do_not_contradict(desks: TwoDesks) -> None:
    desks.at("window", write, "A")
    desks.at("door", lambda book: book.commands.write(Page.parse("1v")), "B")
    assert desks.told() == ()


def test_writing_taken_back_while_another_checks_it(desks: TwoDesks) -> None:
    written = desks.at("window", write, "A")
    desks.meet()
    taker = desks.at("window", lambda _: Act("voided", written.entry, "", {}), "A")
    checked = desks.at("door", check, "B")
    assert desks.told() == (
        f"1r was checked at door by B, and the writing that was checked has been taken back; undo {checked.entry}, or "
        f"let the writing stand again: undo {taker.entry}",
    )
    desks.at("door", lambda _: Act("voided", taker.entry, "", {}), "B")
    assert desks.told() == ()
    assert desks.window.state.record(desks.window.state.skin_at(0)).state == "corrected"


def test_writing_done_since_makes_the_check_no_matter(desks: TwoDesks) -> None:
    written = desks.at("window", write, "A")
    desks.meet()
    desks.at("window", lambda _: Act("voided", written.entry, "", {}), "A")
    desks.at("door", check, "B")
    desks.meet()
    desks.at("window", write, "A")
    assert desks.told() == ()
    assert desks.door.state.record(desks.door.state.skin_at(0)).state == "written"


def test_a_check_that_did_not_know_of_new_writing(desks: TwoDesks) -> None:
    desks.at("window", write, "A")
    desks.meet()
    again = desks.at("window", lambda book: book.commands.write(FIRST, begins="w0"), "A")
    checked = desks.at("door", check, "B")
    checked = checked._replace(entry="zz", tick=again.tick + 1)
    desks.made[-1] = checked
    told = contradictions(Ledger(desks.made))
    assert tuple(map(str, told)) == (
        "1r was checked at door by B, who did not know that it had been recorded as written at window by A; the check "
        "counts now: undo zz to have the page checked again, or record the check again if it holds",
    )


def test_one_sheet_taken_by_two(desks: TwoDesks) -> None:
    desks.at("window", lambda book: book.commands.sheet("1.1", "artist", "Ines"), "A")
    desks.at("door", lambda book: book.commands.sheet("1.1", "checker"), "B")
    (sentence,) = desks.told()
    assert "sheet 1.1 was taken by" in sentence
    assert "Ines at window" in sentence
    assert "B at door" in sentence


def test_a_sheet_handed_on_is_no_contradiction(desks: TwoDesks) -> None:
    desks.at("window", lambda book: book.commands.sheet("1.1", "artist", "Ines"), "A")
    desks.meet()
    desks.at("door", lambda book: book.commands.sheet("1.1", "checker"), "B")
    assert desks.told() == ()


def test_what_is_told_of_one_thing_is_what_is_told_of_it_among_all(desks: TwoDesks) -> None:
    desks.at("window", write, "A")
    desks.at("door", write, "B")
    desks.at("window", lambda book: book.commands.sheet("1.1", "artist", "Ines"), "A")
    desks.at("door", lambda book: book.commands.sheet("1.1", "checker"), "B")
    told = desks.told()
    ledger = desks.window.ledger
    apart = [
        each
        for kind in ("page", "sheet")
        for name in ledger.about(kind)
        for each in contradictions_about(ledger, (kind, name))
    ]
    assert sorted(map(str, apart)) == sorted(told)
    assert len(told) == 2
    assert contradictions_about(ledger, ("space", "none")) == ()


def test_facts_of_any_kind_break_nothing() -> None:
    book = SmallBook()
    book.do(book.commands.write(FIRST))
    for seen in ("", "none", 7, None, ["e1"], "e99"):
        entry = Entry("x", 5, "", "B", "door", "written", "1.1:r", "1r", {"seen": seen, "from_line": "one"})
        assert len(contradictions(Ledger([*book.ledger, entry]))) == 1
