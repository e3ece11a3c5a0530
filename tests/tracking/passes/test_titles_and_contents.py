"""Running titles, numbers of divisions and the list of contents, from the text as it fell."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from copydesk.book.layout.passes import Sort
from copydesk.book.plan import Anchor, Contents, PassPlan, RunningTitles, Signing, SpacePlan, Workshop
from copydesk.book.structure.page import Page
from copydesk.tracking.later.later_work import halves, passes_on
from copydesk.tracking.passes.pass_items import PassItem, pass_items
from copydesk.tracking.passes.pass_report import PASSES, item_words, pass_rows
from copydesk.tracking.passes.pass_status import statuses_on
from copydesk.tracking.state.page_content import page_of_word
from text_book import TextBook

NOW = datetime(2027, 3, 2, 10, tzinfo=UTC)
PASSES_ = (PassPlan("text"), PassPlan("titles"), PassPlan("contents"))
ROOM = SpacePlan("list", "contents", Anchor(page="1r"), 4)
TEXT = "\n\n".join(f"# Water {number} of many\n\n" + "Snow lies deep. " * 20 for number in range(1, 4))


def book(**changes) -> TextBook:
    values = {"passes": PASSES_, "spaces": (ROOM,), "workshop": Workshop(drying_days=0), **changes}
    return TextBook(TEXT, **values)


def on(of: TextBook, page: str, sort: Sort) -> list[PassItem]:
    index = Page.parse(page).index
    found = (item for work in passes_on(of.state, index) for item in pass_items(of.state, index, work))
    return [item for item in found if item.sort is sort]


def title(of: TextBook, page: str) -> str:
    return " ".join(item.words for item in on(of, page, Sort.RUNNING_TITLES))


def pages(of: TextBook) -> list[str]:
    found = enumerate(of.state.budget.pages)
    return [str(Page.at(index)) for index, page in found if page.start < page.end]


def test_each_page_has_the_title_of_the_division_its_first_words_are_of() -> None:
    of = book()
    for page in pages(of):
        word = of.state.copy.word(of.state.budget.pages[Page.parse(page).index].start)
        number = max(at for at, each in enumerate(of.exemplar.divisions, 1) if each.start <= word)
        assert title(of, page) == f"Water {number} of many"


def test_words_of_the_plan_go_before_the_divisions_own_and_stand_in_the_margin() -> None:
    of = book(titles=RunningTitles({1: "The first"}, from_head=6.0))
    (item,) = on(of, "1r", Sort.RUNNING_TITLES)
    assert (item.words, item.from_head, item.line) == ("The first", 6.0, 0)
    assert item.room == pytest.approx(of.state.layout.written_width)
    assert "6 mm from the head" in item_words(item, of.state.book)
    assert on(book(), "1r", Sort.RUNNING_TITLES)[0].from_head == pytest.approx(of.state.layout.margins.head / 2)


def test_a_title_across_an_opening_is_whole_where_both_halves_are_read() -> None:
    of = book(titles=RunningTitles(across="opening"))
    assert title(of, "1r") == "Water 1 of many"  # no page faces it
    assert f"{title(of, '1v')} {title(of, '2r')}" == "Water 1 of many"
    assert title(of, "1v") == "Water 1"


@given(st.lists(st.text("abc", min_size=1, max_size=9), max_size=6).map(" ".join))
def test_the_halves_of_a_title_give_it_back_and_none_is_more_even(words: str) -> None:
    left, right = halves(words)
    assert f"{left} {right}".strip() == words
    for at, sign in enumerate(words):
        if sign == " ":
            assert abs(len(left) - len(right)) <= abs(at - (len(words) - at - 1))


@pytest.mark.parametrize(("how", "said"), [("none", []), ("roman", ["i", "ii", "iii"]), ("arabic", ["1", "2", "3"])])
def test_divisions_are_numbered_where_they_begin(how, said) -> None:
    of = book(titles=RunningTitles(numbers=how))
    found = [(page, item) for page in pages(of) for item in on(of, page, Sort.CHAPTER_NUMBERS)]
    assert [item.words for _, item in found] == said
    for page, item in found:
        assert page_of_word(of.state, item.word) == Page.parse(page)
        assert item.room == of.state.layout.margins.outer


def test_the_list_of_contents_names_the_leaves_on_which_divisions_really_fell() -> None:
    of = book()
    found = on(of, "1r", Sort.CONTENTS_LINES)
    starts = [page_of_word(of.state, each.start) for each in of.exemplar.divisions]
    assert [item.words for item in found] == [f"Water {at} of many {page.leaf}" for at, page in enumerate(starts, 1)]
    assert [item.line for item in found] == [1, 2, 3]
    assert all(item.room > 0 for item in found)
    counted = book(signing=Signing(foliation="pages"))
    assert [item.words.split()[-1] for item in on(counted, "1r", Sort.CONTENTS_LINES)] == [
        str(page.index + 1) for page in starts
    ]


def test_the_list_keeps_its_room_and_a_line_without_room_is_told() -> None:
    with_room, without = book(), book(spaces=(), passes=PASSES_[:2])
    assert with_room.state.budget.pages[0].room == without.state.budget.pages[0].room - 4
    short = book(spaces=(ROOM._replace(lines=2),))
    assert [item.too_wide for item in on(short, "1r", Sort.CONTENTS_LINES)][-1]
    some = book(contents=Contents((3, 1)))
    assert [item.words.split()[1] for item in on(some, "1r", Sort.CONTENTS_LINES)] == ["3", "1"]


def test_the_list_is_written_last_when_the_pages_it_names_are_whole() -> None:
    of = book()
    of.write("1r")

    def waits() -> list[str]:
        found = {each.name: each for each in statuses_on(of.state, 0, NOW)}
        return list(map(str, found["contents"].waits_for))

    starts = [str(page_of_word(of.state, each.start)) for each in of.exemplar.divisions]
    assert waits() == ["1r titles", *(f"{page} written" for page in starts[1:])]
    for page in pages(of)[1:]:
        of.write(page)
    of.do(of.commands.go_over(Page.parse("1r"), "titles"))
    assert waits() == []
    of.do(of.commands.go_over(Page.parse("1r"), "contents"))
    rows = pass_rows(of.state, statuses_on(of.state, 0, NOW))
    assert [row["state"] for row in PASSES.all_data(rows)] == ["done", "done", "done"]
