"""The tally of small work in colour, counted where the text fell."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.flow import CountedDivision, ExemplarLoan, Flow
from copydesk.book.plan import Anchor, Change, GatheringPlan, SpacePlan
from copydesk.book.structure.page import Page
from copydesk.tracking.decoration.rubrication_tally import SORTS, tally, tally_words, total_of
from copydesk.tracking.decoration.space_columns import TALLY
from copydesk.tracking.state.book_state import BookState
from text_book import TextBook

TEXT = """# On frost

One two three.

Four five six.

| seven
| eight
| nine

# On thaw

Ten eleven.
"""


def counts(book: TextBook) -> dict[str, int]:
    return total_of(tally(book.state))


def told(*numbers: int) -> dict[str, int]:
    return dict(zip(SORTS, numbers, strict=True))


def test_headings_initials_and_verse_letters_are_counted() -> None:
    assert counts(TextBook(TEXT)) == told(2, 4, 0, 2)


def test_a_paragraph_that_runs_on_gets_a_mark() -> None:
    assert counts(TextBook(TEXT, flow=Flow(paragraphs="run on"))) == told(2, 3, 1, 2)


def test_what_a_space_is_kept_for_is_not_counted() -> None:
    spaces = (
        SpacePlan("o", "initial", Anchor(division=1, paragraph=1), 2),
        SpacePlan("s", "flourished initial", Anchor(division=1, paragraph=3), 2),
        SpacePlan("red", "rubric", Anchor(division=2)),
        SpacePlan("mill", "miniature", Anchor(division=2, paragraph=1), 2),
    )
    assert counts(TextBook(TEXT, spaces=spaces)) == told(1, 2, 0, 2)


def test_what_is_left_out_on_purpose_is_not_counted() -> None:
    assert counts(TextBook(TEXT, changes=(Change(5, 8, ""),))) == told(2, 3, 0, 2)


LONG = "\n\n".join(" ".join(["word"] * 30) for _ in range(30))


def test_each_gathering_has_its_own_where_the_text_really_fell() -> None:
    book = TextBook(LONG, gatherings=GatheringPlan(1, 9))
    before = tally(book.state)
    assert sum(each.total for each in before) == 30
    assert [each.written for each in before] == [0] * 9
    first = before[0].total
    book.do(book.commands.write(Page.parse("1r")))
    book.do(book.commands.write(Page.parse("1v"), to_line=3))
    after = tally(book.state)
    assert after[0].written == sum(paragraph * 30 < after_words(book) for paragraph in range(30))
    assert sum(each.total for each in after) == 30
    assert after[0].total <= first


def after_words(book: TextBook) -> int:
    return book.state.copy.word(book.state.budget.pages[0].end)


def test_text_without_a_page_is_counted_apart() -> None:
    found = tally(TextBook(LONG, gatherings=GatheringPlan(1, 1)).state)
    assert [each.gathering for each in found] == [1, None]
    assert found[1].foot is None
    assert found[0].total + found[1].total == 30
    assert TALLY.data(found[1])["gathering"] is None


def test_a_counted_text_has_its_headings_counted() -> None:
    book = TextBook()
    plan = book.plan
    divisions = (CountedDivision("a", words=100), CountedDivision("b", words=100))
    from dataclasses import replace

    state = BookState(replace(plan, exemplar=ExemplarLoan(), divisions=divisions), None, book.ledger)
    assert total_of(tally(state)) == told(2, 0, 0, 0)


def test_a_tally_in_words() -> None:
    assert tally_words(told(1, 4, 0, 2)) == "1 heading, 4 small initials, 2 verse letters"
    assert tally_words(told(0, 0, 0, 0)) == "nothing"


def test_the_tally_is_noted_at_the_foot_of_the_last_verso() -> None:
    found = tally(TextBook(LONG, gatherings=GatheringPlan(2, 3)).state)
    assert [str(each.foot) for each in found] == ["4v", "8v", "12v"]
    assert TALLY.data(found[0]) == {
        "gathering": 1,
        "foot_of": "4v",
        "headings": 0,
        "small_initials": found[0].total,
        "paragraph_marks": 0,
        "verse_letters": 0,
        "total": found[0].total,
        "on_written_pages": 0,
    }


blocks = st.sampled_from(["# head", "plain words here", "| verse one\n| verse two", "more of it"])


@settings(max_examples=40, deadline=None)
@given(st.lists(blocks, min_size=1, max_size=25), st.sampled_from(["line", "run on"]), st.integers(1, 3))
def test_every_block_is_counted_once(parts: list[str], paragraphs: str, sheets: int) -> None:
    book = TextBook("\n\n".join(parts), flow=Flow(paragraphs=paragraphs), gatherings=GatheringPlan(sheets, 1))  # type: ignore[arg-type]
    found = total_of(tally(book.state))
    assert found["headings"] == parts.count("# head")
    assert found["small initials"] + found["paragraph marks"] == len(parts) - parts.count("# head")
    assert found["verse letters"] == parts.count("| verse one\n| verse two")
    if paragraphs == "line":
        assert found["paragraph marks"] == 0


def test_paragraph_marks_of_the_text_are_counted() -> None:
    text = "# On ¶ frost\n\nOne two ¶ three.\n\n¶ Four five ⸿six.\n\n¶Seven.\n\n| eight ¶\n| nine\n"
    assert counts(TextBook(text)) == told(1, 2, 6, 1)
    assert counts(TextBook(text.replace("¶", "").replace("⸿", ""))) == told(1, 4, 0, 1)


def test_a_mark_before_a_paragraph_that_runs_on_is_one_mark() -> None:
    text = "# On frost\n\nOne two.\n\n¶ Three four.\n\nFive.\n"
    assert counts(TextBook(text, flow=Flow(paragraphs="run on"))) == told(1, 1, 2, 0)
