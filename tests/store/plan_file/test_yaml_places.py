import pytest
import yaml

from copydesk.book.common.errors import CopydeskError
from copydesk.store.plan_file import yaml_places
from copydesk.store.plan_file.yaml_places import Entries, Items, Scalar, loader_class, read_tree


def tree_of(text):
    tree, problems = read_tree(text, "x.yaml")
    assert not problems
    return tree


def test_every_value_keeps_its_text_and_its_place():
    assert tree_of("a: NO\nbb:\n  - 'x'\n  - [1e3]\n") == Entries(
        (
            (Scalar("a", False, 1, 1), Scalar("NO", False, 1, 4)),
            (
                Scalar("bb", False, 2, 1),
                Items((Scalar("x", True, 3, 5), Items((Scalar("1e3", False, 4, 6),), 4, 5)), 3, 3),
            ),
        ),
        1,
        1,
    )


def test_columns_count_characters_and_lines_are_those_of_an_editor():
    tree = tree_of("é: [ü, x\u2028y, z]\nb: c\n")
    assert [item.column for item in tree.entries[0][1].items] == [5, 8, 13]
    assert tree.entries[1][0].line == 2


def test_an_empty_text_has_no_tree():
    assert tree_of("") is None
    assert tree_of("# a remark\n") is None


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("a: b: c\n", "x.yaml:1:5: a colon stands where none can; put the text in quotation marks"),
        ("a:\n\t- b\n", "x.yaml:2:1: a tab stands here; indent with spaces"),
        ("a: @b\n", "x.yaml:1:4: no value can begin with this sign"),
        ("a: [b\nc: d\n", "x.yaml:2:2: a list in square brackets is not closed"),
        ("a: {b: c\nd: e\n", "x.yaml:2:2: keys in curly brackets are not closed"),
        ("a: 'b\n", "x.yaml:2:1: the quotation mark that opened before this place is never closed"),
        ("a: b\nc\n", "x.yaml:3:1: a key without a colon stands here"),
        ("a: b\n c: d\n", "x.yaml:2:3: a colon stands where none can"),
        ("a:\n  - b\n c: d\n", "x.yaml:3:2: this line does not fit those above it"),
        ("a: *b\n", "x.yaml:1:4: a value that begins with * stands here"),
        ("a: &b x\nc: &b y\n", "x.yaml:2:4: the same & name is given twice"),
        ("a: b\n---\nc: d\n", "x.yaml:2:1: a second document begins here"),
        ('a: "\\q"\n', "x.yaml:1:5: this \\ sequence is unknown"),
        ("a: !!\n", "x.yaml:1:6: a value that begins with ! stands here"),
        ("a: b\x07c\n", "x.yaml:1:5: a control character (U+0007) stands here; take it out"),
    ],
)
def test_broken_yaml_names_the_place_and_what_to_do(text, told):
    with pytest.raises(CopydeskError) as caught:
        tree_of(text)
    assert str(caught.value).startswith(told)


def test_every_control_character_is_told():
    with pytest.raises(CopydeskError) as caught:
        tree_of("a: \x07\nb: \x1b\n")
    assert [(each.line, each.column) for each in caught.value.problems] == [(1, 4), (2, 4)]


@pytest.mark.parametrize("tag", ["!!python/object/apply:os.system", "!mine", "!!binary", "!!set"])
def test_tags_are_told_and_mean_nothing(tag):
    _, problems = read_tree(f"a: {tag} [x]\n", "x.yaml")
    assert [(each.line, each.column) for each in problems] == [(1, 4)]
    assert "means nothing here" in problems[0].what


def test_the_usual_tags_change_nothing():
    assert tree_of("a: !!int x\n").entries[0][1].text == "x"


def test_a_key_given_twice_is_told_and_the_first_one_kept():
    tree, problems = read_tree("a: 1\nb: {c: 1, c: 2}\na: 3\n", "x.yaml")
    assert [str(each) for each in problems] == [
        "x.yaml:2:11: 'c' is given twice, first on line 2; keep one",
        "x.yaml:3:1: 'a' is given twice, first on line 1; keep one",
    ]
    assert tree.entries[0][1].text == "1"


def test_brackets_for_a_key_are_told():
    _, problems = read_tree("a: {{title}}\n? [x]\n: y\n", "x.yaml")
    assert [(each.line, each.column) for each in problems] == [(1, 5), (2, 3)]


def test_an_alias_may_stand_but_not_too_often():
    tree = tree_of("a: &x [1, 2]\nb: *x\n")
    assert tree.entries[1][1] == tree.entries[0][1]
    bomb = "a0: &a0 [x]\n" + "".join(f"a{at}: &a{at} [{f'*a{at - 1}, ' * 9}]\n" for at in range(1, 9))
    with pytest.raises(CopydeskError, match="repeated too often"):
        tree_of(bomb)


@pytest.mark.parametrize("text", ["[" * 30 + "]" * 30, "- " * 30, "[" * 5000, "&a [*a]"], ids=lambda text: text[:9])
def test_deep_nesting_is_refused(text):
    with pytest.raises(CopydeskError, match="nested too deeply"):
        tree_of(text)


@pytest.mark.parametrize(
    "text",
    ["[" * 5000, "a: {b: [c, 'NO', 12:30]}\n", "a: b: c\n", "a:\n\t- b\n", "a: 'b\n", "a: *b\n", "a: [b\nc: d\n"],
    ids=lambda text: text[:9],
)
def test_the_loader_in_plain_python_gives_the_same(text, monkeypatch):
    def outcome():
        try:
            return tree_of(text)
        except CopydeskError as refused:
            return [problem.what for problem in refused.problems]

    quickest = outcome()
    monkeypatch.setattr(yaml_places, "loader_class", lambda: loader_class(yaml.SafeLoader))
    assert outcome() == quickest
