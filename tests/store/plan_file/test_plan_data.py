"""Plans as plain data and from typed answers."""

import json

import pytest
from hypothesis import given, settings

from any_book import books
from copydesk.book.common.errors import CopydeskError
from copydesk.book.plan import Margins
from copydesk.store.plan_file.plan_data import book_from_answers, book_from_data, plan_as_data
from plan_words import SOUND, book_of


@settings(max_examples=80, deadline=None)
@given(books())
def test_a_book_as_data_reads_as_the_same_book(book):
    data = json.loads(json.dumps(plan_as_data(book)))
    assert book_from_data(data, "x.json") == book


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"title": 7}, ["x.json: there is no page", "x.json: there is no hands"]),
        ({"page": {"width": "wide"}}, ["x.json: page, width cannot be 'wide'; write a length"]),
        ({"page": {"width": 1e300}}, ["page, width cannot be"]),
        ({"pgae": []}, ["x.json: 'pgae' is no key; did you mean page?"]),
        ({"columns": [[[1]]]}, ["x.json: columns cannot be a list"]),
        ({"title": None}, ["there is no title"]),
    ],
)
def test_mistakes_in_data_are_told_by_key(given, told):
    data = plan_as_data(book_of(SOUND))
    with pytest.raises(CopydeskError) as caught:
        book_from_data(data | given if "title" not in given else given, "x.json")
    for each in told:
        assert each in str(caught.value)


def test_data_without_a_bottom_are_refused():
    endless = []
    for _ in range(100):
        endless = [endless]
    with pytest.raises(CopydeskError, match=r"x\.json: values are nested too deeply"):
        book_from_data({"allow": {"u/v": endless}}, "x.json")


ANSWERS = {
    "title": "NO",
    "exemplar.text": "exemplar.txt",
    "page.width": "7 in",
    "page.height": "240",
    "page.margins": "ninths",
    "columns": "2",
    "ruling.lines": "30",
    "hands.A.name": "Agnes",
    "hands.A.letters_per_line": "34",
    "hands.B.sample": "samples/b.txt",
    "gatherings.sheets": "4",
}


def test_answers_make_a_book_by_the_rules_of_the_plan():
    book = book_from_answers(ANSWERS)
    assert (book.title, book.page.width, book.page.margins) == ("NO", pytest.approx(177.8), Margins(canon="ninths"))
    assert (book.columns.count, book.ruling.lines, book.hands[0].letters_per_line) == (2, 30, 34)


def test_numbered_answers_are_items_of_a_list():
    answers = {key: text for key, text in ANSWERS.items() if key != "exemplar.text"}
    titles = {f"divisions.{number}.title": f"part {number}" for number in range(1, 12)}
    counts = {f"divisions.{number}.words": str(number) for number in range(1, 12)}
    book = book_from_answers(answers | titles | counts)
    assert [part.words for part in book.divisions] == list(range(1, 12))


def test_every_answer_that_cannot_be_is_told():
    with pytest.raises(CopydeskError) as caught:
        book_from_answers(ANSWERS | {"page.width": "wide", "pgae.height": "3", "hands.A.letters_per_line": "0"})
    said = [str(problem) for problem in caught.value.problems]
    assert len(said) == 3
    assert any(each.startswith("page, width cannot be 'wide'; write a length") for each in said)
    assert any(each == "'pgae' is no key; did you mean page?" for each in said)
