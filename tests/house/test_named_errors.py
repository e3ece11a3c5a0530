"""Every refusal is raised as one of the named errors, never as their root, so that callers can tell them apart."""

from __future__ import annotations

import ast
from pathlib import Path

from copydesk.book.common import errors

PACKAGE = Path(__file__).parents[2] / "copydesk"
FILES = sorted(PACKAGE.rglob("*.py"))
NAMED = {name for name, value in vars(errors).items() if isinstance(value, type) and issubclass(value, Exception)}


def made_in(path: Path) -> list[tuple[str, int]]:
    """The named errors that a file makes, each with its line."""
    return [
        (node.func.id, node.lineno)
        for node in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in NAMED
    ]


def test_the_root_is_never_raised() -> None:
    assert not [
        f"{path.relative_to(PACKAGE)}:{line}"
        for path in FILES
        for name, line in made_in(path)
        if name == "CopydeskError"
    ]


def test_each_named_error_is_used() -> None:
    named_by_code = {
        node.id for path in FILES for node in ast.walk(ast.parse(path.read_text("utf-8"))) if isinstance(node, ast.Name)
    }
    assert named_by_code >= NAMED


def test_each_named_error_is_one_that_the_fronts_catch() -> None:
    assert len(NAMED) > 10
    assert all(issubclass(getattr(errors, name), errors.CopydeskError) for name in NAMED)
