"""Plans as plain data and from typed answers."""

import json
from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.common.errors import CopydeskError
from copydesk.book.plan import (
    Anchor,
    Book,
    Change,
    Columns,
    ExemplarLoan,
    Flaw,
    Flow,
    Flyleaves,
    GatheringPlan,
    Hand,
    LeafException,
    Margins,
    PageSize,
    Ruling,
    Script,
    Signing,
    SkinPlan,
    SpacePlan,
    Workshop,
)
from copydesk.store.plan_file.plan_data import book_from_answers, book_from_data, plan_as_data
from plan_words import SOUND, book_of

LINES = st.text(st.characters(exclude_categories=("Cc", "Cs")), max_size=60).map(lambda text: " ".join(text.split()))


NOTES = st.text(st.characters(exclude_categories=["Cs"], exclude_characters=()), max_size=40).map(
    lambda text: "".join(mark for mark in text if mark.isprintable() or mark == "\n").strip()
)


SLIPPERY = st.sampled_from(["NO", "yes", "null", "~", "1e3", "010", "12:30", "1r", "- a", "a: b", "a #b", "{"])


GATHERINGS = st.sampled_from([(), (1, 2, 4)])


DUE = st.none() | st.dates(date(1900, 1, 1), date(2999, 1, 1))


EXCEPTIONS = st.sampled_from([(), (LeafException(5, "added after"), LeafException(5, "wanting", "hair"))])


TEXTS = LINES | SLIPPERY


FIGURES = st.floats(0.001, 40).map(lambda figure: round(figure, 5))


HEIGHTS = st.floats(200, 250).map(lambda height: round(height, 5))


NAMES = st.sampled_from(["A", "B", "Ines", "é", "2", "no", "x-y_z"])


@st.composite
def books(draw):
    hands = draw(st.lists(NAMES, min_size=1, max_size=3, unique=True))
    ids = draw(st.lists(st.from_regex("[a-z]{1,8}", fullmatch=True), max_size=4, unique=True))
    return Book(
        title=draw(TEXTS.filter(bool)),
        page=PageSize(
            170.0,
            draw(HEIGHTS),
            Margins(0.0, draw(FIGURES), draw(FIGURES), 48.0),
        ),
        hands=tuple(
            Hand(hand, draw(TEXTS), draw(st.none() | st.floats(1, 99)), gatherings=draw(GATHERINGS)) for hand in hands
        ),
        exemplar=ExemplarLoan("exemplar.txt", draw(TEXTS), draw(DUE)),
        flow=Flow("page", draw(st.dictionaries(st.integers(1, 99), st.sampled_from(["recto", "run on"]), max_size=3))),
        columns=Columns(draw(st.integers(1, 2)), round(draw(FIGURES) / 10, 6)),
        ruling=Ruling(draw(st.integers(12, 40)), None, draw(st.sampled_from(["above", "below"]))),
        script=Script(draw(TEXTS), draw(FIGURES), interline=draw(FIGURES)),
        language=draw(st.sampled_from(["en", "no", "la"])),
        gatherings=draw(
            st.builds(
                GatheringPlan,
                st.integers(1, 9),
                outside=st.sampled_from(["hair", "flesh"]),
                exceptions=EXCEPTIONS,
            )
            | st.just(GatheringPlan(None, formula="1-3^8 4^6 (wants 6)"))
        ),
        skins=draw(st.none() | st.builds(SkinPlan, FIGURES, FIGURES, days=st.dictionaries(NAMES, FIGURES, max_size=2))),
        spaces=tuple(
            SpacePlan(
                each,
                draw(st.sampled_from(["miniature", "decorated initial"])),
                draw(st.sampled_from([Anchor(2), Anchor(2, 1), Anchor(word=0), Anchor(page=f"{at}r", line=2)])),
                draw(st.integers(1, 11)),
                subject=draw(TEXTS),
                instruction=draw(NOTES),
                materials=tuple(draw(st.lists(TEXTS.filter(bool), max_size=3))),
                stages=draw(st.sampled_from([None, (), ("drawn", "gilded")])),
            )
            for at, each in enumerate(ids, 1)  # each on a page of its own: no two may take the same lines
        ),
        flyleaves=Flyleaves(draw(st.integers(0, 9)), 1, draw(st.booleans())),
        flaws=(Flaw(3, *draw(st.tuples(FIGURES, FIGURES, FIGURES, FIGURES))),),
        changes=(Change(4, 9, draw(TEXTS), draw(TEXTS)),),
        signing=Signing(draw(st.sampled_from(["leaves", "none"])), draw(st.integers(0, 9))),
        workshop=Workshop(draw(st.sampled_from([(0, 6), (3,)])), (date(2026, 12, 25),), draw(FIGURES)),
        allow=draw(st.sampled_from([{}, {"u/v": False, "letters": {"þ": "th"}, "spellings": [["yes", "true"]]}])),
        unit=draw(st.sampled_from(["mm", "in"])),
    )


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
