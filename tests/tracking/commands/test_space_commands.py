"""Spaces in mid-work: stages and their remarks, and plans that change while a page is unruled."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from book_of_spaces import FROST, book, page_of, rule, space
from copydesk.book.common.errors import CopydeskError
from copydesk.book.flow import Flow
from copydesk.book.plan import Anchor, Signing, SpacePlan, Workshop
from copydesk.book.structure.page import Page
from copydesk.book.text.exemplar import read_exemplar
from copydesk.tracking.commands import leaf_commands as leaf_acts
from copydesk.tracking.log.entry_text import describe
from copydesk.tracking.state.book_state import BookState
from copydesk.tracking.state.page_content import page_of_word
from copydesk.tracking.views.space_view import find_space, space_accounts
from small_book import SmallBook

if TYPE_CHECKING:
    from copydesk.tracking.ledger.entry import Entry


def test_stages_are_done_one_after_another_until_the_space_is_done() -> None:
    work = book()
    rule(work, "1r")
    for stage, next_stage in (("drawn", "coloured"), ("coloured", None)):
        assert space(work, "rose").next_stage == stage
        entry = work.do(work.commands.space("rose", stage), "Ines")
        assert entry.facts["on"] == "1.1:r"
        assert space(work, "rose").next_stage == next_stage
    assert (space(work, "rose").stage, space(work, "rose").waiting) == ("done", False)
    work.undo(entry)
    assert (space(work, "rose").stage, space(work, "rose").waiting) == ("drawn", True)


def test_the_whole_is_done_in_one_entry_and_taken_back_in_one() -> None:
    work = book()
    entry = work.do(work.commands.space("rose", "done"))
    assert not space(work, "rose").waiting
    assert space(work, "rose").stages_left == ()
    with pytest.raises(CopydeskError, match="space rose is done already; nothing was recorded"):
        work.commands.space("rose", "done")
    work.undo(entry)
    assert space(work, "rose").waiting


def test_left_empty_is_an_end_that_a_stage_opens_again() -> None:
    work = book()
    rule(work, "1r")
    work.do(work.commands.space("rose", "left-empty", "no time"))
    assert (space(work, "rose").stage, space(work, "rose").waiting) == ("left-empty", False)
    with pytest.raises(CopydeskError, match="left empty on purpose already"):
        work.commands.space("rose", "left-empty")
    act = work.commands.space("rose", "drawn")
    assert act.facts["remark"] == "it was left empty on purpose, and is filled now"
    work.do(act)
    assert (space(work, "rose").stage, space(work, "rose").waiting) == ("drawn", True)


@pytest.mark.parametrize(
    ("before", "what", "remark"),
    [
        ((), "drawn", ""),
        ((), "coloured", "out of the workshop's order: it is not drawn or gilded yet"),
        (("drawn", "coloured"), "gilded", "out of the workshop's order: it was coloured before"),
        (("drawn",), "drawn", "it was drawn before, by A on 2 March 10:00"),
        (("drawn",), "left-empty", "it is drawn already"),
    ],
)
def test_a_stage_out_of_order_is_recorded_with_a_remark(before: tuple[str, ...], what: str, remark: str) -> None:
    work = book(FROST)
    rule(work, page_of(work, "frost"))
    for stage in before:
        work.do(work.commands.space("frost", stage))
    assert work.commands.space("frost", what).facts.get("remark", "") == remark


def test_the_order_is_the_workshops() -> None:
    work = book(FROST, workshop=Workshop(colour_first=True))
    rule(work, page_of(work, "frost"))
    work.do(work.commands.space("frost", "drawn"))
    assert space(work, "frost").next_stage == "coloured"
    assert "not coloured yet" in str(work.commands.space("frost", "gilded").facts["remark"])


def test_a_stage_not_foreseen_is_recorded_and_remarked_on() -> None:
    work = book()
    rule(work, "1r")
    entry = work.do(work.commands.space("rose", "gilded"), "Ines")
    assert describe(entry) == (
        "space rose gilded and burnished by Ines; it was not thought to be gilded; it is to be drawn, coloured"
    )
    assert space(work, "rose").stage == "reserved"


def test_work_before_ruling_is_remarked_on() -> None:
    work = book()
    assert work.commands.space("frost", "drawn").facts["remark"] == (
        f"{page_of(work, 'frost')} is not ruled yet, so its place is not fixed"
    )


def test_what_was_painted_on_a_leaf_is_lost_with_it() -> None:
    work = book()
    rule(work, "1r", "1v")
    for name in ("rose", "vine"):
        work.do(work.commands.space(name, "drawn"))
    cut = work.do(leaf_acts.replace_leaf(work.state, 1))
    for name in ("rose", "vine"):
        assert (space(work, name).stage, space(work, name).lost) == ("reserved", ("drawn",))
        assert page_of(work, name) == "1r"
    work.undo(cut)
    assert (space(work, "rose").stage, space(work, "rose").lost) == ("drawn", ())


def test_a_space_is_enlarged_while_its_page_is_unruled() -> None:
    work = book()
    before = work.state.budget.lines_left_over
    entry = work.do(work.commands.space("frost", "resized", lines=6))
    assert describe(entry) == "space frost given 6 lines in place of 4 by A"
    assert space(work, "frost").placement.lines == 6  # type: ignore[union-attr]
    assert work.state.budget.lines_left_over == before - 2
    assert work.state.budget.pages == work.afresh().budget.pages
    work.undo(entry)
    assert space(work, "frost").plan.lines == 4
    assert work.state.budget.lines_left_over == before


def test_a_space_is_moved_in_the_text_and_to_a_page() -> None:
    work = book()
    entry = work.do(work.commands.space("frost", "moved", at="word 400"))
    assert page_of(work, "frost") == str(page_of_word(work.state, 400))
    assert describe(entry) == "space frost moved to word 400 by A"
    work.do(work.commands.space("frost", "moved", at="page 9v line 3"))
    assert page_of(work, "frost") == "9v"
    assert space(work, "frost").placement[1:4] == (1, 3, 4)  # type: ignore[index]
    assert work.state.budget.pages == work.afresh().budget.pages


def test_a_space_tied_to_a_page_goes_with_its_leaf() -> None:
    work = book()
    work.do(work.commands.space("frost", "moved", at="9v"))
    work.do(leaf_acts.cancel_leaf(work.state, 3))
    assert page_of(work, "frost") == "8v"


@pytest.mark.parametrize(
    ("foliation", "asked", "told"),
    [
        ("arabic", "page 5r line 2", "page 5r line 2"),
        ("roman", "page v r line 2", "page v r line 2"),
        ("pages", "page 9 line 2", "page 9 line 2"),
    ],
)
def test_a_space_s_page_is_told_as_the_book_counts(foliation: Any, asked: str, told: str) -> None:
    work = book(signing=Signing(foliation=foliation))
    entry = work.do(work.commands.space("frost", "moved", at=asked))
    assert entry.text("to") == "page 5r line 2"
    assert describe(entry, work.state) == f"space frost moved to {told} by A"


def test_a_space_comes_to_no_lines_that_another_has_or_the_column_lacks() -> None:
    owl, cat = (SpacePlan(name, "miniature", Anchor(page="2r", line=at), 2) for name, at in (("owl", 1), ("cat", 4)))
    work = book(owl, cat)
    lines = work.state.frame.lines
    with pytest.raises(CopydeskError, match="lines 4 to 5 of 2r are kept for space cat"):
        work.commands.space("owl", "resized", lines=4)
    with pytest.raises(CopydeskError, match=f"a column has 1 line from line {lines}, so owl cannot take 2"):
        work.commands.space("owl", "moved", at=f"page 2r line {lines}")
    assert work.do(work.commands.space("owl", "resized", lines=3)).facts["lines"] == 3


def test_a_space_is_added_and_its_name_is_its_own() -> None:
    work = book()
    facts: dict[str, Any] = {
        "kind": "miniature",
        "lines": 3,
        "subject": "an owl",
        "materials": ["gold leaf"],
        "hours": 2.0,
    }
    entry = work.do(work.commands.space("owl", "added", at="page 5r line 2", **facts))
    assert describe(entry) == "space owl, a miniature of 3 lines, added at page 5r line 2 (an owl) by A"
    owl = space(work, "owl")
    assert (str(owl.page), owl.plan.materials, owl.plan.hours, owl.width) == ("5r", ("gold leaf",), 2.0, 70.0)
    with pytest.raises(CopydeskError, match="there is a space owl already"):
        work.commands.space("owl", "added", at="page 6r", **facts)
    assert work.state.budget.pages == work.afresh().budget.pages
    work.undo(entry)
    assert find_space(work.state, "owl") is None


def test_a_space_given_up_leaves_its_lines_to_the_text_and_can_come_back() -> None:
    work = book()
    before = work.state.budget.lines_left_over
    work.do(work.commands.space("frost", "given-up"))
    assert find_space(work.state, "frost") is None
    assert work.state.budget.lines_left_over == before + 4
    work.do(work.commands.space("frost", "added", kind="miniature", at="word 500", lines=5))
    assert space(work, "frost").plan.lines == 5


def test_what_is_painted_already_is_moved_no_more() -> None:
    work = book()
    work.do(work.commands.space("vine", "drawn"))
    wanted: list[tuple[str, dict[str, Any]]] = [("moved", {"at": "2r"}), ("given-up", {})]
    for what, facts in wanted:
        with pytest.raises(CopydeskError, match="vine is drawn already, so it can be changed no more"):
            work.commands.space("vine", what, **facts)


def test_what_takes_no_room_can_be_added_where_all_is_written() -> None:
    work = book()
    work.write("1r")
    work.do(work.commands.space("leaves", "added", kind="border", at="page 1r"))
    work.do(work.commands.space("red", "added", kind="rubric", at="word 7"))
    found = {account.plan.id: account for account in space_accounts(work.state)}
    assert (page_of(work, "leaves"), str(found["red"].page)) == ("1r", "1r")
    assert found["red"].placement.from_line >= 1  # type: ignore[union-attr]
    assert work.state.budget.homeless == ()


def test_a_rubric_stands_where_its_text_really_fell() -> None:
    red = SpacePlan("red", "rubric", Anchor(word=120))
    work = book(red)
    assert page_of(work, "red") == "2r"
    rule(work, "1r", "1v", "2r")
    work.do(work.commands.write(Page.parse("1r"), ends="w70"))
    work.do(work.commands.write(Page.parse("1v"), ends="w130"))
    assert page_of(work, "red") == "1v"
    placement = space(work, "red").placement
    assert placement is not None
    assert 1 <= placement.from_line <= 10


def test_a_space_without_room_is_never_reached() -> None:
    work = book(FROST._replace(at=Anchor(word=890)), count=1)
    account = space(work, "frost")
    assert (account.page, account.stage, account.waiting, account.next_stage) == (None, "never reached", True, None)
    assert work.commands.space("frost", "left-empty").facts["remark"] == "no page has room for it yet"


def test_a_change_that_pushes_text_out_of_the_book_is_remarked_on() -> None:
    work = book(FROST)
    for number in range(40):
        if work.state.budget.lines_left_over >= 6:
            work.do(
                work.commands.space(f"s{number}", "added", kind="miniature", at=f"word {200 + 10 * number}", lines=3)
            )
    act = work.commands.space("frost", "resized", lines=10)
    assert "of text then find no room in the book" in str(act.facts["remark"])


def test_an_initial_that_is_added_begins_a_line_where_paragraphs_run_on() -> None:
    work = SmallBook(words=10, flow=Flow(paragraphs="run on"))
    work.exemplar = read_exemplar(
        "\n\n".join(" ".join(f"p{number}w{word}" for word in range(9)) for number in range(9))
    )
    work.state = BookState(work.plan, work.exemplar, work.ledger)
    runs = len(work.state.copy.runs)
    entry = work.do(work.commands.space("b", "added", kind="initial", at="division 1 paragraph 5", lines=2))
    assert len(work.state.copy.runs) == runs + 1
    assert work.state.budget.pages == work.afresh().budget.pages
    work.undo(entry)
    assert len(work.state.copy.runs) == runs


def test_room_on_a_skin_that_no_plan_speaks_of_is_a_space_still() -> None:
    work = book()
    entry = work.do(work.commands.space("owl", "added", kind="miniature", at="5r line 2", lines=3))
    rule(work, "5r")
    work.undo(entry)
    owl = space(work, "owl")
    assert (owl.plan.kind, owl.plan.lines, owl.waiting, str(owl.page)) == ("miniature", 3, True, "5r")
    work.do(work.commands.space("owl", "left-empty"))
    assert not space(work, "owl").waiting


def test_a_trial_leaves_the_book_as_it_was() -> None:
    work = book()
    before = work.state.budget
    with pytest.raises(CopydeskError):
        work.commands.space("frost", "resized", lines=11)
    work.commands.space("frost", "resized", lines=10)
    assert work.state.budget is before


steps = st.one_of(
    st.tuples(st.just("resized"), st.integers(1, 10).map(lambda lines: {"lines": lines})),
    st.tuples(st.just("moved"), st.integers(0, 899).map(lambda word: {"at": f"word {word}"})),
    st.tuples(st.just("moved"), st.integers(1, 12).map(lambda leaf: {"at": f"{leaf}v line 2"})),
    st.tuples(st.just("given-up"), st.just({})),
    st.tuples(
        st.just("added"),
        st.integers(0, 899).map(lambda word: {"kind": "initial", "at": f"word {word}", "lines": 2}),
    ),
    st.tuples(st.just("ruled"), st.integers(1, 12).map(lambda leaf: {"page": f"{leaf}r"})),
    st.tuples(st.just("drawn"), st.just({})),
    st.tuples(st.just("undo"), st.just({})),
)


@settings(max_examples=25, deadline=None)
@given(st.lists(st.tuples(st.sampled_from(["frost", "rose", "owl"]), steps), max_size=7))
def test_whatever_is_done_the_book_is_as_if_read_afresh(done: list[tuple[str, tuple[str, dict[str, Any]]]]) -> None:
    work = book()
    made: list[Entry] = []
    for name, (what, facts) in done:
        try:
            if what == "undo" and made:
                work.undo(made.pop())
            elif what == "ruled":
                made.append(work.do(work.commands.rule(Page.parse(str(facts["page"])))))
            elif what != "undo":
                made.append(work.do(work.commands.space(name, what, **facts)))
        except CopydeskError as refused:
            assert str(refused)
    afresh = work.afresh()
    assert work.state.budget.pages == afresh.budget.pages
    assert work.state.budget.homeless == afresh.budget.homeless
    assert space_accounts(work.state) == space_accounts(afresh)
