"""Room on the page for margins, columns, lines and spaces."""

import pytest

from plan_words import SOUND, book_of, changed, mistakes


def brief(text):
    return text.splitlines()[-1][:50]


def only_mistake(text):
    found = mistakes(text)
    assert len(found) == 1, found
    return found[0]


SPACES = SOUND + "spaces:\n  - {id: frost, kind: miniature, at: {division: 2}, lines: 12}\n"


@pytest.mark.parametrize(
    ("space", "told"),
    [
        ("{id: frost, kind: initial, at: {word: 3}, lines: 2}", "15:10: spaces 2, id is frost, as that of the"),
        ("{id: a b, kind: initial, at: {word: 3}, lines: 2}", "15:10: spaces 2, id cannot be 'a b'"),
        ("{kind: initial, at: {word: 3}, lines: 2}", "15:5: spaces 2 has no id"),
        ("{id: x, kind: minature, at: {word: 3}, lines: 2}", "15:19: spaces 2, kind cannot be 'minature'; write"),
        ("{id: x, kind: initial, lines: 2}", "15:5: spaces 2 has no at: what it is tied to"),
        ("{id: x, kind: initial, at: {}, lines: 2}", "15:32: spaces 2, at ties it to nothing; give one of"),
        ("{id: x, kind: initial, at: {word: 1, page: 1r}, lines: 2}", "15:32: spaces 2, at ties it to a word and"),
        ("{id: x, kind: initial, at: {word: 1, line: 2}, lines: 2}", "15:48: spaces 2, at, line means something"),
        ("{id: x, kind: initial, at: {page: 1r, paragraph: 2}, lines: 2}", "15:54: spaces 2, at, paragraph means"),
        ("{id: x, kind: initial, at: {page: 1r, column: 3}, lines: 2}", "15:51: spaces 2, at, column is beyond"),
        ("{id: x, kind: initial, at: {page: 12}, lines: 2}", "15:39: spaces 2, at, page cannot be '12'; write a"),
        ("{id: x, kind: initial, at: {page: 0r}, lines: 2}", "15:39: spaces 2, at, page cannot be '0r'"),
        ("{id: x, kind: initial, at: {division: 3}, lines: 2}", "15:43: spaces 2, at, division is beyond what"),
        ("{id: x, kind: initial, at: {page: 1r, line: 33}, lines: 2}", "15:49: spaces 2, at, line is beyond what"),
        ("{id: x, kind: initial, at: {page: 1r, line: 32}, lines: 2}", "15:61: spaces 2, lines reaches line 33"),
        ("{id: x, kind: miniature, at: {page: 1r}, lines: 33}", "15:53: spaces 2, lines reaches line 33 of a"),
        ("{id: x, kind: historiated initial, at: {page: 1r}}", "15:5: spaces 2 is a historiated initial and says"),
        ("{id: x, kind: initial, at: {page: 1r}}", "15:5: spaces 2 is an initial and says not how many"),
        ("{id: x, kind: initial, at: {page: 1r}, lines: 2, width: 60}", "15:61: spaces 2, width is 60 mm where"),
        ("{id: x, kind: initial, at: {page: 1r}, lines: 2, stages: [dawn]}", "15:63: spaces 2, stages 1 cannot"),
        ("a mill", "15:5: spaces 2 cannot be 'a mill'; write keys under it, such as id, kind, at"),
    ],
    ids=brief,
)
def test_one_mistake_in_a_space(space, told):
    assert only_mistake(f"{SPACES}  - {space}\n").removeprefix("book.yaml:").startswith(told)


@pytest.mark.parametrize("other", ["kind: minature, at: {word: 3}", "kind: initial, at: {}", "kind: initial"])
def test_an_id_given_twice_is_told_beside_another_mistake_in_the_same_space(other):
    found = mistakes(f"{SPACES}  - {{id: frost, {other}, lines: 2}}\n")
    assert len(found) == 2
    assert any("spaces 2, id is frost, as that of the space on line 14; choose another" in each for each in found)


def test_a_border_needs_no_lines_and_a_wide_miniature_may_cross_all_columns():
    book_of(f"{SPACES}  - {{id: x, kind: border, at: {{page: 1r}}}}\n")
    book_of(f"{SPACES}  - {{id: x, kind: miniature, at: {{page: 1r}}, lines: 9, across: all, width: 110}}\n")


TIED = "spaces:\n  - {id: frost, kind: miniature, at: {page: 1r, column: 1, line: 5}, lines: 8}\n"


@pytest.mark.parametrize(
    ("space", "told"),
    [
        (
            "kind: miniature, at: {page: 1r, column: 1, line: 12}, lines: 3",
            "15:34: spaces 2, at gives it lines 12 to 14,",
        ),
        ("kind: initial, at: {page: 1r, line: 2}, lines: 4", "15:32: spaces 2, at gives it lines 2 to 5,"),
        ("kind: miniature, at: {page: 1r, line: 9}, lines: 1, across: all", "15:34: spaces 2, at gives it lines 9 to"),
        ("kind: miniature, at: {page: 1r}, lines: 21", "15:34: spaces 2, at sets it below the spaces before it on 1r,"),
        ("kind: line filler, at: {page: 1r, line: 40}", "15:53: spaces 2, at, line is beyond what there is: 32 lines"),
    ],
    ids=brief,
)
def test_spaces_of_one_page_keep_off_each_other_and_within_the_column(space, told):
    said = only_mistake(f"{SOUND}{TIED}  - {{id: x, {space}}}\n")
    assert said.removeprefix("book.yaml:").startswith(told)
    if "gives" in told:
        assert "lines 5 to 12 of 1r are kept at book.yaml:14:5: space frost; choose other lines" in said


@pytest.mark.parametrize(
    "space",
    [
        "kind: miniature, at: {page: 1r, column: 2, line: 5}, lines: 8",
        "kind: miniature, at: {page: 1v, line: 5}, lines: 8",
        "kind: miniature, at: {page: 1r, line: 13}, lines: 8",
        "kind: miniature, at: {page: 1r}, lines: 20",
        "kind: rubric, at: {page: 1r, line: 6}",
    ],
    ids=brief,
)
def test_spaces_of_one_page_that_keep_off_each_other_are_taken(space):
    book_of(f"{SOUND}{TIED}  - {{id: x, {space}}}\n")


def test_margins_are_looked_at_the_one_way_that_the_page_is_sound():
    found = mistakes(changed("width: 170", "width: 0").replace("head: 24", "head: 200"))
    assert len(found) == 2
    assert "head and foot margins together" in found[1]
