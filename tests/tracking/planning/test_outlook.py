"""What is left to do, put together from plan and ledger; the forecast for it; the book's end; the series plotted."""

from __future__ import annotations

import json
from datetime import date, timedelta
from typing import TYPE_CHECKING

import pytest

from copydesk.book.common.distributions import Range
from copydesk.book.common.phrases import say_day
from copydesk.book.flow import ExemplarLoan, Flow
from copydesk.book.plan import Anchor, Flyleaves, GatheringPlan, Hand, SkinPlan, SpacePlan, Workshop
from copydesk.book.structure.page import Page
from copydesk.book.text.exemplar import read_exemplar
from copydesk.tracking.commands.leaf_commands import cancel_leaf
from copydesk.tracking.commands.skin_commands import move_skins
from copydesk.tracking.fit.book_end import Ending, end_of_book, left_by_hand
from copydesk.tracking.planning.outlook import (
    OUTLOOK,
    Outlook,
    due_words,
    end_words,
    finish_words,
    guessed_words,
    outlook,
    outlook_sentences,
)
from copydesk.tracking.planning.work_left import skins_wanted, work_left
from copydesk.tracking.state.book_state import BookState
from copydesk.tracking.views.page_view import page_account
from copydesk.tracking.views.skin_batches import skins_today
from copydesk.tracking.views.skin_order import order_words, skin_order
from text_book import TextBook, made_text

if TYPE_CHECKING:
    from copydesk.tracking.planning.forecast import Finish


TODAY = date(2026, 3, 2)  # a Monday, the day on which the small book's entries are made
DUE = date(2026, 6, 1)


def a_book(words: int = 420, **changes: object) -> TextBook:
    given: dict[str, object] = {
        "hands": (Hand("A", "first", 20.0, hours_a_week=2.0, lines_an_hour=10.0), Hand("B", "second", 16.0)),
        "exemplar": ExemplarLoan("exemplar.txt", due=DUE),
        **changes,
    }
    return TextBook(made_text(words), **given)


def test_the_lines_left_are_those_planned_and_not_written() -> None:
    book = a_book()
    planned = sum(page.planned for page in book.state.budget.pages)
    assert [(each.hand, each.lines) for each in left_by_hand(book.state)] == [("A", planned)]
    book.write("1r")
    book.write("1v", to_line=4)
    assert left_by_hand(book.state)[0].lines == planned - 14


def test_text_without_room_is_still_to_be_written() -> None:
    book = a_book(1400)
    budget = book.state.budget
    assert budget.lines_without_room
    lines = sum(page.planned for page in budget.pages) + budget.lines_without_room
    assert sum(each.lines for each in left_by_hand(book.state)) == lines
    end = end_of_book(book.state)
    assert end.chance_text_fits < 0.05
    assert end.blank_lines.expected == -budget.lines_without_room
    assert "have no room yet" in end_words(end)


def test_words_gone_with_a_cancelled_leaf_are_still_to_be_written() -> None:
    book = a_book(100)
    pages = [str(Page.at(index)) for index, page in enumerate(book.state.budget.pages) if page.planned]
    for page in pages:
        book.write(page)
        book.do(book.commands.check(Page.parse(page)), "B")
    done = outlook(book.state, TODAY + timedelta(days=30))
    assert (done.forecast.written.expected, done.lost, OUTLOOK.data(done)["words_on_no_page"]) == (TODAY, (), 0)
    book.do(cancel_leaf(book.state, 1))
    seen = outlook(book.state, TODAY + timedelta(days=30))
    assert seen.forecast.written.expected is None or seen.forecast.written.expected > seen.today
    assert seen.forecast.checked.expected is None or seen.forecast.checked.expected > seen.today
    assert sum(task.lines for task in seen.work.writing) == sum(each.lines for each in seen.lost) > 0
    words = OUTLOOK.data(seen)["words_on_no_page"]
    assert words == sum(page_account(book.state, index).gap_words for index in range(len(pages))) > 0
    told = list(outlook_sentences(seen, end_of_book(book.state)))
    assert any(f"{words} words of the text stand on no page" in sentence for sentence in told)


def test_a_book_with_room_enough_fits() -> None:
    end = end_of_book(a_book().state)
    assert end.chance_text_fits > 0.99
    assert end.blank_lines.low <= end.blank_lines.expected <= end.blank_lines.high


def test_the_end_is_surer_with_each_page() -> None:
    book = a_book(560)
    before = end_of_book(book.state).blank_lines
    for page in ("1r", "1v", "2r", "2v", "3r", "3v"):
        book.write(page)
    book.state.refit()
    after = end_of_book(book.state).blank_lines
    assert after.high - after.low < before.high - before.low


def test_blank_lines_before_a_part_that_begins_a_page_take_up_what_is_not_sure() -> None:
    """However wide the first part is written, within its range the second still begins on the same recto."""
    book = TextBook("x")
    book.exemplar = read_exemplar(f"# one\n\n{made_text(288)}\n\n# two\n\n{made_text(8, seed=9)}")
    free = BookState(book.plan, book.exemplar, book.ledger)
    plan = type(book.plan)(
        **{
            **{name: getattr(book.plan, name) for name in book.plan.__dataclass_fields__},
            "flow": Flow(starts={2: "recto"}),
        }
    )
    parted = BookState(plan, book.exemplar, book.ledger)
    assert end_of_book(free).blank_lines.high > end_of_book(free).blank_lines.expected + 5
    assert end_of_book(parted).blank_lines.high == end_of_book(parted).blank_lines.expected


def test_the_work_left_knows_hands_hours_and_days_off() -> None:
    off = date(2026, 3, 3)
    book = a_book(workshop=Workshop(weekdays=(0, 1), days_off=(off,)))
    work = work_left(book.state, off, [])
    assert work.start == date(2026, 3, 9)
    first, second = work.writing
    assert not first.off
    hands = (book.plan.hands[0]._replace(days_off=(date(2026, 3, 10),)), *book.plan.hands[1:])
    away = work_left(a_book(hands=hands).state, off, []).writing
    assert [task.off for task in away] == [frozenset({date(2026, 3, 10)}), frozenset()]
    assert (first.hand, first.hours.a_week, first.pace.source) == ("A", 2.0, "stated")
    assert (second.hand, second.lines, second.pace.source) == ("B", 0, "guess")
    assert sum(task.lines for task in work.checking) > first.lines


def test_minutes_told_with_pages_make_the_pace() -> None:
    book = a_book()
    book.do(book.commands.write(Page.parse("1r"), minutes=30.0))
    book.do(book.commands.write(Page.parse("1v"), minutes=30.0))
    pace = work_left(book.state, TODAY, []).writing[0].pace
    assert pace.sittings == 2
    assert 15 < pace.lines_an_hour <= 20


def test_the_forecast_has_the_promised_keys() -> None:
    seen = outlook(a_book().state, TODAY, 0.97)
    told = json.loads(json.dumps(OUTLOOK.data(seen)))
    promised = {"written", "checked", "whole", "exemplar_due", "chance_by_due", "chance_text_fits"}
    assert promised <= told.keys()
    for name in ("written", "checked", "whole"):
        assert told[name].keys() == {"low", "expected", "high"}
        assert told[name]["low"] <= told[name]["expected"] <= told[name]["high"]
    assert told["exemplar_due"] == "2026-06-01"
    assert 0 <= told["chance_by_due"] <= 1
    assert told["chance_text_fits"] == 0.97
    assert told["written"]["expected"] <= told["checked"]["expected"] <= told["whole"]["expected"]


def test_more_pages_written_bring_the_end_nearer() -> None:
    book = a_book()
    before = outlook(book.state, TODAY).forecast.written.expected
    for page in ("1r", "1v", "2r"):
        book.write(page)
    after = outlook(book.state, TODAY).forecast.written.expected
    assert before is not None
    assert after is not None
    assert after < before


def test_what_is_done_was_done_on_its_day() -> None:
    book = a_book(60)
    for index in range(book.state.budget.last_page + 1):
        book.do(book.commands.write(Page.at(index)))
    seen = outlook(book.state, TODAY + timedelta(days=30))
    assert seen.forecast.written.low == seen.forecast.written.high == TODAY
    assert finish_words(seen.forecast.written, seen.today) == "on 2 March"
    for index in range(book.state.budget.last_page + 1):
        book.do(book.commands.check(Page.at(index)), "B")
    assert outlook(book.state, TODAY + timedelta(days=30)).forecast.checked.high == TODAY


def test_the_artists_hours_come_before_the_whole() -> None:
    spaces = (SpacePlan("mill", "miniature", Anchor(word=70), 4, hours=60.0),)
    painted = outlook(a_book(spaces=spaces).state, TODAY).forecast
    plain = outlook(a_book().state, TODAY).forecast
    assert painted.whole.expected is not None
    assert plain.whole.expected is not None
    assert painted.whole.expected > plain.whole.expected


MILL = (SpacePlan("mill", "miniature", Anchor(word=70), 4, hours=60.0),)


@pytest.mark.parametrize(("hours", "source", "a_week"), [(None, "guess", 10.0), (6.0, "stated", 6.0)])
def test_the_artists_hours_are_those_of_the_book(hours: float | None, source: str, a_week: float) -> None:
    workshop = Workshop(artist="Zoe", artist_hours_a_week=hours)
    (task,) = work_left(a_book(spaces=MILL, workshop=workshop).state, TODAY, []).painting
    assert (task.hand, task.lines, task.hours.source, task.hours.a_week) == ("Zoe", 60.0, source, a_week)


def test_more_hours_of_the_artist_bring_the_day_nearer_and_given_ones_make_it_surer() -> None:
    def painted(hours: float | None) -> Finish:
        found = outlook(a_book(spaces=MILL, workshop=Workshop(artist_hours_a_week=hours)).state, TODAY).forecast
        assert found.painted is not None
        return found.painted

    few, guessed, stated, many = painted(5.0), painted(None), painted(10.0), painted(30.0)
    assert few.expected > stated.expected > many.expected  # type: ignore[operator]
    assert abs(guessed.expected - stated.expected) <= timedelta(days=3)  # type: ignore[operator]
    assert guessed.high > stated.high  # type: ignore[operator]


def test_a_space_is_not_filled_before_its_page_is_written_and_dry() -> None:
    """The artist needs an hour; the page that bears the space comes some forty lines, two weeks of writing, later."""
    spaces = (SpacePlan("mill", "miniature", Anchor(word=120), 2, hours=1.0),)
    book = a_book(spaces=spaces, workshop=Workshop(artist_hours_a_week=20.0))
    found = outlook(book.state, TODAY).forecast
    assert found.painted is not None
    assert TODAY + timedelta(days=7) < found.painted.expected < found.written.expected  # type: ignore[operator]


def test_without_spaces_nothing_is_to_be_painted() -> None:
    seen = outlook(a_book().state, TODAY)
    assert seen.forecast.painted is None
    assert OUTLOOK.data(seen)["painted"] is None


def test_that_the_artists_hours_are_guessed_is_said() -> None:
    def told(hours: float | None) -> list[str]:
        state = a_book(spaces=MILL, workshop=Workshop(artist_hours_a_week=hours)).state
        return list(outlook_sentences(outlook(state, TODAY), end_of_book(state)))

    assert [line.split()[0] for line in told(None)[:5]] == ["Written", "Checked", "Painted", "Artist", "Whole"]
    assert "10 hours a week guessed; give artist_hours_a_week: under workshop:" in told(None)[3]
    assert [line.split()[0] for line in told(8.0)[:4]] == ["Written", "Checked", "Painted", "Whole"]


def test_figures_of_the_hands_that_are_guessed_are_said() -> None:
    def seen(hours_a_week: float | None = None, lines_an_hour: float | None = None) -> Outlook:
        hand = Hand("A", "first", 20.0, hours_a_week=hours_a_week, lines_an_hour=lines_an_hour)
        return outlook(a_book(hands=(hand,)).state, TODAY)

    both, pace = seen(), seen(hours_a_week=8.0)
    said = "A: 25 lines an hour, 10 hours a week, until given under hands: or timed"
    assert list(guessed_words(both)) == [said]
    assert list(guessed_words(pace)) == [said.replace(", 10 hours a week", "")]
    assert list(guessed_words(seen(hours_a_week=8.0, lines_an_hour=20.0))) == []
    assert OUTLOOK.data(both)["guessed"] == {"lines_an_hour": ["A"], "hours_a_week": ["A"]}
    assert OUTLOOK.data(pace)["guessed"] == {"lines_an_hour": ["A"], "hours_a_week": []}


def test_skins_are_wanted_before_their_gatherings_and_those_in_stock_go_first() -> None:
    book = a_book(
        900,
        skins=SkinPlan(300.0, 200.0, days={"lime": 9}),
        gatherings=GatheringPlan(sheets=2, count=3),
        hands=(Hand("A", "first", 20.0, hours_a_week=2.0, lines_an_hour=10.0),),
    )
    book.write("1r")
    wanted = skins_wanted(book.state, work_left(book.state, TODAY, []))
    assert len(wanted) == 2
    assert wanted[0].needed_by < wanted[1].needed_by
    assert all(need.begin_by == need.needed_by - timedelta(days=9) for need in wanted)


def test_no_skins_are_wanted_where_the_stock_is_enough() -> None:
    book = a_book(
        900,
        skins=SkinPlan(300.0, 200.0, days={"lime": 9}),
        gatherings=GatheringPlan(sheets=2, count=3),
    )
    wanted = [need.skins for need in skins_wanted(book.state, work_left(book.state, TODAY, []))]
    assert len(wanted) == 3
    assert min(wanted) > 0
    book.do(move_skins(book.state, "first", "ready", sum(wanted) - 1))
    assert [need.skins for need in skins_wanted(book.state, work_left(book.state, TODAY, []))] == [1]
    book.do(move_skins(book.state, "second", "ready", 1))
    assert skins_wanted(book.state, work_left(book.state, TODAY, [])) == []


def test_sentences_fit_eighty_columns() -> None:
    book = a_book()
    end = end_of_book(book.state)
    seen = outlook(book.state, TODAY, end.chance_text_fits)
    told = list(outlook_sentences(seen, end))
    assert [line.split()[0] for line in told[:5]] == ["Written", "Checked", "Whole", "Held", "Exemplar"]
    assert max(map(len, (line for line in told if not line.startswith("Needed")))) < 80
    late = outlook(a_book(exemplar=ExemplarLoan("e.txt", due=TODAY - timedelta(days=3))).state, TODAY)
    assert due_words(late) == f"was due on {say_day(TODAY - timedelta(days=3), TODAY)}, 3 days ago"
    assert "no date is set" in due_words(outlook(a_book(exemplar=ExemplarLoan("e.txt")).state, TODAY))


@pytest.mark.parametrize(("chance", "said"), [(0.9999, "more than 99%"), (0.001, "less than 1%"), (0.5, "50%")])
def test_chances_are_never_quite_sure(chance: float, said: str) -> None:
    assert f"chance that it fits {said}" in end_words(Ending(chance, Range(1, 2, 3)))


@pytest.mark.parametrize(
    ("blank", "said"),
    [
        (Range(341.0, 345.0, 345.0), "345 lines left blank (341 to 345)"),
        (Range(-12.0, 20.0, 52.0), "20 lines left blank (12 short to 52 to spare)"),
        (Range(-3.0, -1.0, 1.0), "1 line has no room yet"),
        (Range(-9.0, -5.0, -1.0), "5 lines have no room yet"),
    ],
)
def test_lines_left_and_lines_without_room_are_told_apart(blank: Range, said: str) -> None:
    assert end_words(Ending(0.5, blank)) == f"chance that it fits 50%; {said}"


@pytest.mark.parametrize("spoilage", [0.0, 0.1, 0.34])
def test_plan_pace_and_skins_give_one_count_of_skins(spoilage: float) -> None:
    book = TextBook(
        made_text(3000),
        skins=SkinPlan(620.0, 300.0, spoilage=spoilage, days={"lime": 9}),
        gatherings=GatheringPlan(count=3),
        flyleaves=Flyleaves(front=2, back=1),
    )
    wanted = skins_wanted(book.state, work_left(book.state, TODAY, []))
    order = skin_order(book.state)
    assert order is not None
    assert len(wanted) > 1
    assert sum(need.skins for need in wanted) == order.with_flyleaves
    assert skins_today(book.state, TODAY).needed == order.with_flyleaves
    assert f"{order.with_flyleaves} to order" in order_words(order)
