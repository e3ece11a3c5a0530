"""A book written as text reads as the same book."""

from hypothesis import given, settings
from hypothesis import strategies as st

from any_book import books
from copydesk.store.plan_file.plan_text import EXAMPLES, plan_text
from plan_words import SOUND, book_of


@settings(max_examples=80, deadline=None)
@given(books(), st.booleans())
def test_a_book_written_reads_as_the_same_book(book, examples):
    assert book_of(plan_text(book, examples=examples)) == book


def test_a_text_that_others_would_read_otherwise_stands_in_quotation_marks():
    book = book_of(SOUND.replace("A small book", "NO"))
    assert 'title: "NO"' in plan_text(book)


def test_the_examples_of_a_new_plan_read_as_they_stand():
    plan = plan_text(book_of(SOUND), examples=True)
    for key, example in EXAMPLES.items():
        behind = "".join(f"# {line}\n" for line in example.splitlines())
        assert behind in plan, key
        plan = plan.replace(behind, example + "\n")
    book = book_of(plan)
    assert book.skins
    assert book.spaces
    assert book.flaws
    assert book.changes


def test_a_part_the_book_has_is_not_shown_as_an_example():
    assert "# spaces:" in plan_text(book_of(SOUND), examples=True)
    with_spaces = book_of(SOUND + "spaces: [{id: x, kind: border, at: {page: 1r}}]\n")
    assert "# spaces:" not in plan_text(with_spaces, examples=True)
