"""What the rest of the book knows of its passes: forecast, handover, colophon, and the words of the log."""

from __future__ import annotations

from datetime import date

import pytest

from copydesk.book.layout.passes import Sort
from copydesk.book.plan import PassPlan, Workshop
from copydesk.book.structure.page import Page
from copydesk.tracking.binding.colophon import colophon
from copydesk.tracking.planning.forecast import forecast
from copydesk.tracking.planning.outlook import outlook
from copydesk.tracking.planning.pass_hours import USUAL_HOURS, pass_hours
from copydesk.tracking.planning.work_left import work_left
from copydesk.tracking.scribes.handover import HANDOVER, handover
from copydesk.tracking.scribes.handover_text import handover_lines
from text_book import TextBook

PASSES = (PassPlan("text"), PassPlan("rubrics", hand="B"), PassPlan("capitals"))
TEXT = "# On frost\n\nOne two three four.\n\n# On thaw\n\nTen eleven.\n"
TODAY = date(2026, 3, 2)


def book(text: str = TEXT, passes: tuple[PassPlan, ...] = PASSES) -> TextBook:
    return TextBook(text, passes=passes, workshop=Workshop(drying_days=0))


def go_over(of: TextBook, name: str, **how) -> None:
    of.do(of.commands.go_over(Page.parse("1r"), name, **how), "B" if name == "rubrics" else "A")


def test_the_hours_left_are_those_of_what_is_open_by_who_does_it() -> None:
    of = book()
    assert pass_hours(of.state) == pytest.approx(
        {"B": 2 * USUAL_HOURS[Sort.HEADINGS], "A": 2 * USUAL_HOURS[Sort.SMALL_INITIALS]}
    )
    of.write("1r")
    go_over(of, "rubrics", left=(2,))
    assert pass_hours(of.state)["B"] == pytest.approx(USUAL_HOURS[Sort.HEADINGS])
    go_over(of, "rubrics")
    assert "B" not in pass_hours(of.state)


def test_what_was_timed_tells_how_long_the_rest_takes() -> None:
    of = book()
    of.write("1r")
    go_over(of, "rubrics", left=(2,), minutes=30.0)
    assert pass_hours(of.state)["B"] == pytest.approx(0.5)


def test_the_whole_is_later_where_passes_wait_and_as_before_where_there_are_none() -> None:
    plain, later = book(passes=()), book(passes=(*PASSES[:2], PassPlan("capitals", drying_days=30)))
    without, with_passes = outlook(plain.state, TODAY).forecast, outlook(later.state, TODAY).forecast
    assert without.gone_over is None
    assert without.checked == with_passes.checked
    assert with_passes.gone_over is not None
    assert with_passes.whole.expected is not None
    assert without.whole.expected is not None
    assert (with_passes.whole.expected - without.whole.expected).days >= 25
    assert with_passes.held_by == "later passes"


def test_once_all_passes_are_done_none_waits() -> None:
    of = book()
    of.write("1r")
    go_over(of, "rubrics")
    go_over(of, "capitals")
    assert forecast(work_left(of.state, TODAY, [])).gone_over is None


def test_the_next_hand_is_told_what_to_leave_out() -> None:
    of = book()
    of.write("1r", to_line=2)
    given = handover(of.state)
    assert list(given.later) == ['rubrics: col. 1 l. 3 "On thaw"', 'capitals: col. 1 l. 4 "T" of "Ten"']
    assert HANDOVER.data(given)["later"] == list(given.later)
    assert any(line.head == "Leave" for line in handover_lines(of.state, given))
    assert not handover(book(passes=()).state).later


def test_the_colophon_names_who_did_the_passes_and_is_not_finished_before() -> None:
    of = book()
    of.write("1r")
    of.do(of.commands.check(Page.parse("1r"), read=True))
    assert not colophon(of.state).finished
    go_over(of, "rubrics")
    go_over(of, "capitals", left=(1,))
    found = colophon(of.state)
    assert "second did the rubrics of 1r." in found.sentences
    assert "first did the capitals of part of 1r." in found.sentences
    assert not found.finished
    go_over(of, "capitals")
    assert colophon(of.state).finished
