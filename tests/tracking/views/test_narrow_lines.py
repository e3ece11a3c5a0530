"""Lines beside a space or a hole where the next word has no room: told before ruling, with the width that cures."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.flow import CountedDivision, ExemplarLoan, Flow
from copydesk.book.layout.flaws import kept_edges, narrower
from copydesk.book.plan import Anchor, Columns, Flaw, SpacePlan
from copydesk.book.structure.page import Page
from copydesk.cli.verbs.plan import plan_json
from copydesk.desk.wording.page_words import page_lines
from copydesk.papers.drawing.shapes import Words
from copydesk.papers.ruling import ruling_drawing, templates
from copydesk.tracking.ledger.ledger import Ledger
from copydesk.tracking.planning.plan_report import PLAN, plan_as_is
from copydesk.tracking.scribes.handover import handover
from copydesk.tracking.scribes.handover_text import handover_lines
from copydesk.tracking.state.book_state import BookState
from copydesk.tracking.state.page_content import lines_of_page
from copydesk.tracking.views.narrow_lines import narrow_lines, narrow_words
from copydesk.tracking.views.page_report import page_as_data
from copydesk.tracking.views.page_view import page_account
from text_book import TextBook

WORDS = "nineabcde ninefghij nineklmno ninepqrst nineuvwxy ninebcdfg " * 20
INITIAL = SpacePlan("owl", "initial", Anchor(word=0), 3, width=42.0)  # of a measure of 70 mm and 20 letters


def a_book(*spaces: SpacePlan, text: str = WORDS, **changes: object) -> TextBook:
    return TextBook(text.strip(), spaces=spaces, **changes)


def test_lines_beside_an_initial_stay_empty_where_no_word_has_room() -> None:
    book = a_book(INITIAL)
    assert book.lines("1r")[:4] == ["", "", "", "nineabcde ninefghij"]
    [found] = narrow_lines(book.state)
    assert (str(found.page), found.lines, found.space) == ("1r", 3, "owl")
    assert narrow_words(book.state, found) == (
        "3 lines beside space owl on 1r stay empty, too narrow for the next word; "
        "a space at most 38.5 mm wide would leave none"
    )
    page = book.state.budget.pages[0]
    assert (page.planned, page.room, page.empty) == (10, 10, 3)


def test_the_width_told_cures_it_and_a_wider_one_does_not() -> None:
    [found] = narrow_lines(a_book(INITIAL).state)
    assert found.widest is not None
    assert narrow_lines(a_book(INITIAL._replace(width=found.widest)).state) == []
    assert narrow_lines(a_book(INITIAL._replace(width=found.widest + 0.1)).state) != []


def test_words_are_broken_there_where_the_book_breaks_them() -> None:
    book = a_book(INITIAL, line_breaks="anywhere")
    assert book.lines("1r")[0] == "nineabcd"
    assert narrow_lines(book.state) == []


def test_a_line_beside_a_hole_stays_empty_too() -> None:
    book = a_book(flaws=(Flaw(leaf=1, from_head=10.0, from_fold=10.0, width=45.0, height=10.0),))
    [found] = [each for each in narrow_lines(book.state) if str(each.page) == "1r"]
    assert (found.space, found.flaw, found.widest) == ("", book.plan.flaws[0], 38.5)
    assert narrow_words(book.state, found) == (
        "1 line beside the flaw 10 mm from the head of 1r stays empty, too narrow for the next word; "
        "a flaw at most 38.5 mm wide would leave none"
    )
    assert lines_of_page(book.state, 0)[0].start == lines_of_page(book.state, 0)[0].end


WIDE = Flaw(leaf=2, from_head=30.0, from_fold=0.0, width=66.0, height=20.0)
"""Of a line of 70 mm that begins 10 mm from the fold it leaves 14 mm and less."""


def with_flaws(*flaws: Flaw, **changes: object) -> TextBook:
    return TextBook("one two six ten " * 150, flaws=flaws, **changes)


def test_lines_that_a_flaw_takes_whole_are_counted_with_the_width_that_cures() -> None:
    book = with_flaws(WIDE._replace(width=70.0))
    found = narrow_lines(book.state)
    assert [(str(each.page), each.lines, each.widest) for each in found] == [("2r", 2, 66.0), ("2v", 2, 66.0)]
    assert [each.over for each in book.state.budget.pages[2:4]] == [0, 0]
    assert narrow_lines(with_flaws(WIDE._replace(width=66.0)).state) == []


def test_every_door_tells_lines_a_flaw_takes_whole_in_the_same_figure() -> None:
    book = with_flaws(WIDE._replace(width=70.0))
    account = page_account(book.state, 2)
    said = (
        "2 lines beside the flaw 30 mm from the head of 2r stay empty, too narrow for the next word; "
        "a flaw at most 66 mm wide would leave none"
    )
    assert page_as_data(account)["lines_in_flaws"] == 2
    assert account.ruled_lines - account.lines_in_flaws == account.budget.room
    panel = page_lines(book.state, account)
    assert [line.says for line in panel if line.head == "Narrow"] == [said]
    assert "takes lines 3 to 4" in [line.says for line in panel]
    row = {column.key: column.data(plan_as_is(book.state)) for column in PLAN}
    assert row["narrow"][0] == {"page": "2r", "lines": 2, "space": None, "flaw": 30.0, "widest": 66.0}
    [ruling] = templates(book.state, Page.parse("2r"))
    assert ruling.narrow == (said,)
    assert any(said[:20] in mark.text for mark in ruling_drawing(ruling).marks if isinstance(mark, Words))
    assert f"Narrow: {said}" in narrow_on_paper(book)


def narrow_on_paper(book: TextBook) -> str:
    """What the handover at the head of 2r says."""
    book.write("1r")
    book.write("1v")
    return "; ".join(f"{line.head}: {line.says}" for line in handover_lines(book.state, handover(book.state, None)))


@settings(max_examples=60, deadline=None)
@given(
    from_head=st.integers(10, 90),
    from_fold=st.integers(0, 60),
    width=st.integers(10, 80),
    columns=st.sampled_from((1, 2)),
    both=st.booleans(),
)
def test_a_flaw_as_narrow_as_told_leaves_no_line_empty(
    from_head: int, from_fold: int, width: int, columns: int, *, both: bool
) -> None:
    changes = {"columns": Columns(columns, 6.0), "flow": Flow(holes="both sides" if both else "one side")}
    flaw = Flaw(1, float(from_head), float(from_fold), float(min(width, 100 - from_fold)), 15.0)
    for found in narrow_lines(with_flaws(flaw, **changes).state):
        assert found.flaw == flaw
        if found.widest is not None:
            assert found.widest <= flaw.width
            cured = [
                narrow_lines(with_flaws(narrower(flaw, found.widest, at_fold=kept), **changes).state)
                for kept in kept_edges(a_book().state.layout, flaw)
            ]
            assert any(found.page not in {each.page for each in left} for left in cured)


def test_lines_above_what_is_written_and_below_the_text_are_not_counted() -> None:
    book = with_flaws(WIDE._replace(width=70.0))
    book.write("1r")
    book.write("1v")
    assert [str(each.page) for each in narrow_lines(book.state)] == ["2r", "2v"]
    book.write("2r")
    assert [str(each.page) for each in narrow_lines(book.state)] == ["2v"]
    last = book.state.budget.last_page
    beyond = with_flaws(WIDE._replace(leaf=last // 2 + 2, width=70.0))
    assert narrow_lines(beyond.state) == []


def test_a_division_still_begins_its_page_below_a_line_that_stays_empty() -> None:
    book = a_book(
        text=f"{WORDS}\n\n# Part\n\n{WORDS}",
        flaws=tuple(Flaw(leaf=leaf, from_head=10.0, from_fold=10.0, width=45.0, height=10.0) for leaf in range(1, 12)),
        flow=Flow("page"),
    )
    division = book.state.copy.runs[1].start
    starts = [page.start for page in book.state.budget.pages]
    assert division in starts


def test_every_door_tells_it() -> None:
    book = a_book(INITIAL)
    account = page_account(book.state, 0)
    assert page_as_data(account)["lines_empty"] == 3
    said = [line for line in page_lines(book.state, account) if line.head == "Narrow"]
    assert said and said[0].wrong
    row = {column.key: column.data(plan_as_is(book.state)) for column in PLAN}
    assert row["narrow"] == [{"page": "1r", "lines": 3, "space": "owl", "flaw": None, "widest": 38.5}]
    assert "narrow" in plan_json().keys


def test_a_space_added_or_enlarged_says_which_lines_stay_empty() -> None:
    book = a_book()
    act = book.commands.space("owl", "added", at="word 0", kind="initial", lines=3, width=42.0)
    assert "3 lines beside space owl on 1r stay empty" in str(act.facts["remark"])


def test_recorded_as_planned_the_next_page_begins_as_planned() -> None:
    book = a_book(INITIAL)
    planned = book.state.budget.pages[1].start
    book.write("1r")
    assert book.state.budget.pages[1].start == planned
    assert book.state.record(book.state.skin_at(0)).written == 10
    assert book.lines("1r")[:4] == ["", "", "", "nineabcde ninefghij"]
    assert narrow_lines(book.state) == []  # what is written is no longer to be cured
    assert page_account(book.state, Page.parse("1v").index).gap_words == 0


def test_a_counted_book_leaves_lines_empty_that_hold_no_word() -> None:
    plan = replace(
        a_book(SpacePlan("owl", "initial", Anchor(division=1), 3, width=56.0)).plan,
        exemplar=ExemplarLoan(),
        divisions=(CountedDivision("one", words=500),),
    )
    [found] = narrow_lines(BookState(plan, None, Ledger()))
    assert (found.lines, found.space) == (3, "owl")
