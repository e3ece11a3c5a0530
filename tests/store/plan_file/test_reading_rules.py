"""What ``readings:`` and ``never_scraped:`` say, and every mistake in them with its place."""

from __future__ import annotations

import pytest

from copydesk.book.checks import NeverScraped, ReadingRules
from copydesk.book.text.exemplar import read_exemplar
from copydesk.store.plan_file.book_file import parse_plan
from copydesk.store.plan_file.plan_text import plan_text
from copydesk.store.plan_file.reference_rules import check_against_text
from plan_words import SOUND, book_of, mistakes

READINGS = "readings: {ways: [silently, aloud by two], by: not a writer, readers: [Mera, Ode]}\n"
NEVER = """never_scraped:
  - {words: the owner's name, why: gold}
  - {from_word: 4, to_word: 9}
  - {page: 3r, column: 2, line: 7}
"""


def test_what_a_plan_wants_is_read_and_written_back() -> None:
    book = book_of(SOUND + READINGS + NEVER)
    assert book.readings == ReadingRules(("silently", "aloud by two"), "not a writer", ("Mera", "Ode"))
    assert book.others == {"Mera": "reader", "Ode": "reader"}
    assert book.never_scraped == (
        NeverScraped("the owner's name", why="gold"),
        NeverScraped(from_word=4, to_word=9),
        NeverScraped(page="3r", column=2, line=7),
    )
    assert book_of(plan_text(book)) == book
    assert book_of(SOUND).readings == ReadingRules()
    assert book_of(SOUND + "readings: {ways: silently}\n").readings.ways == ("silently",)


@pytest.mark.parametrize(
    ("more", "told"),
    [
        ("readings: {ways: [loudly]}", "13:19: readings, ways 1 cannot be 'loudly'; write any way, silently, aloud"),
        ("readings: {by: not a writer}", "13:16: readings, by says who reads, and no reading is named; write ways:"),
        (
            "readings: {ways: silently, by: not a writer}",
            "13:32: readings, by needs 1 reader beside the writer of a page, and the book names nobody else; name who",
        ),
        (
            "readings: {ways: [silently, silently], by: a new reader each time, readers: Mera}",
            "13:44: readings, by needs 2 readers beside the writer of a page, and the book names 1 other person; name",
        ),
        ("readings: {ways: aloud by two}", "13:18: readings, ways names a reading by two, and the book names one"),
        ("readings: {ways: silently, readers: [A]}", "13:37: readings, readers names A, who writes and may read as"),
        ("never_scraped: [{why: gold}]", "13:17: never_scraped 1 names nothing; give one of words, from_word with"),
        ("never_scraped: [{words: x, page: 1r}]", "13:17: never_scraped 1 names words and page; give one of"),
        ("never_scraped: [{words: x, line: 2}]", "13:34: never_scraped 1, line means something only beside page:"),
        (
            "never_scraped: [{from_word: 2}]",
            "13:17: never_scraped 1 begins a passage and does not end it; give",
        ),
        ("never_scraped: [{from_word: 2, to_word: 2}]", "13:41: never_scraped 1, to_word must be above from_word, 2;"),
        ("never_scraped: [{page: 1r, column: 3}]", "13:36: never_scraped 1, column is beyond what there is: 2 columns"),
        (
            "never_scraped: [{page: 9r}]\ngatherings: {sheets: 4, count: 1}",
            "13:24: never_scraped 1, page is 9r, and the book has 8 leaves; name a page that it has",
        ),
    ],
)
def test_one_mistake_is_told_with_its_place_and_what_to_do(more: str, told: str) -> None:
    (said,) = mistakes(f"{SOUND}{more}\n")
    assert said.removeprefix("book.yaml:").startswith(told)


def test_words_that_do_not_stand_in_the_text_are_told() -> None:
    plan = parse_plan(
        f"{SOUND}never_scraped:\n  - {{words: Old mill}}\n  - {{words: new mill}}\n  - {{from_word: 5, to_word: 6}}\n",
        "book.yaml",
    )
    check_against_text(plan.reading, read_exemplar("By the old mill, water."))
    assert [str(problem) for problem in plan.reading.problems] == [
        'book.yaml:15:13: never_scraped 2, words is "new mill", which does not stand in the text; write words that do',
        "book.yaml:16:17: never_scraped 3, from_word is beyond what there is: 5 words in the text, counted from 0;"
        " write a smaller number",
        "book.yaml:16:29: never_scraped 3, to_word is beyond what there is: 5 words in the text, counted from 0;"
        " write a smaller number",
    ]
