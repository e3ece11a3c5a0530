"""The house stays one that a reader can take in: small folders, no circles, one meaning a name, a limit to its size."""

from __future__ import annotations

import ast
from typing import TYPE_CHECKING

import pytest

import figures

if TYPE_CHECKING:
    from collections.abc import Mapping

MOST_MODULES = 16
MOST_CODE_LINES = 45_400
"""Lines of code and imports. A part that adds capabilities raises it, openly, by what they need."""

MANY_FILES = ("copydesk/cli/verbs",)
"""One verb a file, however many verbs there are."""


def test_no_folder_is_crowded() -> None:
    crowded = {folder: count for folder, count in figures.modules_of_folders().items() if count > MOST_MODULES}
    assert set(crowded) <= set(MANY_FILES)


def test_no_modules_import_each_other_in_a_circle() -> None:
    assert figures.circles(figures.imports()) == []


@pytest.mark.parametrize(
    ("edges", "rings"),
    [
        ({"a": ["b"], "b": ["c"], "c": []}, []),
        ({"a": ["b"], "b": ["a"]}, [["a", "b"]]),
        ({"a": ["b"], "b": ["c"], "c": ["b", "d"], "d": ["e"], "e": ["d"]}, [["b", "c"], ["d", "e"]]),
        ({"a": ["b", "c"], "b": ["c"], "c": ["a"]}, [["a", "b", "c"]]),
    ],
)
def test_circles_are_found(edges: Mapping[str, list[str]], rings: list[list[str]]) -> None:
    assert sorted(figures.circles(edges)) == rings


def test_a_public_class_name_means_one_thing() -> None:
    assert figures.classes_named_twice() == {}


def test_lines_of_code_are_counted_without_docstrings_comments_and_blanks() -> None:
    assert figures.code_lines('"""A page."""\n\nimport re  # why\n\n# why\nVALUE = """\ntwo lines"""\n') == 3


def test_the_house_does_not_grow_unseen() -> None:
    assert figures.code_and_imports() <= MOST_CODE_LINES


def test_every_room_says_what_it_is_for_what_it_may_use_and_who_uses_it() -> None:
    for module in figures.modules().values():
        if module.path.name == "__init__.py" and module.name != "copydesk":
            told = ast.get_docstring(module.tree) or ""
            purpose, *rest = told.splitlines()
            lines = [line for line in rest if line]
            assert purpose.endswith("."), module.path
            assert len(lines) >= 2, module.path
            assert lines[0].startswith("May use "), module.path
            assert lines[-1].startswith("Used by "), module.path


def test_nothing_is_said_in_words_that_were_retired() -> None:
    assert figures.retired_words() == []
