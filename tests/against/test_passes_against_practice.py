"""The passes against what is told of the work of rubricators."""

from __future__ import annotations

from datetime import UTC, datetime

from copydesk.book.layout.passes import Sort
from copydesk.book.plan import PassPlan, Workshop
from copydesk.book.structure.page import Page
from copydesk.tracking.decoration.rubrication_tally import tally
from copydesk.tracking.later.later_work import halves, later_marks
from copydesk.tracking.passes.pass_status import PassState, statuses_on
from text_book import TextBook

NOW = datetime(2027, 3, 2, tzinfo=UTC)
PASSES = tuple(PassPlan(name) for name in ("text", "rubrics", "capitals", "penwork"))

# Edward Johnston, Writing & Illuminating, & Lettering (1906), pp. 95-97: a poem of three stanzas of four lines, a blank
# between stanzas. That each stanza opens with a letter of its own, and every other line with a touched one, is common
# practice.
STANZAS, LINES = 3, 4
POEM = "\n\n".join("\n".join(f"| line {stanza} {line}" for line in range(LINES)) for stanza in range(STANZAS))

# Order of work in a book with red and blue letters: text, then headings, then the small initials, and the pen
# flourishes about them last, each when the ink before is dry. Common practice, from memory; so too C. de Hamel, Scribes
# and Illuminators (1992), from memory.
ORDER = ("text", "rubrics", "capitals", "penwork")

# Running titles of books of the thirteenth century part a name over the opening, as FLU on the verso and
# MEN on the recto (from memory); a title of several words parts between them, the halves about even.
TITLES = {"The Loud Water": ("The Loud", "Water"), "Of Hours and of Days": ("Of Hours", "and of Days")}


def test_a_poem_of_three_stanzas_needs_a_letter_for_each_and_one_for_every_other_line() -> None:
    book = TextBook(POEM, passes=PASSES)
    counts = {sort: sum(mark.sort is sort for mark in later_marks(book.state).all) for sort in Sort}
    assert counts[Sort.SMALL_INITIALS] == STANZAS
    assert counts[Sort.VERSE_LETTERS] == STANZAS * (LINES - 1)
    assert sum(each.total for each in tally(book.state)) == STANZAS * LINES


def test_each_pass_may_begin_only_when_the_one_before_it_is_done() -> None:
    book = TextBook("# Of ice\n\nSnow lies.\n", passes=PASSES, workshop=Workshop(drying_days=0))
    done = []
    for name in ORDER:
        row = {each.name: each.state for each in statuses_on(book.state, 0, NOW)}
        assert [each for each in ORDER if row[each] is PassState.READY] == [name]
        assert [each for each in ORDER if row[each] is PassState.DONE] == done
        if name == "text":
            book.write("1r")
        else:
            book.do(book.commands.go_over(Page.parse("1r"), name))
        done.append(name)


def test_a_title_parts_over_the_opening_about_its_middle() -> None:
    assert {words: halves(words) for words in TITLES} == TITLES
