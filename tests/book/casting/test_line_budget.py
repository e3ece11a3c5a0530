"""The line budget of a whole book: stretches, gaps, overlaps, what is left, and work done again."""

from __future__ import annotations

from typing import TYPE_CHECKING

from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.casting.line_budget import Budget, Budgeter, PageBudget, PagesToFill, Pin
from copydesk.book.flow import Flow
from copydesk.book.layout.page_frame import Anchored, Frame, Shape
from texts import anchored, copy_of, flows, frames, texts

if TYPE_CHECKING:
    from collections.abc import Mapping

    from copydesk.book.text.copy_text import CopyText

EACH = " ".join(f"w{number:02d}" for number in range(100))  # four words to a line of 15 letters
FRAME = Frame(1, 5)  # twenty words to a page
HANDS = {"A": 15.0, "B": 11.0}


def work(
    pins: Mapping[int, Pin] | None = None,
    *,
    copy: CopyText | None = None,
    pages: int = 8,
    anchors: list[Anchored] | None = None,
    hand: str = "A",
    frames_by_page: Mapping[int, Frame] | None = None,
) -> Budget:
    budgeter = Budgeter(copy or copy_of(EACH), HANDS, anchors or [])
    return budgeter.work(PagesToFill(pages, FRAME, frames_by_page or {}, pins or {}, lambda _: hand))


def spans(budget: Budget) -> list[tuple[int, int]]:
    return [(page.start, page.end) for page in budget.pages]


def meetings(budget: Budget) -> dict[int, tuple[int, int]]:
    return {at: (page.gap, page.overlap) for at, page in enumerate(budget.pages) if page.gap or page.overlap}


def test_a_book_nothing_is_written_of() -> None:
    budget = work()
    assert spans(budget)[:6] == [(0, 20), (20, 40), (40, 60), (60, 80), (80, 100), (100, 100)]
    assert [page.planned for page in budget.pages] == [5, 5, 5, 5, 5, 0, 0, 0]
    assert (budget.last_page, budget.lines_left_over, budget.lines_without_room, budget.end) == (4, 15, 0, 100)
    assert budget.stretches == ()


def test_text_with_nowhere_to_go() -> None:
    budget = work(pages=3)
    assert (budget.end, budget.lines_without_room, budget.lines_left_over) == (60, 10, 0)


def test_an_empty_text_and_a_book_of_no_page() -> None:
    empty = work(copy=copy_of(""))
    assert (empty.last_page, empty.lines_left_over, empty.lines_without_room) == (-1, 40, 0)
    none = work(pages=0)
    assert (none.pages, none.lines_without_room, none.lines_left_over) == ((), 25, 0)


def test_after_a_written_page_the_text_is_cast_again_from_its_end() -> None:
    budget = work({0: Pin(0, 16, 5, whole=True)})
    assert spans(budget)[:3] == [(0, 16), (16, 36), (36, 56)]
    assert (budget.pages[0].planned, budget.pages[0].written, budget.pages[0].room) == (5, 5, 5)


def test_a_page_written_in_part_goes_on_from_there() -> None:
    budget = work({0: Pin(0, 6, 2)})
    assert spans(budget)[:2] == [(0, 18), (18, 38)]
    assert (budget.pages[0].planned, budget.pages[0].written) == (5, 2)


def test_the_hand_that_wrote_last_on_a_page_is_expected_to_go_on() -> None:
    budget = work({0: Pin(0, 6, 2, hand="B")})
    assert spans(budget)[0] == (0, 15)


def test_pages_between_two_that_hold_their_text_carry_just_what_stands_between() -> None:
    budget = work({0: Pin(0, 20, 5, whole=True), 3: Pin(72)})
    (stretch,) = budget.stretches
    assert (stretch.first, stretch.last, stretch.start, stretch.end) == (1, 2, 20, 72)
    assert (stretch.room, stretch.lines, stretch.over) == (10, 13, 3)
    assert [page.stretch for page in budget.pages][:4] == [-1, 0, 0, -1]
    assert (budget.pages[2].end, budget.pages[2].planned, budget.pages[2].room) == (72, 8, 5)
    assert meetings(budget) == {}


def test_a_loose_stretch_says_how_many_lines_stay_empty() -> None:
    (stretch,) = work({0: Pin(0, 20, 5, whole=True), 3: Pin(50)}).stretches
    assert (stretch.lines, stretch.over) == (8, -2)


def test_a_stretch_may_begin_within_a_page() -> None:
    (stretch,) = work({0: Pin(0, 8, 2), 2: Pin(40)}).stretches
    assert (stretch.first, stretch.last, stretch.start, stretch.room, stretch.lines) == (0, 1, 8, 8, 8)


def test_a_stretch_at_the_beginning_of_the_book() -> None:
    (stretch,) = work({1: Pin(30)}).stretches
    assert (stretch.first, stretch.last, stretch.start, stretch.end, stretch.over) == (0, 0, 0, 30, 3)


def test_lines_that_stay_blank_are_no_room_so_page_and_stretch_have_as_many_over() -> None:
    copy = copy_of(EACH)
    initial = Anchored(12, Shape("i", 4, False, 0.2))  # after three lines of the first page
    budget = work({1: Pin(20)}, copy=copy, anchors=[initial])
    page, (stretch,) = budget.pages[0], budget.stretches
    assert (page.room, page.kept, page.planned) == (5, 2, 5)
    assert page.over == stretch.over == 2


def test_lines_left_before_a_heading_or_an_initial_are_told_though_all_has_room() -> None:
    initial = Anchored(12, Shape("i", 4, False, 0.2))
    page = work(copy=copy_of(EACH), anchors=[initial]).pages[0]
    assert (page.planned, page.kept, page.over) == (3, 2, -2)
    words = "abc " * 16
    page = work(copy=copy_of(f"# One\n{words}\n\n# Two\n{words}", flow=Flow(keep_with_next=2))).pages[0]
    assert (page.planned, page.kept, page.room) == (5, 0, 5)
    words = "abc " * 12
    page = work(copy=copy_of(f"# One\n{words}\n\n# Two\n{words}", flow=Flow(keep_with_next=2))).pages[0]
    assert (page.planned, page.kept, page.over) == (4, 1, -1)


def test_text_skipped_between_two_written_pages_is_a_gap() -> None:
    budget = work({0: Pin(0, 20, 5, whole=True), 1: Pin(24, 44, 5, whole=True)})
    assert meetings(budget) == {1: (4, 0)}
    assert budget.stretches == ()


def test_text_written_twice_is_an_overlap() -> None:
    budget = work({0: Pin(0, 20, 5, whole=True), 1: Pin(17, 37, 5, whole=True)})
    assert meetings(budget) == {1: (0, 3)}


def test_an_overlap_across_pages_not_yet_written_shows_where_the_text_goes_on() -> None:
    budget = work({0: Pin(0, 20, 5, whole=True), 2: Pin(17, 37, 5, whole=True)})
    assert meetings(budget) == {2: (0, 3)}
    assert budget.pages[1].planned == 0


def test_the_first_page_may_begin_too_late() -> None:
    assert meetings(work({0: Pin(4, 20, 4, whole=True)})) == {0: (4, 0)}


def test_a_line_cut_off_where_a_held_page_begins_is_no_overlap() -> None:
    budget = work({1: Pin(18, hand="B")})
    assert meetings(budget) == {}
    assert spans(budget)[0] == (0, 18)
    assert budget.stretches[0].over == 0


def test_a_held_page_begins_there_whatever_its_division_asks_for() -> None:
    copy = copy_of("# A\nfirst words\n# B\nsecond words", flow=Flow(divisions="recto"))
    assert spans(work(copy=copy))[:3] == [(0, 3), (3, 3), (3, 6)]
    assert spans(work({1: Pin(3)}, copy=copy))[:3] == [(0, 3), (3, 6), (6, 6)]


def miniature(piece: int, lines: int = 3, share: float = 0.0) -> Anchored:
    return Anchored(piece, Shape("m", lines, False, share))


RULED = FRAME._replace(ruled=True)


def homes(budget: Budget) -> dict[str, int]:
    return {placement.id: at for at, page in enumerate(budget.pages) for placement in page.placed}


def test_a_space_without_room_before_a_held_page_comes_to_it_while_it_is_not_ruled() -> None:
    budget = work({1: Pin(20)}, anchors=[miniature(12)])
    assert (homes(budget), budget.homeless) == ({"m": 1}, ())


def test_a_space_without_room_before_ruled_pages_goes_on_to_the_next_that_is_not() -> None:
    held = work({1: Pin(20)}, anchors=[miniature(12)], frames_by_page={1: RULED})
    assert (homes(held), held.homeless) == ({"m": 2}, ())
    unheld = work({0: Pin(0, 20, 5, whole=True)}, anchors=[miniature(12)], frames_by_page={0: RULED, 1: RULED})
    assert (homes(unheld), unheld.homeless) == ({"m": 2}, ())


def test_a_picture_at_a_foot_stays_there_when_the_page_after_it_is_written_as_planned() -> None:
    planned = work(anchors=[miniature(28)])
    assert (homes(planned), spans(planned)[1:3]) == ({"m": 1}, [(20, 28), (28, 48)])
    for pin in (Pin(28), Pin(28, 48, 5, whole=True)):
        again = work({2: pin}, anchors=[miniature(28)], frames_by_page={2: RULED} if pin.whole else None)
        assert (homes(again), spans(again)) == (homes(planned), spans(planned))


def test_an_initial_does_not_leave_its_text() -> None:
    assert work({1: Pin(20)}, anchors=[miniature(16, 2, 0.5)]).homeless == ("m",)
    assert work({0: Pin(0, 20, 5, whole=True)}, anchors=[miniature(16, 2, 0.5)]).homeless == ("m",)


def test_an_initial_with_no_room_for_text_beside_it_does_not_stand_at_a_foot_without_its_text() -> None:
    wide = Anchored(8, Shape("i", 3, False, 0.9))  # after two of five lines; beside it is room for no word
    first, second = work(copy=copy_of(EACH), anchors=[wide]).pages[:2]
    assert (first.end, first.kept, first.placed) == (8, 3, ())
    assert (second.start, second.placed[0].from_line, second.empty) == (8, 1, 3)
    narrow = Anchored(8, Shape("i", 3, False, 0.2))
    assert work(copy=copy_of(EACH), anchors=[narrow]).pages[0].placed[0].from_line == 3


def test_an_initial_whose_text_begins_a_held_page_stands_there() -> None:
    budget = work({1: Pin(16)}, anchors=[miniature(16, 2, 0.5)])
    assert (homes(budget), budget.homeless) == ({"m": 1}, ())


def test_an_initial_may_come_to_a_page_that_is_ruled() -> None:
    assert homes(work(anchors=[miniature(20, 2, 0.5)], frames_by_page={1: RULED})) == {"m": 1}


def test_a_space_tied_to_text_that_is_written_already_comes_to_the_next_page() -> None:
    for pin in (Pin(0, 20, 5, whole=True), Pin(0, 20, 5)):
        budget = work({0: pin}, anchors=[miniature(12)], frames_by_page={0: RULED})
        assert (homes(budget), budget.homeless) == ({"m": 1}, ())


def test_a_space_without_any_page_left_for_it_has_no_place() -> None:
    ruled = dict.fromkeys(range(8), RULED)
    assert work({0: Pin(0, 20, 5, whole=True)}, anchors=[miniature(12)], frames_by_page=ruled).homeless == ("m",)


def test_a_space_tied_to_the_very_end_has_no_place() -> None:
    assert work(anchors=[miniature(100)]).homeless == ("m",)


def test_a_space_after_the_last_words_still_has_its_place() -> None:
    budget = work(anchors=[miniature(99)])
    assert budget.homeless == ()
    assert budget.last_page == 5
    assert budget.lines_left_over == 2 + 10


def plain(budget: Budget) -> tuple[object, ...]:
    """A budget without what it keeps for the next one."""
    return (
        budget.pages,
        budget.stretches,
        budget.end,
        budget.lines_without_room,
        budget.lines_left_over,
        budget.last_page,
        budget.homeless,
    )


def check_tiling(budget: Budget, pins: Mapping[int, Pin], pieces: int) -> None:
    """Every page begins where the one before ends, but for the gaps and overlaps that are told."""
    reached = 0
    for at, page in enumerate(budget.pages):
        assert page.start == reached + page.gap - page.overlap, at
        assert 0 <= page.start <= page.end <= max(pieces, page.start), at
        assert not (page.gap and page.overlap)
        assert not (page.gap or page.overlap) or at in pins
        assert page.planned >= page.written
        assert 0 <= page.kept <= page.room
        assert page.written > page.room or page.over <= 0 or page.stretch >= 0
        if at not in pins:
            assert page.written == 0
            assert page.planned <= page.room or page.stretch >= 0
        reached = page.end
    assert budget.end == reached
    if not budget.lines_without_room and not pins:
        assert reached == pieces


@st.composite
def pins_of(draw: st.DrawFn, pieces: int, pages: int) -> dict[int, Pin]:
    found = {}
    for index in draw(st.lists(st.integers(0, pages + 1), max_size=4, unique=True)):
        begins = draw(st.integers(0, pieces))
        lines = draw(st.integers(0, 6))
        ends = draw(st.integers(begins, pieces)) if lines else None
        whole = bool(lines) and draw(st.booleans())
        found[index] = Pin(begins, ends, lines, whole, draw(st.sampled_from(["", "A", "B"])))
    return found


@st.composite
def tasks(draw: st.DrawFn, copy: CopyText, anchors: list[Anchored]) -> PagesToFill:
    """Conditions as they may be after any entries."""
    pages = 6
    unlike = {index: draw(frames(2, 4)) for index in draw(st.sets(st.integers(0, pages), max_size=3))}
    hands = draw(st.lists(st.sampled_from("AB"), min_size=pages + 2, max_size=pages + 2))
    fixed = frozenset(draw(st.sets(st.sampled_from([each.shape.id for each in anchors] or ["none"]), max_size=2)))
    return PagesToFill(pages, Frame(2, 4), unlike, draw(pins_of(copy.pieces, pages)), hands.__getitem__, fixed)


@given(texts, flows, st.booleans(), st.data())
@settings(max_examples=100, deadline=None)
def test_pages_tile_the_text_but_for_what_is_told(text: str, flow: Flow, broken: bool, data: st.DataObject) -> None:
    copy = copy_of(text, flow=flow, broken=broken)
    anchors = data.draw(anchored(copy))
    task = data.draw(tasks(copy, anchors))
    budget = Budgeter(copy, HANDS, anchors).work(task)
    check_tiling(budget, task.pins, copy.pieces)
    placed = [placement.id for page in budget.pages for placement in page.placed if placement.id.startswith("s")]
    assert len(placed) == len(set(placed))
    assert set(placed) | set(budget.homeless) | task.fixed >= {each.shape.id for each in anchors}
    assert not set(placed) & set(budget.homeless)
    for stretch in budget.stretches:
        held = budget.pages[stretch.first : stretch.last + 1]
        assert stretch.lines == sum(page.planned - page.written for page in held)
        assert stretch.end == held[-1].end
        if held[-1].written <= held[-1].room:
            assert max(held[-1].over, 0) == max(stretch.over, 0)


@given(texts, flows, st.data())
@settings(max_examples=100, deadline=None)
def test_work_done_again_comes_to_the_same_as_work_from_the_beginning(
    text: str, flow: Flow, data: st.DataObject
) -> None:
    copy = copy_of(text, flow=flow)
    anchors = data.draw(anchored(copy))
    kept = Budgeter(copy, HANDS, anchors)
    before: Budget | None = None
    last: PagesToFill | None = None
    for _ in range(data.draw(st.integers(1, 4))):
        task = data.draw(tasks(copy, anchors))
        if last is not None and data.draw(st.booleans()):  # most entries change one page
            task = _one_page_changed(last, task, data.draw(st.integers(0, 5)))
        last = task
        before = kept.work(task, before)
        assert plain(before) == plain(Budgeter(copy, HANDS, anchors).work(task))


def _one_page_changed(before: PagesToFill, after: PagesToFill, index: int) -> PagesToFill:
    pins = {**before.pins}
    pins.pop(index, None)
    if index in after.pins:
        pins[index] = after.pins[index]
    return before._replace(pins=pins)


def test_only_pages_that_change_are_cast_again() -> None:
    copy = copy_of(EACH * 20)
    budgeter = Budgeter(copy, HANDS, [])

    def task(pins: Mapping[int, Pin]) -> PagesToFill:
        return PagesToFill(90, FRAME, {}, pins, lambda _: "A")

    first = budgeter.work(task({}))
    same = budgeter.work(task({3: Pin(60, 80, 5, whole=True)}), first)
    reused = [at for at in range(90) if same.casts[at] is first.casts[at] and same.casts[at] is not None]
    assert reused == [0, 1, *range(4, 90)]  # the page before a held one is cast up to it
    assert isinstance(same.pages[3], PageBudget)
