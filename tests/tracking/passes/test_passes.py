"""The passes of a page: what each takes, what may begin, and what is recorded."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from itertools import chain

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.common.errors import CopydeskError, UnlikelyError
from copydesk.book.flow import CountedDivision, ExemplarLoan, Flow
from copydesk.book.layout.passes import Sort, pass_of
from copydesk.book.plan import Anchor, Book, Change, PassPlan, SpacePlan, Workshop
from copydesk.book.structure.page import Page
from copydesk.tracking.binding.assembly import assembly
from copydesk.tracking.later.later_work import PILCROWS, later_marks, open_passes, passes_on
from copydesk.tracking.ledger.ledger import Ledger
from copydesk.tracking.log.entry_text import describe
from copydesk.tracking.passes.pass_items import PassItem, pass_items
from copydesk.tracking.passes.pass_report import PASSES, pass_rows, sheets_ready, turn_words
from copydesk.tracking.passes.pass_status import PassState, all_statuses, statuses_on
from copydesk.tracking.state.book_state import BookState
from copydesk.tracking.views.entry_cautions import handled
from copydesk.tracking.views.page_view import ActKind, page_account
from copydesk.tracking.views.sheet_pile import pile_now
from text_book import TextBook

NOW = datetime(2026, 3, 2, 10, tzinfo=UTC)
LATER = NOW + timedelta(days=9)
FOUR = tuple(PassPlan(name) for name in ("text", "rubrics", "capitals", "penwork"))
TEXT = "# On frost\n\nOne two three four.\n\nFive ¶ six seven.\n\n| eight\n| nine\n\n# On thaw\n\nTen eleven.\n"


def book(text: str = TEXT, passes: tuple[PassPlan, ...] = FOUR, **changes) -> TextBook:
    return TextBook(text, passes=passes, **changes)


def items(state: BookState) -> list[tuple[str, PassItem]]:
    pages = range(len(state.budget.pages))
    found = ((at, work) for at in pages for work in passes_on(state, at))
    return [(work.plan.name, item) for at, work in found for item in pass_items(state, at, work)]


def states(of: TextBook, page: str, now: datetime | None = LATER) -> dict[str, str]:
    return {each.name: each.state.value for each in statuses_on(of.state, Page.parse(page).index, now)}


def waits(of: TextBook, page: str, name: str, now: datetime | None = LATER) -> list[str]:
    found = {each.name: each for each in statuses_on(of.state, Page.parse(page).index, now)}
    return list(map(str, found[name].waits_for))


def test_a_book_without_passes_has_nothing_left_to_later():
    plain = book(passes=())
    plain.write("1r")
    assert not items(plain.state)
    assert open_passes(plain.state, 0) == []
    assert page_account(plain.state, 0).next_act.kind is ActKind.CHECK


def test_each_thing_has_its_words_and_its_place():
    found = [(name, item.sort.value, item.words, item.of, item.line) for name, item in items(book().state)]
    assert found == [
        ("rubrics", "headings", "On frost", "", 1),
        ("rubrics", "paragraph marks", "¶", "¶", 3),
        ("rubrics", "headings", "On thaw", "", 6),
        ("capitals", "small initials", "O", "One", 2),
        ("capitals", "small initials", "F", "Five", 3),
        ("capitals", "small initials", "e", "eight", 4),
        ("capitals", "verse letters", "n", "nine", 5),
        ("capitals", "small initials", "T", "Ten", 7),
        ("penwork", "flourishes", "O", "One", 2),
        ("penwork", "flourishes", "F", "Five", 3),
        ("penwork", "flourishes", "e", "eight", 4),
        ("penwork", "flourishes", "T", "Ten", 7),
    ]


def test_marks_go_to_a_pass_of_their_own_where_there_is_one_and_stay_with_the_text_where_none_takes_them():
    own = (PassPlan("text"), PassPlan("rubrics"), PassPlan("marks"))
    assert [name for name, item in items(book(passes=own).state) if item.words == "¶"] == ["marks"]
    assert {item.sort for _, item in items(book(passes=FOUR[:2]).state)} == {Sort.HEADINGS, Sort.PARAGRAPH_MARKS}
    assert {item.sort for _, item in items(book(passes=(FOUR[0], FOUR[2])).state)} == {
        Sort.SMALL_INITIALS,
        Sort.VERSE_LETTERS,
    }


def test_widths_are_those_of_the_hands_in_millimetres():
    wide = book(passes=(PassPlan("text"), PassPlan("rubrics", hand="B")))
    heading = items(wide.state)[0][1]
    measure = wide.state.layout.measure
    assert heading.width == pytest.approx(len("On frost") * measure / 16)  # hand B puts sixteen letters on a line
    assert heading.room == pytest.approx(measure)
    assert heading.height == pytest.approx(wide.state.layout.line_height)


def test_a_heading_that_shares_a_line_has_the_room_the_text_leaves_it():
    text = "# One\n\nalpha beta\n\n# Two\n\ngamma\n"
    shared = book(text, flow=Flow(rubrics="share"))
    two = next(item for _, item in items(shared.state) if item.words == "Two")
    measure = shared.state.layout.measure
    assert two.line == 2
    assert two.room == pytest.approx(measure - len("alpha beta ") * measure / 20)


def test_a_heading_wider_than_its_room_is_told():
    narrow = book("# incomprehensibilit\n\nalpha\n", passes=(PassPlan("text"), PassPlan("rubrics", hand="B")))
    (heading,) = (item for _, item in items(narrow.state))
    assert heading.too_wide


WORDS = st.sampled_from(["alpha", "¶", "¶beta", "gamma", "«delta»", "Épsilon", "one-and-twenty"])
LINES = st.lists(WORDS, min_size=1, max_size=25).map(" ".join)
BLOCKS = st.lists(st.tuples(st.sampled_from(["# ", "", "", "| "]), LINES), min_size=1, max_size=12)
LATER_ONES = [PassPlan("marks"), PassPlan("rubrics"), PassPlan("capitals"), PassPlan("penwork")]
PLANS = st.lists(st.sampled_from(LATER_ONES), unique=True).map(lambda later: (PassPlan("text"), *later))
BREAKS = st.sampled_from(["words", "anywhere"])


@given(BLOCKS, PLANS, st.sampled_from([Flow(), Flow(paragraphs="run on", rubrics="share")]), BREAKS, st.booleans())
@settings(deadline=None, max_examples=60)
def test_all_that_is_left_to_later_stands_in_one_pass_of_one_page_word_for_word(blocks, plans, flow, breaks, changed):
    """What the passes write, and what the text then leaves, told from the exemplar alone."""
    text = "\n\n".join(mark + words for mark, words in blocks)
    changes = (Change(0, 1, "# new words here"),) if changed else ()
    of = book(text, plans, flow=flow, line_breaks=breaks, changes=changes)
    if of.state.budget.lines_without_room:
        return
    found, names = items(of.state), {plan.name for plan in plans}
    written = of.state.copy.written
    headings = [block for block in written.blocks if block.kind == "rubric"]
    said = [(name, item.words) for name, item in found if item.sort is Sort.HEADINGS]
    wanted = [
        "".join(sign for sign in " ".join(written.words[block.start : block.end]) if sign not in PILCROWS).split()
        for block in headings
    ]
    assert " ".join(words for _, words in said).split() == (
        [*chain.from_iterable(wanted)] if "rubrics" in names else []
    )
    pages = [work.plan.name for at in range(len(of.state.budget.pages)) for work in passes_on(of.state, at)]
    begun_here = [item.word for _, item in found if item.sort is not Sort.FLOURISHES]
    left = [mark for mark in later_marks(of.state).all if pass_of(mark.sort, names) != "text"]
    assert {mark.word for mark in left} <= {*begun_here}
    assert len(begun_here) - len(left) <= len(pages)  # a heading may go on on another page
    typed = ["".join(sign for sign in word if sign in PILCROWS) for word in written.words if PILCROWS & {*word}]
    marks = [item for _, item in found if item.sort is Sort.PARAGRAPH_MARKS and not PILCROWS.isdisjoint(item.of)]
    assert [item.words for item in marks] == (typed if names & {"marks", "rubrics"} else [])
    taken = {name for name, item in found if item.sort is Sort.PARAGRAPH_MARKS}
    assert taken <= ({"marks"} if "marks" in names else {"rubrics"})
    letters = [item for _, item in found if item.sort in (Sort.SMALL_INITIALS, Sort.VERSE_LETTERS)]
    assert all(item.words and item.words in item.of for item in letters)
    begun = {block.start for block in written.blocks if block.kind != "rubric"}
    assert {of.state.copy.piece(item.word) for item in letters} <= {
        at if of.state.copy.first_piece is None else of.state.copy.first_piece[at] for at in begun
    } or changed
    flourished = [item.word for _, item in found if item.sort is Sort.FLOURISHES]
    initials = [item.word for _, item in found if item.sort is Sort.SMALL_INITIALS]
    assert "penwork" not in names or "capitals" not in names or flourished == initials


def test_a_space_kept_for_a_heading_or_an_initial_is_the_artists():
    spaces = (SpacePlan("red", "rubric", Anchor(2)), SpacePlan("o", "initial", Anchor(1, 1), 2))
    found = [item.words for _, item in items(book(spaces=spaces).state)]
    assert "On thaw" not in found
    assert "O" not in found


def test_of_a_counted_text_the_headings_are_known():
    plain = book()
    counted = Book(
        **{
            name: getattr(plain.plan, name)
            for name in ("title", "page", "hands", "columns", "ruling", "gatherings", "passes")
        },
        exemplar=ExemplarLoan(),
        divisions=(CountedDivision("Of ice", words=90), CountedDivision("Of mud", words=30)),
    )
    state = BookState(counted, None, Ledger())
    assert [item.words for _, item in items(state)] == ["Of ice", "Of mud"]
    assert items(state)[1][1].line > 1 or len(state.budget.pages) > 1


def test_a_pass_waits_for_the_text_then_for_its_ink_then_for_the_pass_before():
    of = book(workshop=Workshop(drying_days=2))
    assert states(of, "1r") == {"text": "may begin", "rubrics": "waits", "capitals": "waits", "penwork": "waits"}
    assert waits(of, "1r", "capitals") == ["1r written", "1r rubrics"]
    of.write("1r")
    assert waits(of, "1r", "rubrics", NOW) == ["dry on 2026-03-04"]
    assert states(of, "1r")["rubrics"] == "may begin"
    of.do(of.commands.go_over(Page.parse("1r"), "rubrics"))
    assert waits(of, "1r", "capitals", NOW) == ["dry on 2026-03-04"]
    assert states(of, "1r") == {"text": "done", "rubrics": "done", "capitals": "may begin", "penwork": "waits"}


PARTS = "\n\n".join(f"# Part {number}\n\n" + "Snow lies deep. " * 12 for number in range(12))


def test_wet_ink_on_another_page_of_the_sheet_counts():
    passes = (PassPlan("text"), PassPlan("rubrics", drying_days=30))
    of = book(PARTS, passes, workshop=Workshop(drying_days=0))
    for page in ("1r", "1v", "2r"):
        of.write(page)
    of.do(of.commands.go_over(Page.parse("1r"), "rubrics"))
    assert waits(of, "1v", "rubrics") == ["dry on 2026-04-01"]
    assert waits(of, "1v", "rubrics", NOW + timedelta(days=31)) == []
    assert states(of, "2r")["rubrics"] == "may begin"


def test_a_pass_after_the_artist_waits_for_the_spaces_of_its_page_and_one_before_keeps_the_sheet():
    passes = (PassPlan("text"), PassPlan("rubrics"), PassPlan("penwork", artist="after"))
    of = book(
        passes=passes, spaces=(SpacePlan("mill", "miniature", Anchor(1, 1), 2),), workshop=Workshop(drying_days=0)
    )
    of.write("1r")
    of.do(of.commands.check(Page.parse("1r"), read=True))
    assert page_account(of.state, 0).next_act == (ActKind.INK, 0, "rubrics")
    assert "1r rubrics" in list(map(str, pile_now(of.state, LATER)[0].waits_for))
    of.do(of.commands.go_over(Page.parse("1r"), "rubrics"))
    assert page_account(of.state, 0).next_act.kind is ActKind.PAINT
    assert waits(of, "1r", "penwork") == ["space mill"]
    of.do(of.commands.space("mill", "done"))
    assert states(of, "1r")["penwork"] == "may begin"
    assert page_account(of.state, 0).next_act == (ActKind.INK, 0, "penwork")


def test_a_sheet_elsewhere_waits_unless_whoever_does_the_pass_has_it():
    of = book(passes=(PassPlan("text"), PassPlan("rubrics", hand="B"), PassPlan("capitals")))
    of.write("1r")
    of.do(of.commands.sheet("1.1", "artist", "B"))
    assert states(of, "1r")["rubrics"] == "may begin"
    of.do(of.commands.sheet("1.1", "checker", "A"))
    assert waits(of, "1r", "rubrics") == ["sheet 1.1 at the desk"]


def test_something_may_be_left_open_and_done_later_and_taken_back():
    of = book(passes=FOUR[:2])
    of.write("1r")
    first = of.do(of.commands.go_over(Page.parse("1r"), "rubrics", left=(2,)))
    assert describe(first, of.state) == "1r rubrics done by A, 1 of 3 left open"
    assert states(of, "1r")["rubrics"] == "left open"
    assert [item.left for _, item in items(of.state)] == [False, True, False]
    assert "rubrics to be done" in [point.what for point in assembly(of.state).obstacles]
    second = of.do(of.commands.go_over(Page.parse("1r"), "rubrics"))
    assert states(of, "1r")["rubrics"] == "done"
    assert "rubrics to be done" not in [point.what for point in assembly(of.state).obstacles]
    of.undo(second)
    assert states(of, "1r")["rubrics"] == "left open"
    assert of.afresh().record(of.state.skin_at(0)).passes == of.state.record(of.state.skin_at(0)).passes


def test_lines_written_anew_are_to_be_gone_over_again():
    of = book(passes=FOUR[:2])
    of.write("1r")
    of.do(of.commands.go_over(Page.parse("1r"), "rubrics"))
    of.write("1r", to_line=7)
    assert states(of, "1r")["rubrics"] == "may begin"


@pytest.mark.parametrize(
    ("page", "name", "how", "says"),
    [
        ("1r", "penwork", {}, "this book has no pass penwork; it has rubrics and capitals"),
        ("1r", "text", {}, "recorded as written"),
        ("1r", "rubrics", {"left": (9,)}, "1r has things 1 to 3 in the pass rubrics, so there is no 9"),
        ("1r", "rubrics", {"left": (1, 2, 3)}, "all that 1r needs in the pass rubrics would be left open"),
        ("1v", "rubrics", {}, "1v has nothing to do in the pass rubrics"),
        ("99r", "rubrics", {}, "99r"),
    ],
)
def test_what_cannot_be_recorded_is_refused_in_a_sentence(page, name, how, says):
    of = book(passes=FOUR[:3])
    of.write("1r")
    with pytest.raises(CopydeskError, match=says):
        of.commands.go_over(Page.parse(page), name, **how)


def test_before_its_text_is_whole_it_is_refused_and_before_its_turn_it_is_questioned():
    of = book(passes=FOUR[:3])
    with pytest.raises(CopydeskError, match="1r is unruled, not written whole; rubrics come after its text"):
        of.commands.go_over(Page.parse("1r"), "rubrics", sure=True)
    of.write("1r")
    with pytest.raises(UnlikelyError, match="the pass capitals on 1r waits for 1r rubrics"):
        of.commands.go_over(Page.parse("1r"), "capitals")
    entry = of.do(of.commands.go_over(Page.parse("1r"), "capitals", sure=True))
    assert describe(entry, of.state) == "1r capitals done by A, before 1r rubrics"
    of.do(of.commands.go_over(Page.parse("1r"), "rubrics"))
    with pytest.raises(CopydeskError, match="gone over in the pass rubrics already"):
        of.commands.go_over(Page.parse("1r"), "rubrics")


def test_an_ink_that_hurts_is_cautioned_of():
    of = book(passes=(PassPlan("text"), PassPlan("rubrics", ink="vermilion")))
    of.write("1r")
    entry = of.do(of.commands.go_over(Page.parse("1r"), "rubrics"))
    assert any("Mercury" in str(caution) for caution in handled(of.state, [entry]).cautions())


def test_the_dry_sheets_that_may_take_an_ink_are_told_whole_ones_first():
    of = book(PARTS, FOUR[:2])
    for page in ("1r", "2r", "2v", "3r", "3v"):
        of.write(page)
    turns = sheets_ready(all_statuses(of.state, LATER), ["rubrics"])
    told = [turn_words(turn, of.state.book) for turn in turns]
    assert told[0] == "sheet 1.2: rubrics on 2r 3r 3v, 3 things"
    assert told[1].startswith("sheet 1.1: rubrics on 1r, ")
    assert told[1].endswith("; other pages of it wait")
    assert not sheets_ready(all_statuses(of.state, NOW), ["rubrics"])


def test_the_json_has_the_keys_that_are_promised():
    of = book()
    rows = pass_rows(
        of.state, [each for row in all_statuses(of.state, NOW) for each in row if each.state is not PassState.NOTHING]
    )
    first, rubrics = PASSES.all_data(rows)[:2]
    assert first["items"] == []
    assert {"page", "sheet", "pass", "state", "items", "waits_for"} <= rubrics.keys()
    assert {"column", "line", "words", "width_mm", "height_mm"} <= rubrics["items"][0].keys()
    assert rubrics["waits_for"] == ["1r written"]
